//! What can be true, but is more often a slip.

use crate::input::show;
use std::fmt;

/// A measure that is asked about before anything is said of the sash.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The sash, by its id.
    pub sash: String,
    /// The key of its table.
    pub key: &'static str,
    /// What is odd, as a sentence without its stop.
    pub odd: String,
    /// What was most likely meant.
    pub slip: Slip,
    /// The measures in doubt, mm.
    pub values: Vec<f64>,
}

/// What was most likely meant instead.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Slip {
    /// The same numbers in centimetres.
    Centimetres,
    /// Two numbers the other way round.
    Swapped,
    /// Another distance: a question.
    Elsewhere(&'static str),
}

impl Doubt {
    /// The values, each in quotes with `unit`.
    fn quoted(&self, unit: &str) -> String {
        let values = self.values.iter().map(|value| format!("\"{} {unit}\"", show(*value)));
        values.collect::<Vec<_>>().join(" and ")
    }

    /// As said of an option that holds `written`, which may be a pair with an `x` between.
    pub(in crate::survey) fn of_option(&self, option: &str, written: &str) -> String {
        let meant = match self.slip {
            Slip::Centimetres => format!("In centimetres? Write {written}cm."),
            Slip::Swapped => match written.split_once('x') {
                Some((one, other)) => format!("Swapped? Write {}x{}.", other.trim(), one.trim()),
                None => "Swapped?".to_owned(),
            },
            Slip::Elsewhere(question) => question.to_owned(),
        };
        format!("{option}: {}. {meant} If it is right, write {written}mm.", self.odd)
    }
}

impl fmt::Display for Doubt {
    /// As said of a survey.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}. ", self.sash, self.odd)?;
        match self.slip {
            Slip::Centimetres => write!(f, "In centimetres? Write {}.", self.quoted("cm"))?,
            Slip::Swapped => f.write_str("Swapped?")?,
            Slip::Elsewhere(question) => f.write_str(question)?,
        }
        write!(f, " If it is right, write {}.", self.quoted("mm"))
    }
}
