//! Where a point lies along an edge, and on which side of a closed outline.

use super::{Edge, Outline, Region};
use kurbo::Point;
use std::f64::consts::TAU;

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
}

impl Outline {
    /// Whether `point` lies inside; on the edge itself either answer may come.
    pub fn contains(&self, point: Point) -> bool {
        let edges = self.prepared();
        let next = edges.iter().cycle().skip(1);
        let crossings =
            edges.iter().zip(next).map(|(edge, next)| edge.crossings_of_ray(next.from, point));
        crossings.sum::<i32>() != 0
    }

    /// The point of the outline nearest to `point`, and the index of the edge it lies on.
    pub fn nearest_on(&self, point: Point) -> (Point, usize) {
        let mut best = (point, 0, f64::INFINITY);
        for (index, edge) in self.prepared().iter().enumerate() {
            if edge.box_distance_squared(point) > best.2 * best.2 {
                continue;
            }
            let edge = &edge.edge;
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
        let loops = std::iter::once(&self.outline).chain(&self.holes);
        loops.map(|outline| outline.distance_to(point)).fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;
    use kurbo::{Shape, Vec2};
    use proptest::prelude::*;
    use std::f64::consts::PI;

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

    /// The angle, radians, by which the ray from `point` to a traveller along the edge turns: the slow judge.
    fn turn_about(edge: &Edge, point: Point) -> f64 {
        let (from, to) = (edge.start() - point, edge.end() - point);
        let side = from.cross(to);
        let chord_turn = side.atan2(from.dot(to));
        let Edge::Arc(arc) = edge else { return chord_turn };
        let in_circle = (point - arc.centre).hypot() < arc.radius;
        if arc.sweep.abs() >= TAU - 1e-9 {
            return if in_circle { TAU * arc.sweep.signum() } else { 0.0 };
        }
        let beyond = side.is_sign_negative() == (arc.sweep > 0.0);
        chord_turn + if in_circle && beyond { TAU * arc.sweep.signum() } else { 0.0 }
    }

    fn turned_about(outline: &Outline, point: Point) -> bool {
        outline.edges().iter().map(|edge| turn_about(edge, point)).sum::<f64>().abs() > PI
    }

    /// A ring of six edges, each straight or bent either way.
    fn rings() -> impl Strategy<Value = Outline> {
        let corner = (20_u32..100, -0.9..0.9, any::<bool>());
        prop::array::uniform6(corner).prop_map(|corners| {
            let at = |(n, away): (usize, u32)| {
                let way = Vec2::from_angle(n as f64 * PI / 3.0);
                (f64::from(away) * way).round().to_point()
            };
            let places: Vec<Point> = corners.iter().map(|c| c.0).enumerate().map(at).collect();
            let next = places.iter().cycle().skip(1);
            let edges = places.iter().zip(next).zip(corners).map(|((&a, &b), (_, bulge, bent))| {
                let arc = Arc::from_bulge(a, b, if bent { bulge } else { 0.0 });
                arc.map_or(Edge::line(a, b), Edge::Arc)
            });
            Outline::new(edges.collect()).unwrap()
        })
    }

    proptest! {
        // The sum of the angles by which every edge turns about a point tells the same, and on an edge too.
        #[test]
        fn inside_is_what_the_turns_add_up_to(
            shape in rings(), x in -120_i32..120, y in -120_i32..120, t in 0.01..0.99, on in 0_usize..6,
        ) {
            let level = Point::new(f64::from(x), shape.edges()[on].start().y);
            let grid = Point::new(f64::from(x), f64::from(y));
            let ons = [t, 0.25, 0.5, 0.75].map(|t| shape.edges()[on].at(t));
            for point in [grid, level].into_iter().chain(ons) {
                let corner = shape.corners().any(|corner| (corner - point).hypot() < 1e-9);
                prop_assert!(corner || shape.contains(point) == turned_about(&shape, point), "{:?}", point);
            }
        }

        // The distance is the least over all edges.
        #[test]
        fn the_distance_is_the_least_of_all_edges(shape in rings(), x in -150.0..150.0, y in -150.0..150.0) {
            let point = Point::new(x, y);
            let least = shape.edges().iter().map(|edge| edge.distance_to(point)).fold(f64::INFINITY, f64::min);
            assert_relative_eq!(shape.distance_to(point), least, epsilon = 1e-9);
        }

        // The winding of kurbo's path through the same points is the judge.
        #[test]
        fn inside_agrees_with_the_path(x in -12.0..12.0, y in -12.0..12.0) {
            let (shape, point) = (keyhole(), Point::new(x, y));
            prop_assume!(shape.distance_to(point) > 1e-6);
            prop_assert_eq!(shape.contains(point), shape.to_path().winding(point) != 0);
        }
    }
}
