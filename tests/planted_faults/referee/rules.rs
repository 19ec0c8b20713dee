//! Rules of motion that need no wood.

use super::Opinion;
use super::interpreter::{Move, Run};
use super::path::Path;
use fillister::prove::Setup;

/// Rounding of four decimals, and of inches.
const BAND: f64 = 1e-3;

/// Angle of a falling move below the level, degrees.
pub(super) fn fall(mv: &Move) -> f64 {
    (mv.from_z - mv.to_z).max(0.0).atan2(mv.path.length()).to_degrees()
}

/// Feed, spindle and heights of one move.
pub(super) fn motion(mv: &Move, limits: &Setup, is_open: bool, opinion: &mut Opinion) {
    if !mv.rapid {
        if mv.feed <= 0.0 {
            opinion.harm(|| format!("line {}: no feed", mv.line));
        }
        opinion.at_most(mv.feed, limits.max_feed * 1.000_001, BAND / 100.0, "feed");
        let down = mv.feed * fall(mv).to_radians().sin();
        opinion.at_most(down, limits.max_plunge * 1.000_001, BAND / 100.0, "feed downwards");
    }
    let low = mv.from_z.min(mv.to_z);
    let under = (limits.clear_height - low) * if low < limits.clear_height { 1.0 } else { 0.0 };
    let [slowest, fastest] = limits.spindle;
    if mv.spindle != 3 || mv.speed < slowest || mv.speed > fastest {
        opinion.at_most(-low, 0.0, BAND, "in the wood with a spindle that does not cut");
    }
    if let Some(floor) = limits.floor {
        opinion.at_most(floor - low, limits.tolerance, BAND, "below the sash");
    }
    let rises = mv.path.length() == 0.0 && mv.to_z >= mv.from_z;
    if mv.rapid && !rises && is_open {
        // Straight down in an opening, to a millimetre above the face.
        opinion.at_most(1.0 - mv.to_z, limits.tolerance, BAND, "low in a rapid move down");
    } else if mv.rapid && !rises {
        opinion.at_most(under, limits.tolerance, BAND, "low in a rapid move");
    }
}

/// Beginning, pauses and end.
pub(super) fn frame(run: &Run, limits: &Setup, opinion: &mut Opinion) {
    for doubt in &run.doubts {
        opinion.doubt(|| doubt.clone());
    }
    let halts = run.halts.iter().map(|z| z.unwrap_or(f64::NEG_INFINITY));
    for z in run.raises.iter().copied().chain(halts) {
        opinion.at_most(limits.clear_height - z, limits.tolerance, BAND, "low at start or halt");
    }
    if !run.ended {
        opinion.harm(|| "no end".into());
    }
    if run.spindle != 5 {
        opinion.harm(|| "the spindle runs on".into());
    }
}

/// All programs together within the machine's travel.
pub(super) fn travel(runs: &[Run], limits: &Setup, opinion: &mut Opinion) {
    let all = runs.iter().flat_map(|run| &run.moves).map(|mv| mv.path.extent());
    let Some([x0, x1, y0, y1]) =
        all.reduce(|a, b| [a[0].min(b[0]), a[1].max(b[1]), a[2].min(b[2]), a[3].max(b[3])])
    else {
        return;
    };
    let arcs = runs.iter().flat_map(|run| &run.moves).map(|mv| match mv.path {
        // Extents of arcs are sampled.
        Path::Arc(_, radius, ..) => radius * 4e-5,
        Path::Line(..) => 0.0,
    });
    let band = BAND + arcs.fold(0.0, f64::max);
    opinion.at_most(x1 - x0, limits.travel[0] + limits.tolerance, band, "travel in X");
    opinion.at_most(y1 - y0, limits.travel[1] + limits.tolerance, band, "travel in Y");
}
