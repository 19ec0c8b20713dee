//! What can be true, but is more often a slip.

use crate::input::show;
use crate::language::{Text, text};

/// A measure that is asked about before anything is said of the sash.
#[derive(Debug, Clone, PartialEq)]
pub struct Doubt {
    /// The sash, by its id.
    pub sash: String,
    /// The key of its table.
    pub key: &'static str,
    /// What is odd, as a sentence without its stop.
    pub odd: Text,
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
    /// Another distance: the key of a question.
    Elsewhere(&'static str),
}

impl Doubt {
    /// The values, each in quotes with `unit`.
    fn quoted(&self, unit: &str) -> Text {
        let values = self.values.iter().map(|value| format!("\"{} {unit}\"", show(*value)));
        let values: Vec<Text> = values.map(Text::Given).collect();
        values
            .into_iter()
            .reduce(|one, other| text!("list-and", one, other))
            .unwrap_or_else(|| Text::given(""))
    }

    /// As said of an option that holds `written`, which may be a pair with an `x` between.
    pub(in crate::survey) fn of_option(&self, option: &str, written: &str) -> String {
        let meant = match self.slip {
            Slip::Centimetres => format!("In centimetres? Write {written}cm."),
            Slip::Swapped => match written.split_once('x') {
                Some((one, other)) => format!("Swapped? Write {}x{}.", other.trim(), one.trim()),
                None => "Swapped?".to_owned(),
            },
            Slip::Elsewhere(question) => Text::of(question).to_string(),
        };
        format!("{option}: {}. {meant} If it is right, write {written}mm.", self.odd)
    }
}

impl Doubt {
    /// As said of a survey.
    pub fn told(&self) -> Text {
        let meant = match self.slip {
            Slip::Centimetres => text!("doubt-centimetres", written = self.quoted("cm")),
            Slip::Swapped => text!("doubt-swapped"),
            Slip::Elsewhere(question) => Text::of(question),
        };
        text!("doubt", sash = &self.sash, odd = &self.odd, meant, written = self.quoted("mm"))
    }
}
