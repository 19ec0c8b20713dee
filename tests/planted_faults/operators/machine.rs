//! Faults of what surrounds the cut on the machine: the head, the bed below the sash, heat, pauses, the way of a
//! rapid move; and the edits that a joiner makes, which are none.

use super::depth::retract;
use super::{Plant, Planted, any, cutting, line};
use crate::planted_faults::chance::Chance;
use crate::planted_faults::job::{Job, decimal, has, is_remark, moves, number, renumbered};
use fillister::geometry::{Outline, Region};
use fillister::sash::Solid;
use kurbo::{Point, Rect};

pub(super) const TABLE: &[(&str, Plant)] = &[
    ("head of another sash", |job, chance| {
        head(job, chance, "sash ", "(- sash back-bed)", Planted::Harm)
    }),
    ("head with another cutter", |job, chance| {
        head(job, chance, "cutter ", "(- cutter 5 mm - 2 edges - flat end)", Planted::Harm)
    }),
    ("heads with another zero", zero),
    ("head says two things", contradiction),
    ("head left out", no_head),
    ("head with another name of the stage", |job, chance| {
        head(job, chance, "stage ", "(- stage as the foreman said)", Planted::NoHarm)
    }),
    ("below the sash", |job, chance| floor(job, chance, &[0.06, 0.5, 10.0], Planted::Harm)),
    ("just above the bed", |job, chance| floor(job, chance, &[0.04, 0.0, -10.0], Planted::NoHarm)),
    ("dip into the bed", dip),
    ("feed that burns", burns),
    ("feed that is slow", |job, chance| feed(job, chance, 0.6, Planted::NoHarm)),
    ("dwell in the cut", dwell),
    ("stop where the switch says so", |job, chance| pause(job, chance, &["M1"], Planted::Unknown)),
    ("pause and spindle on again", |job, chance| {
        pause(job, chance, &["M0\nM3\nG4 P2", "M1\nM3"], Planted::NoHarm)
    }),
    ("clamp beside a slanting rapid", |job, chance| rapid(job, chance, true)),
    ("clamp beside level rapids", |job, chance| rapid(job, chance, false)),
    ("corners rounded too much", |job, chance| {
        begins(job, chance, &["G64 P0.5", "G64 P0.06", "G64"], Planted::Harm)
    }),
    ("corners rounded within the tolerance", |job, chance| {
        begins(job, chance, &["G64 P0.02", "G61", "G64 P0.05"], Planted::NoHarm)
    }),
    ("coolant", |job, chance| begins(job, chance, &["M7", "M8", "M9", "M7 M8"], Planted::NoHarm)),
    ("knobs at work", |job, chance| begins(job, chance, &["M48"], Planted::NoHarm)),
    ("the one tool put in", |job, chance| {
        begins(job, chance, &["T1 M6", "T1\nM6"], Planted::NoHarm)
    }),
    ("number of the program", number_of),
    ("comment in any letters", letters),
];

/// The line of the head that begins so is exchanged, in a program that cuts.
fn head(
    job: &mut Job,
    chance: &mut Chance,
    begins: &str,
    new: &str,
    planted: Planted,
) -> Option<Planted> {
    let wanted = format!("(- {begins}");
    let line = line(cutting(job, chance)?, chance, |line| line.starts_with(&wanted))?;
    *line = new.into();
    Some(planted)
}

/// Every head puts the zero elsewhere, the finishing cut's with them: walls are cut, or left.
fn zero(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let new =
        chance.pick(&["(- zero at X 3 Y 0)", "(- zero at X 0 Y -1)", "(- zero at X 0.2 Y 0)"]);
    for line in job.texts.iter_mut().flat_map(|text| &mut text.lines) {
        if line.starts_with("(- zero at ") {
            *line = new.into();
        }
    }
    Some(Planted::Harm)
}

fn contradiction(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = any(job, chance);
    text.lines.insert(0, chance.pick(&["(- sash other)", "(- zero at X 0.5 Y 0)"]).into());
    Some(Planted::Harm)
}

fn no_head(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    any(job, chance).lines.retain(|line| !is_remark(line));
    Some(Planted::NoHarm)
}

/// The bed lies so much higher than the deepest cut.
fn floor(job: &mut Job, chance: &mut Chance, choices: &[f64], planted: Planted) -> Option<Planted> {
    let lines = job.texts.iter().flat_map(|text| &text.lines);
    let deepest = lines.filter_map(|line| number(line, 'Z')).fold(0.0, f64::min);
    job.setup.floor = Some(deepest + chance.pick(choices));
    Some(planted)
}

/// Down through an opening, or wherever the cutter stands, into the bed and up again.
fn dip(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let floor = job.setup.floor;
    let text = cutting(job, chance)?;
    let found = text.find(|line| retract(line) && line.starts_with("G0 "));
    let at = chance.any(&found)?;
    let deep = floor? - chance.pick(&[0.1, 1.0, 40.0]);
    let up = text.lines[at].clone();
    let feed = text.lines.iter().find_map(|line| number(line, 'F'))?.min(400.0);
    let down = [up.clone(), format!("G1 Z{} F{}", decimal(deep, 4), decimal(feed, 4)), up];
    text.lines.splice(at..=at, down);
    Some(Planted::Harm)
}

fn feed(job: &mut Job, chance: &mut Chance, by: f64, planted: Planted) -> Option<Planted> {
    for line in &mut cutting(job, chance)?.lines {
        if has(line, 'F') {
            *line = renumbered(line, 'F', number(line, 'F')? * by);
        }
    }
    Some(planted)
}

/// One F word so low that the edges rub.
fn burns(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(cutting(job, chance)?, chance, |line| has(line, 'F'))?;
    *line = renumbered(line, 'F', chance.pick(&[0.5, 1.0, 10.0]));
    Some(Planted::Unknown)
}

/// The cutter turns where it stands.
fn dwell(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(moves);
    let at = chance.any(&found)?;
    text.lines.insert(at + 1, chance.pick(&["G4 P0.5", "G4 P3", "G4 P60"]).into());
    Some(Planted::Unknown)
}

/// At the clear height.
fn pause(job: &mut Job, chance: &mut Chance, words: &[&str], planted: Planted) -> Option<Planted> {
    let text = cutting(job, chance)?;
    let found = text.find(|line| retract(line) && line.starts_with("G0 "));
    let at = chance.any(&found)? + 1;
    let new: Vec<String> = chance.pick(words).lines().map(str::to_owned).collect();
    text.lines.splice(at..at, new);
    Some(planted)
}

/// Out to a place left of the sash and back, past a clamp that stands as high as the way: across its corner, or
/// one axis after the other.
fn rapid(job: &mut Job, chance: &mut Chance, slants: bool) -> Option<Planted> {
    let numbers = |letter| {
        let lines = job.texts.iter().flat_map(|text| &text.lines);
        lines.filter_map(move |line| number(line, letter)).fold(f64::MAX, f64::min)
    };
    let (x, y) = (numbers('X').floor() - 60.0, numbers('Y').floor() - 60.0);
    let text = job.texts.iter_mut().find(|text| !text.cuts())?;
    let arrival = *text.find(|line| has(line, 'X') && has(line, 'Y')).first()?;
    let from = (number(&text.lines[arrival], 'X')?, number(&text.lines[arrival], 'Y')?);
    let (far_x, far_y) = (x - 60.0, y - 60.0);
    let out = if slants {
        vec![format!("X{far_x} Y{far_y}"), format!("X{x} Y{y}")]
    } else {
        vec![format!("X{far_x}"), format!("Y{far_y}"), format!("Y{y}"), format!("X{x}")]
    };
    let mut lines = vec![format!("G0 X{x}"), format!("Y{y}")];
    lines.extend(out);
    lines.extend([format!("Y{}", decimal(from.1, 4)), format!("X{}", decimal(from.0, 4))]);
    let next = arrival + 1;
    text.lines.splice(next..next, lines);
    for travel in &mut job.setup.travel {
        *travel += 300.0;
    }
    // Over 20 mm off the straight way, and off the other one, and wider than any cutter here is thick.
    let corner =
        if slants { Point::new(x - 6.0, far_y + 6.0) } else { Point::new(x - 20.0, y - 20.0) };
    let region =
        Region::solid(Outline::rectangle(Rect::from_center_size(corner, (4.0, 4.0))).ok()?);
    let (top, bottom) = (job.setup.clear_height + chance.pick(&[0.5, 20.0]), 0.0);
    job.setup.obstacles.push(Solid {
        name: fillister::language::Text::name("clamp"),
        region,
        top,
        bottom,
    });
    Some(if slants { Planted::Harm } else { Planted::NoHarm })
}

/// Lines after the modes of a program.
fn begins(job: &mut Job, chance: &mut Chance, words: &[&str], planted: Planted) -> Option<Planted> {
    let text = any(job, chance);
    let at = text.find(|line| line.contains("G17")).into_iter().next()? + 1;
    let new: Vec<String> = chance.pick(words).lines().map(str::to_owned).collect();
    text.lines.splice(at..at, new);
    Some(planted)
}

fn number_of(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    any(job, chance).lines.insert(0, chance.pick(&["O1", "O0042 (kitchen)", "N1 O7"]).into());
    Some(Planted::NoHarm)
}

fn letters(job: &mut Job, chance: &mut Chance) -> Option<Planted> {
    let line = line(any(job, chance), chance, |line| !is_remark(line))?;
    let comment =
        chance.pick(&["(K\u{fc}che)", "; \u{43a}\u{443}\u{445}\u{43d}\u{44f}", "(5 \u{2014} 6)"]);
    *line = format!("{line} {comment}");
    Some(Planted::NoHarm)
}
