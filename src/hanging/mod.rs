//! What a sash weighs before and after, and what must carry it.
//!
//! Promised: weights from the solids of the cut, the timber's density and the glass; counterweights of
//! sliding sashes with their length in the box; load and moment on the hinges of hung ones. Not
//! promised: putty, paint, hardware and water in the wood, which are not counted: a spring balance on
//! the sash knows better, and the *difference* of the weights is truer than either. Nor cords, pulleys,
//! stays, and screws that have worn their holes.

mod counterweight;
mod hinges;
mod lifting;
mod weight;

pub use crate::survey::{Hinges, WeightBox};
pub use counterweight::{Counterweights, InMetal, Metal, counterweights, each, length};
pub use hinges::{Hung, in_side_grain, side_hung, top_hung, withdrawal};
pub use lifting::{heavier, lifting};
pub use weight::{Weights, weigh};
