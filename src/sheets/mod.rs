//! What goes on each sheet: the outlines of a sash, its sections, the glass order, the summary.
//!
//! Promised: a sheet shows resolved values only and computes none of its own. Not promised: how a pen
//! draws it.

pub mod layers;
mod lines;
pub mod margins;
pub mod order;
mod outlines;
pub mod section;
pub mod summary;

pub use outlines::outlines;
pub use section::sections;
