//! Lengths, numbers and words: everything behind a key that is no table.

use super::entry::{Entry, refuse};
use super::length::{self, INCH};
use super::reader::{Node, Reader};
use serde_json::{Value, json};
use toml::de::DeValue;

/// What changing between inches and millimetres can cost a length of ten metres, with room, mm. Less would refuse a
/// limit that is written in inches, more would let pass what is beyond it.
const ROUNDING: f64 = 1e-9;

/// From least to most, and what is measured.
pub struct Bounds {
    /// The least that is allowed.
    pub least: f64,
    /// The most that is allowed.
    pub most: f64,
    /// Unit of a plain number; empty for a share or a count.
    unit: &'static str,
    /// Whether it is a length, which may be a text with a unit of its own.
    is_length: bool,
}

impl Bounds {
    /// A length, mm.
    pub const fn length(least: f64, most: f64) -> Bounds {
        Bounds { least, most, unit: "mm", is_length: true }
    }

    /// A plain number.
    pub const fn number(least: f64, most: f64, unit: &'static str) -> Bounds {
        Bounds { least, most, unit, is_length: false }
    }

    /// Whether it is a length.
    pub const fn are_of_length(&self) -> bool {
        self.is_length
    }

    /// Whether `value` lies within. A bound met exactly in inches may be missed by rounding; zero
    /// never is.
    fn holds(&self, value: f64) -> bool {
        let slack = |bound: f64| if bound == 0.0 { 0.0 } else { ROUNDING };
        (self.least - slack(self.least)..=self.most + slack(self.most)).contains(&value)
    }

    /// Reads a number within these bounds; a length may be a text with its unit.
    pub fn read(&self, node: &Node<'_>, reader: &mut Reader<'_>) -> Option<f64> {
        let text = node.get_ref().as_str();
        let read = match (text, plain_number(node)) {
            (Some(text), _) if self.is_length => match length::parse(text) {
                Ok(value) if self.holds(value) => {
                    reader.names_unit(&node.span());
                    Ok(value)
                }
                Ok(value) => Err(Some(format!("it comes to {} mm", show(value)))),
                Err(error) => Err(Some(error.hint())),
            },
            (Some(_), _) => Err(Some("write it without quotes".to_owned())),
            (None, Some(value)) if self.holds(value) => Ok(value),
            (None, value) => Err(value.and_then(|value| self.unit_meant(value))),
        };
        read.map_err(|hint| reader.refuse(node.span(), self.words(), hint)).ok()
    }

    /// A plain number far too small in millimetres was most likely meant in a unit in which it would do.
    fn unit_meant(&self, value: f64) -> Option<String> {
        let small = self.is_length && value > 0.0 && value < self.least;
        let units = [("centimetres", "cm", 10.0), ("inches", "in", INCH)];
        let written: Vec<String> = units
            .iter()
            .filter(|(_, _, size)| small && self.holds(value * size))
            .map(|(name, unit, _)| format!("for {name} write \"{} {unit}\"", show(value)))
            .collect();
        (!written.is_empty())
            .then(|| format!("a plain number is in millimetres; {}", written.join(", ")))
    }

    /// `a length from 10 to 200 mm`.
    pub fn words(&self) -> String {
        let what = if self.is_length { "a length" } else { "a number" };
        let (least, most) = (show(self.least), show(self.most));
        format!("{what} from {least} to {most} {}", self.unit).trim_end().to_owned()
    }

    /// The JSON Schema. The plain number of a length is held to the bounds too.
    pub fn schema(&self) -> Value {
        let number = json!({ "type": "number", "minimum": self.least, "maximum": self.most });
        if !self.is_length {
            return number;
        }
        let text = ["45 mm", "4.5 cm", "1 3/4 in", "1 ft 2 in"];
        json!({ "anyOf": [number, { "type": "string", "examples": text }] })
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

/// Declares kinds of numbers: `Name: length 10.0 200.0;` or `Name: number 0.0 1.0 "unit";`.
macro_rules! measures {
    ($($name:ident: $kind:ident $least:literal $most:literal $($unit:literal)?;)+) => {$(
        pub(crate) struct $name;

        impl $name {
            pub(crate) const BOUNDS: $crate::input::Bounds =
                $crate::input::Bounds::$kind($least, $most $(, $unit)?);
        }

        impl $crate::input::Entry for $name {
            type Value = f64;

            const IS_LENGTH: bool = Self::BOUNDS.are_of_length();

            fn read(
                node: &$crate::input::Node<'_>,
                reader: &mut $crate::input::Reader<'_>,
            ) -> Option<f64> {
                Self::BOUNDS.read(node, reader)
            }

            fn expected() -> String {
                Self::BOUNDS.words()
            }

            fn schema() -> serde_json::Value {
                Self::BOUNDS.schema()
            }
        }
    )+};
}

/// Declares a choice of words: `Name: Type { "word" | "other spelling" => value; }`, and after it, where
/// people use words that could mean several of these, `not { "word" => "what to write"; }`.
macro_rules! choice {
    (
        $name:ident: $type:ty { $($word:literal $(| $other:literal)* => $value:expr;)+ }
        $(not { $($unclear:literal $(| $like:literal)* => $instead:literal;)+ })?
    ) => {
        pub(crate) struct $name;

        impl $crate::input::Entry for $name {
            type Value = $type;

            fn read(
                node: &$crate::input::Node<'_>,
                reader: &mut $crate::input::Reader<'_>,
            ) -> Option<$type> {
                match node.get_ref().as_str() {
                    $(Some($word $(| $other)*) => Some($value),)+
                    $($(Some($unclear $(| $like)*) => {
                        reader.refuse(node.span(), Self::expected(), Some($instead.to_owned()));
                        None
                    })+)?
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
