//! Reads RS-274 text into moves.
//!
//! Promised: a program comes back without refusals only if every byte of it was understood in the
//! common subset of RS-274/NGC (NISTIR 6556), with units, plane, distance mode, motion mode and
//! place all stated by the program itself before they matter.
//!
//! Not promised: that the moves are good for the wood; that is judged elsewhere.

mod arc;
mod block;
mod modal;
mod text;
mod words;

pub(super) use text::same_words;

use super::motion::{Move, Spindle};
use crate::geometry::Placement;

/// Words that cannot be judged, or state that was never stated.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Refusal {
    /// Stable rule id.
    pub rule: &'static str,
    /// Line from 1.
    pub line: usize,
    /// What was found.
    pub what: String,
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

/// A pause for the joiner (M0).
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
    /// Pauses for the joiner.
    pub pauses: Vec<Pause>,
    /// Seconds spent waiting (G4).
    pub waiting: f64,
    /// Lines of text.
    pub lines: usize,
}

impl Read {
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
