//! The sash as a solid: its members and bars in place, its lights by name, its mouldings as curves,
//! and the wood at any point of it.
//!
//! Promised: every value comes from the survey alone; no glass, no cut. A daylight may be any
//! outline of lines and arcs, a bar a line or an arc. Not promised: the shape that horns end in, bars along other curves.

mod bar;
mod cords;
mod horns;
mod lights;
mod metal;
mod moulding;
mod neighbour;
mod wood;

pub use bar::PlacedBar;
pub use horns::Horn;
pub use metal::THREAD_RADIUS;
pub use moulding::{Profile, wood_under};
pub use wood::{Solid, Stretch, open_to_both};

use crate::geometry::{PerSide, ShapeError, Side, Sided};
use crate::survey::{self, BarsAs, Runs};
use kurbo::Rect;
use schemars::JsonSchema;
use serde::Serialize;

/// A part of a sash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Part<'a> {
    /// The stile or rail on that side.
    Member(Side),
    /// A glazing bar.
    Bar(&'a PlacedBar),
}

/// One opening of the sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Light {
    /// `light 1` is at the upper left as seen on the glazing face; they count to the right, then
    /// downwards.
    pub name: String,
    /// Daylight, sight edge to sight edge; its bounds where it is not a rectangle.
    #[serde(skip)]
    pub sight: Rect,
    /// Daylight with the side that each of its edges looks to.
    #[serde(skip)]
    pub outline: Sided,
}

/// A sash in the frame of reference.
#[derive(Debug, Clone, PartialEq)]
pub struct Sash {
    /// The survey it was made from. Its bars are read from `bars`, where each carries what was measured.
    pub measured: survey::Sash,
    /// Daylight between stiles and rails, or its bounds: its lower left corner is the datum.
    pub sight: Rect,
    /// Daylight with the member along each edge.
    pub outline: Sided,
    /// Outer edges of stiles and rails, or their bounds.
    pub outer: Rect,
    /// Outer edges with the member along each.
    pub outer_outline: Sided,
    /// Glazing bars in place, in the order of the survey.
    pub bars: Vec<PlacedBar>,
    /// Openings between the bars.
    pub lights: Vec<Light>,
    /// Metal that was found, in the order of the survey, drawn or not.
    pub metal: Vec<Solid>,
    /// Hardware screws, in the order of the survey, drawn or not.
    pub screws: Vec<Solid>,
}

impl Sash {
    /// Sight edges to the old walls: where sides go on smoothly into each other to the nearer one of theirs, which is
    /// nowhere run over.
    pub fn nearer_old_walls(&self) -> PerSide<f64> {
        let inwards = self.measured.members.map(|member| -member.old.width());
        self.outline.evened(&inwards).map(|width| -width)
    }

    /// Puts a surveyed sash in place.
    ///
    /// # Errors
    /// Where the daylight has no area, or members as wide as these cannot run round it; a survey that
    /// was read without a mistake has none such.
    pub fn new(measured: &survey::Sash) -> Result<Sash, ShapeError> {
        let sight = Rect::from_origin_size((0.0, 0.0), measured.sight);
        let outline = measured.outline.clone().map_or_else(|| Sided::rectangle(sight), Ok)?;
        let widths = measured.members.map(|member| member.width);
        let outer_outline = outline.grow(&widths)?;
        let outer =
            if measured.outline.is_some() { outer_outline.bounds() } else { widths.grow(sight) };
        let bars = measured.bars.iter().enumerate();
        let bars: Vec<_> =
            bars.map(|(index, bar)| PlacedBar::new(index, bar, outline.outline(), outer)).collect();
        let lights = if outline.is_rectangle() && bars.iter().all(PlacedBar::is_square) {
            lights::grid(sight, &bars)?
        } else {
            lights::divide(&outline, &bars)?
        };
        let (metal, screws) = (Vec::new(), Vec::new());
        let measured = measured.clone();
        let mut sash =
            Sash { measured, sight, outline, outer, outer_outline, bars, lights, metal, screws };
        (sash.metal, sash.screws) = (sash.metal_solids()?, sash.screw_solids()?);
        Ok(sash)
    }

    /// Metal and screws that have not been drawn.
    pub fn undrawn(&self) -> impl Iterator<Item = &Solid> {
        let metal = self.metal.iter().zip(self.measured.metal.iter().map(|metal| metal.cleared));
        let screws = self.screws.iter().zip(self.measured.screws.iter().map(|screw| screw.cleared));
        metal.chain(screws).filter(|(_, cleared)| !cleared).map(|(solid, _)| solid)
    }

    /// Thickness of a part, mm, and the moulding at its sight edges.
    pub fn section_of(&self, part: Part) -> (f64, Profile) {
        match part {
            Part::Member(side) => {
                let member = self.measured.members.get(side);
                (member.thickness, Profile::new(&member.moulding))
            }
            Part::Bar(bar) => (bar.measured.thickness, Profile::new(&bar.measured.moulding)),
        }
    }

    /// The bars, those first that own the crossings: uprights, as their tenons run.
    pub fn bars_by_owner(&self) -> impl Iterator<Item = &PlacedBar> {
        let of = |runs: Runs| self.bars.iter().filter(move |bar| bar.measured.runs == runs);
        of(Runs::Upright).chain(of(Runs::Cross))
    }

    /// The bars that are cut down: those in front of one unit.
    pub fn cut_bars(&self) -> &[PlacedBar] {
        match self.measured.bars_as {
            BarsAs::OneUnit => &self.bars,
            BarsAs::UnitPerLight => &[],
        }
    }

    /// Whether a bar and the daylight make rectangles of the lights beside it.
    pub fn is_square_bar(&self, bar: &PlacedBar) -> bool {
        self.outline.is_rectangle() && bar.is_square()
    }

    /// What a joiner calls the part.
    pub fn part_name(&self, part: Part) -> String {
        match part {
            Part::Member(side) => self.measured.kind.member_name(side).to_string(),
            Part::Bar(bar) => bar.name(),
        }
    }
}

#[cfg(test)]
pub(crate) mod tests {
    pub(crate) use super::wood::tests::wood_at;
    use super::*;
    use crate::geometry::{Edge, PerSide};
    use crate::survey::{
        Bar, Finish, HeldBy, Horns, Kind, Member, Moulding, OldGlazing, Timber, Unit, UnitShape,
    };
    use kurbo::Size;

    /// An invented side-hung sash with two upright bars.
    pub(crate) fn casement() -> survey::Sash {
        let member = |width| Member {
            width,
            thickness: 45.0,
            old: OldGlazing::Rebate { width: 9.0, depth: 17.0 },
            tenon: None,
            moulding: Moulding::Ovolo { width: 8.0, depth: 8.0 },
        };
        let bar = |centre| Bar {
            runs: Runs::Upright,
            centre,
            course: survey::Course::Through,
            lean: 0.0,
            width: 22.0,
            thickness: 45.0,
            rebate_width: 9.0,
            rebate_depth: 17.0,
            moulding: Moulding::Ovolo { width: 8.0, depth: 8.0 },
            tenon: None,
        };
        survey::Sash {
            id: "kitchen-1".into(),
            kind: Kind::SideHung,
            timber: survey::species()
                .next()
                .map(|species| Timber { species, class: None })
                .unwrap(),
            sight: Size::new(820.0, 930.0),
            outline: None,
            hinge_side: None,
            measures: None,
            members: PerSide {
                left: member(52.0),
                right: member(52.0),
                bottom: member(74.0),
                top: member(52.0),
            },
            bars: vec![bar(268.0), bar(552.0)],
            bars_as: BarsAs::OneUnit,
            unit: Unit {
                build_up: "4-6-4".parse().unwrap(),
                cover: 12.0,
                spacer_height: 12.0,
                over: 1.0,
                tape: 0.0,
                internal_bar: 12.0,
                shape: UnitShape::Square,
                order_step: 1.0,
                make: survey::Make::default(),
            },
            clearance: PerSide { left: 2.0, right: 2.0, bottom: 4.0, top: 2.0 },
            block_height: 4.0,
            horns: Horns::default(),
            finish: Finish {
                bed: 2.0,
                bead: 10.0,
                proud: 0.0,
                held_by: HeldBy::Beads,
                water: None,
            },
            metal: Vec::new(),
            screws: Vec::new(),
            clamps: Vec::new(),
            surface: Vec::new(),
            cords: crate::survey::Cords::None,
            wind: crate::survey::Wind::Assumed,
            around: survey::Around::default(),
        }
    }

    /// A bar of the casement along another line, as wide, with a web of 4 mm.
    pub(crate) fn placed(index: usize, path: Edge, width: f64) -> PlacedBar {
        let [bar, _] = casement().bars.try_into().unwrap();
        let measured = Bar { width, rebate_width: (width - 4.0) / 2.0, ..bar };
        PlacedBar { index, measured, path, through: true }
    }

    #[test]
    fn bars_divide_the_sight_into_named_lights() {
        let mut survey = casement();
        survey.bars.push(Bar { runs: Runs::Cross, centre: 465.0, ..survey.bars[0].clone() });
        let sash = Sash::new(&survey).unwrap();
        assert_eq!(sash.lights.len(), 6);
        assert_eq!(sash.lights[0].name, "light 1");
        assert_eq!(sash.lights[0].sight, Rect::new(0.0, 476.0, 257.0, 930.0));
        assert_eq!(sash.lights[5].sight, Rect::new(563.0, 0.0, 820.0, 454.0));
        assert_eq!(sash.outer, Rect::new(-52.0, -74.0, 872.0, 982.0));
    }
}
