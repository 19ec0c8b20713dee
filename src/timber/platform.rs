//! Wood between platform and moulding, and the sight line.

use super::cross::Least;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict, up_to_tenth};
use crate::geometry::COINCIDENT;
use crate::survey::{self, Kind, Limits};

/// The thinnest unit that is advised, mm: two panes of 3 and a cavity of 4. Common practice, no source.
const THINNEST_UNIT: f64 = 10.0;

/// Judges the wood under one part's platform: `timber.front`, then `timber.sight-line`.
pub(super) fn judge(
    place: &str,
    least: &Least,
    measured: &survey::Sash,
    limits: &Limits,
) -> [Finding; 2] {
    let wood = Quantity::mm(least.wood);
    let bounds = Bounds::new(&limits.front_stop, &limits.front_caution);
    let thinnest = format!("thinnest {}", place_of(least));
    let front = Finding::at_least("timber.front", place, wood, bounds, |verdict, bound| {
        match (verdict, least.by_old) {
            (Verdict::Clear, _) => format!("enough wood in front of the unit, {thinnest}"),
            (_, true) => format!(
                "{thinnest}, where the old rebate is already deeper: glue in a slip to build its \
                 platform up"
            ),
            (_, false) if least.most < bound - COINCIDENT => format!(
                "{thinnest}, and the old rebate alone leaves {}: no other unit cures that",
                Quantity::mm(least.most)
            ),
            (_, false) => format!(
                "{thinnest}: {}",
                shallower(bound - least.wood, &format!("{bound:.1} mm"), measured, limits)
            ),
        }
    });
    // Wood as thin as rounding is no wood.
    let bounds = Bounds::stop(Bound::geometry(COINCIDENT));
    let sight = Finding::at_least("timber.sight-line", place, wood, bounds, |verdict, _| {
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

/// What is less shows as 0.0 mm: the edge itself.
const SHOWN: f64 = 0.05;

/// `at the sight edge`, or how far from it.
fn place_of(least: &Least) -> String {
    if least.from_sight < SHOWN {
        "at the sight edge".to_owned()
    } else {
        format!("{:.1} mm from the sight edge", least.from_sight)
    }
}

/// How to save `shortage` mm of depth so as to leave `enough`: only by what there is so much of.
pub(super) fn shallower(
    shortage: f64,
    enough: &str,
    measured: &survey::Sash,
    limits: &Limits,
) -> String {
    let (save, finish) = (up_to_tenth(shortage), measured.finish);
    let thinner = measured.unit.build_up.thickness() - save >= THINNEST_UNIT;
    let (closes, least) = if finish.is_puttied() {
        ("face putty", limits.putty_caution.value)
    } else {
        ("a bead", finish.proud)
    };
    let lower = finish.bead - least >= save;
    // A fixed sash closes against nothing, so its bead may stand proud instead.
    let proud = measured.kind == Kind::Fixed && lower && !finish.is_puttied();
    let ways = [
        (thinner, format!("a unit {save:.1} mm thinner")),
        (lower, format!("{closes} {save:.1} mm lower")),
        (
            proud,
            format!(
                "one that stands {save:.1} mm {}proud",
                if finish.proud > 0.0 { "more " } else { "" }
            ),
        ),
    ];
    let ways: Vec<String> = ways.into_iter().filter_map(|(can, way)| can.then_some(way)).collect();
    match ways.as_slice() {
        [] => format!(
            "no unit is so thin and no bead so low as to leave {enough}: leave this sash single glazed"
        ),
        ways => format!("{} would leave {enough}", ways.join(", or ")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;

    fn least(wood: f64, by_old: bool) -> Least {
        Least { wood, from_sight: 3.0, by_old, most: 20.0 }
    }

    fn verdicts(wood: f64) -> [Verdict; 2] {
        let limits = Limits::default();
        let findings = judge("left stile", &least(wood, false), &casement(), &limits);
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
            let measured = survey::Sash { kind, ..casement() };
            let [front, _] = judge("left stile", &least(3.01, by_old), &measured, &limits);
            front.advice
        };
        let hung = advice(false, Kind::SideHung);
        assert!(
            hung.contains("a unit 2.0 mm thinner") && hung.contains("would leave 5.0 mm"),
            "{hung}"
        );
        assert!(hung.contains("a bead 2.0 mm lower") && !hung.contains("proud"), "{hung}");
        // A bead of 10 mm cannot be 12 lower, and of 14 mm of glass 12 are too many.
        let words = shallower(12.0, "5.0 mm", &casement(), &limits);
        assert!(words.contains("leave this sash single glazed"), "{words}");
        assert!(advice(false, Kind::Fixed).contains("proud"));
        assert!(advice(true, Kind::Fixed).contains("glue in a slip"));
    }
}
