//! What is set and kept clear at a machine before its programs run.

use crate::geometry::Side;
use crate::sash::{Sash, wood_under};
use crate::survey::Workshop;
use schemars::JsonSchema;
use serde::Serialize;

/// Thickness of the feeler that is held between cutter and wood, mm. Common practice, no source.
const FEELER: f64 = 0.1;

/// How far below the old rebate's floor the tip stands as it touches the sight edge, mm. Common practice, no source.
const BELOW_FLOOR: f64 = 2.0;

/// Room between the tip at its deepest and a board that braces an opening from below, mm. Common practice, no source.
const OVER_BOARD: f64 = 3.0;

/// Room between the tool and a clamp that is put down by eye, mm. Common practice, no source.
const BESIDE: f64 = 5.0;

/// What is set and kept clear at a machine.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Touch {
    /// Thickness of the feeler held between cutter and wood, mm.
    pub feeler: f64,
    /// Where the cutter's axis stands from a sight edge that it touches from the opening, feeler between, mm.
    pub from_sight: f64,
    /// How far below the glazing face the tip stands then, mm: where left and lower sight edge are upright; none
    /// where the moulding begins too near the old rebate.
    pub depth: Option<f64>,
    /// How far round the new wall the face is kept free of clamps, mm: what shank or holder reaches past it, and room.
    pub clear: f64,
    /// A board in an opening lies at least this far below the face, mm.
    pub board: f64,
}

impl Touch {
    /// For a rebate of that depth.
    pub fn new(sash: &Sash, depth: f64, workshop: &Workshop) -> Touch {
        let cutter = &workshop.cutter;
        let widest = cutter.holder.map_or(0.0, |holder| holder.diameter).max(cutter.shank_diameter);
        let floors = [Side::Left, Side::Bottom].map(|side| {
            let (part, old) = sash.neighbour(&sash.outline, side);
            let (thickness, moulding) = sash.section_of(part);
            let upright = wood_under(old.depth(), thickness, moulding.height_at(0.0));
            (old.depth(), old.depth() + upright)
        });
        let tip = floors.map(|(floor, _)| floor + BELOW_FLOOR).into_iter().fold(0.0, f64::max);
        let reaches = floors.iter().all(|&(_, end)| tip + BELOW_FLOOR <= end);
        Touch {
            feeler: FEELER,
            from_sight: cutter.radius() + FEELER,
            depth: reaches.then_some(tip),
            clear: ((widest - cutter.diameter) / 2.0).max(0.0) + BESIDE,
            board: depth + OVER_BOARD,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use crate::survey::{Holder, Moulding};

    // By hand: old rebates 17 mm deep, a cutter of 12 mm in a nut of 40.
    #[test]
    fn the_axis_stands_a_radius_and_the_feeler_off_the_edge() {
        let sash = Sash::new(&casement()).unwrap();
        let mut workshop = Workshop::default();
        workshop.cutter.diameter = 12.0;
        workshop.cutter.shank_diameter = 12.0;
        workshop.cutter.holder = Some(Holder { diameter: 40.0, stick_out: 60.0 });
        let touch = Touch::new(&sash, 27.0, &workshop);
        assert_eq!((touch.from_sight, touch.board, touch.clear), (6.1, 30.0, 19.0));
        let floor = sash.measured.members.left.old.depth();
        assert_eq!(touch.depth, Some(floor + 2.0));
    }

    #[test]
    fn nothing_is_touched_where_the_moulding_begins_at_the_old_floor() {
        let mut measured = casement();
        let member = &mut measured.members.left;
        let under = member.thickness - member.old.depth();
        member.moulding = Moulding::Chamfer { width: 8.0, depth: under - BELOW_FLOOR };
        let touch = Touch::new(&Sash::new(&measured).unwrap(), 27.0, &Workshop::default());
        assert_eq!(touch.depth, None);
    }
}
