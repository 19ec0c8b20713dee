//! What the passes of a sash go by as seen from above. Depth has no part in it, so that plans of one sash for
//! rebates of any depth may share it.

use super::uncut::{UncutWood, UpTo};
use crate::fit::UnitFit;
use crate::geometry::{Join, MinMax, Outline, PerSide, ShapeError, Side, Sided};
use crate::sash::{Part, PlacedBar, Sash, Solid, wood_under};
use crate::survey::{CordGroove, OldGlazing, Workshop};
use std::f64::consts::FRAC_PI_2;

/// A corner counts as square within this many radians: the tolerance of the proof covers it.
const SHARP: f64 = 0.01;

/// Walls, and the wood round them.
#[derive(Debug)]
pub struct Layout {
    /// One a unit.
    pub(super) units: Vec<Around>,
    /// The old walls round the whole daylight.
    pub(super) old_walls: Outline,
    /// Bars that are cut down.
    pub(super) bars: Vec<CutBar>,
}

/// A bar that is cut down in front of one unit.
#[derive(Debug)]
pub(super) struct CutBar {
    pub bar: PlacedBar,
    /// The greatest height of its moulding, mm.
    moulding: f64,
}

impl CutBar {
    /// The least wood under a cut of that depth, mm.
    pub(super) fn under(&self, depth: f64) -> f64 {
        wood_under(depth, self.bar.measured.thickness, self.moulding)
    }
}

/// What is round one unit.
#[derive(Debug)]
pub(super) struct Around {
    /// Its wall less the wood kept for the finishing cut.
    pub rough: Sided,
    /// The wood round it.
    pub uncut: UncutWood,
    /// Whether a corner that the cutter's rim comes into is sharper than a square one.
    pub sharp: bool,
    pub sides: PerSide<Beside>,
}

/// The part beside one side of a unit.
#[derive(Debug)]
pub(super) struct Beside {
    /// How it held the old glass.
    pub old: OldGlazing,
    thickness: f64,
    /// Face width of a member; none of a bar.
    member: Option<f64>,
    /// The cord groove in its outer edge.
    groove: Option<CordGroove>,
    /// From the sight edge to the wall where it is widest, up to the rough one and up to the new one.
    reaches: [Reach; 2],
    /// By how much less it is where it is narrowest, mm.
    taper: f64,
}

/// A width cut from the sight edge, and the greatest height of the moulding under it and under what of the old
/// rebate lies within it, mm.
#[derive(Debug)]
struct Reach {
    width: f64,
    moulding: f64,
    moulding_under_old: f64,
}

impl Layout {
    /// Lays out the walls of `units` in the wood inside them; how deep `inside` goes down does not matter, as
    /// long as it goes as deep as the passes will.
    ///
    /// # Errors
    /// Where no wall is left once the finishing allowance is taken off; none for rectangles.
    pub fn new(
        sash: &Sash,
        units: &[UnitFit],
        inside: &[Solid],
        workshop: &Workshop,
    ) -> Result<Layout, ShapeError> {
        let allowance = workshop.cutting.finish_allowance;
        let rough = |unit: &UnitFit| unit.outlines.wall.grow(&PerSide::all(-allowance));
        let rough = units.iter().map(rough).collect::<Result<Vec<_>, _>>()?;
        let old_walls = sash.outline.grow(&sash.nearer_old_walls())?;
        let old_walls = within_new(old_walls.outline(), !sash.outline.is_rectangle(), units)?;
        let around = units.iter().zip(rough).map(|(unit, rough)| {
            let wall = unit.outlines.wall.outline();
            Around {
                uncut: UncutWood::new(inside, [wall, rough.outline()], sash.cut_bars()),
                sharp: is_sharp(wall, workshop.cutter.radius() + allowance),
                sides: PerSide::from_fn(|side| Beside::new(sash, unit, side, allowance)),
                rough,
            }
        });
        let bars = sash.cut_bars().iter().map(|bar| {
            let (_, moulding) = sash.section_of(Part::Bar(bar));
            let moulding = moulding.greatest_height(0.0, bar.measured.width / 2.0);
            CutBar { bar: bar.clone(), moulding }
        });
        Ok(Layout { units: around.collect(), old_walls, bars: bars.collect() })
    }
}

impl Beside {
    fn new(sash: &Sash, unit: &UnitFit, side: Side, allowance: f64) -> Beside {
        let (part, old) = sash.neighbour(&unit.outlines.sight, side);
        let (thickness, moulding) = sash.section_of(part);
        let MinMax { least, most: whole } = *unit.rebate_width.get(side);
        let reaches = [whole - allowance, whole].map(|width| Reach {
            width,
            moulding: moulding.greatest_height(0.0, width),
            moulding_under_old: moulding.greatest_height(0.0, old.width().min(width)),
        });
        let (member, groove) = match part {
            Part::Member(own) => {
                (Some(sash.measured.members.get(own).width), sash.cord_groove(own))
            }
            Part::Bar(_) => (None, None),
        };
        Beside { old, thickness, member, groove, reaches, taper: whole - least }
    }

    fn reach(&self, up_to: UpTo) -> &Reach {
        let [rough, new] = &self.reaches;
        match up_to {
            UpTo::Rough => rough,
            UpTo::New => new,
        }
    }

    /// Sight edge to the wall, from end to end.
    pub(super) fn widths(&self, up_to: UpTo) -> MinMax {
        let most = self.width(up_to);
        MinMax { least: most - self.taper, most }
    }

    /// Sight edge to the wall where it is widest.
    fn width(&self, up_to: UpTo) -> f64 {
        self.reach(up_to).width
    }

    /// The least wood under a cut of that depth, mm, or under the old rebate where that is the deeper.
    pub(super) fn under(&self, up_to: UpTo, depth: f64) -> f64 {
        let reach = self.reach(up_to);
        let under = |floor, moulding| wood_under(floor, self.thickness, moulding);
        let old = under(depth.max(self.old.depth()), reach.moulding_under_old);
        old.min(under(depth, reach.moulding))
    }

    /// The least wood of a member between a wall of that depth and its outer edge, or the groove in it, mm; none
    /// of a bar.
    pub(super) fn beside(&self, up_to: UpTo, depth: f64) -> Option<f64> {
        let (member, wall) = (self.member?, self.width(up_to));
        let to_groove = self.groove.map(|groove| groove.wood_to(member, wall, depth));
        Some(to_groove.map_or(member - wall, |wood| wood.min(member - wall)))
    }
}

/// Whether the wall, or the way of a cutter's centre so far inside it, has a corner sharper than a square one.
/// Between arcs the cutter's own way has sharper corners than the wall.
fn is_sharp(wall: &Outline, inwards: f64) -> bool {
    let way = wall.offset(-inwards, Join::Round);
    let sharpest = way.map_or(0.0, |way| way.sharpest_corner());
    sharpest.min(wall.sharpest_corner()) < FRAC_PI_2 - SHARP
}

/// The old walls as far as the new ones leave them open: behind a sash out of square an old rebate may
/// reach further in places, and the wood of bars that are housed there stays.
fn within_new(old: &Outline, crooked: bool, units: &[UnitFit]) -> Result<Outline, ShapeError> {
    let new = units.first().map(|unit| &unit.outlines.wall);
    let Some(new) = new.filter(|_| units.len() == 1 && crooked) else {
        return Ok(old.clone());
    };
    let shared = old.intersection(new.outline())?.into_iter();
    let largest = shared.max_by(|a, b| a.area().total_cmp(&b.area()));
    Ok(largest.map_or_else(|| old.clone(), |region| region.outline))
}
