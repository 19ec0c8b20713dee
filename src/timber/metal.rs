//! Known metal in the way of the cutter.

use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::Fit;
use crate::sash::Sash;
use crate::survey::Metal;
use kurbo::{Point, Rect};

/// Metal this close under the platform wants care: nobody knows its depth better (common practice).
const UNDER_PLATFORM: Bound = Bound { value: 3.0, basis: Basis::CommonPractice };

/// Judges every piece of metal: `metal.in-path`. Without a unit there is no cut to keep clear of.
pub(super) fn judge(sash: &Sash, fit: &Fit) -> Vec<Finding> {
    if fit.units.is_empty() {
        return Vec::new();
    }
    sash.measured.metal.iter().map(|metal| judge_one(sash, fit, metal)).collect()
}

fn judge_one(sash: &Sash, fit: &Fit, metal: &Metal) -> Finding {
    let place = format!("{} at {:.0}, {:.0}", metal.name, metal.at.x, metal.at.y);
    let beside = beside_cut(sash, fit, metal);
    let under = metal.from_face - fit.depth;
    let untouched = Bound::geometry(0.0);
    // Beside the cut its depth does not matter.
    let (gap, bounds) = if beside >= 0.0 {
        (beside, Bounds::stop(untouched))
    } else {
        (under, Bounds::new(untouched, UNDER_PLATFORM))
    };
    let in_path = |verdict, _| {
        match verdict {
            Verdict::Clear => "the cutter keeps clear of it",
            Verdict::Caution => "it lies close under the platform: find its depth before cutting",
            Verdict::Stop => "draw it, or find that it lies deeper, and say so in the survey",
        }
        .to_owned()
    };
    let mut finding = Finding::at_least("metal.in-path", place, Quantity::mm(gap), bounds, in_path);
    if metal.cleared {
        finding.verdict = Verdict::Clear;
        "drawn: make sure that no stump is left".clone_into(&mut finding.advice);
    }
    finding
}

/// How far the metal lies beside every cut, seen on the glazing face, mm; negative where a cut takes
/// wood, or sweeps an old rebate, over some of it.
fn beside_cut(sash: &Sash, fit: &Fit, metal: &Metal) -> f64 {
    let in_daylight = sash.lights.iter().map(|light| depth_inside(light.sight, metal.at));
    let in_daylight = in_daylight.fold(f64::NEG_INFINITY, f64::max) - metal.radius;
    if in_daylight >= 0.0 {
        // All of it hangs in an open light, where nothing is cut.
        return in_daylight;
    }
    let apart = fit.units.iter().map(|unit| -depth_inside(unit.wall, metal.at) - metal.radius);
    apart.fold(f64::INFINITY, f64::min)
}

/// How deep `point` lies inside `rect`, from its nearest side; negative outside by the distance.
fn depth_inside(rect: Rect, point: Point) -> f64 {
    let (x, y) =
        ((point.x - rect.x0).min(rect.x1 - point.x), (point.y - rect.y0).min(rect.y1 - point.y));
    let outside = x.min(0.0).hypot(y.min(0.0));
    if outside > 0.0 { -outside } else { x.min(y) }
}

#[cfg(test)]
mod tests {
    use super::super::tests::fit_of;
    use super::*;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    fn judged(at: (f64, f64), from_face: f64, cleared: bool) -> Finding {
        let mut survey = casement();
        let name = "sprig".to_owned();
        survey.metal = vec![Metal { name, at: at.into(), radius: 5.0, from_face, cleared }];
        let sash = Sash::new(&survey).unwrap();
        let fit = fit_of(&sash, 12.0, 27.0);
        judge(&sash, &fit).remove(0)
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
        let daylight = judged((100.0, 310.0), 0.0, false);
        assert_relative_eq!(daylight.measured.value, 95.0);
        assert_eq!(daylight.verdict, Verdict::Clear);
    }
}
