//! A square glass corner against the fillet that a round cutter leaves.

/// Radius of the largest cutter whose fillet a square corner still clears, with gaps `a` and `b` to
/// the two walls, mm: a + b + √(2ab).
///
/// The fillet's centre lies at (R, R) from the walls and the glass corner at (a, b); the corner
/// touches the fillet where (R − a)² + (R − b)² = R², whose larger root is the answer. A gap that is
/// not positive leaves no room for any fillet.
pub fn largest_radius(a: f64, b: f64) -> f64 {
    if a <= 0.0 || b <= 0.0 { 0.0 } else { a + b + (2.0 * a * b).sqrt() }
}

/// Area of the fillet that a cutter of `radius` leaves in a square corner, mm²: R²(1 − π/4).
pub fn fillet_area(radius: f64) -> f64 {
    radius * radius * (1.0 - std::f64::consts::FRAC_PI_4)
}

/// From the sharp corner to the fillet along the diagonal, mm: R(√2 − 1).
pub fn fillet_diagonal(radius: f64) -> f64 {
    radius * (std::f64::consts::SQRT_2 - 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    // Closed forms, checked numerically outside this project.
    #[test]
    fn corners_follow_the_closed_forms() {
        assert_relative_eq!(largest_radius(2.0, 2.0), 6.828_427, epsilon = 1e-6);
        assert_relative_eq!(largest_radius(3.0, 3.0), 10.242_641, epsilon = 1e-6);
        assert_relative_eq!(largest_radius(2.0, 3.0), 8.464_102, epsilon = 1e-6);
        assert_relative_eq!(fillet_area(6.0), 7.7257, epsilon = 1e-4);
        assert_relative_eq!(fillet_diagonal(6.0), 2.4853, epsilon = 1e-4);
    }

    proptest! {
        // Independent of the formula: at the largest radius the corner lies on the fillet's circle.
        #[test]
        fn the_corner_lies_on_the_largest_fillet(a in 0.01..20.0, b in 0.01..20.0) {
            let r: f64 = largest_radius(a, b);
            prop_assert!(((r - a).hypot(r - b) - r).abs() < 1e-9 * r);
            prop_assert!((1.01 * r - a).hypot(1.01 * r - b) > 1.01 * r);
        }
    }
}
