//! What a joiner sets on a hand router for each pass: the depth stop and where the guide lies.
//!
//! Promised: distances for a straightedge beside the router's round base, and for a template under a
//! guide bush, both with the cutter of the survey. Not promised: that the base is supported there; put
//! up boards as thick as the sash.

pub mod bearing;
mod boards;
mod judge;
mod straightedge;
mod template;

pub use boards::{Board, CuttingPass, boards};
pub use judge::{guides, judge, reach_needed};
pub use straightedge::{Straightedge, StraightedgePlace, Straightedges, straightedges};
pub use template::{Distances, Plate, Template, distances, rounded, template};

use crate::fit::Fit;
use crate::geometry::{COINCIDENT, MinMax, PerSide};
use crate::passes::{Cut, Pass};
use crate::survey::{Cutter, GuidedBy, Router, Workshop};
use schemars::JsonSchema;
use serde::Serialize;

/// Settings for one pass.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Setting {
    /// How far the cutter stands below the base, mm.
    pub depth_stop: f64,
    /// How far the tip stands below the router's base, mm: a template's plate counted where the bush follows one.
    /// None for the chisel.
    pub below_base: Option<f64>,
    /// Where a guide lies, and by which measure.
    pub guides: Vec<Guide>,
    /// Thickness of a strip along the template's edge that leaves wood on the wall for a later pass, mm; none
    /// where the template serves as it lies, or there is none.
    pub strip: Option<f64>,
}

/// Where a guide lies for one side of a pass, mm.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Guide {
    /// The line to measure from: `left sight edge`, `centre of the bar`.
    pub from: String,
    /// To a straightedge for the router's base.
    pub straightedge: MinMax,
    /// To the edge of a template for the guide bush; none where the bush is not wider than the
    /// cutter.
    pub template: Option<MinMax>,
}

/// From the new wall to a straightedge that the round base runs along, mm: half the difference of
/// base and cutter.
fn straightedge_offset(router: &Router, cutter: &Cutter) -> f64 {
    (router.base_diameter - cutter.diameter) / 2.0
}

/// From the new wall to the edge of a template that the guide bush runs along, mm: half the difference
/// of bush and cutter. None where the cutter does not pass the bush.
pub fn template_offset(router: &Router, cutter: &Cutter) -> Option<f64> {
    (router.guide_bush > cutter.diameter).then_some((router.guide_bush - cutter.diameter) / 2.0)
}

/// Whether the walls are followed with a guide bush: it is wished for, and the cutter passes it.
pub fn by_bush(workshop: &Workshop) -> bool {
    workshop.router.guided_by == GuidedBy::Bush
        && template_offset(&workshop.router, &workshop.cutter).is_some()
}

/// What to set for `pass`.
pub fn setting(pass: &Pass, fit: &Fit, workshop: &Workshop) -> Setting {
    let (router, cutter) = (&workshop.router, &workshop.cutter);
    let guide = |from: String, wall: MinMax| Guide {
        from,
        straightedge: wall.map(|wall| wall + straightedge_offset(router, cutter)),
        template: template_offset(router, cutter).map(|offset| wall.map(|wall| wall + offset)),
    };
    let guides = match &pass.cut {
        Cut::Ring(ring) => {
            let widths: &PerSide<MinMax> = &ring.to;
            widths.iter().map(|(side, &to)| guide(format!("{side} sight edge"), to)).collect()
        }
        Cut::Strip(strip) => {
            vec![guide("centre of the bar".into(), MinMax::even(strip.width / 2.0))]
        }
        Cut::Clean { .. } | Cut::Corners { .. } => Vec::new(),
    };
    Setting {
        depth_stop: pass.to_depth,
        below_base: (!guides.is_empty()).then(|| reach_needed(workshop, pass.to_depth)),
        guides,
        strip: strip(pass, fit).filter(|_| by_bush(workshop)),
    }
}

/// What a ring leaves on the walls of its unit at the most, mm; none where it leaves nothing.
fn strip(pass: &Pass, fit: &Fit) -> Option<f64> {
    let Cut::Ring(ring) = &pass.cut else { return None };
    let walls = fit.units.get(ring.unit)?.rebate_width;
    let left = ring.to.iter().map(|(side, to)| walls.get(side).most - to.most).fold(0.0, f64::max);
    (left > COINCIDENT).then_some(left)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::passes::Stage;
    use crate::sash::{Sash, tests::casement};
    use crate::{fit, passes, rebate};
    use approx::assert_relative_eq;

    // Closed forms: half the difference of diameters.
    #[test]
    fn guides_lie_half_a_difference_beyond_the_wall() {
        let (router, cutter) = (Router::default(), Cutter::default());
        assert_relative_eq!(straightedge_offset(&router, &cutter), 69.0);
        assert_relative_eq!(template_offset(&router, &cutter).unwrap(), 6.0);
        let wide = Cutter { diameter: 30.0, ..cutter };
        assert_eq!(template_offset(&router, &wide), None);
    }

    // By hand: with a plate of 12 mm under the base every pass is set 12 deeper, and while 0.4 mm stay on the
    // wall for the finishing cut a strip of 0.4 lies along the template; a straightedge wants neither.
    #[test]
    fn a_template_is_counted_below_the_base_and_carries_a_strip_until_the_last_cut() {
        let mut workshop = Workshop::default();
        workshop.cutting.finish_allowance = 0.4;
        let sash = Sash::new(&casement()).unwrap();
        let fit = fit::fit(&sash, &workshop).unwrap();
        let rebate = rebate::divide(&sash, &fit, workshop.cutter.radius()).unwrap();
        let plan = passes::plan(&sash, &fit, &rebate, &workshop).unwrap();
        let mut rings = 0;
        for pass in &plan.passes {
            workshop.router.guided_by = GuidedBy::Bush;
            let by_bush = setting(pass, &fit, &workshop);
            workshop.router.guided_by = GuidedBy::Straightedge;
            let by_edge = setting(pass, &fit, &workshop);
            assert_eq!(by_edge.strip, None);
            if matches!(pass.cut, Cut::Corners { .. }) {
                assert_eq!((by_bush.below_base, by_edge.below_base), (None, None));
                continue;
            }
            assert_eq!(by_bush.below_base, Some(pass.to_depth + 12.0));
            assert_eq!(by_edge.below_base, Some(pass.to_depth));
            if matches!(pass.cut, Cut::Ring(_)) && pass.stage >= Stage::Widen {
                rings += 1;
                assert_eq!(
                    by_bush.strip.is_none(),
                    pass.stage == Stage::Finish,
                    "{:?}",
                    pass.stage
                );
                assert!(by_bush.strip.is_none_or(|strip| (strip - 0.4).abs() < 1e-9));
            }
        }
        assert!(rings > 2);
    }
}
