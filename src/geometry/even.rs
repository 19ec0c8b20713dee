//! How far an outline is grown where its sides go on smoothly into each other, so that it has no step.

use super::offset::smooth;
use super::{COINCIDENT, PerSide, Side, Sided};
use kurbo::Vec2;

/// A growth without steps: every side outwards by its distance, then all of it moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Even {
    /// Outwards, mm.
    pub by: PerSide<f64>,
    /// And then, mm.
    pub moved: Vec2,
}

impl Sided {
    /// `values` with the larger one wherever two sides go on smoothly into each other, so that an
    /// outline grown by them has no step.
    #[must_use]
    pub fn evened(&self, values: &PerSide<f64>) -> PerSide<f64> {
        let mut evened = *values;
        let met = self.smoothly_met();
        // Four sides need no more rounds than that for a value to go all the way.
        for _ in Side::ALL {
            for &(from, to) in &met {
                let most = evened.get(from).max(*evened.get(to));
                evened = PerSide::from_fn(|side| {
                    if side == from || side == to { most } else { *evened.get(side) }
                });
            }
        }
        evened
    }

    /// The least growth without steps that takes the middle of every side, where it looks straight left,
    /// right, up or down, out by `middle` mm, and every place of a side by `least` mm.
    ///
    /// An outline without any corner that is grown by a and moved by b lies a + b·n further out where it
    /// looks along n; so opposite sides may differ, as a unit's gaps at the top and at the bottom do:
    /// b is half of what they differ by, and a their mean, or more where `least` asks for it.
    #[must_use]
    pub fn even_growth(&self, middle: &PerSide<f64>, least: &PerSide<f64>) -> Even {
        let most = PerSide::from_fn(|side| middle.get(side).max(*least.get(side)));
        let still = Even { by: self.evened(&most), moved: Vec2::ZERO };
        let met = self.smoothly_met();
        let goes_round = Side::ALL.iter().all(|side| met.iter().any(|(from, _)| from == side));
        if met.len() < self.outline().edges().len() || !goes_round {
            return still;
        }
        let moved = 0.5 * Vec2::new(middle.right - middle.left, middle.top - middle.bottom);
        let means = [middle.left + middle.right, middle.bottom + middle.top].map(|sum| 0.5 * sum);
        let floor = |values: &PerSide<f64>, pick: fn(f64, f64) -> f64| {
            values.iter().map(|(_, value)| *value).reduce(pick).unwrap_or(0.0)
        };
        let anywhere = floor(least, f64::max).max(floor(middle, f64::min)) + moved.hypot();
        let by = means.into_iter().fold(anywhere, f64::max);
        if by < still.by.left - COINCIDENT { Even { by: PerSide::all(by), moved } } else { still }
    }

    /// Sides of the edges before and after each corner that is none.
    fn smoothly_met(&self) -> Vec<(Side, Side)> {
        let count = self.outline().edges().len();
        let before = self.edges().collect::<Vec<_>>().into_iter().cycle();
        before
            .skip(count.saturating_sub(1))
            .zip(self.edges())
            .filter(|((into, _), (out, _))| smooth(into, out))
            .map(|((_, from), (_, to))| (from, to))
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Head, Height, arched, circle};
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    const ASKED: PerSide<f64> = PerSide { left: 14.0, right: 14.0, bottom: 16.0, top: 14.0 };

    // Closed form: two circles whose centres lie 1 mm apart and whose radii differ by 15 mm.
    #[test]
    fn a_circle_grows_to_a_circle_that_lies_lower() {
        let inner = circle(500.0).unwrap();
        let even = inner.even_growth(&ASKED, &PerSide::all(9.0));
        assert_eq!(even, Even { by: PerSide::all(15.0), moved: Vec2::new(0.0, -1.0) });
        let outer = inner.grow(&even.by).unwrap().moved(even.moved).bounds();
        assert_relative_eq!(outer.width(), 530.0, epsilon = 1e-9);
        assert_relative_eq!(outer.y1, 514.0, epsilon = 1e-9);
        assert_relative_eq!(outer.y0, -16.0, epsilon = 1e-9);
    }

    #[test]
    fn what_is_wanted_everywhere_comes_first() {
        let inner = circle(500.0).unwrap();
        // 14.5 at the top is 15.5 less 1; with 15 all round nothing is gained by lying lower.
        let even = inner.even_growth(&ASKED, &PerSide::all(14.5));
        assert_eq!(even, Even { by: PerSide::all(15.5), moved: Vec2::new(0.0, -1.0) });
        let even = inner.even_growth(&ASKED, &PerSide::all(15.0));
        assert_eq!(even, Even { by: PerSide::all(16.0), moved: Vec2::ZERO });
    }

    #[test]
    fn an_outline_with_a_corner_grows_by_each_side() {
        let arch = arched(600.0, Height::Total(900.0), Head::Semicircular).unwrap();
        let even = arch.even_growth(&ASKED, &PerSide::all(9.0));
        assert_eq!(even, Even { by: ASKED, moved: Vec2::ZERO });
        let wider = PerSide { top: 18.0, ..PerSide::all(9.0) };
        let by = PerSide { left: 18.0, right: 18.0, bottom: 16.0, top: 18.0 };
        assert_eq!(arch.even_growth(&ASKED, &wider).by, by);
    }

    proptest! {
        #[test]
        fn nowhere_less_than_asked_and_nowhere_more_than_the_widest(
            asked in prop::array::uniform4(10.0..30.0_f64), old in prop::array::uniform4(5.0..30.0_f64),
        ) {
            let per_side = |[left, right, bottom, top]: [f64; 4]| PerSide { left, right, bottom, top };
            let (asked, old) = (per_side(asked), per_side(old));
            let inner = circle(500.0).unwrap();
            let even = inner.even_growth(&asked, &old);
            let outer = inner.grow(&even.by).unwrap().moved(even.moved);
            let widest = Side::ALL.iter().map(|side| asked.get(*side).max(*old.get(*side))).fold(0.0, f64::max);
            let bounds = outer.bounds();
            let middles = PerSide {
                left: -bounds.x0, right: bounds.x1 - 500.0, bottom: -bounds.y0, top: bounds.y1 - 500.0,
            };
            for (side, super::super::MinMax { least, most }) in inner.gaps_to(&outer).iter() {
                prop_assert!(*middles.get(side) >= asked.get(side) - 1e-9, "{side}");
                prop_assert!(*least >= old.get(side) - 1e-9 && *most <= 2.0 * widest, "{side}");
            }
            prop_assert!(even.by.left <= widest + 1e-9);
        }
    }
}
