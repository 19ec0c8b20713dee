//! What is left of the gaps round a unit once makers, rules, routers, sun and damp have had their share.
//!
//! Promised: every taker by name, both as the worst case and as what is likely, and which is the
//! largest. Not promised: warped members, racking and settling of the house, timber that was never
//! dry, coats that swell, or that the deviations have nothing to do with one another (the likely case
//! takes that for granted).

mod allowances;
mod budget;
mod judge;
mod timber;

pub use crate::survey::Allowances;
pub use allowances::{SizeTolerance, size_tolerance};
pub use budget::{Budget, Taker};
pub use judge::{Movement, movement};
pub use timber::{HOLDS, swells};
