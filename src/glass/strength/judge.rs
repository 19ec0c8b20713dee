//! Judgements of what a unit bears. None stops the work: another glass can be ordered for the same
//! rebate.

use super::{Case, Climate, GlassUnit, Lasts, PaneLoad, Strength};
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::language::text;
use crate::survey::{Limits, Wind};

/// What of a load counts that goes with another and changes as it does: wind beside weather, weather beside wind. ψ0
/// of DIN 18008-1, as an open facade calculator has it (published).
const ACCOMPANYING: f64 = 0.6;

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
    let (wind_load, cases_of) = (factor * wind.pressure(), |climate: &Climate| {
        let lasting = factor * climate.lasting();
        (lasting, factor * climate.isochoric() - lasting)
    });
    // Whatever lasts less than what it goes with is proven as well: every sum by itself, each with the time of
    // its shortest part. Wind presses or draws.
    let mut storm = vec![(wind_load, 0.0, Lasts::Storm)];
    let mut cases = Vec::new();
    for climate in climates {
        let (lasting, weather) = cases_of(climate);
        let with = lasting + ACCOMPANYING * weather;
        storm.extend([wind_load, -wind_load].map(|wind| (wind, with, Lasts::Storm)));
        let all = lasting + weather;
        let beside = ACCOMPANYING * wind_load;
        let loads = [
            (0.0, lasting, Lasts::Always),
            (0.0, all, Lasts::Weather),
            (beside, all, Lasts::Storm),
            (-beside, all, Lasts::Storm),
        ];
        cases.push(Case { name: climate.name.into(), panes: worst_of(unit, &loads) });
    }
    cases.insert(0, Case { name: "wind".into(), panes: worst_of(unit, &storm) });
    let mut findings = Vec::new();
    for (index, case) in cases.iter().enumerate() {
        let by_wind = (index == 0).then_some(wind);
        findings.extend(strength(place, case, by_wind, limits));
    }
    findings.push(size(place, unit, limits));
    findings.push(slender(place, unit, limits));
    let (unit_factor, short_edge) = (unit.unit_factor(), unit.short_edge());
    let exempt = unit.exempt(wind.pressure());
    Strength { unit_factor, short_edge, exempt, winter: None, cases, findings }
}

/// Each pane under the load that brings it nearest to what it may bear: Pa from outside, Pa sealed in, for how long.
fn worst_of(unit: &GlassUnit, loads: &[(f64, f64, Lasts)]) -> Vec<PaneLoad> {
    let carried =
        loads.iter().map(|&(outside, sealed_in, lasts)| unit.carry(outside, sealed_in, lasts));
    carried.reduce(PaneLoad::worst_of_each).unwrap_or_default()
}

fn strength(place: &str, case: &Case, wind: Option<&Wind>, limits: &Limits) -> Option<Finding> {
    let worst = case.worst()?;
    let rule = if wind.is_some() { "glass.strength.wind" } else { "glass.strength.climate" };
    let used = Quantity { value: 100.0 * worst.share(), unit: "%" };
    let bounds = Bounds::caution(Bound::from(&limits.glass_use_caution).map(|share| 100.0 * share));
    let at = format!("{place}, pane {}, {}", worst.pane, case.name);
    Some(Finding::at_most(rule, at, used, bounds, |verdict, _| {
        let figure = text!(
            "glass-stress",
            stress = format!("{:.1}", worst.stress),
            permissible = format!("{:.1}", worst.permissible)
        );
        match (verdict, wind) {
            (Verdict::Clear, None) => figure,
            (Verdict::Clear, Some(wind)) => {
                text!("glass-in-wind", figure, wind = wind.told())
            }
            (_, Some(wind)) => text!("glass-wind", figure, wind = wind.told()),
            (_, None) => text!("glass-climate", figure),
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
            Verdict::Clear => text!("glass-size-fine"),
            _ => text!("glass-size", bound = format!("{bound:.0}")),
        },
    )
}

fn slender(place: &str, unit: &GlassUnit, limits: &Limits) -> Finding {
    let ratio = Quantity { value: unit.size.max_side() / unit.size.min_side(), unit: "" };
    let bounds = Bounds::caution(&limits.glass_slender_caution);
    Finding::at_most("glass.strength.slender", place, ratio, bounds, |verdict, bound| match verdict
    {
        Verdict::Clear => text!("glass-shape-fine"),
        _ => text!("glass-slender", bound = format!("{bound:.0}")),
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
        let unit = unit("4-16-4", Treatment::Annealed, 900.0, 900.0);
        let outer = unit.carry(1100.0, 0.0, Lasts::Storm)[0];
        assert!(wind.panes[0].share() >= outer.share());
        assert_relative_eq!(outer.pressure, 1100.0 * 0.5 * (1.0 + phi), epsilon = 1e-6);
        let plate = super::super::coefficients(1.0, 0.2);
        let stress = plate.stress * outer.pressure * 1e-6 * 900.0 * 900.0 / 16.0;
        assert_relative_eq!(outer.stress, stress, epsilon = 1e-9);
        assert_eq!(verdicts(&strength, "glass.strength.wind"), [Verdict::Clear]);
    }

    // Steps of TRLV 08/2006, table 1 (published): ±16 kN/m². The model is that of an open facade
    // calculator (published), its figures worked out apart from this program: a linear plate, ν 0.2, series of 200 terms.
    #[test]
    fn worked_examples_of_sealed_gas() {
        for (build_up, [short, long], phi, stress) in [
            ("4-6-4", [300.0, 300.0], 0.4583, 10.94),
            ("4-6-4", [300.0, 400.0], 0.3402, 12.55),
            ("3-4-3", [250.0, 400.0], 0.1919, 10.70),
            ("4-12-4", [500.0, 800.0], 0.0955, 11.98),
            ("4-16-4", [800.0, 1000.0], 0.0291, 7.01),
        ] {
            let unit = unit(build_up, Treatment::Annealed, short, long);
            assert_relative_eq!(unit.unit_factor().unwrap(), phi, max_relative = 0.015);
            let carried = unit.carry(0.0, 16_000.0, Lasts::Weather);
            assert_relative_eq!(carried[0].stress, stress, max_relative = 0.015);
        }
    }

    // DIN 18008-2:2010-12, 7.5, note: float, 500 mm of a double unit and 700 of a triple one.
    #[test]
    fn short_edges_of_float_are_told() {
        let under = |build_up, treatment, short| {
            judged(&unit(build_up, treatment, short, 900.0), 800.0).short_edge
        };
        assert_eq!(under("4-6-4", Treatment::Annealed, 499.0), Some(500.0));
        assert_eq!(under("4-6-4", Treatment::Annealed, 500.0), None);
        assert_eq!(under("4-8-4-8-4", Treatment::Annealed, 699.0), Some(700.0));
        assert_eq!(under("4-6-4", Treatment::Toughened, 300.0), None);
    }

    // Height lasts for good and glass tires of it: 7.25 N/mm² for fifty years where weather may take 14.5.
    #[test]
    fn height_alone_is_held_against_fifty_years() {
        let weather = crate::survey::Weather {
            altitude: Some(1600.0),
            sealed_altitude: Some(0.0),
            gas: [20.0, 20.0],
            barometer: [1013.25, 1013.25],
            ..Default::default()
        };
        let unit = unit("4-6-4", Treatment::Annealed, 300.0, 400.0);
        let judged =
            judge("light 1", &unit, &Wind::Stated(0.0), &Climate::of(&weather), &Limits::default());
        let pane = judged.cases[1].worst().unwrap();
        assert_relative_eq!(pane.permissible, 7.25, max_relative = 0.02);
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
                prop_assert!(finding.measured.value.is_finite() && !finding.advised().is_empty());
            }
        }
    }
}
