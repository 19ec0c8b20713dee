//! How far inside an outline an edge comes.

use super::{Edge, Outline};

/// Places along an edge looked at first: between two of them the depth rises and falls once at most, but
/// for outlines with features much shorter than the edge.
const PLACES: u32 = 16;
/// Thirds taken off the stretch round the deepest of them: (2/3)²⁸ is a hundred-thousandth.
const CUTS: u32 = 28;

impl Outline {
    /// The greatest distance from the outline, mm, of any place of `edge` inside it; zero where the edge
    /// lies outside.
    pub fn depth_of(&self, edge: &Edge) -> f64 {
        let depth = |t: f64| {
            let at = edge.at(t);
            if self.contains(at) { self.distance_to(at) } else { 0.0 }
        };
        let places = (0..=PLACES).map(|n| f64::from(n) / f64::from(PLACES));
        let looked = places.map(|t| (t, depth(t)));
        let Some((t, mut most)) = looked.max_by(|a, b| a.1.total_cmp(&b.1)) else { return 0.0 };
        let step = 1.0 / f64::from(PLACES);
        let (mut from, mut to) = ((t - step).max(0.0), (t + step).min(1.0));
        for _ in 0..CUTS {
            let third = (to - from) / 3.0;
            let (a, b) = (from + third, to - third);
            let (at_a, at_b) = (depth(a), depth(b));
            most = most.max(at_a).max(at_b);
            if at_a < at_b { from = a } else { to = b }
        }
        most
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::{Point, Rect};

    // Closed forms: along y = x/3 in a square of 100 mm, y is the least distance until it meets 100 − x at
    // x = 75; on a parallel line it is the same everywhere.
    #[test]
    fn the_deepest_place_of_a_line_is_where_two_sides_are_equally_far() {
        let square = Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 100.0)).unwrap();
        let slanting = Edge::line(Point::ZERO, Point::new(120.0, 40.0));
        assert_relative_eq!(square.depth_of(&slanting), 25.0, epsilon = 1e-3);
        let level = Edge::line(Point::new(20.0, 7.0), Point::new(60.0, 7.0));
        assert_eq!(square.depth_of(&level), 7.0);
        let outside = Edge::line(Point::new(120.0, 7.0), Point::new(160.0, 7.0));
        assert_eq!(square.depth_of(&outside), 0.0);
    }
}
