//! What a cut means for the wood: the values.

use crate::geometry::Outline;
use crate::sash::Solid;
use kurbo::Point;

/// An inside corner of a pocket's wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Corner {
    /// The sharp corner.
    pub at: Point,
    /// Whether the fillet that the cutter leaves must be chiselled for the unit to go in.
    pub chisel: bool,
}

/// The room one unit needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Pocket {
    /// The light, or lights, it serves.
    pub light: String,
    /// The new rebate wall with sharp corners.
    pub wall: Outline,
    /// Its inside corners.
    pub corners: Vec<Corner>,
}

/// Everything the cut means for the wood.
#[derive(Debug, Clone, PartialEq)]
pub struct Rebate {
    /// Z of the new platform, negative.
    pub platform: f64,
    /// One pocket a unit.
    pub pockets: Vec<Pocket>,
    /// Wood that must go: disjoint prisms inside the walls and above the platform, corners sharp.
    pub go: Vec<Solid>,
    /// Wood that may go or stay: fillets of the cutter in corners that the unit clears. They lie
    /// inside the prisms of `go`.
    pub may_go: Vec<Solid>,
    /// Wood that must stay: disjoint prisms, everything else the sash is made of, as if its
    /// room-side mouldings were square.
    pub stay: Vec<Solid>,
}
