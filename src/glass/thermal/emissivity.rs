//! From the emissivity a maker measures square to the glass to the one that counts for heat.

/// Corrected emissivity of uncoated soda lime glass. EN 673 (published, reproduced).
pub const UNCOATED: f64 = 0.837;

/// Normal emissivity and the factor that corrects it. EN 12898 and EN 673 (published, reproduced).
const FACTORS: [(f64, f64); 8] = [
    (0.03, 1.22),
    (0.05, 1.18),
    (0.1, 1.14),
    (0.2, 1.10),
    (0.3, 1.06),
    (0.4, 1.03),
    (0.5, 1.00),
    (0.89, 0.94),
];

/// Corrected emissivity of a surface of that `normal` emissivity: its factor is read off the table in
/// straight lines between its points, and stays what it is at either end. `None` outside 0 to 1.
pub fn corrected(normal: f64) -> Option<f64> {
    (normal > 0.0 && normal <= 1.0).then(|| normal * factor(normal))
}

fn factor(normal: f64) -> f64 {
    let mut before = None;
    for (at, value) in FACTORS {
        if normal <= at {
            return before.map_or(value, |(low, start): (f64, f64)| {
                start + (value - start) * (normal - low) / (at - low)
            });
        }
        before = Some((at, value));
    }
    before.map_or(1.0, |(_, value)| value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    #[test]
    fn table_points_and_the_lines_between_them() {
        for (normal, factor) in FACTORS {
            assert_relative_eq!(corrected(normal).unwrap(), normal * factor, epsilon = 1e-15);
        }
        assert_relative_eq!(corrected(0.15).unwrap(), 0.15 * 1.12, epsilon = 1e-12);
        assert_relative_eq!(corrected(0.01).unwrap(), 0.01 * 1.22, epsilon = 1e-15);
        // The uncoated glass of the standard is the last point of the table.
        assert_relative_eq!(corrected(0.89).unwrap(), UNCOATED, epsilon = 5e-4);
        for wrong in [0.0, -0.1, 1.1, f64::NAN] {
            assert_eq!(corrected(wrong), None);
        }
    }

    proptest! {
        #[test]
        fn more_normal_emissivity_is_more_corrected(a in 0.001..1.0_f64, b in 0.001..1.0_f64) {
            let (less, more) = (a.min(b), a.max(b));
            prop_assert!(corrected(less).unwrap() <= corrected(more).unwrap());
        }
    }
}
