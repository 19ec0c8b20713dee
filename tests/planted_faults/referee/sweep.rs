//! One move through the samples: what it cuts, what it meets, what it must not touch.

use super::Opinion;
use super::interpreter::Move;
use super::path::Path;
use super::rules::fall;
use super::wood::Wood;
use fillister::prove::Setup;

/// Wood thinner than this is none, mm.
pub(super) const WOOD: f64 = 0.05;

/// A ramp is cut in pieces that fall by no more than this, mm.
const DROP: f64 = 0.02;

/// Rounding of samples and of ramps, mm.
const BAND: f64 = 0.01;

/// What a move did, at its worst, mm.
#[derive(Debug, Clone, Copy, Default)]
struct Worst {
    /// Depth into wood that must stay: sideways or down, whichever is less.
    gouge: f64,
    /// Wood met by a core that is surely too small, and by one that is surely too large.
    inner: f64,
    outer: f64,
    /// Samples of wood that it took well within its rim.
    cut: usize,
}

/// Cuts along `mv` and judges it.
pub(super) fn sweep(
    wood: &Wood,
    heights: &mut [f32],
    mv: &Move,
    limits: &Setup,
    opinion: &mut Opinion,
) {
    let low = mv.from_z.min(mv.to_z);
    if low >= 0.0 {
        return;
    }
    let plunges = fall(mv) > limits.ramp_angle;
    let radius = limits.radius();
    // A finishing cut of `skim` is √2 as wide across a corner.
    let rim = if plunges { 0.0 } else { std::f64::consts::SQRT_2 * limits.skim };
    let core = radius - rim - limits.tolerance;
    let mut worst = Worst::default();
    let pieces = pieces(mv);
    if plunges {
        // Slice by slice a fall meets next to nothing: the whole of it counts, from the wood before.
        for (path, z) in &pieces {
            cut(wood, heights, (path, *z), (radius, core, false), &mut worst);
        }
    }
    for (path, z) in &pieces {
        cut(wood, heights, (path, *z), (radius, core, true), &mut worst);
    }
    let line = mv.line;
    heat(wood, heights, mv, (limits, worst.cut), opinion);
    let unseen = wood.unseen(radius);
    if worst.gouge > limits.tolerance + 0.001 {
        opinion.harm(|| format!("line {line}: {} mm into wood that must stay", worst.gouge));
    } else if worst.gouge > limits.tolerance - unseen {
        opinion.doubt(|| format!("line {line}: perhaps a gouge, {}", worst.gouge));
    }
    let rises = mv.path.length() == 0.0 && mv.to_z >= mv.from_z;
    if mv.rapid || rises {
        return;
    }
    let limit = limits.tolerance + if plunges { 0.0 } else { limits.step_depth };
    let what = if plunges { "straight down" } else { "in one step" };
    if worst.inner > limit + BAND {
        opinion.harm(|| format!("line {line}: {} mm {what}", worst.inner));
    } else if worst.outer > limit - BAND {
        opinion.doubt(|| format!("line {line}: perhaps {} mm {what}", worst.outer));
    }
}

/// Chips of a fifth of the least that cuts rub and burn, and so does a cutter that turns on the spot for over a
/// second in wood; a narrow cut makes thinner chips than its feed tells, so that up to the least nothing is sure.
fn heat(
    wood: &Wood,
    heights: &[f32],
    mv: &Move,
    (limits, cut): (&Setup, usize),
    opinion: &mut Opinion,
) {
    if mv.spindle == 3 && !mv.rapid && cut > 0 && fall(mv) <= limits.ramp_angle && mv.speed > 0.0 {
        let chip = mv.feed / (mv.speed * f64::from(limits.flutes));
        // A shaving here and there is none to judge.
        if chip > 0.0 && chip < 0.2 * limits.least_chip && cut >= 40 {
            opinion.harm(|| format!("line {}: chips of {chip} mm burn", mv.line));
        } else if chip < limits.least_chip {
            opinion.doubt(|| format!("line {}: chips of {chip} mm", mv.line));
        }
    }
    if mv.dwell <= 1.0 || mv.spindle != 3 || mv.to_z >= 0.0 {
        return;
    }
    let at = Path::Line(mv.path.at(1.0), mv.path.at(1.0));
    let (mut touched, mut perhaps) = (false, false);
    for (y, from, to) in wood.near(&at, limits.radius() + 2.0 * limits.tolerance) {
        for (sample, height) in wood.samples[from..to].iter().zip(&heights[from..to]) {
            let surface = wood.column(sample).surface(f64::from(*height));
            let Some(surface) = surface.filter(|surface| *surface > mv.to_z - 0.1) else {
                continue;
            };
            let distance = at.distance((sample.x, y));
            touched |= distance < limits.radius() && surface > mv.to_z - 0.01;
            perhaps |= distance < limits.radius() + 2.0 * limits.tolerance;
        }
    }
    if touched {
        opinion.harm(|| format!("line {}: {} s on the spot in wood", mv.line, mv.dwell));
    } else if perhaps {
        opinion.doubt(|| format!("line {}: {} s beside wood", mv.line, mv.dwell));
    }
}

/// The move as pieces at one height each.
fn pieces(mv: &Move) -> Vec<(Path, f64)> {
    if mv.path.length() == 0.0 {
        return vec![(mv.path, mv.from_z.min(mv.to_z))];
    }
    let drop = mv.to_z - mv.from_z;
    let mut all = Vec::new();
    let count = (drop.abs() / DROP).ceil().max(1.0);
    let mut index = 0.0;
    while index < count {
        let (from, to) = (index / count, (index + 1.0) / count);
        let z = mv.from_z + drop * (index + 0.5) / count;
        if z < 0.0 {
            all.push((mv.path.part(from, to), z));
        }
        index += 1.0;
    }
    all
}

/// Measures one piece, and cuts it if `cuts`.
fn cut(
    wood: &Wood,
    heights: &mut [f32],
    (path, z): (&Path, f64),
    (radius, core, cuts): (f64, f64, bool),
    worst: &mut Worst,
) {
    #[expect(clippy::cast_possible_truncation, reason = "heights need six digits, not more")]
    let low = z as f32;
    let (small, large) = (core - BAND, core + 2.0 * BAND);
    for (y, from, to) in wood.near(path, radius) {
        let row = wood.samples[from..to].iter().zip(&mut heights[from..to]);
        for (sample, height) in row {
            if *height <= low && sample.stays <= z {
                continue;
            }
            let distance = path.distance((sample.x, y));
            if distance >= radius {
                continue;
            }
            if sample.stays > z {
                worst.gouge = worst.gouge.max((radius - distance).min(sample.stays - z));
            }
            if *height <= low {
                continue;
            }
            let surface = wood.column(sample).surface(f64::from(*height));
            let tall = surface.map_or(0.0, |surface| surface - z);
            if distance < small {
                worst.inner = worst.inner.max(tall);
            }
            if distance < large {
                worst.outer = worst.outer.max(tall);
            }
            if cuts {
                worst.cut += usize::from(tall > 0.1 && distance < radius - 0.3);
                *height = low;
            }
        }
    }
}
