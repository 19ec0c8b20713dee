//! How wide a move bites sideways: looked at place by place across its path, on the nearest samples.

use super::Opinion;
use super::interpreter::Move;
use super::sweep::WOOD;
use super::wood::Wood;
use fillister::prove::Setup;

/// What a bite may be wider than asked for, and how long, in cutters; and how much of the latter is left open.
const WIDER: f64 = 0.1;
const LONGEST: f64 = 3.0;
const OPEN: f64 = 0.5;

/// Steps across a path, mm.
const STEP: f64 = 0.5;

/// Way of late, less that since, along which bites are surely and perhaps too wide, mm.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Wide {
    surely: f64,
    perhaps: f64,
}

impl Wide {
    /// Looks at the wood before the move.
    pub(super) fn look(
        &mut self,
        wood: &Wood,
        heights: &[f32],
        mv: &Move,
        limits: &Setup,
        opinion: &mut Opinion,
    ) {
        let (diameter, length) = (limits.cutter_diameter, mv.path.length());
        if mv.rapid || length == 0.0 || mv.from_z.min(mv.to_z) >= 0.0 {
            return;
        }
        let most = limits.widest_bite + WIDER * diameter;
        let area = limits.widest_bite * (limits.step_depth + limits.tolerance);
        let band = (wood.pitch + STEP).min(2.0 * wood.pitch);
        // Too wide by more than the samples leave open, or by less than that short of it; heights are exact.
        let [mut surely, mut perhaps] = [0.0, 0.0];
        let at = |share: f64| {
            let (width, section) = across(wood, heights, mv, share, limits);
            let high = band * limits.step_depth;
            let sure = width > most + band && section > area + high;
            (sure, width > most - band && section > area)
        };
        let count = (length / diameter).ceil();
        let any = (0..count as usize).any(|index| at((index as f64 + 0.5) / count).1);
        let finely = if any { 4.0 * count } else { 0.0 };
        for index in 0..finely as usize {
            let (sure, maybe) = at((index as f64 + 0.5) / finely);
            let by = length / finely;
            for (is, run, most) in
                [(sure, &mut self.surely, &mut surely), (maybe, &mut self.perhaps, &mut perhaps)]
            {
                *run = f64::max(0.0, *run + if is { by } else { -by });
                *most = f64::max(*most, *run);
            }
        }
        if !any {
            self.surely = f64::max(0.0, self.surely - length);
            self.perhaps = f64::max(0.0, self.perhaps - length);
        }
        let line = mv.line;
        if surely > (LONGEST + OPEN) * diameter {
            opinion.harm(|| format!("line {line}: too wide a bite along {surely} mm"));
        } else if perhaps > (LONGEST - OPEN) * diameter {
            opinion.doubt(|| format!("line {line}: perhaps too wide a bite along {perhaps} mm"));
        }
    }
}

/// Width and section of the wood that stands across the path.
fn across(wood: &Wood, heights: &[f32], mv: &Move, share: f64, limits: &Setup) -> (f64, f64) {
    let z = mv.from_z + (mv.to_z - mv.from_z) * share;
    let (before, after) = (mv.path.at(share - 1e-4), mv.path.at(share + 1e-4));
    let along = (after.0 - before.0, after.1 - before.1);
    let long = along.0.hypot(along.1);
    let (at, aside) = (mv.path.at(share), (-along.1 / long, along.0 / long));
    let count = (2.0 * limits.radius() / STEP).ceil();
    let step = 2.0 * limits.radius() / count;
    let (mut width, mut area) = (0.0, 0.0);
    for index in 0..count as usize {
        let by = (index as f64 + 0.5) * step - limits.radius();
        let surface = wood.surface_at((at.0 + by * aside.0, at.1 + by * aside.1), heights);
        let height = surface.map_or(0.0, |surface| surface - z);
        if height > WOOD {
            width += step;
            area += step * height;
        }
    }
    (width, area)
}
