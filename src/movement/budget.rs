//! A gap, and everything that may take from it.

use schemars::JsonSchema;
use serde::Serialize;

/// What may take from a gap.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Taker {
    /// What it is, in words.
    pub name: &'static str,
    /// The most that it takes, mm.
    pub most: f64,
}

/// A gap and its takers.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Budget {
    /// As drawn, mm.
    pub gap: f64,
    /// Everything that may take from it.
    pub takers: Vec<Taker>,
}

impl Budget {
    /// What is left where everything takes its most at once, mm.
    pub fn worst(&self) -> f64 {
        self.gap - self.takers.iter().map(|taker| taker.most).sum::<f64>()
    }

    /// What is left where each takes its likely share, mm: the root of the sum of the squares, which
    /// holds where they have nothing to do with one another.
    pub fn likely(&self) -> f64 {
        self.gap - self.takers.iter().map(|taker| taker.most.powi(2)).sum::<f64>().sqrt()
    }

    /// What takes most; the first of equals.
    pub fn largest(&self) -> Option<&Taker> {
        self.takers.iter().rev().max_by(|a, b| a.most.total_cmp(&b.most))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn budget(gap: f64, most: &[f64]) -> Budget {
        let takers = most.iter().map(|&most| Taker { name: "something", most }).collect();
        Budget { gap, takers }
    }

    #[test]
    fn three_and_four_are_seven_or_five() {
        let both = budget(10.0, &[3.0, 4.0]);
        assert_relative_eq!(both.worst(), 3.0);
        assert_relative_eq!(both.likely(), 5.0);
        assert_eq!(both.largest().unwrap().most, 4.0);
        assert_eq!(budget(1.0, &[]).largest(), None);
        let mut equal = budget(1.0, &[2.0, 2.0]);
        equal.takers[0].name = "first";
        assert_eq!(equal.largest().unwrap().name, "first");
    }

    proptest! {
        #[test]
        fn the_likely_is_never_worse_than_the_worst(gap in 0.0..10.0_f64, most in prop::collection::vec(0.0..5.0_f64, 0..8), more in 0.0..5.0_f64) {
            let all = budget(gap, &most);
            prop_assert!(all.worst() <= all.likely() + 1e-9 && all.likely() <= gap);
            let mut another = most;
            another.push(more);
            prop_assert!(budget(gap, &another).likely() <= all.likely() + 1e-9);
        }
    }
}
