//! A rectangular plate, simply supported on all four edges, under an even load; and a round one.
//!
//! Thin plates that bend little: M. Lévy's single series, whose slow part has a closed form and whose
//! rest falls off so fast that twenty terms leave nothing at the precision of `f64` that matters here.
//! The series of S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, article 30, held against the
//! published table 11.4, case 1a, of Roark's Formulas and against finite elements. A pane that bends by more than half its thickness is stiffer and less stressed in its
//! middle than this says, so that the figures err on the safe side.

use std::f64::consts::PI;

/// Terms of the series.
const TERMS: u32 = 20;

/// Slenderness beyond which a plate is an endless strip.
const ENDLESS: f64 = 1e6;

/// What a plate of one shape does, for a short side b, thickness t, load q and stiffness E.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Coefficients {
    /// α: deflection in the middle = α q b⁴/(E t³).
    pub deflection: f64,
    /// β: stress in the middle, across the short side, = β q b²/t².
    pub stress: f64,
    /// Mean deflection = `mean` q b⁴/(E t³).
    pub mean: f64,
}

/// Coefficients of a plate whose sides stand in `ratio` (either way round), of Poisson's ratio
/// `poisson`. A ratio that is no positive number counts as that of an endless strip, the worst shape.
pub fn coefficients(ratio: f64, poisson: f64) -> Coefficients {
    let ratio = if ratio > 0.0 { ratio.max(1.0 / ratio).min(ENDLESS) } else { ENDLESS };
    // An endless strip: a beam of unit width.
    let (mut deflection, mut moment, mut mean) = (5.0 / 384.0, 1.0 / 8.0, 1.0 / 120.0);
    let mut sign = 1.0;
    for term in 0..TERMS {
        let m = f64::from(2 * term + 1);
        let half = m * PI * ratio / 2.0;
        let (tanh, sech) = (half.tanh(), 1.0 / half.cosh());
        let scale = 2.0 / (m * PI).powi(5);
        let a = -scale * (half * tanh + 2.0) * sech;
        let b = scale * sech;
        deflection += sign * a;
        moment += sign * (m * PI).powi(2) * (a - poisson * (a + 2.0 * b));
        mean += scale * 2.0 / (m * PI) * (sech * sech - 3.0 * tanh / half);
        sign = -sign;
    }
    let rigidity = 12.0 * (1.0 - poisson * poisson);
    Coefficients { deflection: rigidity * deflection, stress: 6.0 * moment, mean: rigidity * mean }
}

/// Coefficients of a round plate, its diameter for both sides.
///
/// With the radius a: w = (5 + ν)/(1 + ν) q a⁴/(64 D), M = (3 + ν) q a²/16, mean w = (7 + ν)/(1 + ν)
/// q a⁴/(192 D). Timoshenko and Woinowsky-Krieger, article 16, held against finite elements.
pub fn round(poisson: f64) -> Coefficients {
    let rigidity = 12.0 * (1.0 - poisson * poisson);
    let fourth = 1.0 / 16.0;
    let free = fourth / (1.0 + poisson);
    Coefficients {
        deflection: rigidity * (5.0 + poisson) * free / 64.0,
        stress: 6.0 * (3.0 + poisson) / 64.0,
        mean: rigidity * (7.0 + poisson) * free / 192.0,
    }
}

/// How much more a pane that is no rectangle may be stressed in its middle than the upright rectangle
/// around it: as a round one more than its square, 1.131 of glass. A bent edge holds a plate less than a
/// straight one does. Of the ovals and arched heads in `fixtures/reference/physics.json` none reaches
/// the round one; shapes of straight edges bear hardly more than their rectangles, most of them less.
pub fn shaped(poisson: f64) -> f64 {
    round(poisson).stress / coefficients(1.0, poisson).stress
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn a_longer_plate_is_never_stiffer_and_turning_it_changes_nothing(
            a in 1.0..20.0_f64, b in 1.0..20.0_f64,
        ) {
            let (short, long) = (coefficients(a.min(b), 0.2), coefficients(a.max(b), 0.2));
            prop_assert!(short.deflection <= long.deflection + 1e-12);
            prop_assert!(short.mean <= long.mean + 1e-12);
            let turned = coefficients(1.0 / a, 0.2);
            prop_assert!((turned.stress - coefficients(a, 0.2).stress).abs() < 1e-9);
        }
    }

    #[test]
    fn no_ratio_at_all_is_the_endless_strip() {
        for ratio in [0.0, -1.0, f64::NAN, f64::INFINITY, 1e300] {
            assert_relative_eq!(coefficients(ratio, 0.2).stress, 0.75, epsilon = 1e-9);
        }
    }
}
