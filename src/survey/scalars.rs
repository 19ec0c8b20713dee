//! Lengths, numbers and words: everything behind a key that is no table.

use super::entry::{Entry, wrong};
use super::length::{self, INCH};
use super::reader::{Node, Reader};
use serde_json::{Value, json};
use toml::de::DeValue;

/// What changing between inches and millimetres can cost a length of ten metres, with room, mm.
const ROUNDING: f64 = 1e-9;

/// From least to most, and what is measured.
pub(super) struct Bounds {
    pub(super) least: f64,
    pub(super) most: f64,
    /// Unit of a plain number; empty for a share or a count.
    pub(super) unit: &'static str,
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

    pub(super) fn length_words(&self) -> String {
        self.words("a length")
    }

    pub(super) fn number_words(&self) -> String {
        self.words("a number")
    }
}

/// A number to at most three decimals, and never `-0`.
pub(super) fn show(value: f64) -> String {
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
pub(super) fn read_length(node: &Node<'_>, bounds: &Bounds, reader: &mut Reader) -> Option<f64> {
    let expected = bounds.length_words();
    if let Some(text) = node.get_ref().as_str() {
        return match length::parse(text) {
            Ok(value) if bounds.holds(value) => Some(value),
            Ok(value) => {
                let hint = format!("it comes to {} mm", show(value));
                reader.refuse(node.span(), expected, Some(hint));
                None
            }
            Err(error) => {
                reader.refuse(node.span(), expected, Some(error.hint()));
                None
            }
        };
    }
    match plain_number(node) {
        Some(value) if bounds.holds(value) => Some(value),
        Some(value) => {
            reader.refuse(node.span(), expected, inches_meant(value, bounds));
            None
        }
        None => {
            reader.refuse(node.span(), expected, None);
            None
        }
    }
}

/// A plain number far too small in millimetres that would do in inches was most likely meant so.
fn inches_meant(value: f64, bounds: &Bounds) -> Option<String> {
    (value > 0.0 && value < bounds.least && bounds.holds(value * INCH)).then(|| {
        format!("a plain number is in millimetres; for inches write \"{} in\"", show(value))
    })
}

/// Reads a plain number.
pub(super) fn read_number(node: &Node<'_>, bounds: &Bounds, reader: &mut Reader) -> Option<f64> {
    let value = plain_number(node).filter(|&value| bounds.holds(value));
    if value.is_none() {
        let hint = node.get_ref().is_str().then(|| "write it without quotes".to_owned());
        reader.refuse(node.span(), bounds.number_words(), hint);
    }
    value
}

/// The JSON Schema of a length. A plain number is held to the bounds there too.
pub(super) fn length_schema(bounds: &Bounds) -> Value {
    json!({ "anyOf": [
        { "type": "number", "minimum": bounds.least, "maximum": bounds.most },
        { "type": "string", "examples": ["45 mm", "4.5 cm", "1 3/4 in", "1 ft 2 in"] },
    ] })
}

/// The JSON Schema of a plain number.
pub(super) fn number_schema(bounds: &Bounds) -> Value {
    json!({ "type": "number", "minimum": bounds.least, "maximum": bounds.most })
}

/// Declares kinds of numbers: `Name: length 10.0, 200.0;` or `Name: number 0.0, 1.0, "unit";`.
macro_rules! measures {
    (@bounds length $least:literal $most:literal) => {
        $crate::survey::scalars::Bounds { least: $least, most: $most, unit: "mm" }
    };
    (@bounds number $least:literal $most:literal $unit:literal) => {
        $crate::survey::scalars::Bounds { least: $least, most: $most, unit: $unit }
    };
    (@with length $length:expr, $number:expr) => { $length };
    (@with number $length:expr, $number:expr) => { $number };
    ($($name:ident: $kind:ident $least:literal $most:literal $($unit:literal)?;)+) => {$(
        pub(in crate::survey) struct $name;

        impl $crate::survey::entry::Entry for $name {
            type Value = f64;

            fn read(
                node: &$crate::survey::reader::Node<'_>,
                reader: &mut $crate::survey::reader::Reader,
            ) -> Option<f64> {
                let bounds = $crate::survey::scalars::measures!(
                    @bounds $kind $least $most $($unit)?);
                let read = $crate::survey::scalars::measures!(
                    @with $kind $crate::survey::scalars::read_length,
                    $crate::survey::scalars::read_number);
                read(node, &bounds, reader)
            }

            fn expected() -> String {
                let bounds = $crate::survey::scalars::measures!(
                    @bounds $kind $least $most $($unit)?);
                $crate::survey::scalars::measures!(
                    @with $kind bounds.length_words(), bounds.number_words())
            }

            fn schema() -> serde_json::Value {
                let bounds = $crate::survey::scalars::measures!(
                    @bounds $kind $least $most $($unit)?);
                let schema = $crate::survey::scalars::measures!(
                    @with $kind $crate::survey::scalars::length_schema,
                    $crate::survey::scalars::number_schema);
                schema(&bounds)
            }
        }
    )+};
}

/// Declares a choice of words: `Name: Type { "word" | "other spelling" => value; }`.
macro_rules! choice {
    ($name:ident: $type:ty { $($word:literal $(| $other:literal)* => $value:expr;)+ }) => {
        pub(in crate::survey) struct $name;

        impl $crate::survey::entry::Entry for $name {
            type Value = $type;

            fn read(
                node: &$crate::survey::reader::Node<'_>,
                reader: &mut $crate::survey::reader::Reader,
            ) -> Option<$type> {
                match node.get_ref().as_str() {
                    $(Some($word $(| $other)*) => Some($value),)+
                    text => {
                        let known = [$($word $(, $other)*),+];
                        let near = $crate::survey::nearest::nearest(text.unwrap_or_default(), known);
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

pub(super) use {choice, measures};

/// Yes or no.
pub(super) struct Flag;

impl Entry for Flag {
    type Value = bool;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<bool> {
        let flag = node.get_ref().as_bool();
        if flag.is_none() {
            wrong::<Self>(node, reader);
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

/// A name for people: one line of text.
pub(super) struct Name;

/// Longest name, characters: it must fit a heading.
const LONGEST_NAME: usize = 120;

impl Entry for Name {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<String> {
        let text = node.get_ref().as_str().map(str::trim).filter(|text| {
            let length = text.chars().count();
            (1..=LONGEST_NAME).contains(&length) && !text.chars().any(char::is_control)
        });
        let Some(text) = text else {
            wrong::<Self>(node, reader);
            return None;
        };
        if let Some(letter) = reader.unshown(text) {
            let expected = "a name in Latin, Greek or Cyrillic letters, as the sheets can show it";
            let hint = format!("there is no letter for `{letter}`");
            reader.refuse(node.span(), expected.to_owned(), Some(hint));
            return None;
        }
        Some(text.to_owned())
    }

    fn expected() -> String {
        format!("a name in quotes: one line of 1 to {LONGEST_NAME} characters")
    }

    fn schema() -> Value {
        json!({ "type": "string", "minLength": 1, "maxLength": LONGEST_NAME })
    }
}

/// The id of a sash, which also names its folder.
pub(super) struct Id;

/// Longest id, characters.
const LONGEST_ID: usize = 40;

/// Names that some systems keep for devices and refuse as folders.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

impl Entry for Id {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<String> {
        let text = node.get_ref().as_str().unwrap_or_default();
        let shape = (1..=LONGEST_ID).contains(&text.len())
            && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
            && !text.starts_with('-')
            && !text.ends_with('-');
        let port = text.strip_prefix("com").or(text.strip_prefix("lpt"));
        let numbered = port.is_some_and(|rest| rest.len() == 1 && rest != "-");
        if !shape {
            wrong::<Self>(node, reader);
        } else if DEVICES.contains(&text) || numbered {
            let hint = "some systems keep this word for a device: no folder can bear it".to_owned();
            reader.refuse(node.span(), Self::expected(), Some(hint));
        } else {
            return Some(text.to_owned());
        }
        None
    }

    fn expected() -> String {
        format!(
            "an id of 1 to {LONGEST_ID} lower-case letters, digits and hyphens, such as \"kitchen-1\""
        )
    }

    fn schema() -> Value {
        json!({ "type": "string", "pattern": "^[a-z0-9]([a-z0-9-]*[a-z0-9])?$", "maxLength": LONGEST_ID })
    }
}
