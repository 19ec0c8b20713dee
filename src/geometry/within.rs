//! Where a point lies along an edge, and on which side of a closed outline.

use super::{Edge, Outline, Region};
use kurbo::Point;
use std::f64::consts::{PI, TAU};

impl Edge {
    /// How far along the edge, from 0 (start) to 1 (end), its point nearest to `point` lies.
    pub fn nearest(&self, point: Point) -> f64 {
        match self {
            Edge::Line(line) => {
                let along = line.p1 - line.p0;
                let square = along.hypot2();
                if square == 0.0 {
                    return 0.0;
                }
                ((point - line.p0).dot(along) / square).clamp(0.0, 1.0)
            }
            Edge::Arc(arc) => {
                let turn = (point - arc.centre).atan2() - arc.start;
                let along = if arc.sweep < 0.0 { -turn } else { turn }.rem_euclid(TAU);
                let sweep = arc.sweep.abs();
                if along <= sweep {
                    along / sweep
                } else if (point - self.start()).hypot2() <= (point - self.end()).hypot2() {
                    0.0
                } else {
                    1.0
                }
            }
        }
    }

    /// The piece of the edge between `from` and `to`, both from 0 to 1, travelled from `from` to `to`.
    #[must_use]
    pub fn part(&self, from: f64, to: f64) -> Edge {
        match *self {
            Edge::Line(line) => Edge::line(line.p0.lerp(line.p1, from), line.p0.lerp(line.p1, to)),
            Edge::Arc(arc) => Edge::Arc(super::Arc {
                start: arc.start + from * arc.sweep,
                sweep: (to - from) * arc.sweep,
                ..arc
            }),
        }
    }

    /// The angle, radians, by which the ray from `point` to a traveller along the edge turns.
    fn turn_about(&self, point: Point) -> f64 {
        let (from, to) = (self.start() - point, self.end() - point);
        let side = from.cross(to);
        let chord_turn = side.atan2(from.dot(to));
        match self {
            Edge::Line(_) => chord_turn,
            // The arc and its chord close a segment of the circle; a point in it sees one turn more
            // than the chord's own. The side of the chord is judged by the very number that gives the
            // chord's turn, so that a point on the chord is not counted on both sides.
            Edge::Arc(arc) => {
                let forwards = arc.sweep > 0.0;
                let in_circle = (point - arc.centre).hypot() < arc.radius;
                if arc.sweep.abs() >= TAU - 1e-9 {
                    return if in_circle { TAU * arc.sweep.signum() } else { 0.0 };
                }
                let beyond = side.is_sign_negative() == forwards;
                chord_turn + if in_circle && beyond { TAU * arc.sweep.signum() } else { 0.0 }
            }
        }
    }
}

impl Outline {
    /// Whether `point` lies inside; on the edge itself either answer may come.
    pub fn contains(&self, point: Point) -> bool {
        // Turns about the point add up to a whole number of turns.
        self.edges().iter().map(|edge| edge.turn_about(point)).sum::<f64>().abs() > PI
    }

    /// The point of the outline nearest to `point`, and the index of the edge it lies on.
    pub fn nearest_on(&self, point: Point) -> (Point, usize) {
        let mut best = (point, 0, f64::INFINITY);
        for (index, edge) in self.edges().iter().enumerate() {
            let on = edge.at(edge.nearest(point));
            let away = (on - point).hypot();
            if away < best.2 {
                best = (on, index, away);
            }
        }
        (best.0, best.1)
    }
}

impl Region {
    /// Whether `point` lies in the region; on the edge itself either answer may come.
    pub fn contains(&self, point: Point) -> bool {
        self.outline.contains(point) && !self.holes.iter().any(|hole| hole.contains(point))
    }

    /// Least distance from `point` to any boundary, mm.
    pub(super) fn clear_of_boundary(&self, point: Point) -> f64 {
        self.edges().map(|edge| edge.distance_to(point)).fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;
    use kurbo::Shape;
    use proptest::prelude::*;

    fn keyhole() -> Outline {
        // Three quarters of a circle, closed by two straight edges to its centre.
        let arc = Arc { centre: Point::ZERO, radius: 10.0, start: PI / 2.0, sweep: 1.5 * PI };
        Outline::new(vec![
            Edge::line(Point::ZERO, Point::new(0.0, 10.0)),
            Edge::Arc(arc),
            Edge::line(Point::new(10.0, 0.0), Point::ZERO),
        ])
        .unwrap()
    }

    #[test]
    fn more_than_half_a_circle_is_inside() {
        let shape = keyhole();
        assert!(shape.contains(Point::new(-5.0, 5.0)));
        assert!(shape.contains(Point::new(5.0, -5.0)));
        assert!(!shape.contains(Point::new(5.0, 5.0)));
        assert!(!shape.contains(Point::new(9.0, 9.0)));
        let (on, index) = shape.nearest_on(Point::new(-20.0, 0.0));
        assert_relative_eq!(on.x, -10.0, epsilon = 1e-9);
        assert_eq!(index, 1);
    }

    #[test]
    fn parts_and_nearest_agree() {
        let arc = Edge::Arc(Arc { centre: Point::ZERO, radius: 7.0, start: 1.0, sweep: -4.0 });
        for t in [0.0, 0.1, 0.5, 0.9, 1.0] {
            assert_relative_eq!(arc.nearest(arc.at(t)), t, epsilon = 1e-12);
        }
        let part = arc.part(0.75, 0.25);
        assert!((part.start() - arc.at(0.75)).hypot() < 1e-12);
        assert!((part.end() - arc.at(0.25)).hypot() < 1e-12);
    }

    proptest! {
        // The winding of kurbo's path through the same points is the judge.
        #[test]
        fn inside_agrees_with_the_path(x in -12.0..12.0, y in -12.0..12.0) {
            let (shape, point) = (keyhole(), Point::new(x, y));
            prop_assume!(shape.distance_to(point) > 1e-6);
            prop_assert_eq!(shape.contains(point), shape.to_path().winding(point) != 0);
        }
    }
}
