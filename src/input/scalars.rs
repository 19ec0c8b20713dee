//! Lengths, numbers and words: everything behind a key that is no table.

use super::entry::{Entry, refuse};
use super::length::{self, INCH};
use super::reader::{Node, Reader};
use serde_json::{Value, json};
use toml::de::DeValue;

/// What changing between inches and millimetres can cost a length of ten metres, with room, mm.
const ROUNDING: f64 = 1e-9;

/// From least to most, and what is measured.
pub struct Bounds {
    /// The least that is allowed.
    pub least: f64,
    /// The most that is allowed.
    pub most: f64,
    /// Unit of a plain number; empty for a share or a count.
    pub unit: &'static str,
}

impl Bounds {
    /// Whether `value` lies within. A bound met exactly in inches may be missed by rounding; zero
    /// never is.
    fn holds(&self, value: f64) -> bool {
        let slack = |bound: f64| if bound == 0.0 { 0.0 } else { ROUNDING };
        (self.least - slack(self.least)..=self.most + slack(self.most)).contains(&value)
    }

    fn words(&self, what: &str) -> String {
        let space = if self.unit.is_empty() { "" } else { " " };
        let Bounds { least, most, unit } = self;
        format!("{what} from {} to {}{space}{unit}", show(*least), show(*most))
    }

    /// `a length from 10 to 200 mm`.
    pub fn length_words(&self) -> String {
        self.words("a length")
    }

    /// `a number from 0 to 1`.
    pub fn number_words(&self) -> String {
        self.words("a number")
    }
}

/// A number to at most three decimals, and never `-0`.
pub fn show(value: f64) -> String {
    let rounded = (value * 1000.0).round() / 1000.0;
    format!("{}", if rounded == 0.0 { 0.0 } else { rounded })
}

/// The number behind `node`; `None` for anything else. Integers beyond `f64` lose digits only where
/// every bound has long been left behind.
fn plain_number(node: &Node<'_>) -> Option<f64> {
    match node.get_ref() {
        DeValue::Float(float) => float.as_str().parse().ok(),
        DeValue::Integer(integer) if integer.radix() == 10 => integer.as_str().parse().ok(),
        _ => None,
    }
}

/// Reads a length in mm: a plain number, or a text with its unit.
pub fn read_length(node: &Node<'_>, bounds: &Bounds, reader: &mut Reader<'_>) -> Option<f64> {
    let read = match (node.get_ref().as_str(), plain_number(node)) {
        (Some(text), _) => {
            length::parse(text).map_err(|error| Some(error.hint())).and_then(|value| {
                let hint = || Some(format!("it comes to {} mm", show(value)));
                if bounds.holds(value) { Ok(value) } else { Err(hint()) }
            })
        }
        (None, Some(value)) if bounds.holds(value) => Ok(value),
        (None, value) => Err(value.and_then(|value| inches_meant(value, bounds))),
    };
    read.map_err(|hint| reader.refuse(node.span(), bounds.length_words(), hint)).ok()
}

/// A plain number far too small in millimetres that would do in inches was most likely meant so.
fn inches_meant(value: f64, bounds: &Bounds) -> Option<String> {
    (value > 0.0 && value < bounds.least && bounds.holds(value * INCH)).then(|| {
        format!("a plain number is in millimetres; for inches write \"{} in\"", show(value))
    })
}

/// Reads a plain number.
pub fn read_number(node: &Node<'_>, bounds: &Bounds, reader: &mut Reader<'_>) -> Option<f64> {
    let value = plain_number(node).filter(|&value| bounds.holds(value));
    if value.is_none() {
        let hint = node.get_ref().is_str().then(|| "write it without quotes".to_owned());
        reader.refuse(node.span(), bounds.number_words(), hint);
    }
    value
}

/// The JSON Schema of a length. A plain number is held to the bounds there too.
pub fn length_schema(bounds: &Bounds) -> Value {
    json!({ "anyOf": [
        { "type": "number", "minimum": bounds.least, "maximum": bounds.most },
        { "type": "string", "examples": ["45 mm", "4.5 cm", "1 3/4 in", "1 ft 2 in"] },
    ] })
}

/// The JSON Schema of a plain number.
pub fn number_schema(bounds: &Bounds) -> Value {
    json!({ "type": "number", "minimum": bounds.least, "maximum": bounds.most })
}

/// Declares kinds of numbers: `Name: length 10.0, 200.0;` or `Name: number 0.0, 1.0, "unit";`.
macro_rules! measures {
    (@bounds length $least:literal $most:literal) => {
        $crate::input::Bounds { least: $least, most: $most, unit: "mm" }
    };
    (@bounds number $least:literal $most:literal $unit:literal) => {
        $crate::input::Bounds { least: $least, most: $most, unit: $unit }
    };
    (@with length $length:expr, $number:expr) => { $length };
    (@with number $length:expr, $number:expr) => { $number };
    ($($name:ident: $kind:ident $least:literal $most:literal $($unit:literal)?;)+) => {$(
        pub(crate) struct $name;

        impl $crate::input::Entry for $name {
            type Value = f64;

            fn read(
                node: &$crate::input::Node<'_>,
                reader: &mut $crate::input::Reader<'_>,
            ) -> Option<f64> {
                let bounds = $crate::input::measures!(
                    @bounds $kind $least $most $($unit)?);
                let read = $crate::input::measures!(
                    @with $kind $crate::input::read_length,
                    $crate::input::read_number);
                read(node, &bounds, reader)
            }

            fn expected() -> String {
                let bounds = $crate::input::measures!(
                    @bounds $kind $least $most $($unit)?);
                $crate::input::measures!(
                    @with $kind bounds.length_words(), bounds.number_words())
            }

            fn schema() -> serde_json::Value {
                let bounds = $crate::input::measures!(
                    @bounds $kind $least $most $($unit)?);
                let schema = $crate::input::measures!(
                    @with $kind $crate::input::length_schema,
                    $crate::input::number_schema);
                schema(&bounds)
            }
        }
    )+};
}

/// Declares a choice of words: `Name: Type { "word" | "other spelling" => value; }`.
macro_rules! choice {
    ($name:ident: $type:ty { $($word:literal $(| $other:literal)* => $value:expr;)+ }) => {
        pub(crate) struct $name;

        impl $crate::input::Entry for $name {
            type Value = $type;

            fn read(
                node: &$crate::input::Node<'_>,
                reader: &mut $crate::input::Reader<'_>,
            ) -> Option<$type> {
                match node.get_ref().as_str() {
                    $(Some($word $(| $other)*) => Some($value),)+
                    text => {
                        let known = [$($word $(, $other)*),+];
                        let near = $crate::input::nearest(text.unwrap_or_default(), known);
                        let hint = near.map(|near| format!("did you mean \"{near}\"?"));
                        reader.refuse(node.span(), Self::expected(), hint);
                        None
                    }
                }
            }

            fn expected() -> String {
                concat!("one of ", $("\"", $word, "\" "),+).trim_end().replace("\" \"", "\", \"")
            }

            fn schema() -> serde_json::Value {
                serde_json::json!({ "enum": [$($word $(, $other)*),+] })
            }
        }
    };
}

pub(crate) use {choice, measures};

/// Yes or no.
pub struct Flag;

impl Entry for Flag {
    type Value = bool;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<bool> {
        let flag = node.get_ref().as_bool();
        if flag.is_none() {
            refuse::<Self>(node, reader);
        }
        flag
    }

    fn expected() -> String {
        "true or false".to_owned()
    }

    fn schema() -> Value {
        json!({ "type": "boolean" })
    }
}

/// A whole number from `LEAST` to `MOST`.
pub struct Whole<const LEAST: u32, const MOST: u32>;

impl<const LEAST: u32, const MOST: u32> Entry for Whole<LEAST, MOST> {
    type Value = u32;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<u32> {
        let whole = node.get_ref().as_integer().filter(|integer| integer.radix() == 10);
        let count = whole.and_then(|integer| integer.as_str().parse().ok());
        let count = count.filter(|count| (LEAST..=MOST).contains(count));
        if count.is_none() {
            refuse::<Self>(node, reader);
        }
        count
    }

    fn expected() -> String {
        format!("a whole number from {LEAST} to {MOST}")
    }

    fn schema() -> Value {
        json!({ "type": "integer", "minimum": LEAST, "maximum": MOST })
    }
}
