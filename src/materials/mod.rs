//! What is cut to size for a sash besides its units, and how much sealant goes in: beads, blocks, boards, the
//! plate of a template or the straightedges in its stead.
//!
//! Promised: every size on the cutting list and in the glazing tables stands here, as computed. Not promised:
//! that there is one to a light too small for a board.

mod beads;
mod face_beads;
mod putty;
mod shaped_beads;

pub use beads::{Bead, Fixings, PIN_END, PIN_PITCH, SCREW_END, SCREW_PITCH};
pub use face_beads::FaceBead;
pub use putty::Putty;

use crate::fit::{Block, Drains, Fit, drains, support};
use crate::geometry::OutlineError;
use crate::hand::{self, Board, Distances, Straightedges, Template};
use crate::passes::Plan;
use crate::sash::Sash;
use crate::survey::Workshop;
use schemars::JsonSchema;
use serde::Serialize;

/// mm³ in 1 ml.
const ML: f64 = 1000.0;

/// Everything besides glass that a sash wants.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Materials {
    /// Beads, unit by unit, in the order of the sides; none in a puttied sash.
    pub beads: Vec<Bead>,
    /// Face beads over bars that were cut down, bar by bar.
    pub face_beads: Vec<FaceBead>,
    /// Face putty; none in a sash with beads.
    pub putty: Option<Putty>,
    /// Setting and location blocks, unit by unit.
    pub blocks: Vec<UnitBlocks>,
    /// Bed, and what fills the gap round the units.
    pub sealant: Sealant,
    /// Whether the walls are followed with a guide bush along a template, else with straightedges.
    pub by_bush: bool,
    /// Boards that carry the router.
    pub boards: Vec<Board>,
    /// The template for a guide bush; none where the cutter does not pass it, or no template can run beside a
    /// wall.
    pub template: Option<Template>,
    /// Straightedges beside the walls; none where a guide bush follows a template.
    pub straightedges: Option<Straightedges>,
    /// How far each line that is drawn on the sash lies from the sight edge, light by light, side by side.
    pub distances: Vec<Distances>,
}

/// The blocks round one unit, and the openings between them.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct UnitBlocks {
    /// The light it serves.
    pub light: String,
    /// Side by side: bottom, top, left, right.
    pub blocks: Vec<Block>,
    /// Openings behind its beads; none where the gap is filled, or nobody has decided.
    pub drains: Vec<Drains>,
}

/// Sealant of a whole sash, without what is wiped off.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Sealant {
    /// Thickness of the bed, mm.
    pub thickness: f64,
    /// Bed under the units, ml.
    pub bed: f64,
    /// What the gap round the units takes, if it is filled as well, ml.
    pub gap: f64,
}

/// Works out what a sash wants.
///
/// # Errors
/// Where an aperture of the template has no area.
pub fn materials(
    sash: &Sash,
    fit: &Fit,
    plan: &Plan,
    workshop: &Workshop,
) -> Result<Materials, OutlineError> {
    let (router, cutter) = (&workshop.router, &workshop.cutter);
    let by_bush = hand::by_bush(workshop);
    let template = hand::template(sash, fit, plan, router, cutter)?;
    let blocks = fit.units.iter().map(|unit| UnitBlocks {
        light: unit.light.clone(),
        blocks: support(&sash.measured, unit),
        drains: drains(&sash.measured, unit),
    });
    Ok(Materials {
        beads: beads(sash, fit),
        face_beads: face_beads::face_beads(sash),
        putty: putty::putty(sash, fit),
        blocks: blocks.collect(),
        sealant: sealant(sash, fit),
        by_bush,
        boards: hand::boards(sash, fit, plan, router, cutter, by_bush),
        distances: hand::distances(sash, &fit.units, template.as_ref().filter(|_| by_bush)),
        template,
        straightedges: (!by_bush).then(|| hand::straightedges(sash, &fit.units, workshop)),
    })
}

/// Every bead, numbered as the elevation shows them.
fn beads(sash: &Sash, fit: &Fit) -> Vec<Bead> {
    let finish = &sash.measured.finish;
    if finish.is_puttied() {
        return Vec::new();
    }
    let found = fit.units.iter().flat_map(|unit| {
        if unit.outlines.sight.is_rectangle() && unit.outlines.wall.is_rectangle() {
            beads::square(unit, finish)
        } else {
            shaped_beads::shaped(unit, finish)
        }
    });
    let numbered = found.zip(1_usize..);
    numbered.map(|(bead, number)| Bead { label: number.to_string(), ..bead }).collect()
}

/// Bed: its thickness on what the unit covers of the platform. Gap: the clearance beside the edge of the unit,
/// as deep as unit and bed are thick. Both along every side; corners are counted with neither.
fn sealant(sash: &Sash, fit: &Fit) -> Sealant {
    let measured = &sash.measured;
    let (mut bed, mut gap) = (0.0, 0.0);
    for unit in &fit.units {
        for (side, cover) in unit.cover.iter() {
            let length = unit.length_along(side);
            bed += length * cover.least.max(0.0) * measured.finish.bed;
            let thickness = measured.unit.build_up.thickness() + measured.finish.bed;
            gap += length * unit.clearance.get(side).least.max(0.0) * thickness;
        }
    }
    Sealant { thickness: measured.finish.bed, bed: bed / ML, gap: gap / ML }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Side;
    use crate::sash::tests::casement;
    use crate::{fit, passes, rebate};
    use approx::assert_relative_eq;

    fn of(survey: &crate::survey::Sash, workshop: &Workshop) -> Materials {
        let sash = Sash::new(survey).unwrap();
        let fit = fit::fit(&sash, workshop).unwrap();
        let rebate = rebate::divide(&sash, &fit, workshop.cutter.radius()).unwrap();
        let plan = passes::plan(&sash, &fit, &rebate, workshop).unwrap();
        materials(&sash, &fit, &plan, workshop).unwrap()
    }

    // By hand: a unit of 844 by 954 of 14 mm covers 12 all round on a bed of 2, and has 2 of gap, 4 at the
    // bottom, beside unit and bed.
    #[test]
    fn sealant_is_length_by_width_by_height() {
        let found = of(&casement(), &Workshop::default()).sealant;
        assert_relative_eq!(found.thickness, 2.0);
        assert_relative_eq!(found.bed, 2.0 * (844.0 + 954.0) * 12.0 * 2.0 / 1000.0, epsilon = 1e-9);
        let gap = (844.0 * (2.0 + 4.0) + 2.0 * 954.0 * 2.0) * 16.0 / 1000.0;
        assert_relative_eq!(found.gap, gap, epsilon = 1e-9);
    }

    // Closed form: an edge of 14 mm (16 at the bottom), of which paint takes 2 of the glass, and 10 high: half of 12 by
    // 10, and of 14 by 10 at the bottom, along the unit of 844 by 954. Sprigs at most 150 apart and 50 from the corners
    // (second hand): 1 + ⌈744/150⌉ and 1 + ⌈854/150⌉.
    #[test]
    fn a_puttied_sash_has_face_putty_and_no_beads() {
        let mut survey = casement();
        survey.finish.held_by = crate::survey::HeldBy::Putty;
        let found = of(&survey, &Workshop::default());
        assert!(found.beads.is_empty());
        let putty = found.putty.unwrap();
        let volume = (844.0 + 2.0 * 954.0) * 60.0 + 844.0 * 70.0;
        assert_relative_eq!(putty.volume, volume / 1000.0, epsilon = 1e-9);
        assert_eq!((putty.width.least, putty.width.most), (12.0, 14.0));
        let slope = (10.0_f64 / 12.0).atan().to_degrees();
        assert_relative_eq!(putty.slope.most, slope, epsilon = 1e-9);
        assert_eq!(putty.sprigs, 2 * (1 + 5) + 2 * (1 + 6));
        assert_eq!(of(&casement(), &Workshop::default()).putty, None);
    }

    // Closed forms. Blocks: two setting blocks of 50 mm (VKG 3.6, to 2 m²) at the quarter points as high as they were
    // measured, location blocks of 50 as high as the gap; all as wide as 14 of unit and 2 of bed.
    #[test]
    fn blocks_are_as_high_as_their_gaps() {
        let found = of(&casement(), &Workshop::default());
        let [unit] = found.blocks.as_slice() else { panic!("one unit") };
        assert_eq!(unit.blocks.len(), 8);
        for block in &unit.blocks {
            let height = if block.side == Side::Bottom { 4.0 } else { 2.0 };
            assert_relative_eq!(block.length, 50.0, epsilon = 1e-9);
            assert_relative_eq!(block.height, height, epsilon = 1e-9);
            assert_relative_eq!(block.width, 16.0, epsilon = 1e-9);
        }
    }

    // Closed form: a bush of 24 round a cutter of 12 runs 6 mm outside the wall, which lies 14 mm (16 at the
    // bottom) outside the daylight; the base of 150 reaches (150 − 24)/2 = 63 beyond that, further than the
    // stiles of 52 and the rail of 74. The plate is rounded up to whole mm.
    #[test]
    fn the_plate_carries_the_whole_base() {
        let found = of(&casement(), &Workshop::default());
        assert!(found.by_bush && found.straightedges.is_none());
        let template = found.template.unwrap();
        assert_relative_eq!(template.plate.width, 820.0 + 2.0 * (14.0 + 6.0 + 63.0));
        assert_relative_eq!(
            template.plate.height,
            930.0 + (16.0 + 6.0 + 63.0) + (14.0 + 6.0 + 63.0)
        );
        assert_eq!(template.plate.lower_left, [-83.0, -85.0]);
        assert_relative_eq!(template.plate.thickness, 12.0);
        // The old rebate is 9 wide, the unit covers 12.
        let bottom =
            &found.distances[Side::ALL.iter().position(|side| *side == Side::Bottom).unwrap()];
        assert_eq!((bottom.side, bottom.old, bottom.outer), (Side::Bottom, 9.0, Some(74.0)));
        assert_eq!((bottom.unit.most, bottom.wall.most), (12.0, 16.0));
        assert_eq!((bottom.aperture.unwrap().most, bottom.plate), (22.0, Some(85.0)));
        // A cutter that does not pass the bush is guided by straightedges.
        let mut wide = Workshop::default();
        wide.cutter.diameter = 30.0;
        let found = of(&casement(), &wide);
        assert!(!found.by_bush && found.template.is_none() && found.straightedges.is_some());
    }

    // Boards beside the sash: as long as the stiles, and as the rails with half a base of 150 at either end;
    // half a base wide.
    #[test]
    fn boards_beside_the_sash_carry_half_a_base() {
        let boards = of(&casement(), &Workshop::default()).boards;
        let sizes: Vec<_> = boards
            .iter()
            .filter(|board| !board.in_opening())
            .map(|board| (board.count, board.length, board.width, board.thickness))
            .collect();
        let height = 930.0 + 74.0 + 52.0;
        let width = 820.0 + 2.0 * 52.0 + 150.0;
        assert_eq!(sizes, [(2, height, 75.0, 45.0), (2, width, 75.0, 45.0)]);
    }
}
