//! Faults of Z.

use super::{Plant, Planted, cutting, line};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, has, number, renumbered, with, word};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("deeper", |job, chance| lower(job, chance, -1.0)),
    ("shallower", |job, chance| lower(job, chance, 1.0)),
    ("whole program deeper", |job, chance| lower_all(job, chance, -1.0)),
    ("whole program shallower", |job, chance| lower_all(job, chance, 1.0)),
    ("digit lost in Z", digit_lost),
    ("decimal point lost", point_lost),
    ("sign lost in Z", sign_lost),
    ("clear height too low", clear_too_low),
    ("missing retract", no_retract),
    ("plunge into wood", plunge),
    ("ramp down for a plunge", ramp),
    ("low start", low_start),
    ("low end", low_end),
];

const STEPS: [f64; 4] = [0.02, 0.1, 0.5, 3.0];

fn deep(line: &str) -> bool {
    number(line, 'Z').is_some_and(|z| z < 0.0)
}

/// Up to the clear height, and no rapid move down to just above the face.
pub(super) fn retract(line: &str) -> bool {
    number(line, 'Z').is_some_and(|z| z > 2.0)
}

fn lower(job: &mut Job, chance: &mut Chance, sign: f64) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, deep)?;
    *line = renumbered(line, 'Z', number(line, 'Z')? + sign * chance.pick(&STEPS));
    Some(Planted::Unknown)
}

fn lower_all(job: &mut Job, chance: &mut Chance, sign: f64) -> Option<Planted> {
    let by = sign * chance.pick(&STEPS);
    for line in &mut cutting(job, chance)?.lines {
        if let Some(z) = number(line, 'Z') {
            *line = renumbered(line, 'Z', z + by);
        }
    }
    Some(Planted::Unknown)
}

fn digit_lost(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| {
        word(line, 'Z').is_some_and(|word| word.chars().filter(char::is_ascii_digit).count() > 1)
    })?;
    let word = word(line, 'Z')?.to_owned();
    let digits: Vec<usize> =
        word.char_indices().filter(|(_, c)| c.is_ascii_digit()).map(|(i, _)| i).collect();
    let mut shorter = word.clone();
    shorter.remove(chance.pick(&digits));
    *line = with(line, 'Z', &shorter);
    Some(Planted::Unknown)
}

fn point_lost(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let axis = chance.pick(&['X', 'Y', 'Z']);
    let line = line(cutting(job, chance)?, chance, |line| {
        word(line, axis).is_some_and(|word| word.contains('.'))
    })?;
    *line = with(line, axis, &word(line, axis)?.replace('.', ""));
    Some(Planted::Unknown)
}

fn sign_lost(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, deep)?;
    *line = renumbered(line, 'Z', -number(line, 'Z')?);
    Some(Planted::Unknown)
}

fn clear_too_low(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let by = chance.pick(&[0.02, 0.1, 1.0, 6.0, 8.0, 12.0]);
    let all = chance.flip();
    let text = super::any(job, chance);
    let found = text.find(retract);
    let one = chance.any(&found)?;
    for index in found.into_iter().filter(|&index| all || index == one) {
        let line = &mut text.lines[index];
        *line = renumbered(line, 'Z', number(line, 'Z')? - by);
    }
    Some(Planted::Unknown)
}

fn no_retract(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(retract);
    text.lines.remove(chance.any(&found)?);
    Some(Planted::Unknown)
}

/// The way into the wood taken at the height of before, and then straight down.
fn plunge(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let downs = text.find(deep);
    let down = chance.any(&downs)?;
    let by = 1 + chance.below(4);
    if down + by >= text.lines.len() || !text.lines[down + by].starts_with(['X', 'Y', 'G']) {
        return None;
    }
    let line = text.lines.remove(down);
    text.lines.insert(down + by, line);
    Some(Planted::Unknown)
}

/// Down and along in one move.
fn ramp(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let downs: Vec<usize> = text
        .find(deep)
        .into_iter()
        .filter(|&i| text.lines.get(i + 1).is_some_and(|next| has(next, 'X') || has(next, 'Y')))
        .collect();
    let down = chance.any(&downs)?;
    let z = word(&text.lines[down], 'Z')?.to_owned();
    text.lines.remove(down);
    let next = &mut text.lines[down];
    let straight = if next.starts_with('G') { "" } else { "G1 " };
    *next = format!("{straight}{next} {z}");
    if has(next, 'F') {
        *next = with(next, 'F', chance.pick(&["F400", "F1200"]));
    }
    Some(Planted::Unknown)
}

fn low_start(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = super::any(job, chance);
    let first = text.find(retract).into_iter().next()?;
    let line = &mut text.lines[first];
    *line = renumbered(line, 'Z', number(line, 'Z')? - chance.pick(&[0.02, 0.1, 3.0]));
    Some(Planted::Unknown)
}

fn low_end(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let last = text.find(retract).into_iter().next_back()?;
    let line = &mut text.lines[last];
    *line = renumbered(line, 'Z', number(line, 'Z')? - chance.pick(&[0.02, 0.1, 3.0, 10.0]));
    Some(Planted::Unknown)
}
