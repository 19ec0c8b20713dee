//! Sections of random sashes, of sashes that a cut would destroy, and the picture in the README.

use crate::support;
use crate::support::houses;
use crate::support::writer::{Lengths, write};
use fillister::drawing::{Scene, svg};
use fillister::fit::{Fit, fit};
use fillister::geometry::Side;
use fillister::sash::{Part, Sash};
use fillister::sheets::SheetError;
use fillister::sheets::kit::Voice;
use fillister::sheets::section::{Section, of_parts};
use fillister::sheets::sections;
use fillister::survey::{self, House, Moulding, OldGlazing, Workshop, read};
use fillister::timber::{self, Timber};
use kurbo::{BezPath, Point, Shape};
use proptest::prelude::*;
use std::path::Path;

const LOOK: svg::Look = svg::Look { scale: 2.5, margin: 5.0 };

struct Planned {
    sash: Sash,
    fit: Fit,
    timber: Timber,
}

fn planned(measured: &survey::Sash) -> Planned {
    let (sash, workshop) = (Sash::new(measured).unwrap(), Workshop::default());
    let fit = fit(&sash, &workshop).unwrap();
    let timber = timber::judge(&sash, &fit, &workshop.limits);
    Planned { sash, fit, timber }
}

fn area(paths: &[BezPath]) -> f64 {
    paths.iter().map(Shape::area).sum()
}

/// Areas of wood before and after as the drawing shows them are those of the sections that `timber`
/// integrates by itself, and what went makes up the rest.
fn areas_agree(planned: &Planned) -> Result<(), String> {
    let Planned { sash, fit, timber } = planned;
    for (part, section) in of_parts(sash, fit, timber, Voice::plain()).unwrap() {
        let (judged_before, judged_after, old) = match part {
            Part::Member(side) => {
                let left = timber.members.get(side);
                (left.before.area, left.after.area, Some(sash.measured.members.get(side).old))
            }
            Part::Bar(bar) => {
                let left = &timber.bars[bar.index];
                (left.before.area, left.after.area, None)
            }
        };
        let (before, after, gone) =
            (area(&section.before), area(&section.after), area(&section.removed));
        let title = &section.title;
        // A thousandth for slivers that the drawing leaves out, and its chords, which lie within
        // 0.01 mm of the mouldings all along their edge.
        let edge: f64 = section.before.iter().map(|path| path.perimeter(0.01)).sum();
        let near = |a: f64, b: f64| (a - b).abs() <= 1e-3 * before + 0.01 * (1.0 + edge);
        if !near(before, after + gone) {
            return Err(format!("{title}: {before} is not {after} and {gone}"));
        }
        if !near(before, judged_before) {
            return Err(format!("{title}: before {before}, judged {judged_before}"));
        }
        // Of a groove deeper than the new platform, `timber` counts what is left of the back lip as
        // gone, and what the cut leaves of it is drawn.
        let deep = matches!(old, Some(OldGlazing::Groove { from_face, width, .. })
            if from_face + width > fit.depth);
        if !deep && !near(after, judged_after) {
            return Err(format!("{title}: after {after}, judged {judged_after}"));
        }
    }
    Ok(())
}

fn drawn(planned: &Planned) -> Result<Vec<(String, Scene)>, String> {
    let draw = |how: fn(&Section) -> Result<Scene, SheetError>| {
        sections(&planned.sash, &planned.fit, &planned.timber, Voice::plain(), how)
            .map_err(|e| e.to_string())
    };
    let scenes = draw(|section: &Section| section.scene(Voice::plain()))?;
    for (name, scene) in scenes.iter().chain(&draw(|section| section.stacked(Voice::plain()))?) {
        scene.check().map_err(|e| format!("{name}: {e}"))?;
        svg::write(scene, LOOK).map_err(|e| format!("{name}: {e}"))?;
        let plain = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        if !name.chars().all(plain) {
            return Err(format!("{name} is no plain file name"));
        }
    }
    let mut names: Vec<&String> = scenes.iter().map(|(name, _)| name).collect();
    names.sort();
    names.dedup();
    if names.len() == scenes.len() { Ok(scenes) } else { Err(format!("twice in {names:?}")) }
}

/// A sash that reads without a mistake and yet has no room for the unit: too thick, too wide, or cut
/// by a whole step of the order too small.
fn destroyed() -> impl Strategy<Value = survey::Sash> {
    let harsh = (
        prop::sample::select(vec!["4-6-4", "6-20-6", "4-16-4-16-4", "40", "3-0.5-3"]),
        1.0..90.0_f64,
        prop::sample::select(vec![0.5, 1.0, 50.0, 100.0]),
        0.0..20.0_f64,
        any::<bool>(),
    );
    (houses::sash(), harsh).prop_map(|(mut sash, (build_up, cover, step, tape, square))| {
        sash.unit.build_up = build_up.parse().unwrap();
        (sash.unit.cover, sash.unit.order_step, sash.unit.tape) = (cover, step, tape);
        if square {
            (sash.finish.bed, sash.finish.proud) = (0.0, 0.0);
        }
        sash
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_sash_that_can_be_planned_is_drawn(sash in houses::sash()) {
        let planned = planned(&sash);
        prop_assert_eq!(drawn(&planned).map(|_| ()), Ok(()));
        prop_assert_eq!(areas_agree(&planned), Ok(()));
    }

    #[test]
    fn every_sash_that_a_cut_destroys_is_drawn(sash in destroyed()) {
        let house = House { name: "x".into(), workshop: Workshop::default(), sashes: vec![sash.clone()], doubts: Vec::new() };
        let told = read(&write(&house, Lengths::Millimetres), "x").map(|_| ());
        prop_assert!(told.is_ok(), "{}", told.unwrap_err());
        let whole = Sash::new(&sash).unwrap();
        if fit(&whole, &Workshop::default()).is_err() {
            // Where not one step of the order fits behind a light there is no unit to draw.
            prop_assert!(sash.unit.order_step > 1.0);
            return Ok(());
        }
        let planned = planned(&sash);
        prop_assert_eq!(drawn(&planned).map(|_| ()), Ok(()));
        prop_assert_eq!(areas_agree(&planned), Ok(()));
    }
}

#[test]
fn no_text_of_the_example_covers_another() {
    let house = read(support::EXAMPLE, "example").unwrap();
    let scenes = house.sashes.iter().flat_map(|sash| drawn(&planned(sash)).unwrap());
    let mut count = 0;
    for (name, scene) in scenes {
        assert_eq!(scene.covered_texts(), [], "{name}");
        count += 1;
    }
    assert!(count > 16, "only {count} drawings");
}

/// The sash of that id in the example house.
fn of_the_example(id: &str) -> survey::Sash {
    let house = read(support::EXAMPLE, "example").unwrap();
    house.sashes.into_iter().find(|sash| sash.id == id).unwrap()
}

#[test]
fn a_platform_below_the_room_face_leaves_no_bar_and_no_front() {
    let mut sash = of_the_example("landing-1");
    sash.unit.build_up = "6-20-6-20-6".parse().unwrap();
    let planned = planned(&sash);
    assert!(planned.fit.depth > 54.0);
    for (part, section) in
        of_parts(&planned.sash, &planned.fit, &planned.timber, Voice::plain()).unwrap()
    {
        let left = usize::from(!matches!(part, Part::Bar(_)));
        assert_eq!(section.after.len(), left, "{}", section.title);
    }
    assert!(!drawn(&planned).unwrap().is_empty());
    assert_eq!(areas_agree(&planned), Ok(()));
    // And the survey is one that reads.
    let house = House {
        name: "x".into(),
        workshop: Workshop::default(),
        sashes: vec![sash],
        doubts: Vec::new(),
    };
    assert!(read(&write(&house, Lengths::Millimetres), "x").is_ok());
}

// A traced moulding that rises again behind a hollow: the platform leaves the nose by itself.
#[test]
fn a_platform_through_a_hollow_leaves_wood_in_two_pieces() {
    let mut sash = of_the_example("kitchen-1");
    let depth = planned(&sash).fit.depth;
    let left = &mut sash.members.left;
    let high = left.thickness - depth + 4.0;
    let points = [(0.0, 2.0), (3.0, 2.0), (4.0, high), (6.0, high), (30.0, 0.0)];
    left.moulding = Moulding::Traced(points.map(Point::from).to_vec());
    let planned = planned(&sash);
    let (_, section) =
        of_parts(&planned.sash, &planned.fit, &planned.timber, Voice::plain()).unwrap().remove(0);
    assert_eq!((section.before.len(), section.after.len()), (1, 2));
    assert_eq!(areas_agree(&planned), Ok(()));
    assert!(drawn(&planned).is_ok());
}

// The measure under the platform is the number that was judged, wherever it is least.
#[test]
fn the_wood_under_the_platform_is_the_judged_one() {
    let mut sash = of_the_example("kitchen-1");
    let hollow = [(0.0, 2.0), (5.0, 2.0), (6.0, 9.5), (12.0, 0.0)].map(Point::from).to_vec();
    sash.members.left.moulding = Moulding::Traced(hollow);
    let planned = planned(&sash);
    let least = planned.timber.members.left.under_platform.unwrap();
    assert!((least.from_sight - 6.0).abs() < 1e-9);
    let parts = of_parts(&planned.sash, &planned.fit, &planned.timber, Voice::plain()).unwrap();
    let shown = parts[0]
        .1
        .notes_after
        .measures
        .iter()
        .find(|m| m.side == Side::Left && (m.from.x - 6.0).abs() < 1e-9);
    let shown = shown.unwrap();
    assert!((shown.to.y - shown.from.y - least.wood).abs() < 1e-9);
    assert!((shown.to.y + planned.fit.depth).abs() < 1e-9);
}

#[test]
fn a_groove_is_measured_with_its_distance_from_the_glazing_face() {
    let sash = of_the_example("bedroom-lower");
    let OldGlazing::Groove { from_face, width, .. } = sash.members.top.old else {
        panic!("the meeting rail has a groove")
    };
    let planned = planned(&sash);
    let parts = of_parts(&planned.sash, &planned.fit, &planned.timber, Voice::plain()).unwrap();
    let (_, rail) = parts.iter().find(|(part, _)| *part == Part::Member(Side::Top)).unwrap();
    let lengths: Vec<f64> = rail
        .notes_before
        .measures
        .iter()
        .filter(|measure| measure.side == Side::Left)
        .map(|measure| measure.to.y - measure.from.y)
        .collect();
    assert_eq!(lengths, [width, from_face]);
}

/// Where the picture of the README stands, beside what the program makes of it now.
const PICTURE: &str = "examples/section.svg";

#[test]
fn the_picture_in_the_readme_is_what_the_program_makes() {
    let scenes = drawn(&planned(&of_the_example("parlour-1"))).unwrap();
    let (_, scene) = scenes.iter().find(|(name, _)| name.starts_with("left")).unwrap();
    let made = svg::write(scene, LOOK).unwrap();
    let now = Path::new(env!("CARGO_TARGET_TMPDIR")).join("section.svg");
    std::fs::write(&now, &made).unwrap();
    let committed = Path::new(env!("CARGO_MANIFEST_DIR")).join(PICTURE);
    let kept = std::fs::read_to_string(&committed).unwrap_or_default();
    assert!(
        kept == made,
        "{PICTURE} is not what the program draws now. Look at {}; if it is right, copy it over: cp {} {PICTURE}",
        now.display(),
        now.display(),
    );
}
