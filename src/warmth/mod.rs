//! How much heat a sash loses, before and after, and whether its glass runs with water.
//!
//! Promised: the whole sash by EN ISO 10077-1 from its real areas, the temperature of the glass in its
//! middle on the room side, the dew point of the room, and the heat of a year from degree hours that
//! the user gives. Not promised, because not modelled: draughts (which often cost an old window more
//! than its glass), sun, shutters and curtains, the box or frame round the sash, water at the edges
//! of the glass and on the wood (both colder or warmer than the middle), and that the deeper rebate
//! leaves less wood between indoors and out.

mod areas;
mod dew;
mod judge;
mod window;

pub use crate::survey::{Conditions, Spacer};
pub use areas::Areas;
pub use dew::dew_point;
pub use judge::{Choice, Side, Warmth, warmth};
pub use window::{frame_u, linear, whole_window, yearly_heat};
