//! Faults of arcs.

use super::{Plant, Planted, cutting, line};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, has, is_arc, number, renumbered, with};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("swapped arc centre", swapped),
    ("sign of an arc centre", sign),
    ("arc centre moved", moved),
    ("arc the other way round", other_way),
    ("arc end moved", end_moved),
    ("arc taken straight", straight),
    ("arc centre from the origin", absolute),
];

fn swapped(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, is_arc)?;
    let (i, j) = (number(line, 'I')?, number(line, 'J')?);
    *line = renumbered(&renumbered(line, 'I', j), 'J', i);
    Some(Planted::Unknown)
}

fn sign(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let letter = chance.pick(&['I', 'J']);
    let line = line(cutting(job, chance)?, chance, |line| has(line, letter))?;
    *line = renumbered(line, letter, -number(line, letter)?);
    Some(Planted::Unknown)
}

fn moved(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let letter = chance.pick(&['I', 'J']);
    let by = chance.pick(&[0.001, -0.001, 0.003, 0.01, 0.5, -2.0]);
    let line = line(cutting(job, chance)?, chance, |line| has(line, letter))?;
    *line = renumbered(line, letter, number(line, letter)? + by);
    Some(Planted::Unknown)
}

fn other_way(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| is_arc(line) && has(line, 'G'))?;
    let other = if line.starts_with("G2 ") { "G3" } else { "G2" };
    *line = with(line, 'G', other);
    Some(Planted::Unknown)
}

fn end_moved(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let letter = chance.pick(&['X', 'Y']);
    let by = chance.pick(&[0.001, 0.01, 0.1, 2.0]);
    let line = line(cutting(job, chance)?, chance, is_arc)?;
    *line = renumbered(line, letter, number(line, letter)? + by);
    Some(Planted::Unknown)
}

fn straight(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| is_arc(line) && has(line, 'G'))?;
    *line = with(line, 'G', "G1");
    for letter in ['I', 'J'] {
        *line = with(line, letter, "");
    }
    Some(Planted::Unknown)
}

/// I and J as places instead of steps from the arc's start.
fn absolute(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(is_arc);
    let arc = chance.any(&found)?;
    let before = |letter| text.lines[..arc].iter().rev().find_map(|line| number(line, letter));
    let (x, y) = (before('X')?, before('Y')?);
    let line = &mut text.lines[arc];
    let (i, j) = (number(line, 'I')?, number(line, 'J')?);
    *line = renumbered(&renumbered(line, 'I', x + i), 'J', y + j);
    Some(Planted::Unknown)
}
