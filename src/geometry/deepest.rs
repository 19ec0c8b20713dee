//! The place inside an outline that is furthest from its edge.

use super::Outline;
use super::tolerance::{LARGEST_CIRCLE, PATIENCE};
use kurbo::{Point, Rect};
use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// A square with the depth at its middle and the greatest depth that it can hold.
struct Square {
    middle: Point,
    half: f64,
    most: f64,
}

impl Square {
    fn new(outline: &Outline, middle: Point, half: f64) -> (Square, f64) {
        let away = outline.distance_to(middle);
        let depth = if outline.contains(middle) { away } else { -away };
        // Depth changes no faster than the distance walked, and the corners are furthest away.
        (Square { middle, half, most: depth + half * std::f64::consts::SQRT_2 }, depth)
    }
}

impl PartialEq for Square {
    fn eq(&self, other: &Square) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Square {}

impl PartialOrd for Square {
    fn partial_cmp(&self, other: &Square) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Square {
    /// By the most that they can hold; equal ones by place, so that the answer is always the same.
    fn cmp(&self, other: &Square) -> Ordering {
        self.most
            .total_cmp(&other.most)
            .then_with(|| other.middle.y.total_cmp(&self.middle.y))
            .then_with(|| other.middle.x.total_cmp(&self.middle.x))
    }
}

impl Outline {
    /// A point inside, whose distance from the outline (given with it, mm) is within 0.01 mm of the
    /// greatest: the centre of the largest circle that fits in.
    ///
    /// Squares are split in four, those that may hold the deepest point first, until none can hold a
    /// point deeper by more than 0.01 mm.
    pub fn deepest_inside(&self) -> (Point, f64) {
        let bounds = self.bounds();
        let (mut best, mut heap) = ((bounds.center(), f64::NEG_INFINITY), BinaryHeap::new());
        let mut look = |middle: Point, half: f64, heap: &mut BinaryHeap<Square>| {
            let (square, depth) = Square::new(self, middle, half);
            if depth > best.1 {
                best = (middle, depth);
            }
            if square.most > best.1 + LARGEST_CIRCLE {
                heap.push(square);
            }
            best.1
        };
        let (first, half) = cover(bounds);
        for middle in first {
            look(middle, half, &mut heap);
        }
        for _ in 0..PATIENCE {
            let Some(square) = heap.pop() else { break };
            let half = square.half / 2.0;
            let mut deepest = f64::NEG_INFINITY;
            for (right, up) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
                let middle = square.middle + half * kurbo::Vec2::new(right, up);
                deepest = look(middle, half, &mut heap);
            }
            // The next square holds the most of all: once it cannot do better, none can.
            if heap.peek().is_none_or(|next| next.most <= deepest + LARGEST_CIRCLE) {
                break;
            }
        }
        best
    }
}

/// Middles of squares that cover `bounds`, at most a few dozen, and half their side.
fn cover(bounds: Rect) -> (Vec<Point>, f64) {
    let (wide, high) = (bounds.width(), bounds.height());
    let half = (wide.min(high) / 2.0).max(wide.max(high) / 32.0);
    let places = |from: f64, length: f64| {
        let mut at = vec![from + half];
        while at.len() < 32 && at.last().is_some_and(|last| last + half < from + length) {
            at.extend(at.last().map(|last| last + 2.0 * half));
        }
        at
    };
    let columns = places(bounds.x0, wide);
    let middles = places(bounds.y0, high)
        .into_iter()
        .flat_map(|y| columns.iter().map(move |&x| Point::new(x, y)))
        .collect();
    (middles, half)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, Edge};
    use approx::assert_relative_eq;

    #[test]
    fn the_largest_circle_in_plain_shapes_is_known() {
        let strip = Outline::rectangle(Rect::new(0.0, 0.0, 2000.0, 60.0)).unwrap();
        let (at, depth) = strip.deepest_inside();
        assert_relative_eq!(depth, 30.0, epsilon = LARGEST_CIRCLE);
        assert!(strip.contains(at));
        // Right triangle 300-400-500: in-radius (a + b − c)/2 = 100, centre (100, 100).
        let corners = [(0.0, 0.0), (400.0, 0.0), (0.0, 300.0)].map(Point::from);
        let (at, depth) = Outline::polygon(&corners).unwrap().deepest_inside();
        assert_relative_eq!(depth, 100.0, epsilon = LARGEST_CIRCLE);
        assert!((at - Point::new(100.0, 100.0)).hypot() < 0.1);
    }

    // Half circle of radius R: the largest circle has half its radius.
    #[test]
    fn a_half_circle_holds_a_circle_of_half_its_radius() {
        let (right, left) = (Point::new(500.0, 0.0), Point::new(-500.0, 0.0));
        let head = Edge::Arc(Arc::from_bulge(right, left, 1.0).unwrap());
        let shape = Outline::new(vec![Edge::line(left, right), head]).unwrap();
        let (at, depth) = shape.deepest_inside();
        assert_relative_eq!(depth, 250.0, epsilon = LARGEST_CIRCLE);
        assert!((at - Point::new(0.0, 250.0)).hypot() < 5.0);
    }

    #[test]
    fn in_a_hook_the_deepest_point_is_inside_where_the_middle_is_not() {
        let hook =
            [(0.0, 0.0), (300.0, 0.0), (300.0, 30.0), (40.0, 30.0), (40.0, 300.0), (0.0, 300.0)];
        let hook = Outline::polygon(&hook.map(Point::from)).unwrap();
        let (at, depth) = hook.deepest_inside();
        assert!(hook.contains(at));
        assert_relative_eq!(depth, hook.distance_to(at), epsilon = 1e-12);
        // The circle in the corner touches both outer edges and the inner corner (40, 30):
        // (40 − r)² + (30 − r)² = r², so r = 70 − √2400.
        assert_relative_eq!(depth, 70.0 - 2400.0_f64.sqrt(), epsilon = LARGEST_CIRCLE);
    }
}
