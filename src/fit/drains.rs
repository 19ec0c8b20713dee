//! Openings along the walls of a rebate that is drained and aired: water runs out at the bottom, air gets in at the top.
//!
//! One in each stretch between the blocks, so that none of them bars the way, and more where a stretch is long. Of the
//! bead only the back is cut away there, so that nothing shows from the room or over the glass.

use super::{UnitFit, support};
use crate::geometry::Side;
use crate::survey::{self, WaterOut};
use schemars::JsonSchema;
use serde::Serialize;

/// Length along the bead and width from the wall into it, mm: usual in windows (from memory).
pub const SLOT: [f64; 2] = [20.0, 5.0];

/// Openings are at most this far apart, mm: usual in windows (from memory).
const APART: f64 = 600.0;

/// The openings behind a bead.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Drains {
    /// The side of the unit: bottom, then top.
    pub side: Side,
    /// Middle of each from the unit's left edge, mm.
    pub middles: Vec<f64>,
    /// Along the bead, mm.
    pub length: f64,
    /// From the wall into the bead, mm.
    pub width: f64,
    /// Through the bead, mm.
    pub height: f64,
}

/// The openings round a unit; none where the gap is filled, or nobody has decided.
pub fn drains(sash: &survey::Sash, unit: &UnitFit) -> Vec<Drains> {
    if sash.finish.water != Some(WaterOut::Drained) {
        return Vec::new();
    }
    let blocks = support(sash, unit);
    let sides = [Side::Bottom, Side::Top].into_iter().filter_map(|side| {
        let (before, along) = super::support::stretch(unit, side)?;
        let mut own: Vec<(f64, f64)> = blocks
            .iter()
            .filter(|block| block.side == side)
            .map(|block| (block.middle - block.length / 2.0, block.middle + block.length / 2.0))
            .collect();
        own.sort_by(|a, b| a.0.total_cmp(&b.0));
        let ends = own.iter().map(|block| block.0).chain([before + along]);
        let begins = [before].into_iter().chain(own.iter().map(|block| block.1));
        let middles = begins.zip(ends).flat_map(|(from, to)| between(from, to)).collect();
        let [length, width] = SLOT;
        Some(Drains { side, middles, length, width, height: sash.finish.bead })
    });
    sides.filter(|drains| !drains.middles.is_empty()).collect()
}

/// Evenly in a stretch; none where it is too short for one.
fn between(from: f64, to: f64) -> Vec<f64> {
    let length = to - from;
    if length < SLOT[0] {
        return Vec::new();
    }
    let mut count = 1_u32;
    while length / f64::from(count) > APART {
        count += 1;
    }
    let part = length / f64::from(count);
    (0..count).map(|index| from + (f64::from(index) + 0.5) * part).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::fit;
    use crate::sash::{Sash, tests::casement};
    use crate::survey::Workshop;
    use approx::assert_relative_eq;

    fn of(width: f64, water: Option<WaterOut>) -> Vec<Drains> {
        let mut survey = casement();
        survey.bars.clear();
        (survey.sight.width, survey.finish.water) = (width, water);
        let sash = Sash::new(&survey).unwrap();
        let fit = fit(&sash, &Workshop::default()).unwrap();
        drains(&sash.measured, &fit.units[0])
    }

    // By hand: a unit 844 mm wide stands on two blocks of 50 at 211 and 633: stretches of 186, 372 and 186.
    #[test]
    fn an_opening_lies_in_each_stretch_between_blocks() {
        let found = of(820.0, Some(WaterOut::Drained));
        assert_eq!(found.iter().map(|one| one.side).collect::<Vec<_>>(), [Side::Bottom, Side::Top]);
        for (middle, wanted) in found[0].middles.iter().zip([93.0, 422.0, 751.0]) {
            assert_relative_eq!(*middle, wanted, epsilon = 1e-9);
        }
        assert_eq!(found[0].middles.len(), 3);
        // Of 1624 mm the middle stretch is 762 long: two openings there.
        assert_eq!(of(1600.0, Some(WaterOut::Drained))[0].middles.len(), 4);
        assert_eq!(of(820.0, Some(WaterOut::Bedded)), []);
        assert_eq!(of(820.0, None), []);
    }
}
