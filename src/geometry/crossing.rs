//! Whether a closed chain of edges crosses or touches itself.

use super::prepared::Prepared;
use super::tolerance::{COINCIDENT, CUSP, ROUNDING};
use super::{Edge, Outline, distance_between};
use kurbo::{Point, Rect};

impl Outline {
    /// Whether edges that are not neighbours touch, or neighbours meet anywhere but at their corner.
    pub fn crosses_itself(&self) -> bool {
        self.first_crossing().is_some()
    }

    /// The first two edges that touch where they should not; see [`Outline::crosses_itself`].
    pub fn first_crossing(&self) -> Option<(usize, usize)> {
        *self.crossing.get_or_init(|| first_crossing(self.prepared()))
    }
}

/// The first two edges of a closed chain that touch where they should not.
pub(super) fn first_crossing(edges: &[Prepared]) -> Option<(usize, usize)> {
    let touches = |&(i, j): &(usize, usize)| {
        let (Some(a), Some(b)) = (edges.get(i), edges.get(j)) else { return false };
        let (a, b) = (&a.edge, &b.edge);
        let (follows, leads) = (j == i + 1, i == 0 && j + 1 == edges.len());
        if !follows && !leads {
            return distance_between(a, b) <= COINCIDENT;
        }
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
    use crate::geometry::Arc;
    use std::f64::consts::PI;

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
