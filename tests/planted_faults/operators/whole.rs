//! Faults of whole programs: modes, order, beginning and end.

use super::{Plant, Planted, any, cutting};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::Job;

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("inches for millimetres", |job, chance| modes(job, chance, "G21", "G20")),
    ("steps for places", |job, chance| modes(job, chance, "G90", "G91")),
    ("no units word", |job, chance| modes(job, chance, "G21 ", "")),
    ("no word for places", |job, chance| modes(job, chance, "G90 ", "")),
    ("no plane word", |job, chance| modes(job, chance, "G17 ", "")),
    ("no feed mode word", |job, chance| modes(job, chance, " G94", "")),
    ("mode changed half way", half_way),
    ("programs in the wrong order", order),
    ("program left out", left_out),
    ("program doubled", doubled),
    ("end lost", end_lost),
    ("text cut off", cut_off),
    ("end too early", early_end),
];

fn modes(job: &mut Job, chance: &mut Chance, from: &str, to: &str) -> Option<Planted> {
    let text = any(job, chance);
    let found = text.find(|line| line.contains("G17"));
    let line = &mut text.lines[chance.any(&found)?];
    *line = line.replace(from, to);
    Some(Planted::Unknown)
}

fn half_way(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let at = chance.below(text.lines.len());
    text.lines.insert(at, chance.pick(&["G20", "G21", "G90", "G91", "G17", "G94"]).into());
    Some(Planted::Unknown)
}

fn order(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let count = job.texts.len();
    let (a, b) = (chance.below(count), chance.below(count));
    job.texts.swap(a, b);
    (a != b).then_some(Planted::Unknown)
}

fn left_out(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let count = job.texts.len();
    job.texts.remove(chance.below(count));
    Some(Planted::Unknown)
}

fn doubled(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let at = chance.below(job.texts.len());
    let text = job.texts[at].clone();
    job.texts.insert(at, text);
    Some(Planted::Unknown)
}

fn end_lost(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    any(job, chance).lines.pop();
    Some(Planted::Harm)
}

/// Anywhere; only the last line's ending is not missed.
fn cut_off(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let whole = text.whole();
    let at =
        whole.len() - 1 - if chance.flip() { chance.below(40) } else { chance.below(whole.len()) };
    text.bytes = Some(whole[..at].into());
    Some(if at + 1 == whole.len() { Planted::NoHarm } else { Planted::Harm })
}

/// M2 before the work is done: what follows would never run.
fn early_end(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let at = chance.below(text.lines.len() - 1);
    text.lines.insert(at, "M2".into());
    Some(Planted::Harm)
}
