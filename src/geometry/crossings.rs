//! Where edges meet, how near they come to each other, and whether a closed chain of them crosses or touches itself.

use super::Edge;
use super::edge::{Arc, nearest_on_line};
use super::prepared::Prepared;
use super::tolerance::{COINCIDENT, CUSP, PARALLEL, ROUNDING};
use kurbo::{Line, Point, Rect, Vec2};

impl Edge {
    /// Points that both edges share, up to rounding; overlapping edges give their common ends.
    pub fn crossings(&self, other: &Edge) -> Vec<Point> {
        match (self, other) {
            (Edge::Line(a), Edge::Line(b)) => line_line(a, b),
            (Edge::Line(line), Edge::Arc(arc)) | (Edge::Arc(arc), Edge::Line(line)) => {
                circle_on_line(line, arc)
                    .into_iter()
                    .filter(|&(t, point)| {
                        (0.0..=1.0).contains(&t) && arc.spans((point - arc.centre).atan2())
                    })
                    .map(|(_, point)| point)
                    .collect()
            }
            (Edge::Arc(a), Edge::Arc(b)) => circle_circle(a, b)
                .into_iter()
                .filter(|&point| {
                    a.spans((point - a.centre).atan2()) && b.spans((point - b.centre).atan2())
                })
                .collect(),
        }
    }
}

/// Least distance between two edges, mm; zero where they meet.
///
/// The least distance lies at a crossing, at an end of one edge, or where both edges share a normal;
/// every such place is tried, so the result is exact up to rounding.
pub fn distance_between(a: &Edge, b: &Edge) -> f64 {
    Prepared::new(*a).distance_between(&Prepared::new(*b))
}

impl Prepared {
    /// As [`distance_between`].
    pub(super) fn distance_between(&self, other: &Prepared) -> f64 {
        if self.bounds.overlaps(other.bounds) && !self.edge.crossings(&other.edge).is_empty() {
            return 0.0;
        }
        let ends = [
            self.distance_to(other.from),
            self.distance_to(other.to),
            other.distance_to(self.from),
            other.distance_to(self.to),
        ];
        let mut least = ends.into_iter().fold(f64::INFINITY, f64::min);
        // Common normals away from the ends: they pass through the centre of each arc concerned.
        let mut try_point = |point: Point, on: &Prepared, other: &Prepared| {
            if on.distance_to(point) < ROUNDING {
                least = least.min(other.distance_to(point));
            }
        };
        match (&self.edge, &other.edge) {
            (Edge::Line(_), Edge::Line(_)) => {}
            (Edge::Line(line), Edge::Arc(arc)) => {
                try_point(nearest_on_line(line, arc.centre), self, other);
            }
            (Edge::Arc(arc), Edge::Line(line)) => {
                try_point(nearest_on_line(line, arc.centre), other, self);
            }
            (Edge::Arc(p), Edge::Arc(q)) => {
                let between = q.centre - p.centre;
                // Of one centre, every normal is common: the ends told the distance, or overlap nowhere.
                let along =
                    if between.hypot() > 0.0 { between.normalize() } else { Vec2::new(1.0, 0.0) };
                for way in [along, -along] {
                    try_point(p.centre + p.radius * way, self, other);
                }
            }
        }
        least
    }
}

fn line_line(a: &Line, b: &Line) -> Vec<Point> {
    let (along, across) = (a.p1 - a.p0, b.p1 - b.p0);
    let turn = along.cross(across);
    let gap = b.p0 - a.p0;
    let scale = along.hypot() * across.hypot();
    if turn.abs() <= PARALLEL * scale || scale == 0.0 {
        // Parallel: they share points only where an end of one lies on the other.
        let on =
            |line: &Line, point: Point| (nearest_on_line(line, point) - point).hypot() < ROUNDING;
        let mut shared: Vec<Point> = [b.p0, b.p1].into_iter().filter(|&p| on(a, p)).collect();
        shared.extend([a.p0, a.p1].into_iter().filter(|&p| on(b, p)));
        return shared;
    }
    let (t, u) = (gap.cross(across) / turn, gap.cross(along) / turn);
    if (0.0..=1.0).contains(&t) && (0.0..=1.0).contains(&u) {
        vec![a.p0 + t * along]
    } else {
        Vec::new()
    }
}

/// Where the endless line through `line` meets the whole circle of `arc`: parameter and point.
pub(super) fn circle_on_line(line: &Line, arc: &Arc) -> Vec<(f64, Point)> {
    let along = line.p1 - line.p0;
    let from = line.p0 - arc.centre;
    let (a, half_b, c) = (along.hypot2(), from.dot(along), from.hypot2() - arc.radius.powi(2));
    let root = half_b * half_b - a * c;
    if a == 0.0 || root < 0.0 {
        return Vec::new();
    }
    let root = root.sqrt();
    [(-half_b - root) / a, (-half_b + root) / a]
        .into_iter()
        .map(|t| (t, line.p0 + t * along))
        .collect()
}

/// Where the two whole circles meet.
pub(super) fn circle_circle(a: &Arc, b: &Arc) -> Vec<Point> {
    let between = b.centre - a.centre;
    let apart = between.hypot();
    if apart == 0.0 || apart > a.radius + b.radius || apart < (a.radius - b.radius).abs() {
        return Vec::new();
    }
    let along = (apart.powi(2) + a.radius.powi(2) - b.radius.powi(2)) / (2.0 * apart);
    let aside = (a.radius.powi(2) - along.powi(2)).max(0.0).sqrt();
    let unit = between / apart;
    let left = Vec2::new(-unit.y, unit.x);
    let foot = a.centre + along * unit;
    vec![foot + aside * left, foot - aside * left]
}

/// The first two edges of a closed chain that touch where they should not.
pub(super) fn first_crossing(edges: &[Prepared]) -> Option<(usize, usize)> {
    let touches = |&(i, j): &(usize, usize)| {
        let (Some(a), Some(b)) = (edges.get(i), edges.get(j)) else { return false };
        let (follows, leads) = (j == i + 1, i == 0 && j + 1 == edges.len());
        if !follows && !leads {
            return a.distance_between(b) <= COINCIDENT;
        }
        let (a, b) = (&a.edge, &b.edge);
        a.crossings(b)
            .into_iter()
            .any(|point| !(follows && is_corner(a, b, point) || leads && is_corner(b, a, point)))
    };
    close_pairs(edges).into_iter().find(touches)
}

/// Every two edges whose boxes are nearly touching, in order. They are looked for from the left to the right,
/// so that those far apart are not even compared.
fn close_pairs(edges: &[Prepared]) -> Vec<(usize, usize)> {
    let boxes = edges.iter().map(|edge| edge.bounds.inflate(COINCIDENT, COINCIDENT)).enumerate();
    let mut boxes: Vec<(usize, Rect)> = boxes.collect();
    boxes.sort_by(|(_, a), (_, b)| a.x0.total_cmp(&b.x0));
    let mut pairs = Vec::with_capacity(2 * edges.len());
    for (place, (i, a)) in boxes.iter().enumerate() {
        let right = boxes.iter().skip(place + 1).take_while(|(_, b)| b.x0 <= a.x1);
        let close = right.filter(|(_, b)| a.overlaps(*b));
        pairs.extend(close.map(|(j, _)| (*i.min(j), *i.max(j))));
    }
    pairs.sort_unstable();
    pairs
}

/// Whether `point`, shared by an edge and the one after it, is no more than their corner. Where edges
/// are tangent at their corner, rounding may move the point along both.
fn is_corner(edge: &Edge, next: &Edge, point: Point) -> bool {
    let away = (point - edge.end()).hypot();
    if away <= COINCIDENT {
        return true;
    }
    let halfway = edge.at(f64::midpoint(edge.nearest(point), 1.0));
    if next.distance_to(halfway) > COINCIDENT {
        return false;
    }
    // A cusp between curves is a corner; edges that turn back on themselves are a spike.
    let smooth = edge.direction(1.0).dot(next.direction(0.0)) > 0.0;
    smooth || (away <= CUSP && (edge.curvature() + next.curvature()).abs() > ROUNDING)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Outline;
    use approx::assert_relative_eq;
    use proptest::prelude::*;
    use std::f64::consts::{PI, TAU};

    #[test]
    fn a_line_beside_an_arc_is_nearest_at_the_common_normal() {
        let arc = Edge::Arc(Arc { centre: Point::ZERO, radius: 5.0, start: 0.0, sweep: TAU / 2.0 });
        let line = Edge::line(Point::new(-20.0, 8.0), Point::new(20.0, 8.0));
        assert_relative_eq!(distance_between(&arc, &line), 3.0, epsilon = 1e-12);
        // Below, the half circle is open: its ends are nearest.
        let below = Edge::line(Point::new(-20.0, -8.0), Point::new(20.0, -8.0));
        assert_relative_eq!(distance_between(&arc, &below), 8.0, epsilon = 1e-12);
    }

    #[test]
    fn crossing_edges_are_no_distance_apart() {
        let a = Edge::line(Point::new(0.0, 0.0), Point::new(10.0, 10.0));
        let b = Edge::line(Point::new(0.0, 10.0), Point::new(10.0, 0.0));
        assert_eq!(distance_between(&a, &b), 0.0);
    }

    fn edges() -> impl Strategy<Value = Edge> {
        let near = -50.0..50.0;
        prop_oneof![
            (near.clone(), near.clone(), near.clone(), near.clone())
                .prop_map(|(a, b, c, d)| Edge::line(Point::new(a, b), Point::new(c, d))),
            (near.clone(), near, 0.5..40.0, -7.0..7.0, -6.2..6.2).prop_map(
                |(x, y, radius, s, w)| {
                    Edge::Arc(Arc { centre: Point::new(x, y), radius, start: s, sweep: w })
                }
            ),
        ]
    }

    proptest! {
        // Sampling both edges finely can never find a place nearer than the exact answer, and finds
        // one no further than the sampling step allows.
        #[test]
        fn distance_agrees_with_sampling(a in edges(), b in edges()) {
            let exact = distance_between(&a, &b);
            let steps = 400;
            let sampled = (0..=steps)
                .map(|i| b.distance_to(a.at(f64::from(i) / f64::from(steps))))
                .fold(f64::INFINITY, f64::min);
            prop_assert!(exact <= sampled + 1e-6);
            prop_assert!(sampled <= exact + a.length() / f64::from(steps) + 1e-6);
        }
    }

    #[test]
    fn a_bow_tie_crosses_itself_and_a_square_does_not() {
        let tie = [(0.0, 0.0), (4.0, 4.0), (4.0, 0.0), (0.0, 3.0)].map(Point::from);
        assert!(Outline::polygon(&tie).unwrap().crosses_itself());
        let square = Outline::rectangle(Rect::new(0.0, 0.0, 4.0, 4.0)).unwrap();
        assert!(!square.crosses_itself());
    }

    // Smooth corners between a line and a large arc, where crossings are found a little off the corner.
    #[test]
    fn smooth_corners_are_corners() {
        for turn in 0..64 {
            let start = f64::from(turn) * 0.1;
            let arc = |radius: f64, start: f64, sweep: f64| Arc {
                centre: Point::ZERO,
                radius,
                start,
                sweep,
            };
            let cap = Edge::Arc(arc(850.0, start, PI));
            let (a, b) = (cap.end(), cap.start());
            let (down, back) = (cap.direction(1.0), cap.direction(0.0));
            let stadium = vec![
                cap,
                Edge::line(a, a + 900.0 * down),
                Edge::line(a + 900.0 * down, b - 900.0 * back),
                Edge::line(b - 900.0 * back, b),
            ];
            assert!(!Outline::new(stadium).unwrap().crosses_itself(), "{start}");
        }
    }

    #[test]
    fn a_cusp_between_curves_is_a_corner_and_a_spike_is_not() {
        // A line and a circle tangent to it at (0, 0), closed at the right.
        let arc = Arc { centre: Point::new(0.0, 50.0), radius: 50.0, start: 0.0, sweep: -PI / 2.0 };
        let edges = vec![
            Edge::line(Point::ZERO, Point::new(50.0, 0.0)),
            Edge::line(Point::new(50.0, 0.0), Point::new(50.0, 50.0)),
            Edge::Arc(arc),
        ];
        assert!(!Outline::new(edges).unwrap().crosses_itself());
        let spike = [(0.0, 0.0), (9.0, 0.0), (5.0, 0.0), (5.0, 5.0)].map(Point::from);
        assert_eq!(Outline::polygon(&spike).unwrap().first_crossing(), Some((0, 1)));
    }
}
