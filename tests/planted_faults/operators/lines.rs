//! Lines that are missing, there twice, or in the wrong order.

use super::{Plant, Planted, any, cutting};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, has, is_arc, is_remark, moves};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("deleted move in the plane", |job, chance| {
        deleted(job, chance, |line| moves(line) && !has(line, 'Z') && !is_arc(line))
    }),
    ("deleted move along Z", |job, chance| deleted(job, chance, |line| has(line, 'Z'))),
    ("deleted arc", |job, chance| deleted(job, chance, is_arc)),
    ("deleted line of modes", |job, chance| deleted(job, chance, |line| line.contains("G17"))),
    ("deleted spindle line", |job, chance| deleted(job, chance, |line| has(line, 'M'))),
    ("deleted remark", |job, chance| deleted(job, chance, is_remark)),
    ("several lines deleted", several),
    ("duplicated line", duplicated),
    ("neighbours exchanged", exchanged),
    ("lines exchanged far apart", far_exchanged),
    ("two lines run together", joined),
];

fn deleted(job: &mut Job, chance: &mut Chance, wanted: fn(&str) -> bool) -> Option<Planted> {
    let text = any(job, chance);
    let found = text.find(wanted);
    text.lines.remove(chance.any(&found)?);
    Some(Planted::Unknown)
}

fn several(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let from = chance.below(text.lines.len());
    let to = (from + 2 + chance.below(12)).min(text.lines.len());
    text.lines.drain(from..to);
    Some(Planted::Unknown)
}

fn duplicated(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let index = chance.below(text.lines.len());
    text.lines.insert(index, text.lines[index].clone());
    Some(Planted::Unknown)
}

fn exchanged(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let index = chance.below(text.lines.len() - 1);
    text.lines.swap(index, index + 1);
    Some(Planted::Unknown)
}

fn far_exchanged(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(moves);
    let (a, b) = (chance.any(&found)?, chance.any(&found)?);
    text.lines.swap(a, b);
    Some(Planted::Unknown)
}

fn joined(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(|line| !is_remark(line));
    let index = chance.any(&found).filter(|&index| index + 1 < text.lines.len())?;
    let next = text.lines.remove(index + 1);
    let line = &mut text.lines[index];
    *line = format!("{line} {next}");
    Some(Planted::Unknown)
}
