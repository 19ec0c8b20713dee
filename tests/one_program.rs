//! All stages in one program, with a stop between two: the same cuts, proven as what it is, and told on every sheet.

use crate::support::EXAMPLE;
use crate::support::machinable;
use crate::support::runs::{for_all, told};
use fillister::finding::Verdict;
use fillister::job::{Work, make, prove, prove_work};
use fillister::prove::{Program, Proof};
use fillister::survey::{House, ProgramsAs, read_bytes};
use proptest::prelude::*;

fn example() -> House {
    let mut house = read_bytes(EXAMPLE.as_bytes(), "example").unwrap();
    house.workshop.machine.programs = ProgramsAs::One;
    house
}

/// The one program of the first sash, changed, and judged.
fn changed(change: impl Fn(&str) -> String) -> Proof {
    let house = example();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let [program] = &work.programs.programs[..] else { panic!("{:?}", work.programs) };
    let text = change(&program.text().unwrap());
    prove(&house.sashes[0], &house.workshop, &[Program::new(&program.name, &text)]).unwrap()
}

fn rules(proof: &Proof) -> Vec<&str> {
    let mut rules: Vec<&str> = proof.faults.iter().map(|fault| fault.finding.rule).collect();
    rules.dedup();
    rules
}

// Five stages of a plain sash, so four stops; after each the spindle is started before anything is cut, and waited for.
#[test]
fn every_stage_begins_with_the_spindle_and_ends_without_it() {
    let proof = changed(|text| {
        let lines: Vec<&str> = text.lines().filter(|line| !line.starts_with('(')).collect();
        let parts: Vec<&[&str]> = lines.split(|line| *line == "M0").collect();
        assert_eq!(parts.len(), 5, "{text}");
        for (index, part) in parts.iter().enumerate() {
            assert_eq!(part[..2], ["G17 G21 G90 G91.1 G94", "G40 G49 G80"]);
            let started = part[2] == "S10000 M3" || part[2].ends_with(" M3");
            assert_eq!((started, part[3] == "G4 P3"), (index > 0, index > 0), "{part:?}");
            assert!(part[2 + 2 * usize::from(index > 0)].starts_with("G0 Z"), "{part:?}");
            assert_eq!(part.iter().filter(|line| **line == "M5").count(), 1);
        }
        text.to_owned()
    });
    assert!(proof.is_proven(), "{:?}", proof.faults);
}

#[test]
fn a_stop_that_was_taken_out_is_missed() {
    let without = changed(|text| text.replacen("\nM0\n", "\n", 1));
    assert_eq!(rules(&without), ["prove.head"]);
    let told = &without.faults[0].finding;
    assert_eq!((told.measured.value, told.limit.value), (3.0, 4.0));
    // M1 stops as well, where its switch is on.
    assert!(changed(|text| text.replacen("\nM0\n", "\nM1\n", 1)).is_proven());
}

#[test]
fn a_spindle_that_is_not_started_again_is_missed() {
    let last = |text: &str, from: &str, to: &str| {
        let at = text.rfind(from).unwrap();
        format!("{}{to}{}", &text[..at], &text[at + from.len()..])
    };
    let still = changed(|text| last(text, " M3", ""));
    assert!(rules(&still).contains(&"prove.spindle"), "{:?}", still.faults);
    // The first part is the air run.
    let early = changed(|text| text.replacen("G40 G49 G80", "G40 G49 G80\nS10000 M3", 1));
    assert_eq!(rules(&early), ["prove.head"]);
}

#[test]
fn every_sheet_knows_the_stages_of_one_program() {
    let mut house = example();
    house.sashes.truncate(1);
    let made = make(&house).unwrap();
    let sash = &made.report.sashes[0];
    let [program] = &sash.programs[..] else { panic!("{:?}", sash.programs) };
    assert_eq!((program.name.as_str(), program.stages.len()), ("1-all-stages.ngc", 5));
    let of = |name: &str| String::from_utf8_lossy(&made.files[&format!("kitchen-1/{name}")]);
    let picture = of("path.svg");
    for stage in ["air run", "score the new wall", "widen", "deepen", "finish the walls"] {
        assert!(picture.contains(&format!("1-all-stages.ngc: {stage}, about")), "{stage}");
    }
    assert!(of("cuts/1-all-stages.ngc").contains("(- stage 1 of 5 - air run - spindle off)\n"));
}

// The same cuts in the same order, whichever file they stand in.
#[test]
fn one_program_cuts_what_five_do() {
    for_all(6, &machinable::house(), |mut house| {
        let mut both = Vec::new();
        for programs in [ProgramsAs::Stage, ProgramsAs::One] {
            house.workshop.machine.programs = programs;
            let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
            if work.verdict() == Verdict::Stop {
                return Ok(());
            }
            let proof = prove_work(&work, &house.workshop).unwrap();
            prop_assert!(proof.is_proven(), "{programs:?}: {:?}", told(&proof));
            if programs == ProgramsAs::One {
                let all = work.programs.programs.iter();
                let all = all.filter(|program| program.name.ends_with("-all-stages.ngc")).count();
                prop_assert_eq!(all, work.programs.set_ups.len().max(1));
            }
            both.push((proof.volumes, proof.chisel, proof.margins.wood));
        }
        prop_assert!(both[0] == both[1], "{both:?}");
        Ok(())
    });
}
