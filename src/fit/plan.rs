//! The values that say where each unit sits.

use crate::finding::Finding;
use crate::geometry::PerSide;
use crate::survey::Runs;
use kurbo::{Rect, Size};

/// How every unit of a sash sits.
#[derive(Debug, Clone, PartialEq)]
pub struct Fit {
    /// One for a unit behind the whole sash, or one a light.
    pub units: Vec<UnitFit>,
    /// Depth of the new rebate, glazing face to platform, mm: bed, unit at its thickest and bead,
    /// less what the bead stands proud.
    pub depth: f64,
    /// Judgements of cover, clearance, spacer, internal bars and corners.
    pub findings: Vec<Finding>,
}

/// How one unit sits.
#[derive(Debug, Clone, PartialEq)]
pub struct UnitFit {
    /// The light it serves: `whole sash`, or the light's name.
    pub light: String,
    /// Daylight that the unit covers, bars included.
    pub sight: Rect,
    /// Size to order, tape not counted.
    pub order: Size,
    /// The new rebate wall with sharp corners.
    pub wall: Rect,
    /// Sight edge to new rebate wall, mm.
    pub rebate_width: PerSide<f64>,
    /// Where the unit comes to rest on its setting blocks, tape counted.
    pub unit: Rect,
    /// Unit edge to rebate wall, mm.
    pub clearance: PerSide<f64>,
    /// How far the unit reaches behind the sight edge, tape counted, mm.
    pub cover: PerSide<f64>,
    /// Internal bars, for one unit behind glazing bars.
    pub bars: Vec<InternalBar>,
}

/// An internal bar of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct InternalBar {
    /// Which way it runs.
    pub runs: Runs,
    /// Its centre line from the unit's left (upright) or bottom (cross) edge, tape not counted, mm.
    pub from_edge: f64,
    /// Width, mm.
    pub width: f64,
}
