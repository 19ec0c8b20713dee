//! The shape of the file: each table with its keys, what may stand behind them, and their defaults.
//! The JSON Schema and every list of known keys come from here.

pub(super) mod around;
pub(super) mod fixings;
mod lengths;
pub(super) mod members;
mod names;
pub(super) mod sash;
pub(super) mod sight;
pub(super) mod unit;
pub(super) mod workshop;

use crate::input::{Many, table};
use names::Name;
use sash::{DefaultsTable, SashTable};
use workshop::WorkshopTable;

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
