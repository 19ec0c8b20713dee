//! Corners whose members bend or lean: not judged, and reported as such.
//!
//! Where a rail runs straight and about square into a stile, a tenon holds it, and the room knows how
//! much of that the cut lays bare. Arched heads, raked rails and round sashes are joined by slanting
//! tenons, bridles, keys or screws, each where the joiner of that day put it. Promised: no such corner is
//! passed over; how deep the cut goes there, before and after. Not promised: what it leaves of the joint.

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::Fit;
use crate::geometry::{Edge, Side, Sided};
use crate::language::text;
use crate::sash::{Part, Sash};
use schemars::JsonSchema;
use serde::Serialize;

/// Members this near to square are joined as square ones are: the sine of 5 degrees. Common practice, no
/// source; a sash that has dropped leans by less.
const ABOUT: f64 = 0.087;

/// A corner that the room does not judge.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct CornerNotJudged {
    /// `top rail and left stile`.
    pub name: String,
    /// Depth of the deeper old rebate there, mm.
    pub depth_before: f64,
    /// Depth of the new rebate, mm.
    pub depth_after: f64,
}

/// Whether two sides meet as a rail and a stile do: both straight where they meet, and square to one
/// another but for a little.
pub(super) fn about_square(outline: &Sided, rail: Side, stile: Side) -> bool {
    outline.meetings().any(|[(one, first), (other, second)]| {
        let meet = (first, second) == (rail, stile) || (first, second) == (stile, rail);
        match (one, other) {
            (Edge::Line(_), Edge::Line(_)) if meet => {
                let (a, b) = (one.direction(1.0), other.direction(0.0));
                a.dot(b).abs() <= ABOUT * a.hypot() * b.hypot()
            }
            _ => false,
        }
    })
}

pub(super) fn measure(sash: &Sash, fit: &Fit, rail: Side, stile: Side) -> CornerNotJudged {
    let depth = |side: Side| sash.measured.members.get(side).old.depth();
    let before = depth(rail).max(depth(stile));
    let name = |side: Side| sash.part_name(Part::Member(side));
    CornerNotJudged {
        name: format!("{} and {}", name(rail), name(stile)),
        depth_before: before,
        depth_after: fit.depth.max(before),
    }
}

/// `timber.joint`: nothing to do where the cut goes no deeper than the old rebate.
pub(super) fn judge(corner: &CornerNotJudged) -> Finding {
    let bounds = Bounds::caution(Bound::geometry(corner.depth_before));
    let depth = Quantity::mm(corner.depth_after);
    Finding::at_most(
        "timber.joint",
        corner.name.as_str(),
        depth,
        bounds,
        |verdict, _| match verdict {
            Verdict::Clear => text!("wood-joint-no-deeper"),
            _ => text!("wood-joint-not-judged", depth = format!("{:.1}", corner.depth_after)),
        },
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::fit;
    use crate::geometry::{Head, Height, Outline, arched, circle};
    use crate::sash::tests::casement;
    use crate::survey::{self, Workshop};
    use kurbo::{Point, Size};

    fn shaped(outline: Sided) -> survey::Sash {
        let mut survey = casement();
        survey.bars.clear();
        let bounds = outline.bounds();
        survey.sight = Size::new(bounds.width(), bounds.height());
        survey.outline = Some(outline);
        survey
    }

    fn quadrilateral(corners: [(f64, f64); 4]) -> Sided {
        Sided::by_direction(Outline::polygon(&corners.map(Point::from)).unwrap())
    }

    /// Names of the corners judged as tenons, and of those not judged.
    fn corners_of(survey: &survey::Sash) -> (usize, Vec<String>) {
        let sash = Sash::new(survey).unwrap();
        let workshop = Workshop::default();
        let timber = super::super::judge(&sash, &fit(&sash, &workshop).unwrap(), &workshop.limits);
        let joints = timber.findings.iter().filter(|found| found.rule == "timber.joint");
        let not_judged = joints.filter(|found| found.advised().contains("not judged"));
        let names = not_judged.map(|found| found.place.to_string()).collect();
        (timber.joints.corners.len(), names)
    }

    #[test]
    fn only_corners_of_straight_members_about_square_are_judged_as_tenons() {
        assert_eq!(corners_of(&casement()), (4, Vec::new()));
        let dropped = quadrilateral([(0.0, 0.0), (600.0, 4.0), (603.0, 800.0), (1.0, 797.0)]);
        assert_eq!(corners_of(&shaped(dropped)), (4, Vec::new()));
        // A head that rises by a third of its run leans by 18 degrees, into both stiles.
        let raked = quadrilateral([(0.0, 0.0), (600.0, 0.0), (600.0, 900.0), (0.0, 700.0)]);
        let upper = ["top rail and left stile", "top rail and right stile"].map(str::to_owned);
        assert_eq!(corners_of(&shaped(raked)), (2, upper.to_vec()));
        let head = Head::Segmental { rise: 120.0 };
        let arched = arched(820.0, Height::Springing(800.0), head).unwrap();
        assert_eq!(corners_of(&shaped(arched)), (2, upper.to_vec()));
        let (judged, not_judged) = corners_of(&shaped(circle(600.0).unwrap()));
        assert_eq!((judged, not_judged.len()), (0, 4));
    }

    #[test]
    fn a_cut_no_deeper_than_the_old_rebate_is_clear() {
        let corner = CornerNotJudged { name: "x".into(), depth_before: 27.0, depth_after: 27.0 };
        assert_eq!(judge(&corner).verdict, Verdict::Clear);
        let deeper = CornerNotJudged { depth_after: 28.0, ..corner };
        assert_eq!(judge(&deeper).verdict, Verdict::Caution);
    }
}
