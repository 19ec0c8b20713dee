//! Faults of pace and spindle.

use super::depth::retract;
use super::{Plant, Planted, any, cutting, line};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, decimal, has, is_arc, moves, number, renumbered, with};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("rapid for feed", rapid_for_feed),
    ("feed for rapid", feed_for_rapid),
    ("feed ten times", |job, chance| {
        feed(job, chance, |feed| format!("F{}", decimal(feed * 10.0, 4)))
    }),
    ("feed just too fast", |job, chance| {
        feed(job, chance, |feed| format!("F{}", decimal(feed * 1.01, 4)))
    }),
    ("feed zero", |job, chance| feed(job, chance, |_| "F0".into())),
    ("feed below zero", |job, chance| feed(job, chance, |feed| format!("F{}", -feed))),
    ("feed missing", |job, chance| feed(job, chance, |_| String::new())),
    ("every feed missing", no_feed),
    ("plunging at the feed of cutting", fast_plunge),
    ("spindle off half way", off),
    ("spindle never on", |job, chance| spindle(job, chance, &["", "M5"])),
    ("spindle backwards", |job, chance| spindle(job, chance, &["M4"])),
    ("spindle on at the wrong moment", late),
    ("spindle too slow", |job, chance| speed(job, chance, &["S0", "S10", "S500", "S7999", ""])),
    ("spindle too fast", |job, chance| speed(job, chance, &["S18001", "S24000", "S180000"])),
    ("spindle not stopped", runs_on),
    ("pause", pause),
];

fn rapid_for_feed(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| moves(line) && !is_arc(line))?;
    *line = with(line, 'F', "");
    *line = if has(line, 'G') { with(line, 'G', "G0") } else { format!("G0 {line}") };
    Some(Planted::Unknown)
}

fn feed_for_rapid(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let line = line(text, chance, |line| line.starts_with("G0 "))?;
    *line = with(line, 'G', "G1");
    Some(Planted::Unknown)
}

fn feed(job: &mut Job, chance: &mut Chance, to: fn(f64) -> String) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| has(line, 'F'))?;
    *line = with(line, 'F', &to(number(line, 'F')?));
    Some(Planted::Unknown)
}

fn no_feed(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    for line in &mut cutting(job, chance)?.lines {
        *line = with(line, 'F', "");
    }
    Some(Planted::Unknown)
}

fn fast_plunge(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| has(line, 'Z') && has(line, 'F'))?;
    *line = renumbered(line, 'F', chance.pick(&[380.0, 400.0, 410.0, 1500.0]));
    Some(Planted::Unknown)
}

fn off(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(moves);
    text.lines.insert(chance.any(&found)?, "M5".into());
    Some(Planted::Unknown)
}

fn spindle(job: &mut Job, chance: &mut Chance, to: &[&str]) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| line.ends_with("M3"))?;
    *line = with(line, 'M', chance.pick(to));
    Some(Planted::Unknown)
}

/// The line that starts the spindle goes somewhere else.
fn late(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let starts = text.find(|line| line.ends_with("M3"));
    let start = text.lines.remove(chance.any(&starts)?);
    let at = text.find(retract).into_iter().next()? + chance.below(8);
    text.lines.insert(at.min(text.lines.len()), start);
    Some(Planted::Unknown)
}

fn speed(job: &mut Job, chance: &mut Chance, to: &[&str]) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| has(line, 'S'))?;
    *line = with(line, 'S', chance.pick(to));
    Some(Planted::Unknown)
}

fn runs_on(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    let stops = text.find(|line| line == "M5");
    text.lines.remove(chance.any(&stops)?);
    Some(Planted::Unknown)
}

/// M0 or M1: bad in the wood, and bad before more wood is cut, as the spindle may have stopped.
fn pause(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(moves);
    text.lines.insert(chance.any(&found)?, chance.pick(&["M0", "M1"]).into());
    Some(Planted::Unknown)
}
