//! Whether a unit goes into its rebate once makers, rules and routers have had their share, and what sun and damp
//! leave of the gaps afterwards.
//!
//! Promised: every taker by name, the chance that enough is left, and which taker makes most of the doubt. Not
//! promised: warped members, racking and settling of the house, timber that was never
//! dry, coats that swell, or that the deviations have nothing to do with one another (the chance takes that for
//! granted).

mod allowances;
mod budget;
mod chance;
mod judge;
mod timber;

pub use crate::survey::Allowances;
pub use allowances::size_tolerance;
pub use budget::{Budget, Taker};
pub use judge::{Movement, movement};
pub use timber::{HOLDS, swells};
