//! How far the proof can be wrong: random programs, straight and round, level, sloping and helical,
//! against a plain map of heights that knows nothing of rows, chords or slopes.
//!
//! Half of the moves run by a wall, a post or a floor within a few hundredths of a millimetre, where
//! a gouge is easily missed. `FILLISTER_CASES=20` runs 200 programs on a map of 0.02 mm instead of
//! 10 on one of 0.1 mm; `--nocapture` shows the largest deviations. Build for release then.

mod heights;
mod programs;

use fillister::prove::{Program, Proof, Setup, prove};
use heights::{Heights, INSET};
use programs::{RADIUS, rebate, steps, text};
use std::f64::consts::TAU;

/// No gouge deeper than this, both sideways and down, may be missed, mm.
const GOUGE: f64 = 0.01;
/// How exactly wood left over is looked for, mm.
const TOLERANCE: f64 = 0.05;

/// The largest deviations, mm.
#[derive(Debug, Default)]
struct Worst {
    /// Programs told to gouge, the deepest gouge of all others, and the mildest of these.
    gouges: u32,
    missed: f64,
    mildest: f64,
    /// Programs told to leave wood.
    leftovers: u32,
    /// Of the surface, beyond half the pitch along X and Y.
    too_high: f64,
    too_low: f64,
    /// Of the volume, in the mean over what was cut.
    mean_depth: f64,
}

fn setup(tolerance: f64) -> Setup {
    Setup {
        cutter_diameter: 2.0 * RADIUS,
        shank_diameter: 1.0,
        step_depth: 100.0,
        skim: 0.0,
        tolerance,
        ..Setup::default()
    }
}

fn tells(proof: &Proof, rule: &str) -> bool {
    proof.findings().any(|finding| finding.rule == rule)
}

#[test]
fn the_proof_agrees_with_a_map_of_heights() {
    let factor = std::env::var("FILLISTER_CASES").ok();
    let factor = factor.map_or(1, |text| text.parse::<u64>().expect("a whole number"));
    let grid = if factor > 1 { 0.02 } else { 0.1 };
    let mut worst = Worst { mildest: f64::INFINITY, ..Worst::default() };
    for case in 0..10 * factor {
        judge(case, grid, &mut worst);
    }
    println!("{worst:?}");
    // Neither all nor none: else nothing was tried.
    assert!(worst.gouges > 0 && worst.leftovers > 0);
    assert!(u64::from(worst.gouges) < 10 * factor);
}

fn judge(case: u64, grid: f64, worst: &mut Worst) {
    let (rebate, steps) = (rebate(), steps(case));
    let text = text(&steps);
    let programs = [Program::new("random.ngc", &text)];
    let heights = Heights::new(grid, &steps);

    // Gouges: a place inside wood that must stay by more than the limit, cut by more than it.
    let exact = prove(&programs, &rebate, &setup(GOUGE));
    assert!(exact.swept, "{case}: {:?}", exact.faults);
    let gouge = heights.gouge();
    if tells(&exact, "prove.gouge") {
        worst.gouges += 1;
        worst.mildest = worst.mildest.min(gouge);
    } else {
        worst.missed = worst.missed.max(gouge);
        assert!(gouge <= GOUGE.max(INSET), "case {case}: missed a gouge of {gouge}\n{text}");
    }

    // The surface: within half the pitch along X and Y, and within the tolerance along Z. The map
    // itself shows its cells' middles.
    let coarse = prove(&programs, &rebate, &setup(TOLERANCE));
    let pitch = setup(TOLERANCE).pitch();
    // Half a step of the picture's slopes comes on top: it tells them in level steps of 0.05 mm.
    let (down, up) = (TOLERANCE / 4.0 + 0.026, TOLERANCE + 0.026);
    let (low, high) = heights.beyond(&coarse, pitch / 2.0, (down, up));
    worst.too_low = worst.too_low.max(low);
    worst.too_high = worst.too_high.max(high);
    assert!(low <= down, "case {case}: {low} too low\n{text}");
    assert!(high <= up, "case {case}: {high} too high\n{text}");

    // Wood left over: a square of wood with sides of tolerance and pitch.
    let told = tells(&coarse, "prove.leftover");
    worst.leftovers += u32::from(told);
    if heights.left_over(TOLERANCE + pitch, TOLERANCE) {
        assert!(told, "case {case}: missed wood left over\n{text}");
    }
    if told {
        assert!(heights.left_over(0.0, 0.0), "case {case}: nothing is left over\n{text}");
    }

    // Volume: no more off than the tolerance on what is cut, and half the pitch, for the proof, or half
    // a cell, for the map, along all boundaries.
    let (volume, area) = heights.volume();
    let off = (coarse.volumes.gone + coarse.volumes.stay_gone - volume).abs();
    let boundary: f64 = steps.iter().map(|step| 2.0 * step.path.length() + TAU * RADIUS).sum();
    let bound = TOLERANCE * area + boundary * 7.0 * (pitch + grid) / 2.0;
    assert!(off <= bound, "case {case}: {off} of {volume}\n{text}");
    worst.mean_depth = worst.mean_depth.max(off / area.max(10.0));
}
