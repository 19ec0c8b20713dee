//! Hung sashes: what pulls at the hinges and whether their screws hold.

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::glass::thermal::FREE_FALL;
use crate::survey::{Hinges, Limits, Timber};
use kurbo::Size;
use schemars::JsonSchema;
use serde::Serialize;

/// A screw may be loaded with this share of what pulls it out. Wood Handbook practice (from memory).
const WORKING: f64 = 0.2;

/// What hinges carry.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Hung {
    /// Weight that hangs on all hinges, N.
    pub load: f64,
    /// Its moment about the hinges, N m.
    pub moment: f64,
    /// What pulls the worst hinge straight out, N.
    pub pull: f64,
    /// What pulls each of its screws, N.
    pub screw: f64,
    /// What each screw holds, N.
    pub holds: f64,
    /// `hanging.hinges`.
    pub finding: Finding,
}

/// What pulls a wood screw out of the side of the grain at once, N: 108.25 G² D L, of specific gravity
/// G, screw diameter D and thread L in mm. Wood Handbook, chapter 8 (from memory).
pub fn withdrawal(timber: &Timber, diameter: f64, thread: f64) -> f64 {
    let gravity = timber.density / 1000.0;
    108.25 * gravity * gravity * diameter.max(0.0) * thread.max(0.0)
}

/// A side-hung sash of `weight` kg and `size` mm: its weight, half its width away, tips it about the
/// lower hinge, so that the upper one is pulled out by W b/(2 h). Hinges between are not counted on.
pub fn side_hung(
    weight: f64,
    size: Size,
    hinges: &Hinges,
    timber: &Timber,
    limits: &Limits,
) -> Hung {
    let load = weight * FREE_FALL;
    let moment = load * size.width / 2.0 / 1000.0;
    let pull = if hinges.apart > 0.0 { moment * 1000.0 / hinges.apart } else { f64::MAX };
    judge(load, moment, pull, "upper hinge", hinges, timber, limits)
}

/// A top-hung sash of `weight` kg and `size` mm opened by `angle` degrees. Its stay carries the moment
/// W h sin(angle)/2; all hinges together are taken to be pulled by the whole weight, which is the worst
/// they can meet when the sash stands level and no stay helps.
pub fn top_hung(
    weight: f64,
    size: Size,
    angle: f64,
    hinges: &Hinges,
    timber: &Timber,
    limits: &Limits,
) -> Hung {
    let load = weight * FREE_FALL;
    let moment = load * size.height / 2.0 / 1000.0 * angle.to_radians().sin().abs();
    let pull = load / f64::from(hinges.count.max(1));
    judge(load, moment, pull, "each hinge", hinges, timber, limits)
}

fn judge(
    load: f64,
    moment: f64,
    pull: f64,
    place: &str,
    hinges: &Hinges,
    timber: &Timber,
    limits: &Limits,
) -> Hung {
    let screw = pull / f64::from(hinges.screws.max(1));
    let holds = WORKING * withdrawal(timber, hinges.diameter, hinges.thread);
    // A screw that holds nothing is used beyond any measure, but by a number that can be written.
    let used = if holds > 0.0 { (100.0 * screw / holds).min(1e6) } else { 1e6 };
    let measured = Quantity { value: used, unit: "%" };
    let bounds =
        Bounds::caution(Bound::from(&limits.screw_hold_caution).map(|share| 100.0 * share));
    let finding = Finding::at_most("hanging.hinges", place, measured, bounds, |verdict, _| {
        let figure = format!(
            "{load:.0} N hang on the hinges with a moment of {moment:.0} N m; each screw is pulled by \
             {screw:.0} N and holds {holds:.0} N"
        );
        match verdict {
            Verdict::Clear => figure,
            _ => format!(
                "{figure}: more or thicker screws, or a further hinge; longer ones only if they stay \
                 clear of the unit"
            ),
        }
    });
    Hung { load, moment, pull, screw, holds, finding }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::TIMBERS;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    const HINGES: Hinges =
        Hinges { apart: 600.0, count: 2, screws: 3, diameter: 4.0, thread: 25.0 };

    fn softwood() -> Timber {
        TIMBERS[0].clone()
    }

    // Wood Handbook (from memory), its US form: 15 700 G² D L lb, D and L in inches.
    #[test]
    fn withdrawal_agrees_with_its_form_in_inches() {
        let pounds = 15_700.0 * 0.37 * 0.37 * (4.0 / 25.4) * (25.0 / 25.4);
        let newtons = pounds * 4.448_222;
        assert_relative_eq!(withdrawal(&softwood(), 4.0, 25.0), newtons, max_relative = 2e-3);
        assert_eq!(withdrawal(&softwood(), -4.0, 25.0), 0.0);
    }

    #[test]
    fn a_side_hung_sash_by_hand() {
        let limits = Limits::default();
        let hung = side_hung(20.0, Size::new(900.0, 1000.0), &HINGES, &softwood(), &limits);
        assert_relative_eq!(hung.load, 196.2);
        assert_relative_eq!(hung.moment, 88.29, epsilon = 1e-9);
        assert_relative_eq!(hung.pull, 147.15, epsilon = 1e-9);
        assert_relative_eq!(hung.screw, 49.05, epsilon = 1e-9);
        assert_relative_eq!(hung.holds, 0.2 * 108.25 * 0.1369 * 100.0, epsilon = 1e-9);
        assert_eq!(hung.finding.verdict, Verdict::Clear);
        let stripped = Hinges { thread: 0.0, ..HINGES };
        let loose = side_hung(20.0, Size::new(900.0, 1000.0), &stripped, &softwood(), &limits);
        assert_eq!(loose.finding.verdict, Verdict::Caution);
        let none = Hinges { apart: 0.0, count: 0, screws: 0, ..HINGES };
        let none = side_hung(20.0, Size::new(900.0, 1000.0), &none, &softwood(), &limits);
        assert!(none.finding.measured.value.is_finite());
    }

    #[test]
    fn a_top_hung_sash_pulls_hardest_when_level() {
        let limits = Limits::default();
        let at =
            |angle| top_hung(20.0, Size::new(900.0, 1000.0), angle, &HINGES, &softwood(), &limits);
        assert_relative_eq!(at(0.0).moment, 0.0);
        assert_relative_eq!(at(30.0).moment, 49.05, epsilon = 1e-9);
        assert_relative_eq!(at(90.0).moment, 98.1, epsilon = 1e-9);
        assert_relative_eq!(at(30.0).pull, 98.1);
    }

    proptest! {
        #[test]
        fn a_heavier_or_wider_sash_never_pulls_less(
            weight in 0.0..100.0_f64, more in 0.0..50.0_f64, width in 100.0..1500.0_f64, wider in 0.0..500.0_f64,
        ) {
            let limits = Limits::default();
            let screw = |weight, width| {
                side_hung(weight, Size::new(width, 900.0), &HINGES, &softwood(), &limits).screw
            };
            prop_assert!(screw(weight + more, width + wider) >= screw(weight, width) - 1e-9);
        }
    }
}
