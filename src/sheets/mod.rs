//! What goes on each sheet: the outlines of a sash, its sections, templates at true size, the glass
//! order, the summary.
//!
//! Promised: every figure is one of the report or the length of what is drawn; a sheet groups, picks and rounds,
//! and works out none of its own. Not promised: how a pen draws it.

mod answer;
mod building_checks;
mod choice;
pub mod compare;
pub mod cutting_list;
pub mod done;
pub mod elevation;
mod error;
pub mod form;
pub mod found;
pub mod glass;
pub mod guide;
pub mod index;
pub mod kit;
pub mod layers;
mod lines;
pub mod list;
pub mod machine;
pub mod margins;
pub mod options;
pub mod order;
mod outlines;
pub mod path;
mod remaining;
pub mod section;
pub mod set_ups;
mod share;
mod subject;
pub mod summary;
pub mod template;
mod told;
mod work;
pub mod workshop;

pub use error::SheetError;
pub use outlines::outlines;
pub use remaining::remaining_wood;
pub use section::sections;
pub use share::Share;
pub use subject::Subject;
pub use told::Told;
