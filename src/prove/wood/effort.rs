//! How much work and room a proof may take.
//!
//! No program, however it was made, may keep the joiner waiting or fill the computer. Work and
//! room are counted as they are spent; where they run out, the proof stops and says so. It is
//! counted, not timed, so that equal input has an equal answer on every computer.

use crate::prove::tolerance::{MOST_STEPS, MOST_STRETCHES};
use std::cell::Cell;

/// What has been spent.
#[derive(Debug, Clone, Default, PartialEq)]
pub(in crate::prove) struct Effort {
    /// Steps taken: rows cut, and what was looked at to cut them. Looking changes nothing else.
    steps: Cell<u64>,
    /// Stretches held now.
    stretches: usize,
    /// The wood could not even be laid out.
    pub(super) too_fine: bool,
}

impl Effort {
    /// So many steps were spent before.
    pub(super) fn from(steps: u64) -> Effort {
        Effort { steps: Cell::new(steps), ..Effort::default() }
    }

    /// Steps taken.
    pub(in crate::prove) fn steps(&self) -> u64 {
        self.steps.get()
    }

    /// Counts `steps`.
    pub(in crate::prove) fn spend(&self, steps: usize) {
        let steps = u64::try_from(steps).unwrap_or(u64::MAX);
        self.steps.set(self.steps.get().saturating_add(steps));
    }

    /// Counts that a row has grown or shrunk.
    pub(super) fn grown(&mut self, before: usize, after: usize) {
        self.stretches = self.stretches.saturating_add(after).saturating_sub(before);
    }

    /// Whether more was spent than may be.
    pub(in crate::prove) fn is_spent(&self) -> bool {
        self.too_fine || self.steps() > MOST_STEPS || self.stretches > MOST_STRETCHES
    }

    /// How many times what may be spent was needed; 1 or above where it is spent.
    pub(in crate::prove) fn share(&self) -> f64 {
        let steps = self.steps() as f64 / MOST_STEPS as f64;
        let room = self.stretches as f64 / MOST_STRETCHES as f64;
        if self.too_fine { f64::max(1.0, room) } else { steps.max(room) }
    }
}
