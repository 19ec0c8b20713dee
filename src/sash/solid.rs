//! Upright prisms of wood.

use crate::geometry::Region;

/// A prism: a region seen on the glazing face, between two depths.
#[derive(Debug, Clone, PartialEq)]
pub struct Solid {
    /// Which part of the sash, in words: `left stile, beside the rebate`.
    pub name: String,
    /// Seen on the glazing face.
    pub region: Region,
    /// Z of its upper face, mm, zero or negative.
    pub top: f64,
    /// Z of its lower face, mm, below `top`.
    pub bottom: f64,
}

impl Solid {
    /// Volume, mm³.
    pub fn volume(&self) -> f64 {
        self.region.area() * (self.top - self.bottom)
    }
}
