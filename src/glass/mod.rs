//! The insulating glass unit: how thick it can come, what it weighs, which make-ups are usual, what edge
//! tape does to its size, how fast heat passes through its middle, and what it bears.
//!
//! Promised: every number follows from the build-up and the sizes written down; what a bare thickness
//! cannot tell stays unknown. Not promised: that a maker offers the unit, or answers for its size.

mod candidates;
mod findings;
mod properties;
mod solar;
pub mod strength;
pub mod thermal;

pub use candidates::{CANDIDATES, Candidate};
pub use findings::judge;
pub use properties::{Properties, layers, spacer_words, unstated};
pub use solar::solar_factor;

use crate::language::{Text, text};
use crate::survey::{BuildUp, Pane, Unit};

/// Density of glass, kg/m³. EN 572-1.
pub const DENSITY: f64 = 2500.0;

/// Expansion of glass, a part per kelvin. EN 572-1 (published, reproduced).
pub const EXPANSION: f64 = 9e-6;

/// Square millimetres in a square metre.
const MM2_A_M2: f64 = 1e6;

/// Nominal thickness and what it may exceed it by, mm: the depth that the rebate must offer.
pub fn thickest(unit: &Unit) -> f64 {
    unit.build_up.thickness() + unit.over
}

/// Thickness of glass in the unit, cavities left out, mm; `None` for a bare thickness, which cannot
/// tell glass from gas.
pub fn glass_thickness(build_up: &BuildUp) -> Option<f64> {
    match build_up {
        BuildUp::Panes { panes, .. } => Some(panes.iter().map(Pane::thickness).sum()),
        BuildUp::Bare(_) => None,
    }
}

/// Weight of a unit of any shape with an area of `mm2`, kg; `None` for a bare thickness.
///
/// Density × glass thickness × area: 2.5 kg/m² a mm (EN 572-1). Spacer and seal are not counted. A
/// laminated pane is counted as all glass, which errs on the heavy side.
pub fn weight(build_up: &BuildUp, mm2: f64) -> Option<f64> {
    let metres = glass_thickness(build_up)? / 1000.0;
    Some(DENSITY * metres * mm2 / MM2_A_M2)
}

/// What edge tape does to a unit's size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tape {
    /// Thickness on each edge, mm.
    pub each_edge: f64,
    /// What stripping the tape would gain in width and in height, mm.
    pub gain: f64,
}

impl Tape {
    /// The tape of `unit`; `None` where it has none.
    pub fn of(unit: &Unit) -> Option<Tape> {
        (unit.tape > 0.0).then_some(Tape { each_edge: unit.tape, gain: 2.0 * unit.tape })
    }

    /// What a joiner should know about it, in one sentence.
    pub fn remark(&self) -> Text {
        text!(
            "glass-tape",
            each = format!("{:.1}", self.each_edge),
            gain = format!("{:.1}", self.gain)
        )
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;
    use crate::survey::UnitShape;
    use approx::assert_relative_eq;

    pub(crate) fn unit(build_up: &str) -> Unit {
        Unit {
            build_up: build_up.parse().unwrap(),
            cover: 12.0,
            spacer_height: 12.0,
            over: 1.0,
            tape: 0.0,
            internal_bar: 12.0,
            shape: UnitShape::Square,
            order_step: 1.0,
            make: crate::survey::Make::default(),
        }
    }

    // EN 572-1 (published, reproduced): a 4-x-4 unit weighs 20 kg/m².
    #[test]
    fn weight_is_that_of_the_glass_alone() {
        for (text, kg) in [("4-6-4", 20.0), ("4-20-4", 20.0), ("4-8-4-8-4", 30.0), ("3-4-3", 15.0)]
        {
            assert_relative_eq!(weight(&text.parse().unwrap(), MM2_A_M2).unwrap(), kg);
        }
        // Closed form: 0.844 m × 0.954 m × 20 kg/m².
        let kg = weight(&"4-6-4".parse().unwrap(), 844.0 * 954.0).unwrap();
        assert_relative_eq!(kg, 16.103_52, epsilon = 1e-9);
    }

    #[test]
    fn a_bare_thickness_has_a_thickest_but_no_weight() {
        assert_relative_eq!(thickest(&unit("14")), 15.0);
        assert_relative_eq!(thickest(&unit("4-6-4")), 15.0);
        assert_eq!(weight(&"14".parse().unwrap(), 800.0 * 900.0), None);
    }

    #[test]
    fn tape_is_spoken_of_only_where_there_is_some() {
        assert_eq!(Tape::of(&unit("4-6-4")), None);
        let tape = Tape::of(&Unit { tape: 0.5, ..unit("4-6-4") }).unwrap();
        // Common practice: about 1 mm each way, from tape of about 0.5 mm.
        assert_relative_eq!(tape.gain, 1.0);
        assert!(tape.remark().to_string().contains("gains 1.0 mm"), "{}", tape.remark());
    }
}
