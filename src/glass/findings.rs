//! What is unusual about a unit. A usual one gives no finding: none of this bears on the wood.

use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::language::{Text, text};
use crate::survey::{BuildUp, Unit};

/// Seals lower than this lack evidence that they last.
const STANDARD_SEAL: Bound = Bound {
    value: 10.0,
    basis: Basis::Published("glazing federation technical update 2019 (sightline 10 to 12 mm)"),
};

/// Narrowest cavity of a heritage unit.
const NARROWEST: Bound = Bound {
    value: 4.0,
    basis: Basis::Published("glazing federation technical update 2019 (cavities 4, 6, 8 mm)"),
};

/// Widest cavity worth having.
const WIDEST: Bound = Bound {
    value: 20.0,
    basis: Basis::Published("EN ISO 10077-1:2006, table C.2 (cavities to 20 mm)"),
};

/// Thinnest pane usual in sashes.
const THINNEST_PANE: Bound = Bound { value: 3.0, basis: Basis::CommonPractice };

/// Judges the unit itself: only what wants care is spoken of.
pub fn judge(unit: &Unit) -> Vec<Finding> {
    let mut findings = vec![at_least(
        "glass.seal",
        "spacer and seal".into(),
        unit.spacer_height,
        STANDARD_SEAL,
        text!("glass-low-seal"),
    )];
    if let BuildUp::Panes { panes, cavities } = &unit.build_up {
        for (index, &cavity) in cavities.iter().enumerate() {
            let place = || format!("cavity {}", index + 1);
            let narrow = text!("glass-narrow-cavity");
            findings.push(at_least("glass.cavity", place(), cavity, NARROWEST, narrow));
            let wide = text!("glass-wide-cavity");
            let bounds = Bounds::caution(WIDEST);
            let quantity = Quantity::mm(cavity);
            let advice = |_, _| wide;
            findings.push(Finding::at_most("glass.cavity", place(), quantity, bounds, advice));
        }
        for (index, pane) in panes.iter().enumerate() {
            let advice = text!("glass-thin-pane");
            let place = format!("pane {}", index + 1);
            findings.push(at_least("glass.pane", place, pane.thickness(), THINNEST_PANE, advice));
        }
    }
    findings.retain(|finding| finding.verdict != Verdict::Clear);
    findings
}

fn at_least(rule: &'static str, place: String, value: f64, bound: Bound, advice: Text) -> Finding {
    let bounds = Bounds::caution(bound);
    Finding::at_least(rule, place, Quantity::mm(value), bounds, |_, _| advice)
}

#[cfg(test)]
mod tests {
    use super::super::tests::unit;
    use super::*;

    #[test]
    fn a_usual_unit_is_passed_over_in_silence() {
        assert_eq!(judge(&unit("4-6-4")), vec![]);
        assert_eq!(judge(&unit("14")), vec![]);
        assert_eq!(judge(&Unit { spacer_height: 10.0, ..unit("3-4-3") }), vec![]);
    }

    #[test]
    fn what_is_unusual_wants_care_and_says_where() {
        let odd = Unit { spacer_height: 6.0, ..unit("2-3-4-22-4") };
        let found: Vec<_> = judge(&odd)
            .into_iter()
            .map(|finding| {
                let place = finding.place.to_string();
                (finding.rule, place, finding.measured.value, finding.verdict)
            })
            .collect();
        let care = Verdict::Caution;
        assert_eq!(
            found,
            [
                ("glass.seal", "spacer and seal".to_owned(), 6.0, care),
                ("glass.cavity", "cavity 1".to_owned(), 3.0, care),
                ("glass.cavity", "cavity 2".to_owned(), 22.0, care),
                ("glass.pane", "pane 1".to_owned(), 2.0, care),
            ]
        );
    }
}
