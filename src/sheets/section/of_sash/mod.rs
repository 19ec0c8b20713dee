//! The sections of a sash: each stile, rail and bar with the unit that comes to sit in it.

mod alike;
mod glazing;
mod notes;

pub use alike::sections;

use super::Section;
use super::wood::Blank;
use crate::fit::{Fit, UnitFit};
use crate::geometry::Side;
use crate::number::NotFinite;
use crate::sash::{Part, Profile, Sash};
use crate::survey::OldGlazing;
use crate::timber::{Least, Timber};
use kurbo::{BezPath, Rect};

/// The section of every stile, rail and bar, in the order of the survey. `timber` is what `fit`
/// leaves of `sash`.
///
/// # Errors
/// Where a radius is not finite.
pub fn of_parts<'a>(
    sash: &'a Sash,
    fit: &Fit,
    timber: &Timber,
) -> Result<Vec<(Part<'a>, Section)>, NotFinite> {
    let members = timber.members.iter();
    let members = members.map(|(side, left)| (Part::Member(side), left.under_platform));
    let bars = sash.bars.iter().zip(&timber.bars);
    let bars = bars.map(|(bar, left)| (Part::Bar(bar), left.under_platform));
    let parts = members.chain(bars);
    parts.map(|(part, least)| Ok((part, Cross::new(sash, fit, part, least).section()?))).collect()
}

/// A part cut across: X from its lower or left sight edge, for a member from its only one.
struct Cross<'a> {
    sash: &'a Sash,
    fit: &'a Fit,
    part: Part<'a>,
    /// The part without cut or moulding.
    solid: Rect,
    profile: Profile,
    /// Where the cut leaves least wood under its platform.
    least: Option<Least>,
    /// Each unit that ends in this part.
    ends: Vec<End>,
}

/// The edge of a unit in a part. Lengths in mm from the sight edge inwards.
struct End {
    /// The side of the unit.
    side: Side,
    /// To the rebate wall.
    wall: f64,
    /// To the unit's edge, tape counted.
    cover: f64,
}

impl End {
    fn new(unit: &UnitFit, side: Side) -> End {
        // Rid of rounding, so that like parts are drawn as one.
        let settled = |length: f64| (length * 1e6).round() / 1e6;
        let (wall, cover) = (*unit.rebate_width.get(side), *unit.cover.get(side));
        End { side, wall: settled(wall), cover: settled(cover) }
    }
}

impl<'a> Cross<'a> {
    fn new(sash: &'a Sash, fit: &'a Fit, part: Part<'a>, least: Option<Least>) -> Cross<'a> {
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
        let mut cross = Cross { sash, fit, part, solid, profile, least, ends };
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

    fn is_bar(&self) -> bool {
        matches!(self.part, Part::Bar(_))
    }

    /// Whether the unit runs on over the part: a bar cut down behind one unit.
    fn runs_over(&self) -> bool {
        self.ends.is_empty()
    }

    /// Whether what lies on that side of a unit is drawn from the right sight edge. A bar holds what
    /// lies to its left on its own left edge: that is the unit's right side. A member has only one
    /// sight edge, drawn at the left.
    fn is_mirrored(&self, side: Side) -> bool {
        self.is_bar() && matches!(side, Side::Left | Side::Bottom)
    }

    /// `rect`, given from the sight edge inwards, as it lies in the section.
    fn facing(&self, side: Side, rect: Rect) -> Rect {
        let width = self.solid.width();
        if self.is_mirrored(side) {
            Rect::new(width - rect.x1, rect.y0, width - rect.x0, rect.y1)
        } else {
            rect
        }
    }

    fn old_cuts(&self) -> Vec<Rect> {
        match self.part {
            Part::Member(side) => vec![old_cut(&self.sash.measured.members.get(side).old)],
            Part::Bar(bar) => {
                let cut = old_cut(&bar.old_glazing());
                vec![self.facing(Side::Right, cut), self.facing(Side::Left, cut)]
            }
        }
    }

    fn new_cuts(&self) -> Vec<Rect> {
        let depth = self.fit.depth;
        if self.runs_over() {
            return vec![Rect::new(0.0, -depth, self.solid.x1, 0.0)];
        }
        let cut = |end: &End| self.facing(end.side, Rect::new(0.0, -depth, end.wall, 0.0));
        self.ends.iter().map(cut).collect()
    }

    fn section(&self) -> Result<Section, NotFinite> {
        let (old, new) = (self.old_cuts(), self.new_cuts());
        let all: Vec<Rect> = old.iter().chain(&new).copied().collect();
        let blank = Blank::new(self.solid, &self.profile, self.is_bar());
        let removed: Vec<BezPath> = blank.taken(&old, &new);
        let glazing = self.glazing();
        Ok(Section {
            title: format!("{}, {}", self.sash.measured.id, self.sash.part_name(self.part)),
            before: blank.difference(&old),
            after: blank.difference(&all),
            sight: if self.is_bar() { vec![0.0, self.solid.x1] } else { vec![0.0] },
            notes_before: self.notes_before(&old, &removed),
            notes_after: self.notes_after(&glazing)?,
            removed,
            glazing,
        })
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
