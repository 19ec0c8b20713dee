//! A glass corner against the fillet that a round cutter leaves.

use crate::geometry::{Edge, Outline};
use kurbo::{Point, Vec2};

/// A corner flatter than this, as the sine of its turn, is no corner: arcs meet that smoothly.
pub const FLAT: f64 = 1e-4;

/// Radius of the largest cutter whose fillet a square corner still clears, with gaps `a` and `b` to
/// the two walls, mm: a + b + √(2ab).
///
/// The fillet's centre lies at (R, R) from the walls and the glass corner at (a, b); the corner
/// touches the fillet where (R − a)² + (R − b)² = R², whose larger root is the answer. A gap that is
/// not positive leaves no room for any fillet.
pub fn largest_radius(a: f64, b: f64) -> f64 {
    if a <= 0.0 || b <= 0.0 { 0.0 } else { a + b + (2.0 * a * b).sqrt() }
}

/// The same for any corner between two walls, the second beginning where the first ends, and the glass
/// corner nearest to it; curved walls count as their tangents there.
///
/// The fillet's centre lies at R v from the corner, with v on the bisector so that R v is R from both
/// walls. The glass corner P touches the fillet where |P − R v| = R, whose larger root is the answer.
pub fn largest_radius_between(into: &Edge, out: &Edge, glass: &Outline) -> f64 {
    let at = out.start();
    let away = |corner: &Point| (*corner - at).hypot2();
    let Some(corner) = glass.corners().min_by(|a, b| away(a).total_cmp(&away(b))) else {
        return 0.0;
    };
    let p = corner - at;
    let (along, on) = (into.direction(1.0), out.direction(0.0));
    // Anticlockwise, the inside is to the left.
    let inwards = |direction: Vec2| Vec2::new(-direction.y, direction.x);
    let turn = along.cross(on);
    // Walls that go on smoothly, or turn outwards, have no fillet.
    if turn <= FLAT {
        return f64::INFINITY;
    }
    if p.dot(inwards(along)) <= 0.0 || p.dot(inwards(on)) <= 0.0 {
        return 0.0;
    }
    let v = (on - along) / turn;
    let square = v.hypot2() - 1.0;
    let root = (p.dot(v).powi(2) - square * p.hypot2()).max(0.0).sqrt();
    (p.dot(v) + root) / square
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
    }

    // Between square walls the general form is the special one.
    #[test]
    fn any_corner_has_a_largest_radius() {
        let (a, b) = (2.0, 3.0);
        let at = Point::new(0.0, 50.0);
        let into = Edge::line(Point::new(0.0, 90.0), at);
        let out = Edge::line(at, Point::new(40.0, 50.0));
        let glass = kurbo::Rect::new(a, 50.0 + b, 30.0, 80.0);
        let glass = Outline::rectangle(glass).unwrap();
        let found = largest_radius_between(&into, &out, &glass);
        assert_relative_eq!(found, largest_radius(a, b), epsilon = 1e-9);
        // 60°: the largest circle that touches both walls and passes the corner at (a, b).
        let out = Edge::line(at, at + Vec2::from_angle(30.0_f64.to_radians()) * 40.0);
        let corner = at + Vec2::new(4.0, 6.0);
        let glass = [corner, corner + Vec2::new(20.0, 15.0), corner + Vec2::new(0.0, 20.0)];
        let glass = Outline::polygon(&glass).unwrap();
        let radius = largest_radius_between(&into, &out, &glass);
        let centre = at + radius / 0.5 * Vec2::from_angle(60.0_f64.to_radians());
        assert_relative_eq!((corner - centre).hypot(), radius, epsilon = 1e-9);
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
