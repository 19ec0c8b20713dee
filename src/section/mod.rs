//! One member or bar cut across, before and after: its wood, and what is put in.
//!
//! Frame of a section: X from the sight edge into the wood, Y = 0 on the glazing face and negative
//! towards the room. Promised: a cut that breaks through the moulding, or through the room face, is cut
//! all the same. Not promised: that what is given is a sensible section; `timber` judges that.

mod glazing;
mod wood;

pub use glazing::Glazing;
pub use wood::Blank;

use crate::fit::{Fit, UnitFit};
use crate::geometry::Side;
use crate::sash::{Part, Profile, Sash};
use crate::survey::OldGlazing;
use kurbo::{Point, Rect};

/// How far chords may lie from a moulding, mm: finer than a pencil line.
pub const TOLERANCE: f64 = 0.01;

/// A part cut across: X from its lower or left sight edge, for a member from its only one.
pub struct Cross<'a> {
    /// The sash.
    pub sash: &'a Sash,
    /// How its units sit.
    pub fit: &'a Fit,
    /// What is cut across.
    pub part: Part<'a>,
    /// The part without cut or moulding.
    pub solid: Rect,
    /// Its moulding.
    pub profile: Profile,
    /// Each unit that ends in this part.
    pub ends: Vec<End>,
}

/// Lengths that differ by less read as one off a rule, mm.
const READ: f64 = 0.05;

/// Rid of rounding, so that like parts are drawn as one.
fn settled(length: f64) -> f64 {
    (length * 1e6).round() / 1e6
}

/// The place along a side where the new rebate is widest, and so most wood goes.
struct Widest {
    place: &'static str,
    wall: f64,
    cover: f64,
}

/// Places looked at along an edge, its ends among them: where straight edges taper they do from end to end.
const PLACES: u32 = 16;

/// Where that is along the edges of the daylight on a side.
fn widest(unit: &UnitFit, side: Side) -> Option<Widest> {
    let outlines = &unit.outlines;
    let sight = outlines.sight.edges_on(side);
    let places: Vec<Point> = sight
        .flat_map(|edge| (0..=PLACES).map(|n| edge.at(f64::from(n) / f64::from(PLACES))))
        .collect();
    let along = |at: &Point| if side.is_upright() { at.y } else { at.x };
    let (low, high) = places
        .iter()
        .map(along)
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
    let (at, wall) = places
        .iter()
        .map(|at| (*at, outlines.wall.distance_to(side, *at)))
        .max_by(|(_, a), (_, b)| a.total_cmp(b))?;
    let share = (along(&at) - low) / (high - low);
    let place = match (side.is_upright(), share) {
        (true, ..0.25) => "at its lower end, where the new rebate is widest",
        (true, 0.75..) => "at its upper end, where the new rebate is widest",
        (false, ..0.25) => "at its left end, where the new rebate is widest",
        (false, 0.75..) => "at its right end, where the new rebate is widest",
        _ => "in its middle, where the new rebate is widest",
    };
    let cover = outlines.unit.distance_to(side, at);
    [wall, cover].iter().all(|length| length.is_finite()).then_some(Widest { place, wall, cover })
}

/// The edge of a unit in a part. Lengths in mm from the sight edge inwards.
pub struct End {
    /// The side of the unit.
    pub side: Side,
    /// To the rebate wall.
    pub wall: f64,
    /// To the unit's edge, tape counted.
    pub cover: f64,
    /// Where along the side that is, if it is not so all along.
    pub place: Option<&'static str>,
}

impl End {
    fn new(unit: &UnitFit, side: Side) -> End {
        let (wall, cover) = (unit.rebate_width.get(side), unit.cover.get(side));
        let tapers = [wall, cover].iter().any(|length| length.most - length.least > READ);
        let widest = widest(unit, side).filter(|_| tapers);
        // Both at one place, so that their difference is a clearance that is there.
        let (place, wall, cover) = match widest {
            Some(Widest { place, wall, cover }) => (Some(place), wall, cover),
            None => (None, wall.most, cover.least),
        };
        End { side, wall: settled(wall), cover: settled(cover), place }
    }
}

impl<'a> Cross<'a> {
    /// Cuts `part` across, with the units of `fit`.
    pub fn new(sash: &'a Sash, fit: &'a Fit, part: Part<'a>) -> Cross<'a> {
        let (thickness, profile) = sash.section_of(part);
        let width = match part {
            Part::Member(side) => sash.measured.members.get(side).width,
            Part::Bar(bar) => bar.measured.width,
        };
        let mut ends = Vec::new();
        for side in Side::ALL {
            let beside = |unit: &&UnitFit| sash.neighbour(&unit.outlines.sight, side).0 == part;
            ends.extend(fit.units.iter().find(beside).map(|unit| End::new(unit, side)));
        }
        let solid = Rect::new(0.0, -thickness, width, 0.0);
        let mut cross = Cross { sash, fit, part, solid, profile, ends };
        if cross.is_bar() {
            cross.add_short_sides();
        }
        cross
    }

    /// A side of a light may lie along several bars and is named after the longest; a bar that is not holds
    /// the unit all the same.
    fn add_short_sides(&mut self) {
        for side in Side::ALL {
            let holds = |unit: &&UnitFit| {
                let mut edges = unit.outlines.sight.edges();
                edges.any(|(edge, own)| own == side && self.sash.along(edge, own) == self.part)
            };
            let mirrored = self.is_mirrored(side);
            if self.ends.iter().all(|end| self.is_mirrored(end.side) != mirrored) {
                self.ends
                    .extend(self.fit.units.iter().find(holds).map(|unit| End::new(unit, side)));
            }
        }
    }

    /// Whether it is a glazing bar.
    pub fn is_bar(&self) -> bool {
        matches!(self.part, Part::Bar(_))
    }

    /// Whether the unit runs on over the part: a bar cut down behind one unit.
    pub fn runs_over(&self) -> bool {
        self.ends.is_empty()
    }

    /// Whether what lies on that side of a unit is drawn from the right sight edge. A bar holds what
    /// lies to its left on its own left edge: that is the unit's right side. A member has only one
    /// sight edge, drawn at the left.
    pub fn is_mirrored(&self, side: Side) -> bool {
        self.is_bar() && matches!(side, Side::Left | Side::Bottom)
    }

    /// `rect`, given from the sight edge inwards, as it lies in the section.
    pub fn facing(&self, side: Side, rect: Rect) -> Rect {
        let width = self.solid.width();
        if self.is_mirrored(side) {
            Rect::new(width - rect.x1, rect.y0, width - rect.x0, rect.y1)
        } else {
            rect
        }
    }

    /// What was cut from it when it was made.
    pub fn old_cuts(&self) -> Vec<Rect> {
        match self.part {
            Part::Member(side) => {
                let rebate = old_cut(&self.sash.measured.members.get(side).old);
                [rebate].into_iter().chain(self.cord_groove()).collect()
            }
            Part::Bar(bar) => {
                let cut = old_cut(&bar.old_glazing());
                vec![self.facing(Side::Right, cut), self.facing(Side::Left, cut)]
            }
        }
    }

    /// The cord groove in the outer edge of a stile, where it runs.
    pub fn cord_groove(&self) -> Option<Rect> {
        let Part::Member(side) = self.part else { return None };
        let groove = self.sash.cord_groove(side)?;
        let (edge, from_face) = (self.solid.x1, groove.from_face);
        Some(Rect::new(edge - groove.depth, -from_face - groove.width, edge, -from_face))
    }

    /// What the new rebate takes.
    pub fn new_cuts(&self) -> Vec<Rect> {
        let depth = self.fit.depth;
        if self.runs_over() {
            return vec![Rect::new(0.0, -depth, self.solid.x1, 0.0)];
        }
        let cut = |end: &End| self.facing(end.side, Rect::new(0.0, -depth, end.wall, 0.0));
        self.ends.iter().map(cut).collect()
    }

    /// Where the section is taken; each side of a bar may taper to an end of its own.
    pub fn place(&self) -> Option<String> {
        let mut places: Vec<&str> = self.ends.iter().filter_map(|end| end.place).collect();
        places.dedup();
        (!places.is_empty()).then(|| places.join("; "))
    }

    /// X of its sight edges.
    pub fn sight(&self) -> Vec<f64> {
        if self.is_bar() { vec![0.0, self.solid.x1] } else { vec![0.0] }
    }

    /// The wood as it was before any cut.
    pub fn blank(&self) -> Blank {
        Blank::new(self.solid, &self.profile, self.is_bar())
    }
}

fn old_cut(old: &OldGlazing) -> Rect {
    match *old {
        OldGlazing::Rebate { width, depth } => Rect::new(0.0, -depth, width, 0.0),
        OldGlazing::Groove { from_face, width, depth } => {
            Rect::new(0.0, -from_face - width, depth, -from_face)
        }
    }
}
