//! Known metal in the way of the cutter.

use super::MemberLeft;
use super::screws;
use crate::finding::{Basis, Bound, Bounds, Finding, Place, Quantity, Verdict};
use crate::fit::Fit;
use crate::geometry::{COINCIDENT, PerSide, Region, Side};
use crate::language::text;
use crate::sash::{Part, Sash, Solid};
use crate::survey::Kind;

/// Metal this close under the platform wants care: nobody knows its depth better (common practice).
const UNDER_PLATFORM: Bound = Bound { value: 3.0, basis: Basis::CommonPractice };

/// Judges every piece of metal, wherever it comes from: `metal.in-path`. Without a unit there is no cut to keep
/// clear of.
pub(super) fn judge(sash: &Sash, fit: &Fit, members: &PerSide<MemberLeft>) -> Vec<Finding> {
    if fit.units.is_empty() {
        return Vec::new();
    }
    let metal = sash.metal.iter().zip(&sash.measured.metal).map(|(solid, metal)| {
        let [x, y] = [metal.at.x, metal.at.y].map(|at| format!("{at:.0}"));
        let place = text!("place-metal", metal = metal.name.text(), x, y);
        judge_one(fit, solid, UNDER_PLATFORM, place, metal.cleared)
    });
    // Whoever measured a screw knows its depth.
    let untouched = Bound::geometry(0.0);
    let screws = sash.screws.iter().zip(&sash.measured.screws).map(|(solid, screw)| {
        judge_one(fit, solid, untouched.clone(), screws::place(sash, screw), screw.cleared)
    });
    metal.chain(screws).chain(hinges(sash, fit, members)).collect()
}

fn judge_one(fit: &Fit, solid: &Solid, care: Bound, place: impl Place, cleared: bool) -> Finding {
    let under = -solid.top - fit.depth;
    let untouched = Bound::geometry(0.0);
    // Beside the cut its depth does not matter.
    let (gap, bounds) = match beside_cut(fit, solid) {
        Some(beside) => (beside, Bounds::stop(untouched)),
        None => (under, Bounds::new(untouched, care)),
    };
    let in_path = |verdict, _| match verdict {
        Verdict::Clear => text!("wood-metal-clear"),
        Verdict::Caution => text!("wood-metal-under"),
        Verdict::Stop => {
            text!("wood-metal-in-the-way")
        }
    };
    let mut finding = Finding::at_least("metal.in-path", place, Quantity::mm(gap), bounds, in_path);
    if cleared {
        finding.verdict = Verdict::Clear;
        finding.advice = text!("wood-metal-drawn");
    }
    finding
}

/// How far the metal lies beside every pocket, seen on the glazing face, mm; none where it stands in one. The
/// unit fills its pocket over the daylight too.
fn beside_cut(fit: &Fit, solid: &Solid) -> Option<f64> {
    let own = &solid.region.outline;
    let apart = fit.units.iter().map(|unit| {
        let wall = unit.outlines.wall.outline();
        let meet =
            wall.depth_of(own.edges()) > COINCIDENT || own.depth_of(wall.edges()) > COINCIDENT;
        let wall = Region::solid(wall.clone());
        (!meet).then(|| {
            own.edges().iter().map(|edge| wall.distance_to(edge)).fold(f64::INFINITY, f64::min)
        })
    });
    apart.reduce(|a, b| Some(a?.min(b?))).flatten()
}

/// Hinge screws, of which only the thread is known: whether it is longer than the wood that stays beside the cut.
/// They are taken to stand in the middle of the thickness, as other screws are.
fn hinges(sash: &Sash, fit: &Fit, members: &PerSide<MemberLeft>) -> Vec<Finding> {
    let measured = &sash.measured;
    let Some(hinges) = &measured.around.hinges else { return Vec::new() };
    let sides = match measured.kind {
        Kind::SideHung => {
            measured.hinge_side.map_or(vec![Side::Left, Side::Right], |side| vec![side])
        }
        Kind::TopHung => vec![Side::Top],
        Kind::Fixed | Kind::SlidingUpper | Kind::SlidingLower => Vec::new(),
    };
    let judged = sides.into_iter().map(|side| {
        let middle = measured.members.get(side).thickness / 2.0;
        let under = middle - hinges.diameter / 2.0 - fit.depth;
        let beside = members.get(side).beside.least;
        let gap = (beside - hinges.thread).max(under);
        let place = format!("hinge screws, {}", sash.part_name(Part::Member(side)));
        let bounds = Bounds::stop(Bound::geometry(0.0));
        let mut finding =
            Finding::at_least("metal.in-path", place, Quantity::mm(gap), bounds, |verdict, _| {
                match verdict {
                    Verdict::Clear => text!("wood-hinges-clear"),
                    _ => text!(
                        "wood-hinges-in-the-way",
                        longest = format!("{:.0}", beside.max(0.0).floor())
                    ),
                }
            });
        if hinges.cleared && finding.verdict == Verdict::Stop {
            finding.verdict = Verdict::Caution;
            finding.advice =
                text!("wood-hinges-drawn", longest = format!("{:.0}", beside.max(0.0).floor()));
        }
        finding
    });
    judged.collect()
}

#[cfg(test)]
mod tests {
    use super::super::Uncut;
    use super::super::members;
    use super::super::tests::fit_of;
    use super::*;
    use crate::geometry::{Head, Height, arched};
    use crate::sash::tests::casement;
    use crate::survey::{Hinges, Metal, Screw, ScrewFrom, UnitShape, Workshop};
    use approx::assert_relative_eq;

    fn judged(at: (f64, f64), from_face: f64, cleared: bool) -> Finding {
        let mut survey = casement();
        let name = "sprig".into();
        survey.metal = vec![Metal { name, at: at.into(), radius: 5.0, from_face, cleared }];
        let sash = Sash::new(&survey).unwrap();
        let fit = fit_of(&sash, 12.0, 27.0);
        judge(&sash, &fit, &members::measure(&Uncut::new(&sash), &sash, &fit)).remove(0)
    }

    #[test]
    fn uncleared_metal_in_the_cut_stops_the_work() {
        let stop = judged((-10.0, 310.0), 0.0, false);
        assert_eq!(stop.verdict, Verdict::Stop);
        assert_relative_eq!(stop.measured.value, -27.0);
        assert_eq!(judged((-10.0, 310.0), 0.0, true).verdict, Verdict::Clear);
        // Half in daylight, half in the member.
        assert_eq!(judged((4.0, 310.0), 0.0, false).verdict, Verdict::Stop);
        // In a bar that is cut down.
        assert_eq!(judged((268.0, 310.0), 0.0, false).verdict, Verdict::Stop);
    }

    #[test]
    fn depth_and_place_clear_it() {
        assert_eq!(judged((-10.0, 310.0), 29.9, false).verdict, Verdict::Caution);
        assert_eq!(judged((-10.0, 310.0), 27.0, false).verdict, Verdict::Caution);
        assert_eq!(judged((-10.0, 310.0), 30.0, false).verdict, Verdict::Clear);
        // The wall lies 14 mm behind the sight edge.
        let beside = judged((-21.0, 310.0), 0.0, false);
        assert_relative_eq!(beside.measured.value, 2.0);
        assert_eq!(beside.verdict, Verdict::Clear);
        assert_eq!(judged((-18.0, 310.0), 0.0, false).verdict, Verdict::Stop);
        // In the daylight nothing is cut, but the unit goes there.
        assert_eq!(judged((100.0, 310.0), 0.0, false).verdict, Verdict::Stop);
        assert_eq!(judged((100.0, 310.0), 30.0, false).verdict, Verdict::Clear);
    }

    fn screwed(member: Side, from: ScrewFrom, length: f64, cleared: bool) -> Finding {
        let mut survey = casement();
        survey.screws = vec![Screw { member, from, at: 200.0, length, cleared }];
        let sash = Sash::new(&survey).unwrap();
        let fit = fit_of(&sash, 12.0, 27.0);
        judge(&sash, &fit, &members::measure(&Uncut::new(&sash), &sash, &fit)).remove(0)
    }

    // The stile is 52 mm wide and the wall lies 14 mm behind the sight edge: 38 mm of wood, whatever the
    // clearance between wall and unit.
    #[test]
    fn a_screw_through_the_new_wall_stops_the_work_until_it_is_drawn() {
        let edge = |from_face| ScrewFrom::OuterEdge { from_face };
        assert_eq!(screwed(Side::Left, edge(22.0), 38.0, false).verdict, Verdict::Clear);
        let through = screwed(Side::Left, edge(22.0), 38.5, false);
        assert_eq!(through.verdict, Verdict::Stop);
        assert_relative_eq!(through.measured.value, 22.0 - 2.5 - 27.0);
        assert_eq!(screwed(Side::Left, edge(22.0), 38.5, true).verdict, Verdict::Clear);
        assert_eq!(screwed(Side::Left, edge(29.5), 38.5, false).verdict, Verdict::Clear);
        // 45 mm of timber less a platform 27 mm deep: 18 mm.
        let room = |from_sight| ScrewFrom::RoomFace { from_sight };
        assert_eq!(screwed(Side::Top, room(7.0), 18.0, false).verdict, Verdict::Clear);
        assert_eq!(screwed(Side::Top, room(7.0), 18.5, false).verdict, Verdict::Stop);
        assert_eq!(screwed(Side::Top, room(16.5), 18.5, false).verdict, Verdict::Clear);
    }

    // By hand: under a semicircular head of 410 mm radius the corner of the rectangle around it is wood.
    #[test]
    fn beside_a_curved_head_metal_stands_in_wood() {
        let mut survey = casement();
        survey.bars.clear();
        survey.outline = Some(arched(820.0, Height::Springing(500.0), Head::Semicircular).unwrap());
        survey.sight = kurbo::Size::new(820.0, 910.0);
        survey.unit.shape = UnitShape::Shaped;
        let metal = |x: f64, y: f64| Metal {
            name: "sprig".into(),
            at: (x, y).into(),
            radius: 5.0,
            from_face: 0.0,
            cleared: false,
        };
        // 424.26 mm from the centre (410, 500), where the wall lies at 424 mm: half a millimetre in the wall.
        survey.metal = vec![metal(110.0, 800.0), metal(105.0, 805.0)];
        let sash = Sash::new(&survey).unwrap();
        let fit = crate::fit::fit(&sash, &Workshop::default()).unwrap();
        let found = judge(&sash, &fit, &members::measure(&Uncut::new(&sash), &sash, &fit));
        assert_eq!(found[0].verdict, Verdict::Stop);
        assert_eq!(found[1].verdict, Verdict::Clear);
        assert_relative_eq!(
            found[1].measured.value,
            305.0 * 2.0_f64.sqrt() - 429.0,
            epsilon = 1e-6
        );
    }

    #[test]
    fn hinge_screws_longer_than_the_wood_beside_the_cut_stop_the_work() {
        let with = |thread, cleared| {
            let mut survey = casement();
            let (apart, count, screws, diameter) = (600.0, 2, 3, 4.0);
            survey.around.hinges = Some(Hinges { apart, count, screws, diameter, thread, cleared });
            let sash = Sash::new(&survey).unwrap();
            let fit = fit_of(&sash, 12.0, 27.0);
            judge(&sash, &fit, &members::measure(&Uncut::new(&sash), &sash, &fit)).remove(0)
        };
        assert_eq!(with(38.0, false).verdict, Verdict::Clear);
        let through = with(40.0, false);
        assert_eq!(through.verdict, Verdict::Stop);
        assert!(through.advised().contains("at most 38 mm"), "{}", through.advised());
        assert_eq!(with(40.0, true).verdict, Verdict::Caution);
    }
}
