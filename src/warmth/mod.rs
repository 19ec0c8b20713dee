//! How much heat a sash loses, before and after, and whether its glass runs with water.
//!
//! Promised: the whole sash by EN ISO 10077-1 from its real areas; frame and edge by a two-dimensional calculation of
//! each of its sections, before and after (EN ISO 10077-2), with the coldest place on the room side (EN ISO 13788) and
//! how cold it may become outdoors until dew settles there; and the heat of a year from degree hours that
//! the user gives. Not promised, because not modelled: draughts (which often cost an old window more
//! than its glass), which way a window looks to the sun, shutters and curtains, the box or frame round the sash, and
//! corners, where two edges meet.

mod areas;
mod choice;
pub mod conduction;
mod dew;
mod isotherms;
mod judge;
pub mod model;
mod sections;
mod stress;
mod window;

pub use crate::survey::{Conditions, Spacer};
pub use areas::Areas;
pub use choice::Choice;
pub use dew::{dew_point, humidity};
pub use isotherms::{Isotherm, Warm, warm};
pub use judge::{
    Basis, Cure, Edge, Known, Losses, Side, Warmth, edge_dry_down_to, least_factor, warmth,
};
pub use sections::{PartHeat, Sections};
pub use stress::HeatStress;
pub use window::{frame_u, linear, rating, whole_window, yearly_heat, yearly_sun};
