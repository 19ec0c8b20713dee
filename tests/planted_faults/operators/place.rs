//! Faults of X and Y.

use super::{Plant, Planted, any, cutting, line};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, Text, has, is_arc, is_remark, number, renumbered, with};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("shift of one line", one),
    ("shift of a whole program", program),
    ("shift of every program", every),
    ("X and Y exchanged in a line", exchanged),
    ("mirrored program", mirrored),
    ("scaled program", scaled),
    ("turned program", turned),
    ("sign lost in X or Y", sign_lost),
    ("digits exchanged", digits_exchanged),
    ("far outside the bed", far),
];

const STEPS: [f64; 4] = [0.01, 0.1, 0.5, 2.0];

fn step(chance: &mut Chance) -> f64 {
    chance.pick(&STEPS) * if chance.flip() { 1.0 } else { -1.0 }
}

fn one(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let axis = chance.pick(&['X', 'Y']);
    let by = step(chance);
    let line = line(cutting(job, chance)?, chance, |line| has(line, axis) && !is_arc(line))?;
    *line = renumbered(line, axis, number(line, axis)? + by);
    Some(Planted::Unknown)
}

fn shift(text: &mut Text, axis: char, by: f64) {
    for line in &mut text.lines {
        if let Some(value) = number(line, axis) {
            *line = renumbered(line, axis, value + by);
        }
    }
}

fn program(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let (axis, by) = (chance.pick(&['X', 'Y']), step(chance));
    shift(any(job, chance), axis, by);
    Some(Planted::Unknown)
}

fn every(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let (axis, by) = (chance.pick(&['X', 'Y']), step(chance));
    job.texts.iter_mut().for_each(|text| shift(text, axis, by));
    Some(Planted::Unknown)
}

fn exchanged(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| has(line, 'X') || has(line, 'Y'))?;
    if is_remark(line) {
        return None;
    }
    let swap = |c| match c {
        'X' => 'Y',
        'Y' => 'X',
        c => c,
    };
    *line = line.chars().map(swap).collect();
    Some(Planted::Unknown)
}

/// Every line anew, from its X and Y and its I and J.
fn map(text: &mut Text, to: impl Fn(f64, f64) -> (f64, f64)) {
    let mut at = (0.0, 0.0);
    for line in &mut text.lines {
        for (a, b) in [('X', 'Y'), ('I', 'J')] {
            if !has(line, a) && !has(line, b) {
                continue;
            }
            let before = if a == 'X' { at } else { (0.0, 0.0) };
            let old = (number(line, a).unwrap_or(before.0), number(line, b).unwrap_or(before.1));
            if a == 'X' {
                at = old;
            }
            let (x, y) = to(old.0, old.1);
            for (letter, value) in [(a, x), (b, y)] {
                if has(line, letter) {
                    *line = renumbered(line, letter, value);
                } else {
                    let text = crate::planted_faults::job::decimal(value, 4);
                    *line = format!("{line} {letter}{text}");
                }
            }
        }
    }
}

/// The sash lies the other way up, or left is taken for right.
fn mirrored(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let across = chance.flip();
    map(any(job, chance), |x, y| if across { (-x, y) } else { (x, -y) });
    Some(Planted::Unknown)
}

fn scaled(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let by = chance.pick(&[0.9, 0.99, 0.9999, 1.0001, 1.01, 1.1]);
    map(any(job, chance), |x, y| (x * by, y * by));
    Some(Planted::Unknown)
}

/// The sash lies askew on the bed by some degrees.
fn turned(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let (sin, cos) = chance.pick(&[0.001_f64, 0.2, 1.0, -0.2, 90.0]).to_radians().sin_cos();
    map(any(job, chance), |x, y| (x * cos - y * sin, x * sin + y * cos));
    Some(Planted::Unknown)
}

fn sign_lost(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let axis = chance.pick(&['X', 'Y']);
    let line =
        line(cutting(job, chance)?, chance, |line| number(line, axis).is_some_and(|v| v < 0.0))?;
    *line = renumbered(line, axis, -number(line, axis)?);
    Some(Planted::Unknown)
}

/// 12.5 for 21.5: two neighbours change places.
fn digits_exchanged(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let axis = chance.pick(&['X', 'Y', 'Z']);
    let line = line(cutting(job, chance)?, chance, |line| {
        number(line, axis).is_some_and(|v| v.abs() >= 10.0)
    })?;
    let mut word: Vec<char> = crate::planted_faults::job::word(line, axis)?.chars().collect();
    let pairs: Vec<usize> = (1..word.len() - 1)
        .filter(|&i| word[i].is_ascii_digit() && word[i + 1].is_ascii_digit())
        .collect();
    let at = chance.any(&pairs)?;
    word.swap(at, at + 1);
    *line = with(line, axis, &word.into_iter().collect::<String>());
    Some(Planted::Unknown)
}

fn far(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let axis = chance.pick(&['X', 'Y']);
    let by = chance.pick(&[-5000.0, 5000.0]);
    let line = line(any(job, chance), chance, |line| has(line, axis) && !is_arc(line))?;
    *line = renumbered(line, axis, by);
    Some(Planted::Unknown)
}
