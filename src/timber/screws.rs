//! Hardware screws against the units.

use crate::finding::{Bounds, Finding, Quantity, Verdict};
use crate::fit::{Fit, UnitFit};
use crate::geometry::Side;
use crate::language::text;
use crate::sash::{Part, Sash, THREAD_RADIUS};
use crate::survey::{Limits, Screw, ScrewFrom};

/// Judges every screw: `timber.screw`.
pub(super) fn judge(sash: &Sash, fit: &Fit, limits: &Limits) -> Vec<Finding> {
    let screws = sash.measured.screws.iter();
    screws.filter_map(|screw| judge_one(sash, fit, screw, limits)).collect()
}

fn judge_one(sash: &Sash, fit: &Fit, screw: &Screw, limits: &Limits) -> Option<Finding> {
    let clearances = fit.units.iter().map(|unit| Clearance::new(sash, fit, unit, screw));
    let nearest = clearances.reduce(|a, b| if b.gap < a.gap { b } else { a })?;
    let bounds = Bounds::new(&limits.screw_stop, &limits.screw_caution);
    let (place, measured) = (place(sash, screw), Quantity::mm(nearest.gap));
    let judged = Finding::at_least("timber.screw", place, measured, bounds, |verdict, bound| {
        if verdict == Verdict::Clear {
            return text!("wood-screw-clear");
        }
        let mut longest = screw.length + nearest.ahead - bound;
        if let Some(into_cut) = nearest.into_cut {
            longest = longest.min(screw.length - into_cut);
        }
        // A screw that the survey would not take is no advice.
        let longest = longest.floor();
        if longest >= 1.0 {
            text!(
                "wood-screw-at-most",
                longest = format!("{longest:.0}"),
                bound = format!("{bound:.1}")
            )
        } else {
            text!("wood-screw-none", bound = format!("{bound:.1}"))
        }
    });
    let drawn = screw.cleared && judged.verdict == Verdict::Stop;
    // What is drawn stops no cut, but whatever goes back must be shorter.
    Some(if drawn { Finding { verdict: Verdict::Caution, ..judged } } else { judged })
}

/// Which screw, in words.
pub(super) fn place(sash: &Sash, screw: &Screw) -> String {
    let member = sash.part_name(Part::Member(screw.member));
    let from = match screw.from {
        ScrewFrom::OuterEdge { .. } => "outer edge",
        ScrewFrom::RoomFace { .. } => "room face",
    };
    format!("{member}, screw from the {from} at {:.0} mm", screw.at)
}

/// How a screw stands to one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Clearance {
    /// Screw to unit; for a screw from the room face, to the platform under the unit, mm. Negative
    /// where it reaches in, by how far it would have to be shorter.
    gap: f64,
    /// The same, measured along the screw from its point.
    ahead: f64,
    /// How far it sticks through the new rebate wall or platform, along its axis; none where it does not.
    into_cut: Option<f64>,
}

impl Clearance {
    fn new(sash: &Sash, fit: &Fit, unit: &UnitFit, screw: &Screw) -> Clearance {
        let side = screw.member;
        let member = sash.measured.members.get(side);
        // Beyond the ends of unit and wall where positive.
        let (unit_ends, wall_ends) = [unit.unit(), unit.wall()].map(|rect| ends(rect, side)).into();
        let beside = |(from, to): (f64, f64)| (from - screw.at).max(screw.at - to) - THREAD_RADIUS;
        let (beside_unit, beside_wall) = (beside(unit_ends), beside(wall_ends));
        let sight = outward(sash.sight, side);
        let (unit_edge, wall) = [unit.unit(), unit.wall()].map(|rect| outward(rect, side)).into();
        match screw.from {
            ScrewFrom::OuterEdge { from_face } => {
                let point = sight + member.width - screw.length;
                let ahead = point - unit_edge;
                let below = from_face - THREAD_RADIUS - fit.depth;
                let gap = apart(ahead, [beside_unit, below]);
                let in_cut = point < wall && beside_wall < 0.0 && below < 0.0;
                Clearance { gap, ahead, into_cut: in_cut.then_some(wall - point) }
            }
            ScrewFrom::RoomFace { from_sight } => {
                let flank = sight + from_sight - THREAD_RADIUS;
                let ahead = member.thickness - fit.depth - screw.length;
                let gap = apart(ahead, [flank - unit_edge, beside_unit]);
                let in_cut = ahead < 0.0 && flank < wall && beside_wall < 0.0;
                Clearance { gap, ahead, into_cut: in_cut.then_some(-ahead) }
            }
        }
    }
}

/// The place of `side` in a rectangle, turned so that it grows outwards.
fn outward(rect: kurbo::Rect, side: Side) -> f64 {
    match side {
        Side::Left | Side::Bottom => -side.of(rect),
        Side::Right | Side::Top => side.of(rect),
    }
}

/// Both ends of a rectangle along the member on `side`.
fn ends(rect: kurbo::Rect, side: Side) -> (f64, f64) {
    if side.is_upright() { (rect.y0, rect.y1) } else { (rect.x0, rect.x1) }
}

/// Distance in space from signed distances along three square axes, positive outside. Where only
/// `ahead` can part the two it is the answer, whatever its sign.
fn apart(ahead: f64, others: [f64; 2]) -> f64 {
    let aside = others.map(|distance| distance.max(0.0));
    let aside = aside.into_iter().fold(0.0, f64::hypot);
    if aside > 0.0 { aside.hypot(ahead.max(0.0)) } else { ahead }
}

#[cfg(test)]
mod tests {
    use super::super::tests::{casement_fit, fit_of};
    use super::*;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    fn judged(member: Side, from: ScrewFrom, at: f64, length: f64) -> Finding {
        let mut survey = casement();
        survey.screws = vec![Screw { member, from, at, length, cleared: false }];
        let sash = Sash::new(&survey).unwrap();
        let fit = fit_of(&sash, 12.0, 27.0);
        judge(&sash, &fit, &Limits::default()).remove(0)
    }

    const EDGE: ScrewFrom = ScrewFrom::OuterEdge { from_face: 22.0 };

    // The stile is 52 mm wide and the unit reaches 12 mm behind the sight edge: 40 mm of room.
    #[test]
    fn a_screw_from_the_edge_has_what_its_length_leaves() {
        for member in [Side::Left, Side::Right] {
            let finding = judged(member, EDGE, 200.0, 35.0);
            assert_relative_eq!(finding.measured.value, 5.0, epsilon = 1e-9);
            assert_eq!(finding.verdict, Verdict::Clear);
        }
        let near = judged(Side::Left, EDGE, 200.0, 36.5);
        assert_eq!(near.verdict, Verdict::Caution);
        assert!(near.advised().contains("at most 35 mm"), "{}", near.advised());
        let through = judged(Side::Left, EDGE, 200.0, 39.0);
        assert_eq!(through.verdict, Verdict::Stop);
        assert!(through.advised().contains("at most 38 mm"), "{}", through.advised());
        let inside = judged(Side::Bottom, EDGE, 200.0, 74.0);
        assert_relative_eq!(inside.measured.value, -12.0, epsilon = 1e-9);
    }

    #[test]
    fn a_screw_under_the_platform_or_past_the_unit_passes_by() {
        let under = ScrewFrom::OuterEdge { from_face: 27.0 + THREAD_RADIUS + 6.0 };
        let finding = judged(Side::Left, under, 200.0, 50.0);
        assert_relative_eq!(finding.measured.value, 6.0, epsilon = 1e-9);
        assert_eq!(finding.verdict, Verdict::Clear);
        // The unit ends 12 mm below the sight edge of the bottom rail.
        let past = judged(Side::Left, EDGE, -12.0 - THREAD_RADIUS - 7.0, 50.0);
        assert_relative_eq!(past.measured.value, 7.0, epsilon = 1e-9);
        let diagonal = judged(Side::Left, EDGE, -12.0 - THREAD_RADIUS - 3.0, 36.0);
        assert_relative_eq!(diagonal.measured.value, 5.0, epsilon = 1e-9);
    }

    // 45 mm of timber less a platform 27 mm deep: 18 mm.
    #[test]
    fn a_screw_from_the_room_face_is_held_to_the_platform() {
        let room = |from_sight, length| {
            judged(Side::Top, ScrewFrom::RoomFace { from_sight }, 300.0, length)
        };
        assert_relative_eq!(room(7.0, 12.0).measured.value, 6.0, epsilon = 1e-9);
        let through = room(7.0, 20.0);
        assert_relative_eq!(through.measured.value, -2.0, epsilon = 1e-9);
        assert!(through.advised().contains("at most 16 mm"), "{}", through.advised());
        // Beside the unit its flank counts.
        assert_relative_eq!(room(30.0, 30.0).measured.value, 30.0 - 2.5 - 12.0, epsilon = 1e-9);
    }

    #[test]
    fn every_screw_gives_its_finding() {
        let (sash, fit) = casement_fit();
        assert_eq!(judge(&sash, &fit, &Limits::default()), vec![]);
    }
}
