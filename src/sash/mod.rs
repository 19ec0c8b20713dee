//! The sash as a solid.

mod solid;

pub use solid::Solid;
