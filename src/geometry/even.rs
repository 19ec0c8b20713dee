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

    /// The least growth without steps in which what reaches `reach` mm beyond the outline all round may be pushed to
    /// every side by its `gap` mm, and which takes every place of a side out by `least` mm.
    ///
    /// An outline without any corner that is grown by a and moved by b lies a + b·n further out where it
    /// looks along n; so opposite sides may differ, as a unit's gaps at the top and at the bottom do: b is half of what
    /// they differ by. What is pushed by p along n then lies p·n − b off the middle of its wall and goes in
    /// where |p·n − b| ≤ a − reach: towards the right |p·n − b|² = ((left + right) / 2)² + ((top − bottom) / 2)².
    /// So a − reach is the greater hypotenuse of a pair's mean and half of what the other pair differs by, or more
    /// where `least`, or the least gap on a slant, asks for it.
    #[must_use]
    pub fn even_growth(&self, reach: f64, gap: &PerSide<f64>, least: &PerSide<f64>) -> Even {
        let most = PerSide::from_fn(|side| (reach + gap.get(side)).max(*least.get(side)));
        let still = Even { by: self.evened(&most), moved: Vec2::ZERO };
        let met = self.smoothly_met();
        let goes_round = Side::ALL.iter().all(|side| met.iter().any(|(from, _)| from == side));
        if met.len() < self.outline().edges().len() || !goes_round {
            return still;
        }
        let moved = 0.5 * Vec2::new(gap.right - gap.left, gap.top - gap.bottom);
        let means = 0.5 * Vec2::new(gap.left + gap.right, gap.bottom + gap.top);
        let pushed = means.x.hypot(moved.y).max(means.y.hypot(moved.x));
        let least_gap = gap.iter().map(|(_, gap)| *gap).fold(f64::INFINITY, f64::min);
        let anywhere = least.iter().map(|(_, width)| *width).fold(reach + least_gap, f64::max);
        let by = (reach + pushed).max(anywhere + moved.hypot());
        if by < still.by.left - COINCIDENT { Even { by: PerSide::all(by), moved } } else { still }
    }

    /// Sides of the edges before and after each corner that is none.
    fn smoothly_met(&self) -> Vec<(Side, Side)> {
        let met = self.meetings().filter(|[(into, _), (out, _)]| smooth(into, out));
        met.map(|[(_, from), (_, to)]| (from, to)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Head, Height, arched, circle};
    use approx::assert_relative_eq;
    use kurbo::{Circle, Point};
    use proptest::prelude::*;

    const REACH: f64 = 12.0;
    const GAP: PerSide<f64> = PerSide { left: 2.0, right: 2.0, bottom: 4.0, top: 2.0 };

    // Closed form: two circles whose centres lie 1 mm apart and whose radii differ by 15 mm.
    #[test]
    fn a_circle_grows_to_a_circle_that_lies_lower() {
        let inner = circle(500.0).unwrap();
        let even = inner.even_growth(REACH, &GAP, &PerSide::all(9.0));
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
        let even = inner.even_growth(REACH, &GAP, &PerSide::all(14.5));
        assert_eq!(even, Even { by: PerSide::all(15.5), moved: Vec2::new(0.0, -1.0) });
        let even = inner.even_growth(REACH, &GAP, &PerSide::all(15.0));
        assert_eq!(even, Even { by: PerSide::all(16.0), moved: Vec2::ZERO });
    }

    #[test]
    fn an_outline_with_a_corner_grows_by_each_side() {
        let arch = arched(600.0, Height::Total(900.0), Head::Semicircular).unwrap();
        let even = arch.even_growth(REACH, &GAP, &PerSide::all(9.0));
        assert_eq!(even, Even { by: GAP.map(|gap| REACH + gap), moved: Vec2::ZERO });
        let wider = PerSide { top: 18.0, ..PerSide::all(9.0) };
        let by = PerSide { left: 18.0, right: 18.0, bottom: 16.0, top: 18.0 };
        assert_eq!(arch.even_growth(REACH, &GAP, &wider).by, by);
    }

    proptest! {
        #[test]
        fn what_is_pushed_to_a_side_goes_in(
            gap in prop::array::uniform4(0.0..15.0_f64), old in prop::array::uniform4(5.0..30.0_f64),
        ) {
            let per_side = |[left, right, bottom, top]: [f64; 4]| PerSide { left, right, bottom, top };
            let (gap, old) = (per_side(gap), per_side(old));
            let inner = circle(500.0).unwrap();
            let even = inner.even_growth(REACH, &gap, &old);
            let outer = inner.grow(&even.by).unwrap().moved(even.moved);
            let widest = Side::ALL.iter().map(|side| (REACH + gap.get(*side)).max(*old.get(*side))).fold(0.0, f64::max);
            for (side, super::super::MinMax { least, most }) in inner.gaps_to(&outer).iter() {
                prop_assert!(*least >= old.get(side) - 1e-9 && *most <= 2.0 * widest, "{side}");
            }
            prop_assert!(even.by.left <= widest + 1e-9);
            // Two circles: one lies in the other where their centres are no further apart than their radii differ.
            let (unit, radius) = (Point::new(250.0, 250.0), 250.0 + REACH);
            let wall = Circle::new(unit + even.moved, 250.0 + even.by.left);
            prop_assert!((outer.bounds().width() - 2.0 * wall.radius).abs() <= 1e-9);
            for side in Side::ALL {
                let way = match side {
                    Side::Left => Vec2::new(-1.0, 0.0),
                    Side::Right => Vec2::new(1.0, 0.0),
                    Side::Bottom => Vec2::new(0.0, -1.0),
                    Side::Top => Vec2::new(0.0, 1.0),
                };
                let apart = (unit + *gap.get(side) * way - wall.center).hypot();
                prop_assert!(apart <= wall.radius - radius + 1e-9, "{side}");
            }
        }
    }
}
