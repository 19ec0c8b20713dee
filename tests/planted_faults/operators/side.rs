//! Faults of what the cutter bites sideways.

use super::{Plant, Planted, cutting};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, has, number};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("lane left out", lane_left_out),
    ("slot at once", slot_at_once),
    ("bites wider than they may be", |job, chance| bite(job, chance, &[0.3, 0.5], Planted::Harm)),
    ("bites as wide as they may be", |job, chance| bite(job, chance, &[1.0, 1.3], Planted::NoHarm)),
];

/// What the cutter does between coming down and going up or deeper is left out: what is cut next bites as much
/// wider, and what is cut below is as much deeper.
fn lane_left_out(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let downs = text.find(|line| number(line, 'Z').is_some_and(|z| z < 0.0));
    let down = chance.any(&downs)?;
    let end = (down + 1..text.lines.len()).find(|&index| has(&text.lines[index], 'Z'))?;
    text.lines.drain(down + 1..end);
    Some(Planted::Unknown)
}

/// Where a bar is cut through in two steps the first of them is left out.
fn slot_at_once(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let deep = |index: usize| number(text.lines.get(index)?, 'Z').filter(|z| *z < 0.0);
    // Up, to and fro, down again to where it was.
    let heights = text.find(|line| has(line, 'Z'));
    let ups = heights.windows(3).filter_map(|at| {
        let [before, up, down] = [at[0], at[1], at[2]].map(deep);
        (before == down && up? > before?).then_some((at[1], at[2]))
    });
    let ups: Vec<(usize, usize)> = ups.collect();
    let (up, down) = chance.any(&ups)?;
    text.lines.drain(up..down);
    Some(Planted::Unknown)
}

/// The survey asks for other bites than these programs take.
fn bite(job: &mut Job, chance: &mut Chance, shares: &[f64], planted: Planted) -> Option<Planted> {
    job.setup.widest_bite *= chance.pick(shares);
    Some(planted)
}
