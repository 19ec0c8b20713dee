//! A thinner cutter in the corners: a program of its own, proven with its own diameter, and fewer corners left to the
//! chisel.

use crate::setups;
use crate::support::EXAMPLE;
use crate::support::machinable;
use crate::support::runs::{for_all, told};
use fillister::finding::Verdict;
use fillister::job::{Work, make, prove, prove_work};
use fillister::prove::{Program, Proof};
use fillister::survey::{Cutter, House, read_bytes};
use proptest::prelude::*;
use std::cell::Cell;

/// The example with a cutter of that diameter for the corners, and gaps so narrow that the unit touches a fillet of 6 mm.
fn example(diameter: f64) -> House {
    let mut house = read_bytes(EXAMPLE.as_bytes(), "example").unwrap();
    house.sashes.truncate(1);
    let cutter = Cutter { diameter, shank_diameter: diameter, ..Cutter::default() };
    house.workshop.machine.corner_cutter = Some(cutter);
    let gaps = &mut house.sashes[0].clearance;
    (gaps.left, gaps.right, gaps.top, gaps.bottom) = (1.0, 1.0, 1.0, 2.0);
    house.sashes[0].block_height = 2.0;
    house
}

fn texts(house: &House) -> Vec<(String, String)> {
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let written = work.programs.written().unwrap();
    written.into_iter().map(|(program, text)| (program.name.clone(), text)).collect()
}

fn judged(house: &House, texts: &[(String, String)]) -> Proof {
    let programs: Vec<Program> =
        texts.iter().map(|(name, text)| Program::new(name, text)).collect();
    prove(&house.sashes[0], &house.workshop, &programs).unwrap()
}

// Closed form: a cutter of radius R leaves R (√2 − 1) along the diagonal of a square corner: 2.485 mm for 6 and 1.036 for
// 2.5. A unit 1 mm from one wall and 1 from the other has its corner √2 from the wall's.
#[test]
fn corners_are_left_as_round_as_the_thinner_cutter() {
    let house = example(5.0);
    let texts = texts(&house);
    let (name, text) = texts.last().unwrap();
    assert_eq!(name, "6-corners.ngc");
    assert!(text.contains("(- cutter 5 mm - 2 edges - flat end)\n"), "{text}");
    assert!(text.contains("(- put this cutter in and set Z zero anew - X and Y stay)\n"), "{text}");
    let proof = judged(&house, &texts);
    assert!(proof.is_proven(), "{:?}", told(&proof));
    let clean: Vec<_> =
        proof.chisel.iter().filter(|corner| corner.expected_diagonal < 2.0).collect();
    assert!(clean.len() >= 2, "{:?}", proof.chisel);
    for corner in clean {
        let diagonal = 2.5 * (2.0_f64.sqrt() - 1.0);
        assert!((corner.expected_diagonal - diagonal).abs() < 1e-9 && !corner.needed, "{corner:?}");
        assert!((corner.diagonal.unwrap() - diagonal).abs() < 0.01, "{corner:?}");
    }
    // Closed form: the unit's corner lies 1.5 mm from both axes of the fillet; 0.5 mm on it touches, as 2² + 1.5² = 2.5².
    let zero = proof.margins.zero.as_ref().unwrap();
    assert!((zero.x.plus.by - 0.5).abs() < 1e-6, "{zero:?}");
    // Without its program the corners are as the first cutter left them.
    let without = judged(&house, &texts[..texts.len() - 1]);
    assert!(without.faults.iter().any(|fault| fault.finding.rule == "prove.leftover"));
}

#[test]
fn each_program_is_judged_with_the_cutter_of_its_head() {
    let house = example(5.0);
    let good = texts(&house);
    let changed = |index: usize, from: &str, to: &str| {
        let mut texts = good.clone();
        let text = &mut texts[index].1;
        assert!(text.contains(from), "{text}");
        *text = text.replace(from, to);
        judged(&house, &texts)
    };
    let rules =
        |proof: &Proof| -> Vec<&str> { proof.faults.iter().map(|f| f.finding.rule).collect() };
    let last = good.len() - 1;
    // The thicker cutter on the paths of the thinner one runs into the walls.
    let thick = changed(last, "cutter 5 mm", "cutter 12 mm");
    assert!(rules(&thick).contains(&"prove.gouge"), "{:?}", told(&thick));
    // The thinner one on the paths of the thicker leaves wood.
    let thin = changed(last - 1, "cutter 12 mm", "cutter 5 mm");
    assert!(rules(&thin).contains(&"prove.leftover"), "{:?}", told(&thin));
    let unknown = changed(last, "cutter 5 mm", "cutter 8 mm");
    assert!(rules(&unknown).contains(&"prove.head"), "{:?}", told(&unknown));
    // Two cutters may have two numbers in the tool table.
    let numbered = |first: &str, last: &str| {
        let mut texts = good.clone();
        for (index, (_, text)) in texts.iter_mut().enumerate() {
            let tool = if index + 1 == good.len() { last } else { first };
            *text = text.replacen("G40 G49 G80\n", &format!("G40 G49 G80\n{tool} M6\n"), 1);
        }
        judged(&house, &texts)
    };
    let own = numbered("T1", "T2");
    assert!(own.is_proven(), "{:?}", told(&own));
}

#[test]
fn the_sheets_tell_of_the_change() {
    let made = make(&example(5.0)).unwrap();
    let sash = &made.report.sashes[0];
    assert_eq!(sash.programs.last().unwrap().name, "6-corners.ngc");
    let short = {
        let mut house = example(5.0);
        house.workshop.machine.corner_cutter.as_mut().unwrap().cutting_length = 20.0;
        make(&house).unwrap()
    };
    let sash = &short.report.sashes[0];
    assert!(sash.programs.is_empty());
    let stop = sash.findings.iter().find(|found| found.rule == "machine.corner-cutter").unwrap();
    assert_eq!((stop.measured.value, stop.verdict), (20.0, Verdict::Stop));
}

#[test]
fn in_several_set_ups_each_has_its_corners() {
    let mut house = example(5.0);
    house.workshop.machine.bed = [700.0, 700.0];
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let count = work.programs.set_ups.len();
    let programs = work.programs.written().unwrap();
    let ends =
        |part: &str| programs.iter().filter(|(program, _)| program.name.ends_with(part)).count();
    assert!(count > 1 && ends("-corners.ngc") == count, "{count}");
    let again = "(- put this cutter in again and set Z zero anew)\n";
    let changes = programs.iter().filter(|(_, text)| text.contains(again)).count();
    assert_eq!(changes, count - 1);
    let proof = prove_work(&work, &house.workshop).unwrap();
    assert!(proof.is_proven(), "{:?}", told(&proof));
    assert!(proof.chisel.iter().all(|corner| !corner.needed), "{:?}", proof.chisel);
}

/// Any of `houses` with a thinner cutter is proven; corners are cleaned in some.
fn proven(usual: u32, houses: impl Strategy<Value = House>) {
    let cleaned = Cell::new(0);
    for_all(usual, &(houses, 1.2..5.0_f64), |(mut house, part)| {
        let own = &house.workshop.cutter;
        let diameter = own.diameter / part;
        let thinner = Cutter { diameter, shank_diameter: diameter, ..own.clone() };
        house.workshop.machine.corner_cutter = Some(thinner);
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        if work.verdict() == Verdict::Stop {
            return Ok(());
        }
        let proof = prove_work(&work, &house.workshop).unwrap();
        prop_assert!(proof.is_proven(), "{:?}", told(&proof));
        let own = work.programs.programs.iter().filter(|program| program.name.contains("-corners"));
        cleaned.set(cleaned.get() + own.count());
        Ok(())
    });
    assert!(cleaned.get() > 0);
}

#[test]
fn random_sashes_are_proven_with_a_thinner_cutter_in_their_corners() {
    proven(8, machinable::house());
}

#[test]
fn random_sashes_in_set_ups_are_proven_with_a_thinner_cutter_in_their_corners() {
    // One that lies within the travel may still be put down where a side is out of reach.
    let placed = |house: &House| house.workshop.machine.zero.is_none();
    proven(12, setups::house().prop_filter("a zero of its own", placed));
}
