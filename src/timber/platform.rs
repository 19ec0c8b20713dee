//! Wood between platform and moulding, and the sight line.

use super::cross::Least;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::geometry::COINCIDENT;
use crate::survey::{Kind, Limits};

/// Judges the wood under one part's platform: `timber.front`, then `timber.sight-line`.
pub(super) fn judge(place: &str, least: &Least, kind: Kind, limits: &Limits) -> [Finding; 2] {
    let measured = Quantity::mm(least.wood);
    let bounds = Bounds::new(&limits.front_stop, &limits.front_caution);
    let thinnest = format!("thinnest {}", place_of(least));
    let front = Finding::at_least(
        "timber.front",
        place,
        measured,
        bounds,
        |verdict, bound| match (verdict, least.by_old) {
            (Verdict::Clear, _) => format!("enough wood in front of the unit, {thinnest}"),
            (_, true) => format!(
                "{thinnest}, where the old rebate is already deeper: glue in a slip to build its \
                 platform up"
            ),
            (_, false) => format!("{thinnest}: {}", shallower(bound - least.wood, bound, kind)),
        },
    );
    // Wood as thin as rounding is no wood.
    let bounds = Bounds::stop(Bound::geometry(COINCIDENT));
    let sight = Finding::at_least("timber.sight-line", place, measured, bounds, |verdict, _| {
        if verdict == Verdict::Clear {
            "the sight line stays whole: the platform does not break into the moulding".to_owned()
        } else {
            format!(
                "the platform breaks into the moulding {} and would change the sight line: a \
                 shallower make-up is needed",
                place_of(least)
            )
        }
    });
    [front, sight]
}

/// `at the sight edge`, or how far from it.
fn place_of(least: &Least) -> String {
    // What shows as 0.0 mm is the edge itself.
    if least.from_sight < 0.05 {
        "at the sight edge".to_owned()
    } else {
        format!("{:.1} mm from the sight edge", least.from_sight)
    }
}

/// How to save `shortage` mm of depth so as to leave `bound` mm.
pub(super) fn shallower(shortage: f64, bound: f64, kind: Kind) -> String {
    // A fixed sash closes against nothing, so its bead may stand proud instead.
    let proud = if kind == Kind::Fixed { ", or one that stands as much proud," } else { "," };
    format!(
        "a unit {:.1} mm thinner, or a bead that much lower{proud} would leave {bound:.1} mm",
        up_to_tenth(shortage)
    )
}

/// The next tenth of a millimetre up, so that following the advice is always enough.
pub(super) fn up_to_tenth(length: f64) -> f64 {
    (length * 10.0 - COINCIDENT).ceil() / 10.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn least(wood: f64, by_old: bool) -> Least {
        Least { wood, from_sight: 3.0, by_old }
    }

    fn verdicts(wood: f64) -> [Verdict; 2] {
        let limits = Limits::default();
        let findings = judge("left stile", &least(wood, false), Kind::SideHung, &limits);
        findings.map(|finding| finding.verdict)
    }

    #[test]
    fn front_has_two_bounds_and_the_sight_line_one() {
        assert_eq!(verdicts(8.0), [Verdict::Clear, Verdict::Clear]);
        assert_eq!(verdicts(7.9), [Verdict::Caution, Verdict::Clear]);
        assert_eq!(verdicts(4.9), [Verdict::Stop, Verdict::Clear]);
        assert_eq!(verdicts(0.0), [Verdict::Stop, Verdict::Stop]);
    }

    #[test]
    fn advice_names_the_saving_that_suffices() {
        let limits = Limits::default();
        let advice = |by_old, kind| {
            let [front, _] = judge("left stile", &least(3.01, by_old), kind, &limits);
            front.advice
        };
        let hung = advice(false, Kind::SideHung);
        assert!(
            hung.contains("a unit 2.0 mm thinner") && hung.contains("would leave 5.0 mm"),
            "{hung}"
        );
        assert!(!hung.contains("proud"), "{hung}");
        assert!(advice(false, Kind::Fixed).contains("proud"));
        assert!(advice(true, Kind::Fixed).contains("glue in a slip"));
        assert_eq!(up_to_tenth(1.91), 2.0);
        assert_eq!(up_to_tenth(2.0), 2.0);
    }
}
