//! One row of wood along X: what stands there and how deep it has been cut.

/// A stretch of a row with one stack of solids and one depth of cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::prove) struct Stretch {
    /// X where it ends; it begins where the one before it ends.
    pub end: f64,
    /// Least Z that the cutter has reached: `∞` where it never was, `−∞` where nothing ever stood.
    pub cut: f64,
    /// Index of the stack of solids.
    pub stack: usize,
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

/// A band of wood between two Y, as it is along its middle.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::prove) struct Row {
    /// Y of its middle.
    pub y: f64,
    /// Its height along Y.
    pub height: f64,
    /// X where the first stretch begins.
    pub start: f64,
    /// Stretches from left to right.
    pub stretches: Vec<Stretch>,
}

impl Row {
    /// Each stretch with the X where it begins.
    pub(in crate::prove) fn iter(&self) -> impl Iterator<Item = (f64, &Stretch)> {
        let begins = std::iter::once(self.start).chain(self.stretches.iter().map(|s| s.end));
        begins.zip(&self.stretches)
    }

    /// The greatest height of wood above `z` between `a` and `b`, with the X of its middle.
    pub(in crate::prove) fn tallest(
        &self,
        stacks: &[Stack],
        a: f64,
        b: f64,
        z: f64,
    ) -> Option<(f64, f64)> {
        let mut most: Option<(f64, f64)> = None;
        let first = self.stretches.partition_point(|s| s.end <= a);
        let mut begin = a;
        for stretch in self.stretches.get(first..).unwrap_or_default() {
            if begin >= b || (first == 0 && b <= self.start) {
                break;
            }
            let stack = stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice);
            if let Some(top) = surface(stack, stretch.cut) {
                let height = top - z;
                if height > most.map_or(0.0, |(most, _)| most) {
                    let from = begin.max(self.start);
                    most = Some((height, f64::midpoint(from, stretch.end.min(b))));
                }
            }
            begin = stretch.end;
        }
        most
    }

    /// Whether anything between `a` and `b` has not yet been cut down to `z`.
    pub(in crate::prove) fn stands(&self, a: f64, b: f64, z: f64) -> bool {
        let first = self.stretches.partition_point(|s| s.end <= a);
        let mut begin = if first == 0 { self.start } else { a };
        for stretch in self.stretches.get(first..).unwrap_or_default() {
            if begin >= b {
                return false;
            }
            if stretch.cut > z {
                return true;
            }
            begin = stretch.end;
        }
        false
    }

    /// Cuts down to `z` between `a` and `b`.
    pub(in crate::prove) fn lower(&mut self, a: f64, b: f64, z: f64) {
        let a = a.max(self.start);
        let mut index = self.stretches.partition_point(|s| s.end <= a);
        let mut begin = match index.checked_sub(1).and_then(|before| self.stretches.get(before)) {
            Some(before) => before.end,
            None => self.start,
        };
        let first = index;
        while let Some(stretch) = self.stretches.get_mut(index) {
            if begin >= b {
                break;
            }
            let whole = *stretch;
            if whole.cut > z {
                if begin < a {
                    // Keep the part before the cut as it is.
                    stretch.end = a;
                    self.stretches.insert(index + 1, whole);
                    begin = a;
                    index += 1;
                    continue;
                }
                stretch.cut = z;
                if whole.end > b {
                    stretch.end = b;
                    self.stretches.insert(index + 1, whole);
                    index += 1;
                    break;
                }
            }
            begin = whole.end;
            index += 1;
        }
        self.join(first.saturating_sub(1), index);
    }

    /// Joins equal neighbours from index `from` to `to`.
    fn join(&mut self, from: usize, to: usize) {
        let mut index = to.min(self.stretches.len().saturating_sub(1));
        while index > from {
            let pair = (self.stretches.get(index - 1), self.stretches.get(index));
            if let (Some(before), Some(after)) = pair
                && before.stack == after.stack
                && before.cut.to_bits() == after.cut.to_bits()
            {
                self.stretches.remove(index - 1);
            }
            index -= 1;
        }
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
            Stretch { end: 30.0, cut: f64::INFINITY, stack: 1 },
            Stretch { end: 50.0, cut: f64::INFINITY, stack: 2 },
            Stretch { end: 100.0, cut: f64::NEG_INFINITY, stack: 0 },
        ];
        (Row { y: 0.0, height: 1.0, start: 0.0, stretches }, stacks)
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
    fn cutting_splits_and_joins() {
        let (mut row, stacks) = plank();
        row.lower(10.0, 20.0, -3.0);
        assert_eq!(row.stretches.len(), 5);
        assert_eq!(row.tallest(&stacks, 10.0, 20.0, -5.0), Some((2.0, 15.0)));
        assert_eq!(row.tallest(&stacks, 9.0, 20.0, -5.0), Some((5.0, 9.5)));
        row.lower(20.0, 30.0, -3.0);
        row.lower(0.0, 10.0, -3.0);
        assert_eq!(row.stretches.len(), 3);
        row.lower(-50.0, 500.0, -60.0);
        assert_eq!(row.tallest(&stacks, -50.0, 500.0, -100.0), None);
        assert_eq!(row.stretches.len(), 3);
        assert_eq!(row.stretches[2].end, 100.0);
    }

    proptest! {
        // Against a plain array of samples.
        #[test]
        fn a_row_agrees_with_samples(cuts in proptest::collection::vec((-10.0..110.0, 0.0..60.0, -50.0..0.0), 1..30)) {
            let (mut row, stacks) = plank();
            let at = |index: usize| 0.37 + index as f64;
            let mut samples = [f64::INFINITY; 99];
            samples[50..].fill(f64::NEG_INFINITY);
            for (a, length, z) in cuts {
                let b: f64 = a + length;
                let under = |index: &usize| a < at(*index) && at(*index) < b;
                let stack_at = |x: f64| usize::from(x < 50.0) + usize::from((30.0..50.0).contains(&x));
                let most = (0..99).filter(under)
                    .filter_map(|i| surface(&stacks[stack_at(at(i))], samples[i]))
                    .fold(f64::NEG_INFINITY, f64::max);
                let found = row.tallest(&stacks, a, b, z);
                let stands = (0..99).filter(under).any(|i| samples[i] > z);
                prop_assert!(!stands || row.stands(a, b, z));
                prop_assert!(row.stands(a, b, z) || found.is_none());
                if most > z {
                    prop_assert!(found.unwrap().0 >= most - z - 1e-12);
                }
                row.lower(a, b, z);
                for i in (0..99).filter(under) {
                    samples[i] = f64::min(samples[i], z);
                }
                for (i, sample) in samples.iter().enumerate() {
                    let (_, stretch) = row.iter().find(|(_, s)| at(i) < s.end).unwrap();
                    prop_assert_eq!(stretch.cut, *sample);
                    prop_assert_eq!(stretch.stack, stack_at(at(i)));
                }
                let ends: Vec<f64> = row.iter().map(|(_, s)| s.end).collect();
                prop_assert!(ends.windows(2).all(|w| w[0] < w[1]), "{ends:?}");
            }
        }
    }
}
