//! The normal distribution, and how a chance is told.

use crate::geometry::ROUNDING;
use crate::language::{Text, text};

/// Beyond so many standard deviations nothing is left that counts.
const FAR: f64 = 8.0;

/// Shares of failures that are told, one in so many.
const ONE_IN: [f64; 8] = [100.0, 50.0, 20.0, 10.0, 5.0, 4.0, 3.0, 2.0];

/// Chance that a normally distributed value lies below its mean and `z` standard deviations.
///
/// Φ(z) = ½ + φ(z) (z + z³/3 + z⁵/(3·5) + z⁷/(3·5·7) + …), with φ(z) = e^(−z²/2)/√(2π): the density integrated
/// by parts, term by term.
pub(super) fn normal(z: f64) -> f64 {
    if z.abs() > FAR {
        return if z > 0.0 { 1.0 } else { 0.0 };
    }
    let (mut term, mut sum, mut odd) = (z, z, 1.0);
    while term.abs() > f64::EPSILON * sum.abs() {
        odd += 2.0;
        term *= z * z / odd;
        sum += term;
    }
    let density = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt();
    (0.5 + density * sum).clamp(0.0, 1.0)
}

/// `19 times in 20`: a chance as a joiner would say it, never better than it is.
pub(super) fn times(chance: f64) -> Text {
    let fails = 1.0 - chance;
    match ONE_IN.iter().find(|one_in| fails * **one_in <= 1.0 + ROUNDING) {
        Some(one_in) if *one_in > 2.0 => {
            let [holds, of] = [one_in - 1.0, *one_in].map(|times| format!("{times:.0}"));
            text!("gap-times", holds, of)
        }
        Some(_) => text!("gap-half"),
        None => text!("gap-less-than-half"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // The table of the normal distribution, as every book of statistics has it: to five figures.
    #[test]
    fn the_chances_of_the_table() {
        for (z, chance) in [
            (0.0, 0.5),
            (0.5, 0.691_46),
            (1.0, 0.841_34),
            (1.5, 0.933_19),
            (1.645, 0.950_02),
            (1.96, 0.975_00),
            (2.0, 0.977_25),
            (2.576, 0.995_00),
            (3.0, 0.998_65),
            (4.0, 0.999_968),
        ] {
            assert_relative_eq!(normal(z), chance, epsilon = 6e-6);
            assert_relative_eq!(normal(-z), 1.0 - chance, epsilon = 6e-6);
        }
        assert_eq!((normal(f64::INFINITY), normal(f64::NEG_INFINITY)), (1.0, 0.0));
        assert_eq!((normal(1e3), normal(-1e3)), (1.0, 0.0));
    }

    #[test]
    fn a_chance_is_never_told_better_than_it_is() {
        for (chance, words) in [
            (1.0, "99 times in 100"),
            (0.975, "19 times in 20"),
            (0.95, "19 times in 20"),
            (0.949, "9 times in 10"),
            (0.76, "3 times in 4"),
            (0.5, "1 time in 2"),
            (0.49, "not even 1 time in 2"),
        ] {
            assert_eq!(times(chance).to_string(), words);
        }
    }
}
