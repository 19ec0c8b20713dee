//! People and joints under a heavier sash.

use super::Weights;
use crate::finding::{Bounds, Finding, Quantity, Verdict};
use crate::language::{Text, text};
use crate::survey::{Kind, Limits};

/// `hanging.lifting`: whether one person lifts the glazed sash.
pub fn lifting(weights: &Weights, limits: &Limits) -> Finding {
    let measured = Quantity { value: weights.after(), unit: "kg" };
    let bounds = Bounds::caution(&limits.lifting_caution);
    let two = limits.lifting_two_caution.value;
    Finding::at_most(
        "hanging.lifting",
        "whole sash",
        measured,
        bounds,
        |verdict, _| match verdict {
            Verdict::Clear => text!("hang-one-lifts"),
            _ if weights.after() <= two => {
                text!("hang-lift-close")
            }
            _ => text!("hang-two-lift"),
        },
    )
}

/// `hanging.heavier`: what a sash that weighs so much more asks of its joints and fittings; `None` for
/// a fixed one, which its frame carries, and where the old weight is not known.
pub fn heavier(kind: Kind, weights: &Weights, limits: &Limits) -> Option<Finding> {
    let cure = cure(kind)?;
    let (before, gain) = (weights.before()?, weights.gain()?);
    let ratio = if before > 0.0 { weights.after() / before } else { 1.0 };
    let measured = Quantity { value: ratio, unit: "" };
    let bounds = Bounds::caution(&limits.heavier_caution);
    Some(Finding::at_most("hanging.heavier", "whole sash", measured, bounds, |verdict, _| {
        let figure = text!(
            "hang-before-after",
            before = format!("{before:.1}"),
            after = format!("{:.1}", weights.after()),
            gain = format!("{gain:+.1}")
        );
        match verdict {
            Verdict::Clear => figure,
            _ => text!("hang-heavier", figure, cure),
        }
    }))
}

fn cure(kind: Kind) -> Option<Text> {
    Some(match kind {
        Kind::Fixed => return None,
        Kind::SideHung => {
            text!("hang-heavier-side")
        }
        Kind::TopHung => {
            text!("hang-heavier-top")
        }
        Kind::SlidingUpper | Kind::SlidingLower => {
            text!("hang-heavier-sliding")
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn weights(before: f64, after: f64) -> Weights {
        Weights {
            timber_before: before,
            timber_after: after,
            beads: 0.0,
            glass_before: Some(0.0),
            glass_after: 0.0,
        }
    }

    // HSE filter, L23 fig. 20 as reproduced: 16 and 25 kg close in at the height of the elbows.
    #[test]
    fn sixteen_and_twenty_five_kilograms_are_the_steps() {
        let limits = Limits::default();
        let at = |after| lifting(&weights(8.0, after), &limits);
        assert_eq!(at(16.0).verdict, Verdict::Clear);
        assert_eq!(at(16.1).verdict, Verdict::Caution);
        assert!(at(25.0).advised().contains("second person"));
        assert!(at(25.1).advised().contains("hoist"));
    }

    #[test]
    fn a_sash_more_than_twice_as_heavy_wants_its_fittings_looked_to() {
        let limits = Limits::default();
        for kind in [Kind::SideHung, Kind::TopHung, Kind::SlidingUpper, Kind::SlidingLower] {
            assert_eq!(
                heavier(kind, &weights(10.0, 20.0), &limits).unwrap().verdict,
                Verdict::Clear
            );
            let care = heavier(kind, &weights(10.0, 20.1), &limits).unwrap();
            assert_eq!(care.verdict, Verdict::Caution);
            assert!(care.advised().contains("+10.1 kg"), "{}", care.advised());
        }
        let none = heavier(Kind::SideHung, &weights(0.0, 5.0), &limits).unwrap();
        assert!(none.measured.value.is_finite());
        assert_eq!(heavier(Kind::Fixed, &weights(10.0, 15.1), &limits), None);
        let unknown = Weights { glass_before: None, ..weights(10.0, 15.1) };
        assert_eq!(heavier(Kind::SideHung, &unknown, &limits), None);
    }
}
