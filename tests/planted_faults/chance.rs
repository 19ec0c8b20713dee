//! A small generator: equal seeds plant equal faults on every machine.

/// Linear congruential generator, multiplier and increment of Knuth's MMIX; only its upper half is
/// used, the lower bits being poor.
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Chance {
        let mut chance = Chance(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15));
        // Neighbouring seeds begin with neighbouring states: let them part.
        for _ in 0..3 {
            chance.next();
        }
        chance
    }

    fn next(&mut self) -> u64 {
        self.0 =
            self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        self.0 >> 32
    }

    /// A whole number below `count`; 0 for a count of 0.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        usize::try_from(self.next()).unwrap_or(0) % count.max(1)
    }

    pub(crate) fn flip(&mut self) -> bool {
        self.below(2) == 1
    }

    pub(crate) fn pick<T: Copy>(&mut self, choices: &[T]) -> T {
        choices[self.below(choices.len())]
    }

    /// One of `choices`, if there is any.
    pub(crate) fn any<T: Copy>(&mut self, choices: &[T]) -> Option<T> {
        (!choices.is_empty()).then(|| self.pick(choices))
    }
}
