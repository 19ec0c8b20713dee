//! Depths cut in even steps.

use crate::geometry::ROUNDING;
use crate::survey::Workshop;

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

/// How deep a cut as wide as the cutter may be, mm: as much wood across it as a bite sideways at a full step.
pub(crate) fn slot_depth(workshop: &Workshop) -> f64 {
    workshop.cutting.side_step * workshop.cutting.step_depth
}

/// The depths of even steps of at most `step` from one depth to another, the last one included.
pub(crate) fn depths(from: f64, to: f64, step: f64) -> Vec<f64> {
    layers(from, to, step).iter().map(|layer| layer.to).collect()
}

/// How many layers of old painted fibre are cut shallow: below, it is sound. Common practice, no source.
const SHALLOW: u32 = 2;

/// Layers from the face down to `to`: the first of at most `shallow`, the others even and none thicker than `step`,
/// which is no less.
pub(super) fn layers_from_face(to: f64, shallow: f64, step: f64) -> Vec<Layer> {
    let down = f64::from(SHALLOW) * shallow;
    if to <= down {
        return layers(0.0, to, shallow);
    }
    // A last layer next to nothing would be a lap for nothing.
    let count = SHALLOW + steps(to - down, step);
    let down = down.min(to * f64::from(SHALLOW) / f64::from(count));
    [layers(0.0, down, shallow), layers(down, to, step)].concat()
}

/// How many steps of at most `step` cover `length`; zero for no length.
pub(crate) fn steps(length: f64, step: f64) -> u32 {
    /// More than any sash needs; a step next to nothing must not fill the memory.
    const MOST: f64 = 10_000.0;
    // Rounding must not add a step.
    let length = length - ROUNDING;
    if length <= 0.0 {
        return 0;
    }
    let count = (length / step).ceil().clamp(1.0, MOST);
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

    // By hand: 17 mm are two of 2.5 and three of 4; 5.4 mm are three even ones, as are 4.9 two.
    #[test]
    fn only_the_face_is_cut_in_shallow_layers() {
        let depths = |to| -> Vec<f64> {
            layers_from_face(to, 2.5, 4.0).iter().map(|layer| layer.to).collect()
        };
        assert_eq!(depths(17.0), [2.5, 5.0, 9.0, 13.0, 17.0]);
        assert_eq!(depths(4.9), [2.45, 4.9]);
        let even = depths(5.4);
        assert!(even.iter().zip([1.8, 3.6, 5.4]).all(|(a, b)| (a - b).abs() < 1e-9), "{even:?}");
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
