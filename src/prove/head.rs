//! The heads of the programs, held against the survey; and what has to be assumed where they say nothing.

use super::fault::{Faults, NewFault};
use super::motion::{Move, Spindle};
use super::reader::{Head, Read};
use super::tolerance::CORNER;
use super::{Program, Setup, warp};
use crate::finding::{Basis, Quantity};
use crate::geometry::Placement;
use crate::language::{Text, text};
use std::collections::BTreeMap;

/// Stage of the program that goes round before the first cut.
const AIR_RUN: &str = "air run";

/// A program where it is to be judged, with its head.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed<'a> {
    /// The program, in the place that its head tells.
    pub program: Program<'a>,
    /// What it says of itself.
    pub head: Head,
}

/// Reads every head. A program lies where its head says, whatever it was taken to lie at.
pub(super) fn placed<'a>(programs: &[Program<'a>]) -> Vec<Placed<'a>> {
    let of = |program: &Program<'a>| {
        let head = Head::read(program.text);
        let place = head.place().unwrap_or(program.place);
        Placed { program: Program { place, ..*program }, head }
    };
    programs.iter().map(of).collect()
}

/// Holds the heads against the sash and the workshop, and against the places that the programs were taken to
/// lie at. Whether they can be judged at all: those of another sash cannot.
pub(super) fn judge(
    told: &[Program],
    placed: &[Placed],
    read: &[Read],
    setup: &Setup,
    faults: &mut Faults,
) -> bool {
    let mut meant = true;
    let mut others: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for (index, Placed { program, head }) in placed.iter().enumerate() {
        let name = (index, program.name);
        let mut add = |line: usize, (measured, limit): (f64, f64), unit, advice: Text| {
            let [measured, limit] = [measured, limit].map(|value| Quantity { value, unit });
            faults.add(NewFault {
                program: Some(name),
                line: Some(line),
                basis: Basis::Setting,
                ..NewFault::new("prove.head", measured, limit, advice)
            });
        };
        if let Some(line) = head.contradiction {
            let advice = text!("head-twice");
            add(line, (1.0, 0.0), "", advice);
            meant = false;
        }
        if let Some((sash, _)) = head.sash.as_ref().filter(|(sash, _)| *sash != setup.sash)
            && !setup.sash.is_empty()
        {
            others.entry(sash).or_insert((index, 0)).1 += 1;
            meant = false;
        }
        if let Some(((diameter, edges), line)) = head.cutter {
            let setup = setup.with_cutter(Some(diameter));
            if (diameter - setup.cutter_diameter).abs() > CORNER {
                let (named, own) = (diameter.to_string(), setup.cutter_diameter.to_string());
                let advice = match setup.corner_cutter {
                    Some(thinner) => {
                        let corners = thinner.diameter.to_string();
                        text!("head-cutters", named, own, corners)
                    }
                    None => text!("head-cutter", named, own),
                };
                add(line, (diameter, setup.cutter_diameter), "mm", advice);
            } else if edges != setup.flutes {
                let advice =
                    text!("head-edges", edges = edges.to_string(), own = setup.flutes.to_string());
                add(line, (f64::from(edges), f64::from(setup.flutes)), "cutting edges", advice);
            }
        }
        if let (Some((zero, line)), Some(taken)) = (head.zero, told.get(index)) {
            let apart = apart(program.place, taken.place);
            if taken.place != Placement::IDENTITY && apart > CORNER {
                let [x, y] = zero;
                let advice = text!("head-zero", x = x.to_string(), y = y.to_string());
                add(line, (apart, 0.0), "mm", advice);
            }
        }
        let Some(read) = read.get(index) else { continue };
        if let Some((count, line)) = head.stages_said {
            let stops = read.pauses.len();
            if (count as usize) > stops + 1 || (count as usize) != head.stages.len() {
                let advice = text!(
                    "head-stages",
                    count = count.to_string(),
                    named = head.stages.len().to_string(),
                    stops = stops.to_string()
                );
                add(line, (stops as f64, f64::from(count) - 1.0), "stops", advice);
            }
        }
        for ((stage, line), moves) in head.stages.iter().zip(read.between_pauses()) {
            let turns = moves.iter().any(|mv| mv.spindle != Spindle::Still);
            let least = |mv: &Move| warp::least_above(mv, &setup.surface, setup.tolerance);
            let air = stage == AIR_RUN || stage.starts_with("air run ");
            if air && (turns || moves.iter().any(|mv| least(mv) < 0.0)) {
                let advice = text!("head-air-run");
                add(*line, (1.0, 0.0), "", advice);
            }
        }
    }
    tools(placed, read, setup, faults);
    // All programs of a sash are told in one sentence.
    for (kind, (sash, (first, count))) in others.into_iter().enumerate() {
        let Some(Placed { program, head }) = placed.get(first) else { continue };
        let own = setup.sash.as_str();
        let advice = text!("head-other-sash", count, sash, own);
        let number = |value| Quantity { value, unit: "" };
        faults.add(NewFault {
            program: Some((first, program.name)),
            line: head.sash.as_ref().map(|(_, line)| *line),
            kind: kind + 1,
            count,
            ..NewFault::new("prove.head", number(1.0), number(0.0), advice)
        });
    }
    meant
}

/// One cutter cuts the whole sash, but for its corners: a tool of another number is another cutter, whichever program
/// names it. Programs for cutters of two diameters are held apart.
fn tools(placed: &[Placed], read: &[Read], setup: &Setup, faults: &mut Faults) {
    let mut firsts: Vec<(u64, &str, f64)> = Vec::new();
    for (index, (Placed { program, head }, read)) in placed.iter().zip(read).enumerate() {
        let Some((tool, line)) = read.tool else { continue };
        let cutter = setup.with_cutter(head.diameter()).cutter_diameter.to_bits();
        let Some((_, first, own)) = firsts.iter().find(|(own, ..)| *own == cutter) else {
            firsts.push((cutter, program.name, tool));
            continue;
        };
        if own.to_bits() == tool.to_bits() {
            continue;
        }
        let number = |value| Quantity { value, unit: "" };
        let advice =
            text!("head-tool", tool = tool.to_string(), first = *first, own = own.to_string());
        faults.add(NewFault {
            program: Some((index, program.name)),
            line: Some(line),
            ..NewFault::new("prove.tool", number(tool), number(*own), advice)
        });
    }
}

/// How far apart two places of the sash are, mm; endless where only one is turned.
fn apart(a: Placement, b: Placement) -> f64 {
    let [x, y] = [0, 1].map(|axis| {
        let of = |place: Placement| place.origin.get(axis).copied().unwrap_or_default();
        of(a) - of(b)
    });
    if a.turned == b.turned { x.hypot(y) } else { f64::MAX }
}

/// What is taken for granted: each once, with the programs that it is taken of.
pub(super) fn assumed(placed: &[Placed], setup: &Setup) -> Vec<Text> {
    let mut of: BTreeMap<(u8, Text), Vec<&str>> = BTreeMap::new();
    for Placed { program, head } in placed {
        let place = place(program.place);
        let mut take =
            |order: u8, what: Text| of.entry((order, what)).or_default().push(program.name);
        if head.sash.is_none() && !setup.sash.is_empty() {
            take(0, text!("taken-sash", sash = &setup.sash));
        }
        match head.zero {
            Some(_) => take(1, text!("taken-place-said", place)),
            None => take(2, text!("taken-place", place)),
        }
        if head.cutter.is_none() {
            take(3, text!("taken-cutter", diameter = setup.cutter_diameter.to_string()));
        }
    }
    let all = placed.len();
    let line = |((_, what), names): ((u8, Text), Vec<&str>)| {
        let who = if names.len() == all {
            text!("prove-all-programs")
        } else {
            Text::given(names.join(", "))
        };
        text!("taken", who, what)
    };
    of.into_iter().map(line).collect()
}

fn place(place: Placement) -> Text {
    let [x, y] = place.origin.map(|at| at.to_string());
    match place {
        Placement::IDENTITY => text!("taken-lies"),
        Placement { turned: true, .. } => text!("taken-lies-turned-at", x, y),
        Placement { turned: false, .. } => text!("taken-lies-at", x, y),
    }
}
