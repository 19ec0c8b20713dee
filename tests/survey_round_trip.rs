//! A random house written as a survey reads back as itself, in millimetres and in inches.

use crate::support::houses;
use crate::support::same_but_for_rounding;
use crate::support::writer::{Lengths, write};
use fillister::geometry::{Arc, Edge};
use fillister::survey::{Bar, Course, Height, House, Runs, UnitShape, read};
use kurbo::Point;
use proptest::prelude::*;

/// Leans the bars, warps the face and asks for a shaped unit.
fn crooked(mut house: House, lean: f64, heights: &[[f64; 3]]) -> House {
    for sash in &mut house.sashes {
        sash.unit.shape = UnitShape::Shaped;
        for bar in &mut sash.bars {
            bar.lean = lean;
        }
        let spot = |&[x, y, z]: &[f64; 3]| Height {
            at: Point::new(x * sash.sight.width, y * sash.sight.height),
            z,
        };
        sash.surface = heights.iter().map(spot).collect();
    }
    house
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_house_reads_back_as_it_was_written(house in houses::house()) {
        let text = write(&house, Lengths::Millimetres);
        let back = read(&text, "house.toml").map_err(|mistakes| TestCaseError::fail(format!("{mistakes}\n{text}")))?;
        // What is asked about a survey is no part of the house that was written.
        prop_assert_eq!(House { doubts: Vec::new(), ..back }, house);
    }

    // Of an arc its ends, rise and side are written, and give the same arc back.
    #[test]
    fn curved_bars_read_back_as_they_were_written(
        at in (200.0..500.0_f64, 200.0..500.0_f64), rise in 0.02..0.2_f64, down in any::<bool>(),
    ) {
        let (from, to) = (Point::new(0.0, at.0), Point::new(700.0, at.1));
        let bulge = 2.0 * rise * if down { 1.0 } else { -1.0 };
        let arc = Arc::from_bulge(from, to, bulge).unwrap();
        let text = "house = \"Reed Hall\"\n[[sash]]\nid = \"a\"\nkind = \"fixed\"\nthickness = 57\n\
             sight = { width = 700, height = 900 }\nstiles = { width = 60 }\nrails = { width = 60 }\n\
             rebate = { width = 8, depth = 15 }\nunit = { build_up = \"4-6-4\" }\n\
             bars = [{ runs = \"upright\", centre = 350, width = 40 }]\n";
        let mut house = read(text, "house.toml").unwrap();
        let edge = Edge::Arc(arc);
        let bar = &mut house.sashes[0].bars[0];
        *bar = Bar { runs: Runs::Cross, course: Course::Between(edge), centre: edge.at(0.5).y, ..bar.clone() };
        let text = write(&house, Lengths::Millimetres);
        let back = read(&text, "house.toml").map_err(|mistakes| TestCaseError::fail(format!("{mistakes}\n{text}")))?;
        let same = same_but_for_rounding(&format!("{back:?}"), &format!("{house:?}"), 1e-6);
        prop_assert_eq!(same, Ok(()));
    }

    // A pair of ends gives the middle and the lean back but for the last digit.
    #[test]
    fn crooked_sashes_read_back_as_they_were_written(
        house in houses::house(),
        lean in -10.0..10.0_f64,
        heights in prop::collection::vec([0.0..1.0_f64, 0.0..1.0, -3.0..3.0], 0..6),
    ) {
        let house = crooked(house, lean, &heights);
        for lengths in [Lengths::Millimetres, Lengths::Inches] {
            let text = write(&house, lengths);
            let back = read(&text, "house.toml").map_err(|mistakes| TestCaseError::fail(format!("{mistakes}\n{text}")))?;
            let back = House { doubts: Vec::new(), ..back };
            let same = same_but_for_rounding(&format!("{back:?}"), &format!("{house:?}"), 1e-9);
            prop_assert_eq!(same, Ok(()));
        }
    }

    #[test]
    fn inches_change_nothing(house in houses::house()) {
        let text = write(&house, Lengths::Inches);
        let back = read(&text, "house.toml").map_err(|mistakes| TestCaseError::fail(format!("{mistakes}\n{text}")))?;
        let same = same_but_for_rounding(&format!("{back:?}"), &format!("{house:?}"), 1e-9);
        prop_assert_eq!(same, Ok(()));
    }
}
