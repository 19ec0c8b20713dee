//! Judgements of what a unit bears. None stops the work: another glass can be ordered for the same
//! rebate.

use super::{Case, Climate, GlassUnit, Lasts, Strength};
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::survey::{Limits, Wind};

/// Works out and judges a unit at `place` (its light) under the wind and each climate.
///
/// `glass.strength.wind` and `.climate`: stress as a share of the permissible, loads multiplied by
/// `glass_load_factor`. `glass.strength.size` and `.slender`: what only the maker can answer.
pub fn judge(
    place: &str,
    unit: &GlassUnit,
    wind: &Wind,
    climates: &[Climate],
    limits: &Limits,
) -> Strength {
    let factor = limits.glass_load_factor.value;
    let mut cases = vec![Case {
        name: "wind".into(),
        panes: unit.carry(factor * wind.pressure(), 0.0, Lasts::Storm),
    }];
    cases.extend(climates.iter().map(|climate| Case {
        name: climate.name.into(),
        panes: unit.carry(0.0, factor * climate.isochoric(), Lasts::Weather),
    }));
    let mut findings = Vec::new();
    for (index, case) in cases.iter().enumerate() {
        let by_wind = (index == 0).then_some(wind);
        findings.extend(strength(place, case, by_wind, limits));
    }
    findings.push(size(place, unit, limits));
    findings.push(slender(place, unit, limits));
    Strength { unit_factor: unit.unit_factor(), cases, findings }
}

fn strength(place: &str, case: &Case, wind: Option<&Wind>, limits: &Limits) -> Option<Finding> {
    let worst = case.worst()?;
    let rule = if wind.is_some() { "glass.strength.wind" } else { "glass.strength.climate" };
    let used = Quantity { value: 100.0 * worst.share(), unit: "%" };
    let bounds = Bounds::caution(Bound::from(&limits.glass_use_caution).map(|share| 100.0 * share));
    let at = format!("{place}, pane {}, {}", worst.pane, case.name);
    Some(Finding::at_most(rule, at, used, bounds, |verdict, _| {
        let figure =
            format!("{:.1} N/mm² of {:.1} N/mm² permissible", worst.stress, worst.permissible);
        match (verdict, wind) {
            (Verdict::Clear, None) => figure,
            (Verdict::Clear, Some(wind)) => format!("{figure} in wind ({wind})"),
            (_, Some(wind)) => format!(
                "{figure} in wind ({wind}): thicker or toughened glass, or have the wind on this window worked out"
            ),
            (_, None) => format!(
                "{figure}: panes so small and stiff do not give way to the sealed-in gas; ask the maker \
                 for toughened glass or a narrower cavity, or fit one unit behind all bars"
            ),
        }
    }))
}

fn size(place: &str, unit: &GlassUnit, limits: &Limits) -> Finding {
    let bounds = Bounds::caution(&limits.glass_side_caution);
    let longest = Quantity::mm(unit.size.max_side());
    Finding::at_most(
        "glass.strength.size",
        place,
        longest,
        bounds,
        |verdict, bound| match verdict {
            Verdict::Clear => "of a size that makers offer".to_owned(),
            _ => format!(
                "a side over {bound:.0} mm is the maker's to answer: tolerances, thickness and guarantee"
            ),
        },
    )
}

fn slender(place: &str, unit: &GlassUnit, limits: &Limits) -> Finding {
    let ratio = Quantity { value: unit.size.max_side() / unit.size.min_side(), unit: "" };
    let bounds = Bounds::caution(&limits.glass_slender_caution);
    Finding::at_most("glass.strength.slender", place, ratio, bounds, |verdict, bound| match verdict
    {
        Verdict::Clear => "of a shape that makers offer".to_owned(),
        _ => format!(
            "longer than {bound:.0} times its width: ask the maker, who answers for such a shape"
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::super::Treatment;
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::Size;
    use proptest::prelude::*;

    fn unit(build_up: &str, treatment: Treatment, width: f64, height: f64) -> GlassUnit {
        GlassUnit::new(&build_up.parse().unwrap(), treatment, Size::new(width, height)).unwrap()
    }

    fn judged(unit: &GlassUnit, wind: f64) -> Strength {
        judge(
            "light 1",
            unit,
            &Wind::Stated(wind),
            &Climate::of(&crate::survey::Weather::default()),
            &Limits::default(),
        )
    }

    fn verdicts(strength: &Strength, rule: &str) -> Vec<Verdict> {
        let of_rule = strength.findings.iter().filter(|finding| finding.rule == rule);
        of_rule.map(|finding| finding.verdict).collect()
    }

    #[test]
    fn wind_on_like_panes_is_nearly_halved() {
        let strength = judged(&unit("4-16-4", Treatment::Annealed, 900.0, 900.0), 1000.0);
        let wind = &strength.cases[0];
        assert_eq!(wind.name, "wind");
        // By hand: φ = 1/(1 + (900/ a*)⁴), and σ = β q b²/t².
        let phi = strength.unit_factor.unwrap();
        assert!(phi < 0.05, "{phi}");
        let outer = wind.panes[0];
        assert_relative_eq!(outer.pressure, 1100.0 * 0.5 * (1.0 + phi), epsilon = 1e-6);
        let plate = super::super::coefficients(1.0, 0.2);
        let stress = plate.stress * outer.pressure * 1e-6 * 900.0 * 900.0 / 16.0;
        assert_relative_eq!(outer.stress, stress, epsilon = 1e-9);
        assert_eq!(verdicts(&strength, "glass.strength.wind"), [Verdict::Clear]);
    }

    #[test]
    fn narrow_lights_of_stiff_panes_are_warned_about_and_toughened_ones_not() {
        let climate = "glass.strength.climate";
        let narrow = judged(&unit("4-16-4", Treatment::Annealed, 240.0, 900.0), 800.0);
        assert_eq!(verdicts(&narrow, climate), [Verdict::Caution; 2]);
        assert!(narrow.unit_factor.unwrap() > 0.6);
        let toughened = judged(&unit("4-16-4", Treatment::Toughened, 240.0, 900.0), 800.0);
        assert_eq!(verdicts(&toughened, climate), [Verdict::Clear; 2]);
        let roomy = judged(&unit("4-16-4", Treatment::Annealed, 800.0, 900.0), 800.0);
        assert_eq!(verdicts(&roomy, climate), [Verdict::Clear; 2]);
    }

    #[test]
    fn large_and_slender_units_are_the_makers_to_answer() {
        let large = judged(&unit("4-16-4", Treatment::Annealed, 300.0, 2400.0), 0.0);
        assert_eq!(verdicts(&large, "glass.strength.size"), [Verdict::Caution]);
        assert_eq!(verdicts(&large, "glass.strength.slender"), [Verdict::Caution]);
        let usual = judged(&unit("4-16-4", Treatment::Annealed, 800.0, 900.0), 0.0);
        assert_eq!(verdicts(&usual, "glass.strength.size"), [Verdict::Clear]);
        assert_eq!(usual.cases[0].worst().unwrap().stress, 0.0);
    }

    #[test]
    fn a_laminate_counts_the_worse_way_in_either_case() {
        let size = Size::new(300.0, 500.0);
        let laminate = unit("33.1-8-4", Treatment::Annealed, 300.0, 500.0);
        for (outside, sealed) in [(1000.0, 0.0), (0.0, 8000.0)] {
            let carried = laminate.carry(outside, sealed, Lasts::Storm);
            for plies in [super::super::Plies::Loose, super::super::Plies::Bonded] {
                let one_way = laminate.carry_as(outside, sealed, Lasts::Storm, plies);
                for (worse, one) in carried.iter().zip(one_way) {
                    assert!(worse.stress >= one.stress);
                }
            }
        }
        assert_eq!(GlassUnit::new(&"14".parse().unwrap(), Treatment::Annealed, size), None);
        let build_up = "4-6-4".parse().unwrap();
        for width in [0.0, f64::NAN, f64::INFINITY] {
            let size = Size::new(width, 500.0);
            assert_eq!(GlassUnit::new(&build_up, Treatment::Annealed, size), None);
        }
    }

    proptest! {
        #[test]
        fn more_wind_is_never_less_stress_and_every_finding_is_a_number(
            width in 50.0..3000.0_f64, height in 50.0..3000.0_f64, wind in 0.0..5000.0_f64, more in 0.0..5000.0_f64,
            text in prop_oneof![Just("4-6-4"), Just("6.4-8-4"), Just("4-8-4-8-4"), Just("3-4-3")],
        ) {
            let unit = unit(text, Treatment::Annealed, width, height);
            let (less, more) = (judged(&unit, wind), judged(&unit, wind + more));
            for (a, b) in less.cases[0].panes.iter().zip(&more.cases[0].panes) {
                prop_assert!(b.stress >= a.stress - 1e-9);
            }
            for finding in &more.findings {
                prop_assert!(finding.measured.value.is_finite() && !finding.advice.is_empty());
            }
        }
    }
}
