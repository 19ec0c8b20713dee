//! A unit laid into the frame that the programs leave, gap by gap.

use super::fixture::*;
use crate::geometry::{PerSide, Sided};
use crate::prove::{Ordered, Setup};
use kurbo::Rect;

/// 12 mm of cover behind a daylight of 100 by 80, with 2 mm of gap and 4 at the bottom: the walls of the
/// frame. Bed 2, glass 15, bead 10: its platform.
fn unit() -> Ordered {
    let drawn = Sided::rectangle(Rect::new(-12.0, -12.0, 112.0, 92.0)).unwrap();
    Ordered {
        light: "whole sash".into(),
        rest: drawn.clone(),
        drawn,
        clearance: PerSide { bottom: 4.0, ..PerSide::all(2.0) },
        bed: 2.0,
        thickest: 15.0,
        bead: 10.0,
        proud: 0.0,
    }
}

fn found(unit: Ordered) -> Vec<(f64, f64)> {
    let setup = Setup { units: vec![unit], ..setup() };
    let proof = proof(&programs(100.0, 80.0), &frame(100.0, 80.0), &setup);
    let found = proof.findings().filter(|finding| finding.rule == "prove.fits");
    found.map(|finding| (finding.measured.value, finding.limit.value)).collect()
}

#[test]
fn what_was_planned_for_goes_in() {
    assert_eq!(found(unit()), []);
    assert_eq!(found(Ordered { bed: 2.04, ..unit() }), []);
}

#[test]
fn what_lies_on_the_platform_adds_up() {
    for thicker in [
        Ordered { bed: 2.5, ..unit() },
        Ordered { thickest: 15.5, ..unit() },
        Ordered { bead: 10.5, ..unit() },
    ] {
        let [(measured, limit)] = found(thicker)[..] else { panic!() };
        assert!((measured - 27.0).abs() < 1e-9 && (limit - 27.5).abs() < 1e-9);
    }
    assert_eq!(found(Ordered { bead: 12.0, proud: 2.0, ..unit() }), []);
}

#[test]
fn each_gap_is_looked_for_on_its_own_side() {
    let PerSide { left, right, bottom, top } = unit().clearance;
    for clearance in [
        PerSide { left: left + 1.0, ..unit().clearance },
        PerSide { right: right + 1.0, ..unit().clearance },
        PerSide { bottom: bottom + 1.0, ..unit().clearance },
        PerSide { top: top + 1.0, ..unit().clearance },
    ] {
        let [(gap, wanted)] = found(Ordered { clearance, ..unit() })[..] else { panic!() };
        assert!((wanted - gap - 1.0).abs() < 0.06, "{gap} of {wanted}");
    }
}

/// The upper corners of the frame are left round, 2.49 mm along the diagonal: a glass corner 2 mm off both
/// walls clears that (it may be as near as 1.76), one that comes to rest in the corner does not.
#[test]
fn a_corner_that_is_left_round_must_be_clear_of_the_unit() {
    let at_rest = |out: f64| {
        let rest = Rect::new(-12.0, -12.0, 112.0 + out, 92.0 + out);
        found(Ordered { rest: Sided::rectangle(rest).unwrap(), ..unit() })
    };
    assert_eq!(at_rest(0.2), []);
    assert_eq!(at_rest(0.6).len(), 1);
}
