//! Sashes that are not flat: programs follow the face, and the proof judges by the wood as it lies.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]

mod support;

use fillister::finding::Verdict;
use fillister::job::{Work, prove};
use fillister::prove::{Fault, Program, Proof};
use fillister::sash::Solid;
use fillister::survey::{Height, House, Limit};
use kurbo::{Point, Rect};
use proptest::prelude::*;
use std::cell::Cell;
use support::machinable;
use support::runs::{cases, for_all};

fn worked(house: &House) -> Work {
    Work::new(&house.sashes[0], &house.workshop).unwrap()
}

/// Proves the programs of `work` against the sash of `house`.
fn proof(house: &House, work: &Work) -> Proof {
    let programs = work.programs.programs.iter();
    let programs: Vec<Program> = programs
        .map(|program| Program {
            origin: program.origin,
            ..Program::new(&program.name, &program.text)
        })
        .collect();
    prove(&house.sashes[0], &house.workshop, &programs).unwrap()
}

fn stops(work: &Work) -> Vec<String> {
    let stops = work.findings().into_iter().filter(|finding| finding.verdict == Verdict::Stop);
    stops.map(|f| format!("{}, {}: {} against {}", f.rule, f.place, f.measured, f.limit)).collect()
}

fn told(proof: &Proof) -> Vec<String> {
    let told = |fault: &Fault| {
        let finding = &fault.finding;
        let (rule, place, advice) = (finding.rule, &finding.place, &finding.advice);
        format!("{rule}, {place}: {} against {}. {advice}", finding.measured, finding.limit)
    };
    proof.faults.iter().map(told).collect()
}

/// The house with four heights of the face, at the corners of the sash.
fn warped(house: &House, outer: Rect, heights: [f64; 4]) -> House {
    let corners =
        [(outer.x0, outer.y0), (outer.x1, outer.y0), (outer.x1, outer.y1), (outer.x0, outer.y1)];
    let mut house = house.clone();
    // Whether the bed takes up the twist is another matter.
    house.workshop.limits.twist_stop = Limit::set(-1000.0);
    house.sashes[0].surface =
        corners.iter().zip(heights).map(|(&at, z)| Height { at: Point::from(at), z }).collect();
    house
}

/// How far a corner may differ from another so that the flat cutter's rim stays near the face: the
/// slopes along both sides, each at most twice this over the shorter side, keep half the tolerance.
fn bearable(house: &House, outer: Rect) -> f64 {
    let slope = 0.5 * house.workshop.cutting.tolerance / house.workshop.cutter.radius();
    slope * outer.width().min(outer.height()) / 4.0
}

/// Up to 3 mm high or low all over, tilted and twisted as far as the cutter can follow.
fn faces() -> impl Strategy<Value = (House, f64, [f64; 4])> {
    (machinable::house(), -3.0..3.0_f64, prop::array::uniform4(-1.0..1.0_f64))
}

#[test]
fn bent_programs_are_proven_and_take_the_planned_wood() {
    let (seen, proven) = (Cell::new(0), Cell::new(0));
    for_all(3, &faces(), |(flat, level, shares)| {
        seen.set(seen.get() + 1);
        let straight = worked(&flat);
        if straight.verdict() == Verdict::Stop {
            return Ok(());
        }
        let outer = straight.sash.outer;
        let most = bearable(&flat, outer);
        let house = warped(&flat, outer, shares.map(|share| level + share * most));
        let work = worked(&house);
        prop_assert!(work.verdict() != Verdict::Stop, "{:#?}", stops(&work));
        let bent = proof(&house, &work);
        prop_assert!(bent.is_proven(), "{:#?}", told(&bent));
        // Sheared wood has the volume of straight wood (Cavalieri). Heights are written to four
        // decimals, which the whole floor may be off; walls as for a flat sash.
        let before = proof(&flat, &straight);
        let area: f64 = straight.rebate.go.iter().map(area).sum();
        let edges: f64 = straight.rebate.go.iter().map(sides).sum();
        let off = (bent.volumes.gone - before.volumes.gone).abs();
        prop_assert!(off <= 1e-4 * area + 5e-4 * edges, "{off} of {area} and {edges}");
        prop_assert!(bent.volumes.stay_gone <= 1e-4 * area + 5e-4 * edges);

        // Each for the other's sash is refused, where the two differ by more than the tolerance.
        if level.abs() > most + 0.2 {
            let missed = proof(&house, &straight);
            prop_assert!(!missed.is_proven(), "a flat program on a warped sash");
            let missed = proof(&flat, &work);
            prop_assert!(!missed.is_proven(), "a bent program on a flat sash");
        }
        proven.set(proven.get() + 1);
        Ok(())
    });
    assert!(proven.get() * 10 >= cases(3) * 8, "{} proven of {}", proven.get(), seen.get());
}

fn area(solid: &Solid) -> f64 {
    solid.volume() / (solid.top - solid.bottom)
}

fn sides(solid: &Solid) -> f64 {
    let bounds = solid.region.outline.bounds();
    2.0 * (bounds.width() + bounds.height()) * (solid.top - solid.bottom)
}
