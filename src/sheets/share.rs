//! What the sheets of a house take from one sash: all that is kept of it once its own files are written.

use super::cutting_list::{self, Cells};
use super::index::{self, Card};
use super::kit::Voice;
use super::summary::house::{line, line_of_none};
use super::summary::{Detail, WIDTH, of_none, of_sash};
use crate::language::{Said, Text};
use crate::number::NotFinite;
use crate::report::{CannotBeCut, SashLine, SashReport, UnitLine};
use serde::{Deserialize, Serialize};

/// The share of a sash in the sheets of its house.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Share {
    /// Its line in the table.
    pub line: SashLine,
    /// What rules and health ask of it.
    pub duties: Vec<Said>,
    /// Units to order; none where they may not be.
    pub units: Vec<UnitLine>,
    /// Its lines in the cutting list.
    pub parts: Vec<Cells>,
    /// What the summary says of it.
    pub words: String,
    /// Its place on the page.
    pub card: String,
}

impl Share {
    /// Of a sash whose files are on its card, as `voice` says it.
    ///
    /// # Errors
    /// Where a number of the report is not finite.
    pub fn of(sash: &SashReport, card: &Card, voice: Voice) -> Result<Share, NotFinite> {
        let mut units = if sash.answers.may_be_ordered() { sash.units.clone() } else { Vec::new() };
        // Whoever reads it again knows no keys.
        for safety in units.iter_mut().filter_map(|unit| unit.safety.as_mut()) {
            *safety = Text::Given(voice.say(safety));
        }
        Ok(Share {
            line: line(sash),
            duties: sash.duties.iter().map(|duty| voice.said_twice(duty)).collect(),
            units,
            parts: cutting_list::parts(sash, voice)?,
            words: of_sash(sash, Detail::Short, (WIDTH, voice)),
            card: index::card(sash, card, voice),
        })
    }

    /// Of a sash for which no cut could be worked out.
    pub fn of_none(sash: &CannotBeCut, voice: Voice) -> Share {
        Share {
            line: line_of_none(sash),
            duties: Vec::new(),
            units: Vec::new(),
            parts: Vec::new(),
            words: of_none(sash, (WIDTH, voice)),
            card: index::card_of_none(sash, voice),
        }
    }
}
