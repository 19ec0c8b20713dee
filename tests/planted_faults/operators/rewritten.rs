//! The same cuts in other words: nothing that a prover may hold against them.

use super::{Plant, Planted, any, cutting};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{
    Job, Text, decimal, has, is_arc, is_remark, moves, number, renumbered, with,
};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("rewritten in inches", inches),
    ("rewritten in steps", steps),
    ("arcs by their radius", radii),
    ("arcs as short lines", chords),
    ("moves in two halves", halves),
    ("every word on every line", all_words),
];

/// Six decimals of an inch are 0.000025 mm.
fn inches(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    for line in &mut text.lines {
        if !is_remark(line) {
            *line = line.replace("G21", "G20");
        }
        for letter in ['X', 'Y', 'Z', 'I', 'J', 'F'] {
            if let Some(value) = number(line, letter) {
                *line = with(line, letter, &format!("{letter}{}", decimal(value / 25.4, 6)));
            }
        }
    }
    Some(Planted::NoHarm)
}

/// Absolute for the first place, then step by step.
fn steps(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let mut at: [Option<f64>; 3] = [None; 3];
    let mut stepping = false;
    let mut lines = Vec::new();
    for line in &text.lines {
        let mut line = line.clone();
        for (axis, at) in ['X', 'Y', 'Z'].into_iter().zip(&mut at) {
            let Some(to) = number(&line, axis) else { continue };
            if let Some(from) = at.filter(|_| stepping) {
                line = renumbered(&line, axis, to - from);
            }
            *at = Some(to);
        }
        lines.push(line);
        if !stepping && at.iter().all(Option::is_some) {
            lines.push("G91".into());
            stepping = true;
        }
    }
    text.lines = lines;
    Some(Planted::NoHarm)
}

/// The radius between an arc's words, mm.
fn radius(line: &str) -> Option<f64> {
    Some(number(line, 'I').unwrap_or(0.0).hypot(number(line, 'J').unwrap_or(0.0)))
        .filter(|_| is_arc(line))
}

/// Quarter circles: the shorter way round.
fn radii(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let arcs = text.find(is_arc);
    chance.any(&arcs)?;
    for index in arcs {
        let line = &mut text.lines[index];
        let radius = radius(line)?;
        *line = format!("{} R{}", with(&with(line, 'I', ""), 'J', ""), decimal(radius, 6));
    }
    Some(Planted::NoHarm)
}

/// X and Y before the line.
fn place(text: &Text, index: usize) -> Option<(f64, f64)> {
    let before = |axis| text.lines[..index].iter().rev().find_map(|line| number(line, axis));
    Some((before('X')?, before('Y')?))
}

/// Chords no more than 0.002 mm off their arc: a sagitta of r(1 − cos(φ/2)).
fn chords(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found: Vec<usize> =
        text.find(is_arc).into_iter().filter(|&i| has(&text.lines[i], 'G')).collect();
    let index = chance.any(&found)?;
    let line = text.lines[index].clone();
    let (x, y) = place(text, index)?;
    let centre = (x + number(&line, 'I')?, y + number(&line, 'J')?);
    let radius = radius(&line)?;
    let end = (number(&line, 'X')?, number(&line, 'Y')?);
    let angle = |p: (f64, f64)| (p.1 - centre.1).atan2(p.0 - centre.0);
    let full = std::f64::consts::TAU;
    let turn = (angle(end) - angle((x, y))).rem_euclid(full);
    let turn = if line.starts_with("G2") { turn - full } else { turn };
    let count = (turn.abs() / (2.0 * (1.0 - 0.002 / radius).acos())).ceil();
    let mut new = Vec::new();
    for i in 1..=(count as usize) {
        let at = angle((x, y)) + turn * i as f64 / count;
        let (to_x, to_y) = (centre.0 + radius * at.cos(), centre.1 + radius * at.sin());
        new.push(format!("X{} Y{}", decimal(to_x, 4), decimal(to_y, 4)));
    }
    new[0] = format!("G1 {}", new[0]);
    if let Some(feed) = number(&line, 'F') {
        new[0] = format!("{} F{}", new[0], decimal(feed, 4));
    }
    // What follows may have relied on the arc's word.
    let next = text.lines.get(index + 1).is_some_and(|next| is_arc(next) && !has(next, 'G'));
    text.lines.splice(index..=index, new);
    (!next).then_some(Planted::NoHarm)
}

/// A straight move stops half way.
fn halves(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(|line| moves(line) && !has(line, 'Z') && !is_arc(line));
    let index = chance.any(&found)?;
    let (x, y) = place(text, index)?;
    let line = text.lines[index].clone();
    let mut half = line.clone();
    for (axis, from) in [('X', x), ('Y', y)] {
        if let Some(to) = number(&line, axis) {
            half = renumbered(&half, axis, f64::midpoint(from, to));
        }
    }
    text.lines[index] = with(&line, 'F', "");
    text.lines.insert(index, half);
    Some(Planted::NoHarm)
}

/// Modes, motion and feed said again wherever they hold.
fn all_words(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let (mut motion, mut feed) = (String::new(), String::new());
    for line in &mut text.lines {
        if !moves(line) {
            continue;
        }
        if let Some(word) = crate::planted_faults::job::word(line, 'G') {
            motion = word.into();
        } else {
            *line = format!("{motion} {line}");
        }
        if let Some(word) = crate::planted_faults::job::word(line, 'F') {
            feed = word.into();
        } else if motion != "G0" && !feed.is_empty() {
            *line = format!("{line} {feed}");
        }
        *line = format!("G17 G21 G90 G94 {line}");
    }
    Some(Planted::NoHarm)
}

/// Cuts every straight move in the plane into moves of `length` mm at most.
pub(crate) fn chopped(text: &mut Text, length: f64) {
    let mut lines = Vec::new();
    let mut straight = false;
    for (index, line) in text.lines.iter().enumerate() {
        if let Some(word) = crate::planted_faults::job::word(line, 'G') {
            straight = word == "G1";
        }
        let place = place(text, index).filter(|_| straight && moves(line) && !has(line, 'Z'));
        let Some((x, y)) = place else {
            lines.push(line.clone());
            continue;
        };
        let end = (number(line, 'X').unwrap_or(x), number(line, 'Y').unwrap_or(y));
        let count = ((end.0 - x).hypot(end.1 - y) / length).ceil().max(1.0);
        let feed = crate::planted_faults::job::word(line, 'F')
            .map_or(String::new(), |word| format!(" {word}"));
        for i in 1..=(count as usize) {
            let t = i as f64 / count;
            let (x, y) = (x + t * (end.0 - x), y + t * (end.1 - y));
            lines.push(format!("G1 X{} Y{}{feed}", decimal(x, 4), decimal(y, 4)));
        }
    }
    text.lines = lines;
}
