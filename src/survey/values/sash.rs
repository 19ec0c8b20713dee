//! The values of a survey, read and found free of contradiction. Lengths in mm, pressures in Pa.

use super::around::Around;
use super::bars::{Bar, BarsAs};
use super::cords::Cords;
use super::doubt::Doubt;
use super::members::{Horns, Member};
use super::timber::Timber;
use super::unit::{Finish, Unit};
use super::wind::Wind;
use super::workshop::Workshop;
use crate::geometry::quadrilateral::{Adjusted, Span};
use crate::geometry::{Fitted, MinMax, PerSide, Side, Sided, Surface};
use crate::language::Called;
use kurbo::{Point, Rect, Size};

/// One house: its workshop settings and its sashes.
#[derive(Debug, Clone, PartialEq)]
pub struct House {
    /// Name of the house, for headings.
    pub name: String,
    /// The workshop.
    pub workshop: Workshop,
    /// The sashes, in the order of the file; ids are unique and safe as folder names.
    pub sashes: Vec<Sash>,
    /// What to ask about before anything else, in the order of the sashes.
    pub doubts: Vec<Doubt>,
}

/// One sash, glazing face up, as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Sash {
    /// Unique name: lower-case letters, digits and hyphens.
    pub id: String,
    /// How it hangs or slides.
    pub kind: Kind,
    /// The stile that carries the hinges of a side-hung sash, where it is known.
    pub hinge_side: Option<Side>,
    /// The timber.
    pub timber: Timber,
    /// Daylight between the members, bars left out of account; of a sash that is not a rectangle, the
    /// smallest upright rectangle around it.
    pub sight: Size,
    /// The daylight's outline with the member along each edge, its bounds' lower left corner at zero;
    /// none where it is the rectangle `sight`.
    pub outline: Option<Sided>,
    /// How a sash out of square was measured, and how well its measures agree.
    pub measures: Option<Measures>,
    /// Stiles and rails.
    pub members: PerSide<Member>,
    /// What of the stiles runs on past the rails.
    pub horns: Horns,
    /// Cord grooves of a sliding sash; none in any other.
    pub cords: Cords,
    /// Glazing bars.
    pub bars: Vec<Bar>,
    /// How the bars and the unit go together.
    pub bars_as: BarsAs,
    /// The unit to fit.
    pub unit: Unit,
    /// Gap wanted between the unit's edge and the rebate wall. Default 2/2/2 and 4 at the bottom.
    pub clearance: PerSide<f64>,
    /// Height of the setting blocks under the unit. Default: the bottom clearance.
    pub block_height: f64,
    /// Bed and bead.
    pub finish: Finish,
    /// Known metal.
    pub metal: Vec<Metal>,
    /// Screws of hinges, lifts, fasteners.
    pub screws: Vec<Screw>,
    /// What holds the sash on the bed of the machine.
    pub clamps: Vec<Clamp>,
    /// Heights of the glazing face at a few places; none for a flat sash.
    pub surface: Vec<Height>,
    /// Wind that the sash must bear.
    pub wind: Wind,
    /// What is known besides: old glass, hinges and weights, place, weather.
    pub around: Around,
}

impl Sash {
    /// Least and most thickness of stiles and rails.
    pub fn thickness(&self) -> MinMax {
        let all = self.members.iter().map(|(_, member)| MinMax::even(member.thickness));
        all.fold(MinMax::even(self.members.left.thickness), MinMax::or)
    }

    /// The surface of the face and how far each measured height lies from it; flat where none was
    /// measured.
    pub fn warp(&self) -> Fitted {
        let points: Vec<_> = self.surface.iter().map(|height| (height.at, height.z)).collect();
        Surface::fit(&points).unwrap_or(Fitted { surface: Surface::FLAT, residuals: Vec::new() })
    }
}

/// How a sash hangs or slides.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// Does not open.
    Fixed,
    /// Hinged at a stile.
    SideHung,
    /// Hinged at the top rail.
    TopHung,
    /// The upper of a sliding pair.
    SlidingUpper,
    /// The lower of a sliding pair.
    SlidingLower,
}

impl Kind {
    /// Whether it slides, on cords or otherwise.
    pub fn slides(self) -> bool {
        matches!(self, Kind::SlidingUpper | Kind::SlidingLower)
    }

    /// The name as the survey writes it.
    pub fn name(self) -> &'static str {
        match self {
            Kind::Fixed => "fixed",
            Kind::SideHung => "side-hung",
            Kind::TopHung => "top-hung",
            Kind::SlidingUpper => "sliding-upper",
            Kind::SlidingLower => "sliding-lower",
        }
    }

    /// What a joiner calls the member on `side`.
    pub fn member_name(self, side: Side) -> &'static str {
        match (side, self) {
            (Side::Left, _) => "left stile",
            (Side::Right, _) => "right stile",
            (Side::Bottom, Kind::SlidingUpper) | (Side::Top, Kind::SlidingLower) => "meeting rail",
            (Side::Bottom, _) => "bottom rail",
            (Side::Top, _) => "top rail",
        }
    }
}

/// A nail, pin, bracket or other metal.
#[derive(Debug, Clone, PartialEq)]
pub struct Metal {
    /// What it is, for the report.
    pub name: Called,
    /// Where, seen on the glazing face.
    pub at: Point,
    /// Everything within this distance of `at` counts as metal. Default 5.
    pub radius: f64,
    /// Glazing face to its nearest part. Default 0: it may lie right under the face.
    pub from_face: f64,
    /// Whether it has been drawn.
    pub cleared: bool,
}

/// A clamp, stop or board on the bed: everything over this place, up to its height.
#[derive(Debug, Clone, PartialEq)]
pub struct Clamp {
    /// What it is, for the report.
    pub name: Called,
    /// Its lower left corner, seen on the glazing face.
    pub at: Point,
    /// Its size along X and Y.
    pub size: Size,
    /// Its highest point above the glazing face where it stands, mm; negative below it.
    pub height: f64,
}

impl Clamp {
    /// Where it stands, seen on the glazing face.
    pub fn place(&self) -> Rect {
        Rect::from_origin_size(self.at, self.size)
    }
}

/// How high the glazing face of a cupped or twisted sash lies at one place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Height {
    /// Where, seen on the glazing face.
    pub at: Point,
    /// Above where the face would be if flat; negative below.
    pub z: f64,
}

/// Where a screw enters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ScrewFrom {
    /// Through the outer edge of the member, towards the glass.
    OuterEdge {
        /// Glazing face to the screw's axis.
        from_face: f64,
    },
    /// Through the room face, towards the glazing face.
    RoomFace {
        /// Sight edge to the screw's axis.
        from_sight: f64,
    },
}

/// A hardware screw.
#[derive(Debug, Clone, PartialEq)]
pub struct Screw {
    /// Which member it sits in.
    pub member: Side,
    /// Where it enters.
    pub from: ScrewFrom,
    /// Along the member: Y on a stile, X on a rail, from the datum corner.
    pub at: f64,
    /// Length inside the wood.
    pub length: f64,
    /// Whether it has been drawn.
    pub cleared: bool,
}

/// Widths, heights and diagonals, brought together.
#[derive(Debug, Clone, PartialEq)]
pub struct Measures {
    /// The likeliest shape with straight edges, and how each measure stands to it. A middle width or
    /// height counts there less the bow of its two sides.
    pub adjusted: Adjusted,
    /// How far the middle of each sight edge is bowed away from the daylight, mm: as surveyed, or half
    /// of what a middle width or height has more than the ends.
    pub bow: PerSide<f64>,
}

/// What a joiner calls a measure.
pub fn measure_name(span: Span) -> &'static str {
    match span {
        Span::Across(share) if share <= 0.25 => "width at the bottom",
        Span::Across(share) if share < 0.75 => "width in the middle",
        Span::Across(_) => "width at the top",
        Span::Up(share) if share <= 0.25 => "height at the left",
        Span::Up(share) if share < 0.75 => "height in the middle",
        Span::Up(_) => "height at the right",
        Span::FromLowerLeft => "diagonal from the lower left",
        Span::FromLowerRight => "diagonal from the lower right",
    }
}
