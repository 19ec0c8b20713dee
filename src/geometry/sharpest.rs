//! The sharpest inside corner of an outline.

use super::{Edge, Outline};
use std::f64::consts::PI;

impl Outline {
    /// The least angle inside, radians, between neighbours that turn to the left; half a turn where none
    /// do.
    pub fn sharpest_corner(&self) -> f64 {
        let edges = self.edges();
        let before = edges.iter().cycle().skip(edges.len().saturating_sub(1));
        let turn = |(into, out): (&Edge, &Edge)| {
            let (along, on) = (into.direction(1.0), out.direction(0.0));
            along.cross(on).atan2(along.dot(on))
        };
        PI - before.zip(edges).map(turn).fold(0.0, f64::max)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::Point;

    #[test]
    fn the_sharpest_corner_is_the_least_angle() {
        let corners = [(0.0, 0.0), (400.0, 0.0), (0.0, 300.0)].map(Point::from);
        let triangle = Outline::polygon(&corners).unwrap();
        assert_relative_eq!(
            triangle.sharpest_corner(),
            (300.0_f64 / 400.0).atan(),
            epsilon = 1e-12
        );
    }
}
