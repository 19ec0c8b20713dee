//! A rectangular plate, simply supported on all four edges, under an even load.
//!
//! Thin plates that bend little: M. Lévy's single series, whose slow part has a closed form and whose
//! rest falls off so fast that twenty terms leave nothing at the precision of `f64` that matters here.
//! Source of the series: S. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, article 30
//! (from memory). A pane that bends by more than half its thickness is stiffer and less stressed in its
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

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    // Roark's Formulas, table 11.4 case 1a, ν 0.3 (published): β and α at the ratios of the handbook.
    const HANDBOOK: [(f64, f64, f64); 10] = [
        (1.0, 0.2874, 0.0444),
        (1.2, 0.3762, 0.0616),
        (1.4, 0.4530, 0.0770),
        (1.6, 0.5172, 0.0906),
        (1.8, 0.5688, 0.1017),
        (2.0, 0.6102, 0.1110),
        (3.0, 0.7134, 0.1335),
        (4.0, 0.7410, 0.1400),
        (5.0, 0.7476, 0.1417),
        (f64::INFINITY, 0.7500, 0.1421),
    ];

    #[test]
    fn within_six_in_a_thousand_of_the_handbook() {
        for (ratio, stress, deflection) in HANDBOOK {
            // The handbook's α of an endless strip is that of ν 0.3: 12 × 0.91 × 5/384 = 0.14219.
            let ours = coefficients(ratio, 0.3);
            assert_relative_eq!(ours.stress, stress, max_relative = 6e-3);
            assert_relative_eq!(ours.deflection, deflection, max_relative = 6e-3);
        }
    }

    // Timoshenko, table 8, ν 0.3 (from memory): w = α q b⁴/D and M = β q b². The table cuts its last
    // digit off in places, so a whole one is allowed.
    #[test]
    fn within_a_digit_of_another_table() {
        for (ratio, deflection, moment) in [
            (1.0, 0.00406, 0.0479),
            (1.2, 0.00564, 0.0627),
            (1.5, 0.00772, 0.0812),
            (2.0, 0.01013, 0.1017),
            (3.0, 0.01223, 0.1189),
            (5.0, 0.01297, 0.1246),
        ] {
            let ours = coefficients(ratio, 0.3);
            assert!((ours.deflection / (12.0 * 0.91) - deflection).abs() < 1.1e-5, "{ratio}");
            assert!((ours.stress / 6.0 - moment).abs() < 1.1e-4, "{ratio}");
        }
    }

    /// Navier's double series, which shares no step with Lévy's: deflection, moment, mean.
    fn navier(ratio: f64, poisson: f64) -> [f64; 3] {
        let (mut deflection, mut moment, mut mean) = (0.0, 0.0, 0.0);
        for i in 0..400_u32 {
            for j in 0..400_u32 {
                let (m, n) = (f64::from(2 * i + 1), f64::from(2 * j + 1) / ratio);
                let order = f64::from(2 * i + 1) * f64::from(2 * j + 1);
                let sign = if (i + j) % 2 == 0 { 1.0 } else { -1.0 };
                let bend = 1.0 / (order * (m * m + n * n).powi(2));
                deflection += sign * bend;
                moment += sign * (m * m + poisson * n * n) * bend;
                mean += bend / order;
            }
        }
        let rigidity = 12.0 * (1.0 - poisson * poisson);
        [
            rigidity * 16.0 / PI.powi(6) * deflection,
            6.0 * 16.0 / PI.powi(4) * moment,
            rigidity * 64.0 / PI.powi(8) * mean,
        ]
    }

    #[test]
    fn within_one_in_ten_thousand_of_the_double_series() {
        for poisson in [0.2, 0.3] {
            for ratio in [1.0, 1.3, 2.0, 3.7] {
                let ours = coefficients(ratio, poisson);
                let ours = [ours.deflection, ours.stress, ours.mean];
                for (ours, exact) in ours.into_iter().zip(navier(ratio, poisson)) {
                    assert_relative_eq!(ours, exact, max_relative = 1e-4);
                }
            }
        }
    }

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
