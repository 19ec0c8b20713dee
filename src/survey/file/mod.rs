//! The shape of the file: each table with its keys, what may stand behind them, and their defaults.
//! The JSON Schema and every list of known keys come from here.

mod around;
mod fixings;
mod members;
mod sash;
mod sight;
mod surface;
mod unit;
mod workshop;

pub(super) use around::*;
pub(super) use fixings::*;
pub(super) use members::*;
pub(super) use sash::*;
pub(super) use sight::*;
pub(super) use unit::*;
pub(super) use workshop::*;

use super::entry::{Entry, Many};
use super::scalars::Name;
use super::table::table;

table! {
    /// A survey of one house for Fillister. Lengths are plain numbers in millimetres, or text with a
    /// unit: "45 mm", "4.5 cm", "1 3/4 in", "1 ft 2 in".
    FileTable {
        /// Name of the house.
        house: Name, needed;
        /// What the workshop cuts with.
        workshop: WorkshopTable, otherwise "every setting at its default";
        /// What holds for every sash that does not say otherwise.
        defaults: DefaultsTable, otherwise "each sash says everything itself";
        /// The sashes: at least one [[sash]].
        sash: Many<SashTable>, needed;
    }
}

/// The JSON Schema (2020-12) of the file.
pub(super) fn schema() -> serde_json::Value {
    let mut schema = FileTable::schema();
    if let Some(fields) = schema.as_object_mut() {
        fields.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
        fields.insert("title".into(), "Fillister survey".into());
    }
    schema
}
