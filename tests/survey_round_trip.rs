//! A random house written as a survey reads back as itself, in millimetres and in inches.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::float_cmp,
    reason = "a test may stop at the first surprise"
)]

mod support;

use fillister::survey::{Height, House, UnitShape, read};
use kurbo::Point;
use proptest::prelude::*;
use support::houses;
use support::same_but_for_rounding;
use support::writer::{Lengths, write};

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
        let back = read(&text, "house.toml").map_err(|told| TestCaseError::fail(format!("{told}\n{text}")))?;
        prop_assert_eq!(back, house);
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
            let back = read(&text, "house.toml").map_err(|told| TestCaseError::fail(format!("{told}\n{text}")))?;
            let same = same_but_for_rounding(&format!("{back:?}"), &format!("{house:?}"), 1e-9);
            prop_assert_eq!(same, Ok(()));
        }
    }

    #[test]
    fn inches_change_nothing(house in houses::house()) {
        let text = write(&house, Lengths::Inches);
        let back = read(&text, "house.toml").map_err(|told| TestCaseError::fail(format!("{told}\n{text}")))?;
        let same = same_but_for_rounding(&format!("{back:?}"), &format!("{house:?}"), 1e-9);
        prop_assert_eq!(same, Ok(()));
    }
}
