//! Warmth, strength, hanging and movement on every sash of the example house: the answers are numbers,
//! the advice reads, and what must agree between rooms does.

use crate::support;
use fillister::finding::Finding;
use fillister::fit::{Fit, fit};
use fillister::glass::strength::{self, Climate, GlassUnit, Treatment};
use fillister::glass::thermal::{Filling, Gas, Glazing, corrected};
use fillister::hanging::{Hinges, WeightBox, counterweights, heavier, lifting, side_hung, weigh};
use fillister::movement::{Allowances, movement};
use fillister::rebate::divide;
use fillister::sash::Sash;
use fillister::survey::{House, Kind, Weather, Workshop, read};
use fillister::warmth::{Choice, Conditions, Losses, Spacer, warmth};

fn house() -> House {
    read(support::EXAMPLE, "example").unwrap()
}

fn glass(sash: &Sash, fit: &Fit, workshop: &Workshop) -> Vec<Finding> {
    let build_up = &sash.measured.unit.build_up;
    let mut found = Vec::new();
    for unit in &fit.units {
        if let Some(glass) = GlassUnit::new(build_up, Treatment::Annealed, unit.order) {
            let climates = Climate::of(&Weather::default());
            let wind = &sash.measured.wind;
            let judged = strength::judge(&unit.light, &glass, wind, &climates, &workshop.limits);
            found.extend(judged.findings);
        }
    }
    let filling = Filling::in_air(Gas::Argon, 0.9).unwrap();
    if let Some(new) = Glazing::of(build_up, filling, corrected(0.03).unwrap()) {
        let old = Glazing::single(3.0).unwrap();
        let spacer = Spacer::Improved;
        let choice =
            Choice { old, old_thickness: 3.0, new: new.unwrap(), spacer, seal: 12.0, coated: true };
        let warmth = warmth(sash, &choice, &Conditions::default(), Some(70.0), &Losses::Tables);
        assert!(warmth.after.whole_u < warmth.before.whole_u, "{}", sash.measured.id);
        assert!(warmth.saved.unwrap() > 0.0);
        found.extend(warmth.findings);
    }
    found
}

fn hangs(sash: &Sash, fit: &Fit, workshop: &Workshop) -> Vec<Finding> {
    let rebate = divide(sash, fit, workshop.cutter.radius()).unwrap();
    let Some(weights) = weigh(sash, fit, &rebate, Some(3.0)) else { return Vec::new() };
    // The wood that goes is the difference of the timbers.
    let goes: f64 = rebate.go.iter().map(fillister::sash::Solid::volume).sum();
    let difference = weights.timber_before - weights.timber_after;
    assert!((difference - goes * sash.measured.timber.species.density * 1e-9).abs() < 1e-9);
    let (kind, limits) = (sash.measured.kind, &workshop.limits);
    let mut found = vec![lifting(&weights, limits)];
    found.extend(heavier(kind, &weights, limits));
    let both = (weights.before(), weights.after());
    let room = WeightBox { diameter: 40.0, height: 1600.0, travel: 700.0, old: None };
    let balanced = counterweights(kind, both, &room, limits);
    assert_eq!(balanced.is_some(), matches!(kind, Kind::SlidingUpper | Kind::SlidingLower));
    found.extend(balanced.into_iter().flat_map(|weights| weights.findings));
    if kind == Kind::SideHung {
        let hinges = Hinges {
            apart: 600.0,
            count: 2,
            screws: 3,
            diameter: 4.0,
            thread: 20.0,
            cleared: false,
        };
        let timber = &sash.measured.timber;
        found.push(
            side_hung(
                weights.after(),
                sash.outer.size(),
                &hinges,
                f64::from(hinges.screws),
                timber,
                limits,
            )
            .finding,
        );
    }
    found
}

#[test]
fn every_sash_of_the_example_gets_answers_that_read() {
    let house = house();
    let mut answered = 0;
    for measured in &house.sashes {
        let sash = Sash::new(measured).unwrap();
        let fit = fit(&sash, &house.workshop).unwrap();
        let mut findings = glass(&sash, &fit, &house.workshop);
        findings.extend(hangs(&sash, &fit, &house.workshop));
        let moved = movement(&sash, &fit, &Allowances::default(), &house.workshop.limits);
        findings.extend(moved.into_iter().flat_map(|moved| moved.findings));
        for finding in &findings {
            println!(
                "{} {:8} {} ({}): {} / {}. {} [{}]",
                measured.id,
                finding.verdict,
                finding.rule,
                finding.place,
                finding.measured,
                finding.limit,
                finding.advised(),
                finding.basis
            );
            assert!(finding.measured.value.is_finite() && finding.limit.value.is_finite());
            assert!(finding.advised().ends_with('.') && !finding.advised().contains("NaN"));
        }
        answered += findings.len();
    }
    assert!(answered > 10 * house.sashes.len(), "{answered}");
}
