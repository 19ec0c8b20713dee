//! Stiles and rails: how the old glass is held in them, how they are joined and moulded.

use crate::geometry::Side;
use kurbo::Point;

/// A stile or rail.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// From sight edge to outer edge, seen on the face.
    pub width: f64,
    /// From glazing face to room face.
    pub thickness: f64,
    /// How the old glass is held.
    pub old: OldGlazing,
    /// Tenon at the ends of this member, if known (rails have them).
    pub tenon: Option<Tenon>,
    /// Moulding on the room-side arris at the sight edge.
    pub moulding: Moulding,
}

/// The place of the old glass in a member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OldGlazing {
    /// Open to the glazing face.
    Rebate {
        /// Sight edge to wall.
        width: f64,
        /// Glazing face to platform.
        depth: f64,
    },
    /// A slot in the edge of the member, as in many meeting rails.
    Groove {
        /// Glazing face to the near side of the slot.
        from_face: f64,
        /// Width of the slot, measured square to the glass.
        width: f64,
        /// How far it reaches into the member from the sight edge.
        depth: f64,
    },
}

impl OldGlazing {
    /// Sight edge to the end of the old rebate or groove.
    pub fn width(&self) -> f64 {
        match *self {
            OldGlazing::Rebate { width, .. } => width,
            OldGlazing::Groove { depth, .. } => depth,
        }
    }

    /// Glazing face to the surface that carries the old glass on the room side.
    pub fn depth(&self) -> f64 {
        match *self {
            OldGlazing::Rebate { depth, .. } => depth,
            OldGlazing::Groove { from_face, width, .. } => from_face + width,
        }
    }
}

/// How far the stiles run on past the rails, mm: horns, mostly at the meeting rail.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Horns {
    /// Past the top rail.
    pub top: f64,
    /// Past the bottom rail.
    pub bottom: f64,
}

impl Horns {
    /// Past the rail on that side.
    pub fn past(&self, end: Side) -> f64 {
        match end {
            Side::Top => self.top,
            Side::Bottom => self.bottom,
            Side::Left | Side::Right => 0.0,
        }
    }
}

/// The tenon at the ends of a member.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tenon {
    /// Thickness, square to the glass.
    pub thickness: f64,
    /// Glazing face to its nearer cheek.
    pub from_face: f64,
    /// How much of the member's width, from its outer edge, is only haunch, mm. Default 0: not known.
    pub haunch: f64,
}

/// A moulding on the room-side arris. `width` runs from the sight edge into the member, `depth` from
/// the room face towards the glass.
#[derive(Debug, Clone, PartialEq)]
pub enum Moulding {
    /// No moulding: a square arris.
    Square,
    /// A straight bevel.
    Chamfer {
        /// Along the face.
        width: f64,
        /// Square to the face.
        depth: f64,
    },
    /// A convex quarter of an ellipse.
    Ovolo {
        /// Along the face.
        width: f64,
        /// Square to the face.
        depth: f64,
    },
    /// Hollow, then round (lamb's tongue): two quarter ellipses that meet at the middle.
    Ogee {
        /// Along the face.
        width: f64,
        /// Square to the face.
        depth: f64,
    },
    /// Points traced from the wood: distance from the sight edge into the member, and height above
    /// the room face. The first lies at the sight edge, the last on the room face; the distance
    /// never falls.
    Traced(Vec<Point>),
}
