//! Bites sideways: what nothing stops cuts no wider and deeper than the survey has it, in any shape and in several
//! set-ups.
//!
//! `FILLISTER_CASES=700` runs that many; `--nocapture` tells how many want care, and `FILLISTER_TELL=1` which.

use crate::support::machinable;
use crate::support::runs::{for_all, told};
use crate::{setups, shapes};
use fillister::finding::{Finding, Verdict};
use fillister::job::{Work, prove_work};
use fillister::survey::House;
use proptest::prelude::*;
use std::cell::Cell;

/// None is a stop, and one in fifty at the most wants care.
fn bites(kind: &str, usual: u32, houses: &impl Strategy<Value = House>) {
    let (seen, care) = (Cell::new(0_u32), Cell::new(0_u32));
    for_all(usual, houses, |house| {
        let Ok(work) = Work::new(&house.sashes[0], &house.workshop) else { return Ok(()) };
        if work.programs.programs.is_empty() || work.verdict() == Verdict::Stop {
            return Ok(());
        }
        let proof = prove_work(&work, &house.workshop).unwrap();
        let wide: Vec<&Finding> = proof.findings().filter(|f| f.rule == "prove.bite").collect();
        seen.set(seen.get() + u32::from(proof.swept));
        care.set(care.get() + u32::from(!wide.is_empty()));
        if std::env::var("FILLISTER_TELL").is_ok() {
            for finding in &wide {
                eprintln!("{}: {}", finding.place, finding.advised());
            }
        }
        let stop = wide.iter().any(|finding| finding.verdict == Verdict::Stop);
        prop_assert!(!stop, "{:#?}", told(&proof));
        Ok(())
    });
    let (seen, care) = (seen.get(), care.get());
    eprintln!("{kind}: of {seen} programs of a sash {care} bite wider in spots");
    assert!(care * 50 <= seen, "{care} of {seen}");
}

#[test]
fn rectangles_with_bars_are_cut_lane_by_lane() {
    bites("rectangles", 40, &machinable::house());
}

#[test]
fn any_shape_is_cut_lane_by_lane() {
    bites("shapes", 30, &shapes::house());
}

#[test]
fn several_set_ups_cut_lane_by_lane() {
    bites("set-ups", 20, &setups::house());
}
