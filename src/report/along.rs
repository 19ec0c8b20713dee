//! What varies along the sides of a unit: cover, gap, rebate and the wood beside it.

use crate::fit::UnitFit;
use crate::geometry::{PerSide, Side};
use schemars::JsonSchema;
use serde::Serialize;

/// Lengths that differ by less are one length to a joiner, mm.
const EQUAL: f64 = 0.05;

/// Least and most along each side of a unit, mm.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct AlongLine {
    /// How far the unit lies turned in the sash, degrees anticlockwise.
    pub turned: f64,
    /// How far the unit reaches behind the sight edge.
    pub cover: PerSide<[f64; 2]>,
    /// Unit edge to the new wall.
    pub clearance: PerSide<[f64; 2]>,
    /// Sight edge to the new wall.
    pub rebate_width: PerSide<[f64; 2]>,
    /// New wall to the member's outer edge; none beside a bar.
    pub beside: PerSide<Option<[f64; 2]>>,
}

impl AlongLine {
    /// What varies along the sides of `unit`; none where nothing does. `widths` are those of the members
    /// beside it; none beside a bar.
    pub fn of(widths: PerSide<Option<f64>>, unit: &UnitFit) -> Option<AlongLine> {
        let spans = &unit.spans;
        let all = [&spans.cover, &spans.clearance, &spans.rebate_width];
        let varies = |span: &[f64; 2]| span[1] - span[0] > EQUAL;
        if !all.iter().any(|spans| spans.iter().any(|(_, span)| varies(span))) {
            return None;
        }
        let beside = |side: Side| {
            let [least, most] = *spans.rebate_width.get(side);
            widths.get(side).map(|width| [width - most, width - least])
        };
        let mut below = unit.outlines.order.edges().filter(|(_, side)| *side == Side::Bottom);
        let turned = below.next().map_or(0.0, |(edge, _)| edge.direction(0.5).atan2());
        Some(AlongLine {
            turned: turned.to_degrees(),
            cover: spans.cover,
            clearance: spans.clearance,
            rebate_width: spans.rebate_width,
            beside: PerSide::from_fn(beside),
        })
    }
}
