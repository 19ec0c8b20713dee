//! A deck of numbers to draw from, and a small generator for mutations.

/// Numbers from 0 to 1, drawn one by one; when they run out, zeros. Built from a `proptest` vector,
/// so that a failing case shrinks towards all zeros.
pub(crate) struct Deck(std::vec::IntoIter<f64>);

impl Deck {
    pub(crate) fn new(numbers: Vec<f64>) -> Deck {
        Deck(numbers.into_iter())
    }

    /// From 0 up to, but not including, 1.
    pub(crate) fn unit(&mut self) -> f64 {
        self.0.next().unwrap_or(0.0)
    }

    /// From `low` to `high`, leaning to the ends: each end itself in a tenth of cases, very near the
    /// low end in a fifth. Half of the rest are rounded to half a millimetre, as a rule reads.
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        let (which, u) = (self.unit(), self.unit());
        let value = low + (high - low) * u;
        match which {
            w if w < 0.1 => low,
            w if w < 0.3 => low + (high - low) * u * 0.01,
            w if w < 0.6 => ((value * 2.0).round() / 2.0).clamp(low, high),
            w if w < 0.9 => value,
            _ => high,
        }
    }

    /// True with the given chance.
    pub(crate) fn chance(&mut self, share: f64) -> bool {
        // An exhausted or shrunken deck says no.
        self.unit() > 1.0 - share
    }

    /// One of `choices`.
    pub(crate) fn pick<'c, T>(&mut self, choices: &'c [T]) -> &'c T {
        &choices[self.index(choices.len())]
    }

    /// A whole number below `count`.
    pub(crate) fn index(&mut self, count: usize) -> usize {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to count")]
        let index = (self.unit() * count as f64) as usize;
        index.min(count - 1)
    }
}

/// SplitMix64 (Steele, Lea, Flood 2014): equal seeds give equal mutations on every machine.
pub(crate) struct Random(u64);

impl Random {
    pub(crate) fn new(seed: u64) -> Random {
        Random(seed)
    }

    pub(crate) fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    /// A whole number below `count`; 0 for a count of 0.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next() % (count.max(1) as u64)).unwrap_or(0)
    }

    pub(crate) fn pick<'c, T>(&mut self, choices: &'c [T]) -> &'c T {
        &choices[self.below(choices.len())]
    }
}
