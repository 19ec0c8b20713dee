//! A gap, and everything that may take from it.

use super::chance::{normal, times};
use crate::language::{Text, text};
use schemars::JsonSchema;
use serde::Serialize;

/// What may take from a gap.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Taker {
    /// What it is, in words.
    pub name: &'static str,
    /// The least that it takes, mm; negative where it may as well give.
    pub least: f64,
    /// The most that it takes, mm.
    pub most: f64,
    /// Whether it takes its share only once the unit is in: weather and sun.
    pub later: bool,
}

impl Taker {
    /// Out by as much either way.
    pub(super) fn either_way(name: &'static str, most: f64) -> Taker {
        Taker { name, least: -most, most, later: false }
    }

    /// It can only take.
    pub(super) fn takes(name: &'static str, most: f64) -> Taker {
        Taker { name, least: 0.0, most, later: false }
    }

    /// It takes once the unit is in.
    pub(super) fn later(name: &'static str, most: f64) -> Taker {
        Taker { name, least: 0.0, most, later: true }
    }

    /// What makes it take less.
    fn surer(&self) -> Text {
        match self.name {
            "measuring" => text!("gap-measure-again"),
            "cutting" => text!("gap-template"),
            _ => text!("gap-measure-first"),
        }
    }

    fn mean(&self) -> f64 {
        f64::midpoint(self.least, self.most)
    }

    /// σ² of a value of which nothing is known but its bounds: (b − a)²/12. Guide to the expression of uncertainty
    /// in measurement (JCGM 100:2008), 4.3.7.
    fn variance(&self) -> f64 {
        (self.most - self.least).powi(2) / 12.0
    }
}

/// A gap and its takers.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Budget {
    /// As drawn, mm.
    pub gap: f64,
    /// What must be left of it, mm.
    pub wanted: f64,
    /// The key of what it is for: that the unit goes in without planing.
    pub goal: &'static str,
    /// Everything that may take from it.
    pub takers: Vec<Taker>,
}

impl Budget {
    /// `19 times in 20 the unit goes in without planing`.
    pub fn likely(&self) -> Text {
        text!(self.goal, times = times(self.chance()))
    }

    /// The same, where most doubt is, and what would make it surer.
    pub fn words(&self) -> Text {
        let told = self.likely();
        let Some((taker, _)) = self.largest() else { return told };
        text!("gap-doubt", told, taker = Text::name(taker.name), surer = taker.surer())
    }

    fn at_fitting(&self) -> impl Iterator<Item = &Taker> {
        self.takers.iter().filter(|taker| !taker.later)
    }

    fn variance(&self) -> f64 {
        self.at_fitting().map(Taker::variance).sum()
    }

    /// Chance that what is wanted is left when the unit is put in, 0 to 1. Takers that have nothing to do with
    /// one another add up to nearly a normal distribution: their means and their variances add.
    pub fn chance(&self) -> f64 {
        let left = self.gap - self.at_fitting().map(Taker::mean).sum::<f64>() - self.wanted;
        let sigma = self.variance().sqrt();
        if sigma > 0.0 { normal(left / sigma) } else { f64::from(u8::from(left >= 0.0)) }
    }

    /// What takes most of the doubt when the unit is put in, and its share of the variance; the first of equals.
    pub fn largest(&self) -> Option<(&Taker, f64)> {
        let all = self.variance();
        let takers: Vec<&Taker> = self.at_fitting().collect();
        let most = takers.into_iter().rev().max_by(|a, b| a.variance().total_cmp(&b.variance()))?;
        (all > 0.0).then(|| (most, most.variance() / all))
    }

    /// What is left in use, of sizes as drawn, once weather and sun take their most, mm.
    pub fn in_use(&self) -> f64 {
        self.gap
            - self.takers.iter().filter(|taker| taker.later).map(|taker| taker.most).sum::<f64>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn budget(gap: f64, most: &[f64]) -> Budget {
        let takers = most.iter().map(|&most| Taker::either_way("something", most)).collect();
        Budget { gap, wanted: 0.0, goal: "gap-goes-in", takers }
    }

    // By hand: limits of 3 and 4 mm either way have σ = √(9/3 + 16/3) = 5/√3 together; a gap of twice that leaves
    // something 97.725 times in 100 (table of the normal distribution).
    #[test]
    fn limits_of_three_and_four_add_up_to_five() {
        let two_sigma = 2.0 * 5.0 / 3.0_f64.sqrt();
        let both = budget(two_sigma, &[3.0, 4.0]);
        assert_relative_eq!(both.chance(), 0.977_25, epsilon = 1e-5);
        let all = Budget { wanted: two_sigma, ..both.clone() };
        assert_relative_eq!(all.chance(), 0.5, epsilon = 1e-12);
        let (most, share) = both.largest().unwrap();
        assert_eq!(most.most, 4.0);
        assert_relative_eq!(share, 16.0 / 25.0);
        assert_eq!(budget(1.0, &[]).largest(), None);
        assert_eq!((budget(1.0, &[]).chance(), budget(-1.0, &[]).chance()), (1.0, 0.0));
        let mut equal = budget(1.0, &[2.0, 2.0]);
        equal.takers[0].name = "first";
        assert_eq!(equal.largest().unwrap().0.name, "first");
    }

    // By hand: what can only take shifts the mean by half of its most, and has half the spread.
    #[test]
    fn what_can_only_take_counts_half_and_what_comes_later_not_at_all() {
        let takers = vec![Taker::takes("offset", 2.0), Taker::later("timber", 3.0)];
        let one =
            Budget { gap: 1.5 + 2.0 / 12.0_f64.sqrt(), wanted: 0.5, goal: "gap-goes-in", takers };
        assert_relative_eq!(one.chance(), 0.841_34, epsilon = 1e-5);
        assert_relative_eq!(one.in_use(), one.gap - 3.0);
    }

    proptest! {
        // Against adding the deviations up thousands of times: three uniform ones, on a grid.
        #[test]
        fn a_grid_of_deviations_says_the_same(gap in 0.0..4.0_f64, most in prop::array::uniform3(0.5..1.5_f64)) {
            let steps = 24;
            let at = |n: i32, most: f64| most * (2.0 * (f64::from(n) + 0.5) / f64::from(steps) - 1.0);
            let mut goes = 0;
            for (a, b, c) in (0..steps).flat_map(|a| (0..steps).flat_map(move |b| (0..steps).map(move |c| (a, b, c)))) {
                goes += i32::from(at(a, most[0]) + at(b, most[1]) + at(c, most[2]) <= gap);
            }
            let counted = f64::from(goes) / f64::from(steps.pow(3));
            prop_assert!((budget(gap, &most).chance() - counted).abs() < 0.035, "{counted}");
        }

        #[test]
        fn more_doubt_never_makes_it_surer(gap in 0.0..10.0_f64, most in prop::collection::vec(0.0..5.0_f64, 0..8), more in 0.0..5.0_f64) {
            let all = budget(gap, &most);
            let mut another = most;
            another.push(more);
            prop_assert!(budget(gap, &another).chance() <= all.chance() + 1e-9);
            prop_assert!(budget(gap + more, &another).chance() >= budget(gap, &another).chance() - 1e-9);
        }
    }
}
