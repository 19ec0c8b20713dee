//! Reads RS-274 text into moves.
//!
//! Promised: a program comes back without refusals only if every byte of it was understood in the
//! common subset of RS-274/NGC (NISTIR 6556), with units, plane, distance mode, motion mode and
//! place all stated by the program itself before they matter.
//!
//! What the standard's interpreter starts with need not be said: cutter compensation off (G40), no length offset
//! (G49), the first frame (G54), no canned cycle (G80), feed a minute (G94), arc centres from the start (G91.1,
//! the only way it knows), the knobs at work (M48) (NISTIR 6556, its interpreter's initial state, from memory).
//! Units and plane it takes from the machine, and places as the program before it left them: those must be said.
//!
//! Not promised: that the moves are good for the wood; that is judged elsewhere.

mod arc;
mod block;
mod head;
mod modal;
mod text;
mod words;

pub(super) use head::Head;
pub(super) use text::{lines, same_words};

use super::motion::{Move, Spindle};
use crate::geometry::Placement;
use crate::language::Text;
use std::collections::BTreeMap;

/// Words that cannot be judged, or state that was never stated.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Refusal {
    /// Stable rule id.
    pub rule: &'static str,
    /// Line from 1.
    pub line: usize,
    /// What was found.
    pub what: Text,
    /// Measured and limit in mm where the rule is about a length.
    pub lengths: Option<(f64, f64)>,
}

/// How the program ends.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct End {
    /// Line of M2 or M30.
    pub line: usize,
    /// Z there, where it is known.
    pub z: Option<f64>,
    /// Spindle just before the end.
    pub spindle: Spindle,
}

/// What could not be judged for one reason, with every line that it stands on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Refused {
    /// As in [`Refusal`].
    pub rule: &'static str,
    /// Lines from 1, rising.
    pub lines: Vec<usize>,
    /// As in [`Refusal`].
    pub what: Text,
    /// As in [`Refusal`]; of the first line.
    pub lengths: Option<(f64, f64)>,
}

/// Leave to round corners off (G64 P).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Rounding {
    /// Its line.
    pub line: usize,
    /// By how much, mm.
    pub by: f64,
}

/// A pause for the joiner (M0, M1), or a change of the tool (M6).
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Pause {
    /// Its line.
    pub line: usize,
    /// Z there, where it is known.
    pub z: Option<f64>,
}

/// What a program says.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct Read {
    /// Its moves in order, from the first one over the wood.
    pub moves: Vec<Move>,
    /// Moves along Z before X and Y were known: line and Z reached.
    pub raises: Vec<(usize, f64)>,
    /// What could not be judged.
    pub refusals: Vec<Refusal>,
    /// How it ends.
    pub end: Option<End>,
    /// The tool that it names (T), and the line.
    pub tool: Option<(f64, usize)>,
    /// Pauses for the joiner.
    pub pauses: Vec<Pause>,
    /// Corners that may be rounded off.
    pub roundings: Vec<Rounding>,
    /// Seconds spent waiting (G4).
    pub waiting: f64,
    /// Lines of text.
    pub lines: usize,
}

impl Read {
    /// What could not be judged, like with like.
    pub(super) fn refused(&self) -> Vec<Refused> {
        let mut all: Vec<Refused> = Vec::new();
        let mut known: BTreeMap<(&str, &Text), usize> = BTreeMap::new();
        for Refusal { rule, line, what, lengths } in &self.refusals {
            let (rule, line, lengths) = (*rule, *line, *lengths);
            match known.get(&(rule, what)).and_then(|&index| all.get_mut(index)) {
                Some(refused) if refused.lines.last() == Some(&line) => {}
                Some(refused) => refused.lines.push(line),
                None => {
                    known.insert((rule, what), all.len());
                    all.push(Refused { rule, lines: vec![line], what: what.clone(), lengths });
                }
            }
        }
        all
    }

    /// Its moves up to its first pause, from there to the second, and so on.
    pub(super) fn between_pauses(&self) -> impl Iterator<Item = &[Move]> {
        let upto = |line: usize| self.moves.partition_point(|step| step.line <= line);
        let pauses = self.pauses.iter().map(move |pause| upto(pause.line));
        let ends = pauses.chain([self.moves.len()]);
        ends.scan(0, |from, to| {
            let part = self.moves.get(*from..to);
            *from = to;
            Some(part.unwrap_or_default())
        })
    }

    /// The same in another frame.
    pub(super) fn placed(mut self, place: &Placement) -> Read {
        for step in &mut self.moves {
            step.path = place.local_edge(&step.path);
        }
        self
    }
}

/// How many lines `text` has.
pub(super) fn count_lines(text: &str) -> usize {
    text::lines(text).count()
}

/// Reads `text`; total: every text has an answer.
pub(super) fn read(text: &str) -> Read {
    let mut state = modal::State::default();
    for (number, line) in text::lines(text) {
        state.read_line(number, line);
    }
    state.finish()
}

#[cfg(test)]
mod tests;
