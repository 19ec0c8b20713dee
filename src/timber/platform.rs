//! Wood between platform and moulding, and the sight line.

use super::cross::Least;
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict, up_to_tenth};
use crate::geometry::COINCIDENT;
use crate::language::{Text, text};
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
    let at = || place_of(least);
    let front = Finding::at_least("timber.front", place, wood, bounds, |verdict, bound| {
        match (verdict, least.by_old) {
            (Verdict::Clear, _) => text!("wood-front-enough", at = at()),
            (_, true) => text!("wood-front-old-deeper", at = at()),
            (_, false) if least.most < bound - COINCIDENT => {
                text!("wood-front-old", at = at(), most = Quantity::mm(least.most).to_string())
            }
            (_, false) => {
                let enough = text!("length-mm", length = format!("{bound:.1}"));
                let cure = shallower(bound - least.wood, enough, measured, limits);
                text!("wood-front", at = at(), cure)
            }
        }
    });
    // Wood as thin as rounding is no wood.
    let bounds = Bounds::stop(Bound::geometry(COINCIDENT));
    let sight = Finding::at_least("timber.sight-line", place, wood, bounds, |verdict, _| {
        if verdict == Verdict::Clear {
            text!("wood-sight-line-whole")
        } else {
            text!("wood-sight-line-broken", at = place_of(least))
        }
    });
    [front, sight]
}

/// What is less shows as 0.0 mm: the edge itself.
const SHOWN: f64 = 0.05;

/// `at the sight edge`, or how far from it.
fn place_of(least: &Least) -> Text {
    if least.from_sight < SHOWN {
        text!("answer-at-edge")
    } else {
        text!("answer-from-edge", from = format!("{:.1}", least.from_sight))
    }
}

/// How to save `shortage` mm of depth so as to leave `enough`: only by what there is so much of.
pub(super) fn shallower(
    shortage: f64,
    enough: Text,
    measured: &survey::Sash,
    limits: &Limits,
) -> Text {
    let (save, finish) = (up_to_tenth(shortage), measured.finish);
    let thinner = measured.unit.build_up.thickness() - save >= THINNEST_UNIT;
    let (closes, least) = if finish.is_puttied() {
        ("wood-lower-putty", limits.putty_caution.value)
    } else {
        ("wood-lower-bead", finish.proud)
    };
    let lower = finish.bead - least >= save;
    // A fixed sash closes against nothing, so its bead may stand proud instead.
    let proud = measured.kind == Kind::Fixed && lower && !finish.is_puttied();
    let stands = if finish.proud > 0.0 { "wood-stands-prouder" } else { "wood-stands-proud" };
    let ways = [(thinner, "wood-thinner"), (lower, closes), (proud, stands)];
    let ways = ways.into_iter().filter(|(can, _)| *can);
    let ways = ways.map(|(_, key)| text!(key, save = format!("{save:.1}")));
    match ways.reduce(|one, other| text!("sash-or", one, other)) {
        None => text!("wood-single-glazed", enough),
        Some(ways) => text!("wood-would-leave", ways, enough),
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
            front.advised()
        };
        let hung = advice(false, Kind::SideHung);
        assert!(
            hung.contains("a unit 2.0 mm thinner") && hung.contains("would leave 5.0 mm"),
            "{hung}"
        );
        assert!(hung.contains("a bead 2.0 mm lower") && !hung.contains("proud"), "{hung}");
        // A bead of 10 mm cannot be 12 lower, and of 14 mm of glass 12 are too many.
        let words = shallower(12.0, Text::given("5.0 mm"), &casement(), &limits).to_string();
        assert!(words.contains("leave this sash single glazed"), "{words}");
        assert!(advice(false, Kind::Fixed).contains("proud"));
        assert!(advice(true, Kind::Fixed).contains("glue in a slip"));
    }
}
