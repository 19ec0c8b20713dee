//! Level cuts of a row, in one pass: nearly all cuts are level, and nearly all time goes here.

use super::chord::overlap;
use super::cut::{push, push_cut};
use super::row::{Row, Span, Stretch, UncutWood};

/// What a cut found.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Found {
    /// The tallest wood above the cut under the core, and its X.
    pub tallest: Option<(f64, f64)>,
    /// How many stretches were passed.
    pub passed: usize,
    /// Length along X, under the rim, of wood taller than a step.
    pub deep: f64,
}

impl Row {
    /// Cuts along `span`, which is level, and measures what stood above it along `core`; `first` is the
    /// first stretch beyond its beginning. `None` where nothing stands: most of most programs
    /// runs where the wood is gone already. What `list` held is lost.
    pub(super) fn level(
        &mut self,
        uncut: UncutWood,
        first: usize,
        span: &Span,
        core: impl FnOnce() -> Option<(f64, f64)>,
        step: f64,
        list: &mut Vec<Stretch>,
    ) -> Option<Found> {
        let (rim, z) = ((span.from, span.to), span.z);
        let (at, begin) = self.first_above(first, rim.1, z)?;
        let core = core();
        self.begin_cut(at, list);
        let mut tallest: Option<(f64, f64)> = None;
        let (mut from, mut passed, mut deep) = (begin, 0, 0.0);
        for stretch in self.stretches.get(at..).unwrap_or_default() {
            if from >= rim.1 {
                break;
            }
            if stretch.lean != 0.0 {
                return Some(self.uneven(uncut, first, span, core, step, list));
            }
            if stretch.cut > z {
                let height = uncut.top(stretch.stack, stretch.cut).map_or(0.0, |top| top - z);
                let (p, q) = overlap((from, stretch.end), rim);
                if height > step {
                    deep += q - p;
                }
                push_cut(list, (from, stretch), (p, q), span);
                if let Some(core) = core
                    && height > tallest.map_or(0.0, |(most, _)| most)
                    && let (p, q) = overlap((from, stretch.end), core)
                    && p < q
                {
                    tallest = Some((height, f64::midpoint(p, q)));
                }
            } else {
                push(list, *stretch);
            }
            from = stretch.end;
            passed += 1;
        }
        self.end_cut(at, passed, list);
        Some(Found { tallest, passed: passed + at - first, deep })
    }

    /// The first stretch from `first` to `b` that is not yet cut down to `z`, and where it begins.
    fn first_above(&self, first: usize, b: f64, z: f64) -> Option<(usize, f64)> {
        let mut begin = self.begin(first);
        for (index, stretch) in (first..).zip(self.stretches.get(first..)?) {
            if begin >= b {
                return None;
            }
            if stretch.highest(begin) > z {
                return Some((index, begin));
            }
            begin = stretch.end;
        }
        None
    }

    /// The same where ramps have been cut.
    fn uneven(
        &mut self,
        uncut: UncutWood,
        first: usize,
        span: &Span,
        core: Option<(f64, f64)>,
        step: f64,
        list: &mut Vec<Stretch>,
    ) -> Found {
        let deep = self.deep(uncut, first, span, step);
        let under = core.map(|core| (self.first_near(core.0, first), Span::level(core, span.z)));
        let tallest = under.and_then(|(first, core)| self.tallest(uncut, first, &core, 0.0));
        let passed = self.lower(first, span, list);
        Found { tallest, passed, deep }
    }
}

#[cfg(test)]
mod tests {
    use super::super::Part;
    use super::super::row::Layer;
    use super::*;
    use proptest::prelude::*;

    proptest! {
        // The quick way and the way that takes slopes too are one.
        #[test]
        fn level_cuts_are_what_the_general_way_makes_of_them(
            cuts in proptest::collection::vec(
                (-10.0..110.0, 0.0..60.0, -30.0..0.0, prop_oneof![4 => Just(0.0), 1 => -0.5..0.5]),
                1..30),
            film in prop_oneof![Just(0.0), 0.0..8.0],
        ) {
            let layer = |top, bottom, part| Layer { top, bottom, part };
            let stacks = vec![
                vec![],
                vec![layer(0.0, -45.0, Part::Stay)],
                vec![layer(0.0, -10.0, Part::Go(0)), layer(-16.0, -45.0, Part::Stay)],
            ];
            let stretch = |end, cut, stack| Stretch { end, cut, lean: 0.0, stack };
            let stretches = vec![
                stretch(30.0, f64::INFINITY, 1),
                stretch(50.0, f64::INFINITY, 2),
                stretch(100.0, f64::NEG_INFINITY, 0),
            ];
            let uncut = UncutWood { stacks: &stacks, film };
            let mut list = Vec::new();
            let mut quick = Row { y: 0.0, height: 1.0, start: 0.0, stretches: stretches.into() };
            for (a, length, z, lean) in cuts {
                let b: f64 = a + length;
                if lean != 0.0 {
                    let first = quick.first(a);
                    quick.lower(first, &Span { from: a, to: b, z, lean }, &mut list);
                    continue;
                }
                let mut general = quick.clone();
                let core = (a + length * 0.1, b - length * 0.1);
                let first = general.first(a);
                let stands = general.stands(first, (a, b), z);
                let tallest = general.tallest(uncut, general.first(core.0), &Span::level(core, z), 0.0);
                let span = Span::level((a, b), z);
                let general_deep = general.deep(uncut, first, &span, 4.0);
                let quick_lean = quick.stretches.iter().any(|stretch| stretch.lean != 0.0);
                general.lower(first, &span, &mut list);
                let deep = general_deep;
                let found = quick.level(uncut, first, &span, || Some(core), 4.0, &mut list);
                let quick_deep = found.map_or(0.0, |found| found.deep);
                prop_assert!((quick_deep - deep).abs() < 1e-9 || quick_lean);
                prop_assert_eq!(found.is_some(), stands);
                prop_assert_eq!(found.and_then(|found| found.tallest), tallest);
                prop_assert_eq!(&quick, &general);
            }
        }
    }
}
