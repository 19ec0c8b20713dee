//! The shape of the file: each table with its keys, what may stand behind them, and their defaults.
//! The JSON Schema and every list of known keys come from here.

pub(super) mod around;
pub(super) mod done;
pub(super) mod fixings;
pub(super) mod lengths;
pub(super) mod members;
pub(super) mod names;
pub(super) mod sash;
pub(super) mod sight;
pub(super) mod unit;
pub(super) mod workshop;

use crate::input::{Many, Named, table};
use names::{FileName, Name};
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
        /// A file with settings of the workshop that several surveys share: what may stand under [workshop] stands
        /// in it without that heading. From the folder of the survey on; what the survey says itself goes before.
        workshop_file: FileName, otherwise "the settings of this survey alone";
        /// What holds for every sash that does not say otherwise.
        defaults: DefaultsTable, otherwise "each sash says everything itself";
        /// Kinds of sash that repeat, each under a name of its own: what holds for every sash of that profile, as
        /// under [defaults].
        profile: Named<DefaultsTable>, otherwise "no profiles";
        /// The sashes: at least one [[sash]].
        sash: Many<SashTable>, needed;
    }
}
