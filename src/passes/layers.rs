//! Depths cut in even steps.

/// From one depth to the next, mm below the glazing face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Layer {
    pub from: f64,
    pub to: f64,
}

/// Even layers from `from` down to `to`, none thicker than `step`; none where nothing is to be cut.
pub(super) fn layers(from: f64, to: f64, step: f64) -> Vec<Layer> {
    let count = steps(to - from, step);
    let depth = |index: u32| from + (to - from) * f64::from(index) / f64::from(count);
    (0..count).map(|index| Layer { from: depth(index), to: depth(index + 1) }).collect()
}

/// How many steps of at most `step` cover `length`; zero for no length.
pub(crate) fn steps(length: f64, step: f64) -> u32 {
    /// Rounding must not add a step, mm.
    const SLACK: f64 = 1e-9;
    /// More than any sash needs; a step next to nothing must not fill the memory.
    const MOST: f64 = 10_000.0;
    if length <= SLACK {
        return 0;
    }
    let count = ((length - SLACK) / step).ceil().clamp(1.0, MOST);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to 10000")]
    let count = count as u32;
    count
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_whole_number_of_steps_is_not_rounded_up() {
        assert_eq!(layers(0.0, 17.0, 2.5).len(), 7);
        assert_eq!(layers(17.0, 27.0, 2.5).len(), 4);
        assert!(layers(17.0, 17.0, 2.5).is_empty());
        assert!(layers(17.0, 12.0, 2.5).is_empty());
    }

    proptest! {
        #[test]
        fn layers_follow_on_and_keep_the_step(
            from in 0.0..30.0_f64,
            by in 0.1..30.0_f64,
            step in 0.2..9.0_f64,
        ) {
            let all: Vec<Layer> = layers(from, from + by, step);
            prop_assert_eq!(all[0].from, from);
            prop_assert!((all[all.len() - 1].to - from - by).abs() < 1e-12);
            for pair in all.windows(2) {
                prop_assert_eq!(pair[0].to, pair[1].from);
            }
            prop_assert!(all.iter().all(|layer| layer.to - layer.from <= step + 1e-8));
        }
    }
}
