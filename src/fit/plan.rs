//! The values that say where each unit sits.

use crate::finding::Finding;
use crate::geometry::{COINCIDENT, Edge, MinMax, PerSide, Side, Sided};
use crate::sash::PlacedBar;
use kurbo::{Rect, Size};

/// How every unit of a sash sits.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// One for a unit behind the whole sash, or one a light.
    pub units: Vec<UnitFit>,
    /// Depth of the new rebate, glazing face to platform, mm ([`super::rebate_depth`]).
    pub depth: f64,
    /// Judgements of cover, clearance, spacer, internal bars and corners.
    pub findings: Vec<Finding>,
}

/// How one unit sits.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitFit {
    /// The light it serves: `whole sash`, or the light's name.
    pub light: String,
    /// Size to order, tape not counted; of a shaped unit, of the rectangle around it.
    pub order: Size,
    /// Sight edge to new rebate wall, mm.
    pub rebate_width: PerSide<MinMax>,
    /// Unit edge to rebate wall, mm.
    pub clearance: PerSide<MinMax>,
    /// How far the unit reaches behind the sight edge, tape counted, mm.
    pub cover: PerSide<MinMax>,
    /// Radius of the largest cutter whose fillets in the wall's corners the unit clears, mm; infinite where none
    /// limits it.
    pub largest_cutter: f64,
    /// Its daylight, its wall and the unit itself.
    pub outlines: Outlines,
    /// Internal bars, for one unit behind glazing bars that run through.
    pub bars: Vec<InternalBar>,
}

impl UnitFit {
    /// The rectangle around the daylight that the unit covers, bars included.
    pub fn sight(&self) -> Rect {
        self.outlines.sight.bounds()
    }

    /// The rectangle around the new rebate wall.
    pub fn wall(&self) -> Rect {
        self.outlines.wall.bounds()
    }

    /// The rectangle around the unit where it comes to rest on its setting blocks, tape counted.
    pub fn unit(&self) -> Rect {
        self.outlines.unit.bounds()
    }

    /// Area of the glass to order, mm².
    pub fn glass_area(&self) -> f64 {
        let (bounds, own) = (self.order.area(), self.outlines.order.outline().area());
        // A rectangle, turned or not, is known by its two sides.
        if (own - bounds).abs() <= COINCIDENT * bounds { bounds } else { own }
    }

    /// How far the unit lies turned in the sash, degrees anticlockwise.
    pub fn turned(&self) -> f64 {
        let mut below = self.outlines.order.edges_on(Side::Bottom);
        below.next().map_or(0.0, |edge| edge.direction(0.5).atan2().to_degrees())
    }

    /// Length of the unit's edges on a side, tape counted, mm; zero where it has none there.
    pub fn length_along(&self, side: Side) -> f64 {
        self.outlines.unit.edges_on(side).map(Edge::length).sum()
    }
}

/// Daylight, wall and unit as they are, each edge with its side.
#[derive(Debug, Clone, PartialEq)]
pub struct Outlines {
    /// Daylight that the unit covers.
    pub sight: Sided,
    /// The new rebate wall with sharp corners.
    pub wall: Sided,
    /// The unit at rest, tape counted.
    pub unit: Sided,
    /// The glass to order at its place before it comes to rest, tape not counted.
    pub order: Sided,
}

/// An internal bar of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct InternalBar {
    /// The glazing bar that it lies behind, and runs as.
    pub bar: PlacedBar,
    /// Its centre line from the unit's left (upright) or bottom (cross) edge, tape not counted, mm.
    pub from_edge: f64,
    /// How far its glazing bar runs off it at the ends, mm: internal bars are true to the unit.
    pub off: f64,
    /// Width, mm.
    pub width: f64,
}
