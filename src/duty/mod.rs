//! What rules and health may ask of a sash, wherever it hangs: safety glazing, guarding, lead, old
//! putty, consent.
//!
//! Promised: each matter is shown where it applies or where it is not known whether it does, with what
//! to measure or whom to ask. Not promised: the law. Local code and the building authority decide, and
//! licensed practice does what it alone may do; the figures here only say when to ask.

mod england;
mod glazing;
mod guarding;
mod notes;
mod states;

pub use glazing::breaks_safely;

use crate::finding::{Finding, Verdict};
use crate::fit::Fit;
use crate::language::Text;
use crate::sash::Sash;

/// The keys of what is asked for in a critical place, and of what is said where the glass breaks safely.
const ORDER: &str = "duty-critical";
const SAFE: &str = "duty-safe";

/// What a sash asks of those who work on it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Duty {
    /// Judgements of what is known: `safety.glazing`, `safety.guarding`.
    pub findings: Vec<Finding>,
    /// What holds without a measure, or is not known: one sentence each.
    pub notes: Vec<Text>,
}

/// What holds for `sash` with the units of `fit`.
pub fn duty(sash: &Sash, fit: &Fit) -> Duty {
    let mut duty = Duty::default();
    glazing::judge(sash, fit, &mut duty);
    guarding::judge(sash, &mut duty);
    notes::tell(&sash.measured.around.place, &mut duty);
    duty
}

/// A finding that is clear after all, for another reason.
fn cleared(mut finding: Finding, why: Text) -> Finding {
    if finding.verdict != Verdict::Clear {
        finding.verdict = Verdict::Clear;
        finding.advice = why;
    }
    finding
}

#[cfg(test)]
mod tests;
