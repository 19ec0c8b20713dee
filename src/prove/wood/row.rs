//! One row of wood along X: what stands there and how deep it has been cut.

use super::chord::overlap;
use crate::geometry::COINCIDENT;
use crate::prove::tolerance::ROUNDING;
use std::rc::Rc;

/// So many stretches are scanned faster than halved, and written anew faster than moved along.
pub(super) const FEW: usize = 24;

/// A piece of a row under the cutter, with a depth that may slope along X.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Span {
    /// X where it begins.
    pub from: f64,
    /// X where it ends.
    pub to: f64,
    /// Z at its end.
    pub z: f64,
    /// How much Z rises a mm of X.
    pub lean: f64,
}

impl Span {
    /// At one depth.
    pub(super) fn level((from, to): (f64, f64), z: f64) -> Span {
        Span { from, to, z, lean: 0.0 }
    }

    pub(super) fn z_at(&self, x: f64) -> f64 {
        along(self.z, self.lean, x - self.to)
    }
}

/// A stretch of a row with one stack of solids and one even depth of cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::prove) struct Stretch {
    /// X where it ends; it begins where the one before it ends.
    pub end: f64,
    /// Least Z that the cutter has reached, at the end: `∞` where it never was, `−∞` where nothing
    /// ever stood.
    pub cut: f64,
    /// How much that Z rises a mm of X.
    pub lean: f64,
    /// Index of the stack of solids.
    pub stack: usize,
}

impl Stretch {
    /// Least Z that the cutter has reached at `x`.
    pub(in crate::prove) fn cut_at(&self, x: f64) -> f64 {
        along(self.cut, self.lean, x - self.end)
    }

    /// X where a cut that slopes passes `z`, on the stretch or beyond it.
    pub(in crate::prove) fn x_at(&self, z: f64) -> f64 {
        self.end + (z - self.cut) / self.lean
    }

    /// The highest cut of the stretch, which begins at `begin`.
    pub(in crate::prove) fn highest(&self, begin: f64) -> f64 {
        if self.lean < 0.0 { self.cut_at(begin) } else { self.cut }
    }

    /// The lowest cut of the stretch, which begins at `begin`.
    pub(in crate::prove) fn lowest(&self, begin: f64) -> f64 {
        if self.lean > 0.0 { self.cut_at(begin) } else { self.cut }
    }

    /// The stretch up to `x` only.
    pub(super) fn until(&self, x: f64) -> Stretch {
        Stretch { end: x, cut: self.cut_at(x), ..*self }
    }
}

/// A level depth stays what it is to the last bit.
fn along(z: f64, lean: f64, x: f64) -> f64 {
    if lean == 0.0 { z } else { z + lean * x }
}

/// One solid of a stack.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::prove) struct Layer {
    /// Z of its upper face.
    pub top: f64,
    /// Z of its lower face.
    pub bottom: f64,
    /// What may happen to it.
    pub part: super::Part,
}

/// Solids above one another, from the top down; empty where there is no wood.
pub(in crate::prove) type Stack = Vec<Layer>;

/// Z of the highest wood left in a stack that was cut down to `cut`; `None` where none is left.
pub(in crate::prove) fn surface(stack: &[Layer], cut: f64) -> Option<f64> {
    stack.iter().find(|layer| layer.bottom < cut).map(|layer| layer.top.min(cut))
}

/// What the cutter meets: stacks of solids, and how thin a film of them is none.
///
/// A cut that comes down to a hollow with the last digit of a program, or within the exactness of a
/// face that is not flat, leaves a film over it. The cutter takes that with the wood below; were it
/// measured from the film, the height of the hollow would count as wood.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct UncutWood<'a> {
    /// Every stack.
    pub stacks: &'a [Stack],
    /// Thickest film over a hollow that is passed over, mm.
    pub film: f64,
}

impl UncutWood<'_> {
    /// Z of the highest wood left in the stack `index` that was cut down to `cut`, but for one film.
    pub(super) fn top(&self, index: usize, cut: f64) -> Option<f64> {
        let mut left = self.stacks.get(index)?.iter().filter(|layer| layer.bottom < cut);
        let layer = left.next()?;
        let top = layer.top.min(cut);
        if top - layer.bottom > self.film {
            return Some(top);
        }
        match left.next() {
            // No hollow: the film is part of what it lies on.
            Some(below) if below.top >= layer.bottom => Some(top),
            below => below.map(|below| below.top),
        }
    }

    /// Depths of cut where the highest wood of the stack `index` may bend or drop.
    fn bends(&self, index: usize) -> impl Iterator<Item = f64> {
        let layers = self.stacks.get(index).map_or(&[][..], Vec::as_slice).iter();
        let film = self.film;
        layers.flat_map(move |layer| [layer.top, layer.bottom, layer.bottom + film])
    }
}

/// A band of wood between two Y, as it is along its middle.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::prove) struct Row {
    /// Y of its middle.
    pub y: f64,
    /// Its height along Y.
    pub height: f64,
    /// X where the first stretch begins.
    pub start: f64,
    /// Stretches from left to right. Neighbouring rows that are alike share them: most rows lie close
    /// for the sake of one disc, and are cut alike by all other moves.
    pub stretches: Rc<Vec<Stretch>>,
}

impl Row {
    /// Each stretch with the X where it begins.
    pub(in crate::prove) fn iter(&self) -> impl Iterator<Item = (f64, &Stretch)> {
        self.from(f64::NEG_INFINITY)
    }

    /// Each stretch that reaches beyond `x`, with the X where it begins.
    pub(in crate::prove) fn from(&self, x: f64) -> impl Iterator<Item = (f64, &Stretch)> {
        let first = self.first(x);
        let mut begin = self.begin(first);
        self.stretches
            .get(first..)
            .unwrap_or_default()
            .iter()
            .map(move |stretch| (std::mem::replace(&mut begin, stretch.end), stretch))
    }

    /// Whether both hold the very same stretches.
    pub(in crate::prove) fn shares(&self, other: &Row) -> bool {
        Rc::ptr_eq(&self.stretches, &other.stretches)
    }

    /// Takes over the stretches of `like` where they are equal to its own.
    pub(super) fn share(&mut self, like: Option<&Row>) {
        if let Some(like) = like.filter(|like| like.stretches == self.stretches) {
            self.stretches = Rc::clone(&like.stretches);
        }
    }

    /// [`Row::first`], where that may well be `guess` or a few further on, as on the row or the span before.
    pub(super) fn first_near(&self, x: f64, guess: usize) -> usize {
        let end = |index: usize| self.stretches.get(index).map(|s| s.end);
        let starts = guess.checked_sub(1).is_none_or(|before| end(before).is_some_and(|e| e <= x));
        if starts && end(guess).is_some_and(|end| end > x) {
            return guess;
        }
        if starts { self.further(x, guess) } else { self.first(x) }
    }

    /// [`Row::first`], which is not before `from`.
    fn further(&self, x: f64, from: usize) -> usize {
        let mut near = self.stretches.get(from..).unwrap_or_default().iter().take(FEW);
        near.position(|s| s.end > x).map_or_else(|| self.first(x), |near| from + near)
    }

    /// Index of the first stretch that reaches beyond `x`.
    pub(super) fn first(&self, x: f64) -> usize {
        if self.stretches.len() > FEW {
            return self.stretches.partition_point(|s| s.end <= x);
        }
        self.stretches.iter().position(|s| s.end > x).unwrap_or(self.stretches.len())
    }

    /// Where the stretch `index` begins.
    pub(super) fn begin(&self, index: usize) -> f64 {
        let before = index.checked_sub(1).and_then(|before| self.stretches.get(before));
        before.map_or(self.start, |before| before.end)
    }

    /// The stretches from `first` on that lie between `a` and `b`: where each begins, where the
    /// part between `a` and `b` begins and ends, and the stretch.
    pub(super) fn between(
        &self,
        first: usize,
        (a, b): (f64, f64),
    ) -> impl Iterator<Item = (f64, f64, f64, &Stretch)> {
        let mut begin = self.begin(first);
        self.stretches.get(first..).unwrap_or_default().iter().map_while(move |stretch| {
            let from = begin;
            begin = stretch.end;
            let (p, q) = overlap((from, stretch.end), (a, b));
            (from < b).then_some((from, p, q, stretch))
        })
    }

    /// The greatest height of wood above `span`, with its X, where it is above `least`; `first` is the first
    /// stretch beyond its beginning.
    pub(super) fn tallest(
        &self,
        uncut: UncutWood,
        first: usize,
        span: &Span,
        least: f64,
    ) -> Option<(f64, f64)> {
        let mut most: Option<(f64, f64)> = None;
        for (_, p, q, stretch) in self.between(first, (span.from, span.to)) {
            // No wood is above the cut, and along a stretch that is above the span by most at an end.
            let bound = most.map_or(least, |(most, _)| most);
            let above = |x: f64| stretch.cut_at(x) - span.z_at(x);
            let level = stretch.lean == 0.0 && span.lean == 0.0;
            if above(p) <= bound && (level || above(q) <= bound) {
                continue;
            }
            let mut offer = |height: f64, x: f64| {
                if height > most.map_or(least, |(most, _)| most) {
                    most = Some((height, x));
                }
            };
            let top = |cut| uncut.top(stretch.stack, cut);
            if level {
                if let Some(top) = top(stretch.cut) {
                    offer(top - span.z, f64::midpoint(p, q));
                }
                continue;
            }
            for x in [p, q] {
                if let Some(top) = top(stretch.cut_at(x)) {
                    offer(top - span.z_at(x), x);
                }
            }
            if stretch.lean == 0.0 {
                continue;
            }
            // In between, the surface bends only where the cut passes a face of a solid or comes within a
            // film of one: taken just above, where it is not lower.
            for z in uncut.bends(stretch.stack) {
                let x = stretch.x_at(z);
                if let Some(top) = top(z + ROUNDING)
                    && (p - COINCIDENT..=q + COINCIDENT).contains(&x)
                {
                    offer(top.min(z) - span.z_at(x), x);
                }
            }
        }
        most
    }

    /// Length along X of the wood that stands more than `step` above `span`. A sloping stretch counts
    /// whole where it does so at either end: too much rather than too little.
    pub(super) fn deep(&self, uncut: UncutWood, first: usize, span: &Span, step: f64) -> f64 {
        let under = self.between(first, (span.from, span.to));
        under
            .filter(|(_, p, q, stretch)| {
                let over = |x: f64| {
                    let (cut, z) = (stretch.cut_at(x), span.z_at(x));
                    cut - z > step
                        && uncut.top(stretch.stack, cut).is_some_and(|top| top - z > step)
                };
                over(*p) || over(*q)
            })
            .map(|(_, p, q, _)| q - p)
            .sum()
    }

    /// Whether anything between `a` and `b` may not yet have been cut down to `z`; `first` is the
    /// first stretch beyond `a`.
    pub(super) fn stands(&self, first: usize, (a, b): (f64, f64), z: f64) -> bool {
        self.between(first, (a, b)).any(|(begin, _, _, stretch)| stretch.highest(begin) > z)
    }
}

#[cfg(test)]
mod tests {
    use super::super::Part;
    use super::*;
    use proptest::prelude::*;

    fn plank() -> (Row, Vec<Stack>) {
        let layer = |top, bottom, part| Layer { top, bottom, part };
        let stacks = vec![
            vec![],
            vec![layer(0.0, -45.0, Part::Stay)],
            vec![layer(0.0, -10.0, Part::Go(0)), layer(-16.0, -45.0, Part::Stay)],
        ];
        let stretches = vec![
            Stretch { end: 30.0, cut: f64::INFINITY, lean: 0.0, stack: 1 },
            Stretch { end: 50.0, cut: f64::INFINITY, lean: 0.0, stack: 2 },
            Stretch { end: 100.0, cut: f64::NEG_INFINITY, lean: 0.0, stack: 0 },
        ];
        (Row { y: 0.0, height: 1.0, start: 0.0, stretches: Rc::new(stretches) }, stacks)
    }

    #[test]
    fn a_groove_under_a_lip_shows_once_the_lip_is_cut() {
        let (_, stacks) = plank();
        assert_eq!(surface(&stacks[2], f64::INFINITY), Some(0.0));
        assert_eq!(surface(&stacks[2], -4.0), Some(-4.0));
        assert_eq!(surface(&stacks[2], -10.0), Some(-16.0));
        assert_eq!(surface(&stacks[2], -12.0), Some(-16.0));
        assert_eq!(surface(&stacks[2], -20.0), Some(-20.0));
        assert_eq!(surface(&stacks[1], -45.0), None);
    }

    #[test]
    fn a_film_over_a_hollow_is_no_wood_to_cut() {
        let (_, stacks) = plank();
        let top = |index, cut| UncutWood { stacks: &stacks, film: 0.05 }.top(index, cut);
        assert_eq!(top(2, -9.94), Some(-9.94));
        assert_eq!(top(2, -9.96), Some(-16.0));
        assert_eq!(top(2, f64::INFINITY), Some(0.0));
        // Nothing is left below, and a film on the wood it belongs to.
        assert_eq!(top(1, -44.94), Some(-44.94));
        assert_eq!(top(1, -44.96), None);
        let layer = |top, bottom| Layer { top, bottom, part: Part::Stay };
        let stacks = [vec![layer(0.0, -10.0), layer(-10.0, -16.0), layer(-16.0, -16.04)]];
        let top = |cut| UncutWood { stacks: &stacks, film: 0.05 }.top(0, cut);
        assert_eq!(top(-9.96), Some(-9.96));
        assert_eq!(top(-15.96), Some(-15.96));
        assert_eq!(top(-16.0), None);
    }

    fn lower(row: &mut Row, a: f64, b: f64, z: f64) {
        row.lower(row.first(a), &Span::level((a, b), z), &mut Vec::new());
    }

    fn tallest(row: &Row, stacks: &[Stack], a: f64, b: f64, z: f64) -> Option<(f64, f64)> {
        row.tallest(UncutWood { stacks, film: 0.0 }, row.first(a), &Span::level((a, b), z), 0.0)
    }

    #[test]
    fn cutting_splits_and_joins() {
        let (mut row, stacks) = plank();
        lower(&mut row, 10.0, 20.0, -3.0);
        assert_eq!(row.stretches.len(), 5);
        assert_eq!(tallest(&row, &stacks, 10.0, 20.0, -5.0), Some((2.0, 15.0)));
        assert_eq!(tallest(&row, &stacks, 9.0, 20.0, -5.0), Some((5.0, 9.5)));
        lower(&mut row, 20.0, 30.0, -3.0);
        lower(&mut row, 0.0, 10.0, -3.0);
        assert_eq!(row.stretches.len(), 3);
        lower(&mut row, -50.0, 500.0, -60.0);
        assert_eq!(tallest(&row, &stacks, -50.0, 500.0, -100.0), None);
        assert_eq!(row.stretches.len(), 3);
        assert_eq!(row.stretches[2].end, 100.0);
    }

    #[test]
    fn two_slopes_that_cross_leave_the_lower_of_both() {
        let (mut row, stacks) = plank();
        row.lower(0, &Span { from: 0.0, to: 20.0, z: -4.0, lean: -0.2 }, &mut Vec::new());
        row.lower(0, &Span { from: 0.0, to: 20.0, z: 0.0, lean: 0.2 }, &mut Vec::new());
        // They cross in the middle, 2 mm down.
        let ends: Vec<_> = row.iter().map(|(begin, s)| (begin, s.cut_at(begin), s.cut)).collect();
        assert_eq!(ends[..2], [(0.0, -4.0, -2.0), (10.0, -2.0, -4.0)]);
        assert_eq!(tallest(&row, &stacks, 0.0, 20.0, -5.0), Some((3.0, 10.0)));
        // Along a third slope the tallest wood need not be the highest.
        let span = Span { from: 0.0, to: 20.0, z: -10.0, lean: -0.25 };
        let tallest =
            |least| row.tallest(UncutWood { stacks: &stacks, film: 0.0 }, 0, &span, least);
        assert_eq!(tallest(5.9), Some((6.0, 20.0)));
        assert_eq!(tallest(6.0), None);
    }

    #[test]
    fn a_hair_of_a_level_cut_does_not_make_a_slope_level() {
        let (mut row, _) = plank();
        lower(&mut row, 10.0, 20.0, -3.0);
        // Down to the left from where that ended, but for the last digit.
        let end = 20.0_f64.next_down();
        row.lower(0, &Span { from: 5.0, to: end, z: -3.0, lean: 0.2 }, &mut Vec::new());
        let cuts = [6.0, 12.0, 19.0].map(|x| row.from(x).next().unwrap().1.cut_at(x));
        for (cut, z) in cuts.into_iter().zip([-5.8, -4.6, -3.2]) {
            assert!((cut - z).abs() < 1e-9, "{cut} {z}");
        }
        assert_eq!(row.stretches.len(), 5);
    }

    #[test]
    fn a_slope_through_a_lip_meets_its_edge() {
        let (mut row, stacks) = plank();
        // From −8 at 30 to −18 at 50: the lip ends at −10, the wood under the gap begins at −16.
        row.lower(1, &Span { from: 30.0, to: 50.0, z: -18.0, lean: -0.5 }, &mut Vec::new());
        let (height, x) = tallest(&row, &stacks, 32.0, 50.0, -20.0).unwrap();
        assert_eq!((height, x), (11.0, 32.0));
        let (height, x) = tallest(&row, &stacks, 34.0, 50.0, -20.0).unwrap();
        assert_eq!((height, x), (10.0, 34.0));
        assert_eq!(tallest(&row, &stacks, 35.0, 50.0, -20.0).unwrap().0, 4.0);
    }

    proptest! {
        // Against a plain array of samples; a lean of zero is as frequent as any other. Half of the spans begin
        // and end where others do, at depths of others, some of them but for the last digit.
        #[test]
        fn a_row_agrees_with_samples(
            cuts in proptest::collection::vec(
                prop_oneof![
                    (-10.0..110.0, 0.0..60.0, -50.0..0.0, prop_oneof![Just(0.0), -1.0..1.0]),
                    (-1..6, 1..4, -2..0, -1..2, -1..2).prop_map(|(a, length, z, lean, hair)| {
                        let length = 20.0 * f64::from(length) + 1e-14 * f64::from(hair);
                        (20.0 * f64::from(a), length, 4.0 * f64::from(z), 0.2 * f64::from(lean))
                    }),
                ], 1..30),
            film in prop_oneof![Just(0.0), 0.0..8.0],
        ) {
            let (mut row, stacks) = plank();
            let uncut = UncutWood { stacks: &stacks, film };
            let at = |index: usize| 0.37 + index as f64;
            let stack_at = |x: f64| usize::from(x < 50.0) + usize::from((30.0..50.0).contains(&x));
            let mut samples = [f64::INFINITY; 99];
            samples[50..].fill(f64::NEG_INFINITY);
            for (a, length, z, lean) in cuts {
                let b: f64 = a + length;
                let span = Span { from: a, to: b, z, lean };
                let lowest = z.min(z - lean * length);
                let under = |index: &usize| a < at(*index) && at(*index) < b;
                let most = (0..99).filter(under)
                    .filter_map(|i| {
                        let top = uncut.top(stack_at(at(i)), samples[i])?;
                        Some(top - span.z_at(at(i)))
                    })
                    .fold(0.0, f64::max);
                let found = row.tallest(uncut, row.first(a), &span, 0.0);
                let stands = (0..99).filter(under).any(|i| samples[i] > lowest);
                let first = row.first(a);
                prop_assert!(!stands || row.stands(first, (a, b), lowest));
                prop_assert!(row.stands(first, (a, b), lowest) || found.is_none());
                prop_assert!(most <= found.map_or(0.0, |(height, _)| height) + 1e-6);
                row.lower(first, &span, &mut Vec::new());
                for i in (0..99).filter(under) {
                    samples[i] = f64::min(samples[i], span.z_at(at(i)));
                }
                for (i, sample) in samples.iter().enumerate() {
                    let (_, stretch) = row.iter().find(|(_, s)| at(i) < s.end).unwrap();
                    let cut = stretch.cut_at(at(i));
                    prop_assert!(cut == *sample || (cut - *sample).abs() < 2e-6, "{} {}", cut, sample);
                    prop_assert_eq!(stretch.stack, stack_at(at(i)));
                }
                let ends: Vec<f64> = row.iter().map(|(_, s)| s.end).collect();
                prop_assert!(ends.windows(2).all(|w| w[0] < w[1]), "{ends:?}");
            }
        }
    }
}
