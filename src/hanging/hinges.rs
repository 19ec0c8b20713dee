//! Hung sashes: what pulls at the hinges and whether their screws hold.

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::glass::thermal::FREE_FALL;
use crate::language::text;
use crate::survey::{Hinges, Limits, Timber};
use kurbo::Size;
use schemars::JsonSchema;
use serde::Serialize;

/// A screw may be loaded with this share of what pulls it out: 2850 of 15 700, NDS 2018, 12.2.2, against the
/// Wood Handbook.
const WORKING: f64 = 2850.0 / 15_700.0;

/// What hinges carry.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Hung {
    /// Weight that hangs on all hinges, N.
    pub load: f64,
    /// Its moment about the hinges, N m.
    pub moment: f64,
    /// What pulls the worst hinge straight out, N.
    pub pull: f64,
    /// How many of its screws stand in side grain, which alone may be counted on.
    pub counted: f64,
    /// What pulls each of those screws, N.
    pub screw: f64,
    /// What each screw holds, N.
    pub holds: f64,
    /// `hanging.hinges`.
    pub finding: Finding,
}

/// Density at 12 % moisture, kg/m³, of wood whose ovendry weight is that of as much water. Wood Handbook,
/// chapter 8, has G of ovendry weight on volume at 12 % (published).
const OVENDRY_TO_12: f64 = 1120.0;

/// What pulls a wood screw out of the side of the grain at once, N: 108.25 G² D L, of specific gravity
/// G, screw diameter D and thread L in mm. Wood Handbook, chapter 8 (15 700 G² D L in pounds and inches, as
/// reproduced).
pub fn withdrawal(timber: &Timber, diameter: f64, thread: f64) -> f64 {
    let gravity = timber.species.density / OVENDRY_TO_12;
    108.25 * gravity * gravity * diameter.max(0.0) * thread.max(0.0)
}

/// Length of a hinge's leaf, mm: three inches. Common practice, no source.
const LEAF: f64 = 75.0;

/// How many screws of the upper hinge of a sash `height` mm high stand in side grain: a screw in the end of
/// the tenon that comes through the stile there stands in end grain, where no withdrawal may be counted on
/// (NDS 2018, published). Hinges are taken to lie as far from the top as from the bottom, their screws spread
/// over the leaf; `tenon` is how far from the top the tenon's end begins and stops.
pub fn in_side_grain(hinges: &Hinges, height: f64, tenon: (f64, f64)) -> f64 {
    let middle = (height - hinges.apart) / 2.0;
    let (from, to) = (middle - LEAF / 2.0, middle + LEAF / 2.0);
    let over = (to.min(tenon.1) - from.max(tenon.0)).max(0.0);
    (f64::from(hinges.screws) * (1.0 - over / LEAF)).floor().max(0.0)
}

/// A side-hung sash of `weight` kg and `size` mm: its weight, half its width away, tips it about the
/// lower hinge, so that the upper one is pulled out by W b/(2 h), and `counted` of its screws hold it.
/// Hinges between are not counted on.
pub fn side_hung(
    weight: f64,
    size: Size,
    hinges: &Hinges,
    counted: f64,
    timber: &Timber,
    limits: &Limits,
) -> Hung {
    let load = weight * FREE_FALL;
    let moment = load * size.width / 2.0 / 1000.0;
    let pull = if hinges.apart > 0.0 { moment * 1000.0 / hinges.apart } else { f64::MAX };
    judge(load, moment, (pull, "upper hinge", counted), hinges, timber, limits)
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
    let all = f64::from(hinges.screws);
    judge(load, moment, (pull, "each hinge", all), hinges, timber, limits)
}

fn judge(
    load: f64,
    moment: f64,
    (pull, place, counted): (f64, &str, f64),
    hinges: &Hinges,
    timber: &Timber,
    limits: &Limits,
) -> Hung {
    let screw = pull / counted.max(1.0);
    let holds = WORKING * withdrawal(timber, hinges.diameter, hinges.thread);
    // A screw that holds nothing is used beyond any measure, but by a number that can be written.
    let used = if holds > 0.0 && counted > 0.0 { (100.0 * screw / holds).min(1e6) } else { 1e6 };
    let measured = Quantity { value: used, unit: "%" };
    let bounds =
        Bounds::caution(Bound::from(&limits.screw_hold_caution).map(|share| 100.0 * share));
    let finding = Finding::at_most("hanging.hinges", place, measured, bounds, |verdict, _| {
        let figure = text!(
            "hang-hinges",
            load = format!("{load:.0}"),
            moment = format!("{moment:.0}"),
            screw = format!("{screw:.0}"),
            holds = format!("{holds:.0}")
        );
        let in_end = f64::from(hinges.screws) - counted;
        match verdict {
            Verdict::Clear => figure,
            _ if in_end > 0.0 => text!(
                "hang-over-tenon",
                figure,
                in_end = format!("{in_end:.0}"),
                screws = hinges.screws.to_string()
            ),
            _ => text!("hang-more-screws", figure),
        }
    });
    Hung { load, moment, pull, counted, screw, holds, finding }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::{Species, species};
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    const HINGES: Hinges =
        Hinges { apart: 600.0, count: 2, screws: 3, diameter: 4.0, thread: 25.0, cleared: false };

    fn softwood() -> Timber {
        Timber {
            species: Species { density: 1120.0 * 0.5, ..species().next().unwrap() },
            class: None,
        }
    }

    // NDS 2018, 12.2.2 (published): a #10 screw, 0.190 in, in wood of G 0.50 holds 135.4 lb an inch of thread.
    #[test]
    fn a_screw_holds_what_the_code_gives_it() {
        let pounds = WORKING * withdrawal(&softwood(), 0.190 * 25.4, 25.4) / 4.448_222;
        assert_relative_eq!(pounds, 135.4, max_relative = 2e-3);
    }

    // Wood Handbook (as reproduced), its US form: 15 700 G² D L lb, D and L in inches.
    #[test]
    fn withdrawal_agrees_with_its_form_in_inches() {
        let pounds = 15_700.0 * 0.5 * 0.5 * (4.0 / 25.4) * (25.0 / 25.4);
        let newtons = pounds * 4.448_222;
        assert_relative_eq!(withdrawal(&softwood(), 4.0, 25.0), newtons, max_relative = 2e-3);
        assert_eq!(withdrawal(&softwood(), -4.0, 25.0), 0.0);
    }

    #[test]
    fn a_side_hung_sash_by_hand() {
        let limits = Limits::default();
        let size = Size::new(900.0, 1000.0);
        let hung = side_hung(20.0, size, &HINGES, 3.0, &softwood(), &limits);
        assert_relative_eq!(hung.load, 196.2);
        assert_relative_eq!(hung.moment, 88.29, epsilon = 1e-9);
        assert_relative_eq!(hung.pull, 147.15, epsilon = 1e-9);
        assert_relative_eq!(hung.screw, 49.05, epsilon = 1e-9);
        assert_relative_eq!(hung.holds, 2850.0 / 15_700.0 * 108.25 * 0.25 * 100.0, epsilon = 1e-9);
        assert_eq!(hung.finding.verdict, Verdict::Clear);
        let stripped = Hinges { thread: 0.0, ..HINGES };
        let loose = side_hung(20.0, size, &stripped, 3.0, &softwood(), &limits);
        assert_eq!(loose.finding.verdict, Verdict::Caution);
        let none = Hinges { apart: 0.0, count: 0, screws: 0, ..HINGES };
        let none = side_hung(20.0, size, &none, 0.0, &softwood(), &limits);
        assert!(none.finding.measured.value.is_finite());
    }

    // NDS 2018 (published): no withdrawal in end grain. Hinges 600 apart in 1000 lie 200 from the top, their
    // leaves from 162.5 to 237.5.
    #[test]
    fn a_screw_over_a_tenon_is_not_counted_on() {
        for (tenon, counted) in [
            ((0.0, 162.5), 3.0),
            ((0.0, 188.0), 1.0),
            ((0.0, 300.0), 0.0),
            ((240.0, 300.0), 3.0),
            ((212.0, 300.0), 1.0),
        ] {
            assert_eq!(in_side_grain(&HINGES, 1000.0, tenon), counted, "{tenon:?}");
        }
        let limits = Limits::default();
        let hung = |counted| {
            side_hung(20.0, Size::new(900.0, 1000.0), &HINGES, counted, &softwood(), &limits)
        };
        assert_relative_eq!(hung(1.0).screw, 3.0 * hung(3.0).screw);
        let none = hung(0.0).finding;
        assert_eq!(none.verdict, Verdict::Caution);
        assert!(none.advised().contains("3 of 3 lie over the tenon's end"), "{}", none.advised());
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
                side_hung(weight, Size::new(width, 900.0), &HINGES, 3.0, &softwood(), &limits).screw
            };
            prop_assert!(screw(weight + more, width + wider) >= screw(weight, width) - 1e-9);
        }
    }
}
