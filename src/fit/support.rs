//! Setting and location blocks round a unit: what each does, where it stands and how large it is.
//!
//! Promised: setting blocks as [`blocks`](super::blocks) draws them; at the other sides blocks as high as the
//! gap there. Not promised: a standard's word on location blocks. Their places by kind of sash, toe and
//! heel of a side-hung one among them, are common practice, no source.

use super::{UnitFit, block_length};
use crate::geometry::{COINCIDENT, Side};
use crate::survey::{self, Kind};
use schemars::JsonSchema;
use serde::Serialize;

/// Length of a location block, mm. VKG 3.6.
const LOCATION: f64 = 50.0;

/// What a block does.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Duty {
    /// It carries the unit.
    Carries,
    /// It carries the sash by the unit: one of those on the diagonal of a side-hung sash, or at the top
    /// of a top-hung one.
    Braces,
    /// It bears lightly.
    Steadies,
    /// It only keeps the gap.
    Keeps,
}

impl Duty {
    /// What it does, in a word or two.
    pub fn words(self) -> &'static str {
        match self {
            Duty::Carries => "carries",
            Duty::Braces => "braces: wedge it",
            Duty::Steadies => "bears lightly",
            Duty::Keeps => "keeps the gap",
        }
    }
}

/// A block in the gap between unit and rebate wall.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Block {
    /// The side of the unit it stands at.
    pub side: Side,
    /// What it does.
    pub duty: Duty,
    /// Its middle, from the unit's left edge at the bottom and top, from its bottom edge at the sides, mm.
    pub middle: f64,
    /// Along the edge, mm.
    pub length: f64,
    /// Across the edge: unit and bed behind it (BS 8000-7:1990, 3.1.2, second hand), mm.
    pub width: f64,
    /// In the gap, mm.
    pub height: f64,
}

/// The blocks of a unit. Where the hinge side of a side-hung sash is not known, as for hinges at the
/// left. A side without a gap has none.
pub fn support(sash: &survey::Sash, unit: &UnitFit) -> Vec<Block> {
    let hinge = sash.hinge_side.unwrap_or(Side::Left);
    let width = sash.unit.build_up.thickness() + sash.finish.bed;
    let mut found = Vec::new();
    for side in [Side::Bottom, Side::Top, Side::Left, Side::Right] {
        let Some((before, along)) = stretch(unit, side) else { continue };
        let (length, height) = match side {
            Side::Bottom => (block_length(unit), sash.block_height),
            _ => (LOCATION.min(along / 2.0), unit.clearance.get(side).least),
        };
        if height <= COINCIDENT {
            continue;
        }
        found.extend([0.25, 0.75].map(|share| Block {
            side,
            duty: duty(sash.kind, hinge, side, share < 0.5),
            middle: before + share * along,
            length,
            width,
            height,
        }));
    }
    found
}

/// Where the unit's edges on a side begin, from its left or bottom edge, and how far they reach along it,
/// mm: of an arched unit the sides end at the springing. None where it has no edge there.
pub(super) fn stretch(unit: &UnitFit, side: Side) -> Option<(f64, f64)> {
    let all = unit.outlines.unit.bounds_on(side)?;
    let all = if unit.outlines.unit.is_rectangle() { unit.unit() } else { all };
    Some(if side.is_upright() {
        (all.y0 - unit.unit().y0, all.height())
    } else {
        (all.x0 - unit.unit().x0, all.width())
    })
}

/// `low` is the left one of two at the bottom or top, the lower one of two at a side.
fn duty(kind: Kind, hinge: Side, side: Side, low: bool) -> Duty {
    let by_hinges = low == (hinge == Side::Left);
    match (kind, side) {
        (Kind::SideHung, Side::Bottom) if by_hinges => Duty::Carries,
        (Kind::SideHung, Side::Bottom) => Duty::Steadies,
        // Up the diagonal from the lower hinge to the top of the closing stile.
        (Kind::SideHung, Side::Top) if !by_hinges => Duty::Braces,
        (Kind::SideHung, Side::Left | Side::Right) if low == (side == hinge) => Duty::Braces,
        (Kind::TopHung, Side::Top) => Duty::Braces,
        (_, Side::Bottom) => Duty::Carries,
        _ => Duty::Keeps,
    }
}

#[cfg(test)]
mod tests {
    use super::super::{blocks, fit};
    use super::*;
    use crate::sash::{Sash, tests::casement};
    use crate::survey::Workshop;
    use approx::assert_relative_eq;

    fn supported(sash: &survey::Sash) -> (UnitFit, Vec<Block>) {
        let fit = fit(&Sash::new(sash).unwrap(), &Workshop::default()).unwrap();
        (fit.units[0].clone(), support(sash, &fit.units[0]))
    }

    fn doing(blocks: &[Block], duty: Duty) -> Vec<(Side, f64)> {
        blocks.iter().filter(|b| b.duty == duty).map(|b| (b.side, b.middle)).collect()
    }

    // By hand: a unit of 844 by 954.
    #[test]
    fn toe_and_heel_follow_the_hinges() {
        let mut sash = casement();
        sash.hinge_side = Some(Side::Right);
        let (_, right) = supported(&sash);
        assert_eq!(doing(&right, Duty::Carries), [(Side::Bottom, 633.0)]);
        assert_eq!(
            doing(&right, Duty::Braces),
            [(Side::Top, 211.0), (Side::Left, 715.5), (Side::Right, 238.5)]
        );
        sash.hinge_side = Some(Side::Left);
        let (_, left) = supported(&sash);
        assert_eq!(doing(&left, Duty::Carries), [(Side::Bottom, 211.0)]);
        assert_eq!(
            doing(&left, Duty::Braces),
            [(Side::Top, 633.0), (Side::Left, 238.5), (Side::Right, 715.5)]
        );
        sash.hinge_side = None;
        assert_eq!(supported(&sash).1, left);
    }

    #[test]
    fn blocks_fill_their_gaps_and_setting_blocks_are_those_that_are_drawn() {
        let mut sash = casement();
        sash.kind = Kind::Fixed;
        let (unit, all) = supported(&sash);
        assert_eq!(all.len(), 8);
        assert_eq!(doing(&all, Duty::Carries).len(), 2);
        for (block, drawn) in all.iter().zip(blocks(&unit)) {
            let drawn = drawn.bounds();
            assert_relative_eq!(unit.unit().x0 + block.middle, drawn.center().x, epsilon = 1e-9);
            assert_relative_eq!(block.length, drawn.width(), epsilon = 1e-9);
        }
        for block in &all[2..] {
            assert_relative_eq!(block.height, unit.clearance.get(block.side).least);
        }
        // 4-6-4 and a bed of 2.
        assert!(all.iter().all(|block| (block.width - 16.0).abs() < 1e-9));
        let mut tight = unit;
        tight.clearance.left = crate::geometry::MinMax::even(0.0);
        let left = support(&sash, &tight);
        assert!(left.len() == 6 && left.iter().all(|block| block.side != Side::Left));
        sash.kind = Kind::TopHung;
        assert_eq!(doing(&supported(&sash).1, Duty::Braces).len(), 2);
    }
}
