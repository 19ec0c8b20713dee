//! A cut followed move by move comes to what the proof of the same programs says in the end.

use crate::support::bench::{EXAMPLE, SMALL};
use fillister::job::{self, Followed};
use fillister::prove::{Program, Step};
use fillister::survey::{self, House};
use std::fs;
use std::path::Path;

fn example() -> House {
    let text = fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join(EXAMPLE)).unwrap();
    survey::read(std::str::from_utf8(&text).unwrap(), EXAMPLE).unwrap()
}

/// The programs that `make` writes for a sash of the house, followed; with `change` made to each text.
fn followed(house: &House, id: &str, change: impl Fn(&str, String) -> String) -> Followed {
    let made =
        job::make(&House { sashes: vec![sash(house, id).clone()], ..house.clone() }).unwrap();
    let cuts = format!("{id}/cuts/");
    let texts: Vec<(String, String)> = made
        .files
        .iter()
        .filter_map(|(name, text)| Some((name.strip_prefix(&cuts)?.to_owned(), text)))
        .map(|(name, text)| (name.clone(), change(&name, String::from_utf8(text.clone()).unwrap())))
        .collect();
    assert!(!texts.is_empty(), "{id} has no programs");
    let programs: Vec<Program> =
        texts.iter().map(|(name, text)| Program::new(name, text)).collect();
    job::follow(sash(house, id), &house.workshop, &programs).unwrap()
}

fn sash<'h>(house: &'h House, id: &str) -> &'h survey::Sash {
    house.sashes.iter().find(|sash| sash.id == id).unwrap()
}

/// The least wood that was ever under the cutter in a part.
fn least(steps: &[Step], part: &str) -> f64 {
    let left = steps.iter().flat_map(|step| &step.left).filter_map(|(_, left)| left.as_ref());
    left.filter(|left| left.part == part).map(|left| left.wood).fold(f64::INFINITY, f64::min)
}

// A plain sash, one with bars, one under a pointed or segmental head, and one cut in several set-ups.
#[test]
fn what_is_left_under_the_cutter_comes_to_the_margins_of_the_proof() {
    let house = example();
    let mut arcs = 0;
    for id in ["kitchen-1", "landing-1", "hall-fanlight", "stairs-1"] {
        let Followed { proof, steps, .. } = followed(&house, id, |_, text| text);
        assert!(proof.is_proven(), "{id}");
        // What is cut last in a part lies under the cutter then, and wood never grows.
        for left in &proof.margins.wood {
            let under = least(&steps, &left.part);
            assert!((under - left.wood).abs() < 0.02, "{id}, {}: {under} {}", left.part, left.wood);
        }
        let minutes: f64 = steps.iter().map(|step| step.minutes).sum();
        assert!(minutes <= proof.minutes() + 1e-9 && minutes > 0.9 * proof.minutes(), "{id}");
        let tallest = steps.iter().map(|step| step.taken).fold(0.0, f64::max);
        assert!(tallest >= proof.margins.tallest_step - 1e-9, "{id}: {tallest}");
        arcs += steps.iter().filter(|step| step.passage.path.curvature() != 0.0).count();
        // Every part of a way is told of, up to its end.
        for step in steps.iter().filter(|step| step.passage.z[0].min(step.passage.z[1]) < 0.0) {
            assert_eq!(step.left.last().map(|(share, _)| *share), Some(1.0), "{id}: {step:?}");
        }
    }
    assert!(arcs > 0, "no arc was followed");
}

// The cutter set 3 mm deeper by hand in one program takes 3 mm more where it stands lowest, by plain subtraction.
#[test]
fn an_edited_program_shows_what_it_really_leaves() {
    let house = survey::read(SMALL, "house.toml").unwrap();
    let as_planned = followed(&house, "larder-1", |_, text| text);
    let deepest = |steps: &[Step]| steps.iter().map(|step| step.passage.z[1]).fold(0.0, f64::min);
    let lowest = deepest(&as_planned.steps);
    let word = format!("Z{lowest}");
    let deeper = followed(&house, "larder-1", |name, text| {
        let by_hand = name.contains("deepen");
        if by_hand { text.replace(&word, &format!("Z{}", lowest - 3.0)) } else { text }
    });
    assert!(!deeper.proof.is_proven());
    assert!((deepest(&deeper.steps) - (lowest - 3.0)).abs() < 1e-9, "{word} is not in the text");
    let part = "bottom rail";
    let (before, after) = (least(&as_planned.steps, part), least(&deeper.steps, part));
    assert!((before - after - 3.0).abs() < 1e-6, "{before} {after}");
    // What cannot be read is judged, and nothing is followed.
    let unread = followed(&house, "larder-1", |_, text| text + "G1 X\n");
    assert!(unread.steps.is_empty() && !unread.proof.swept);
}
