//! Neighbouring pieces of one line or one circle told as one edge.

use super::tolerance::{COINCIDENT, REWORKED};
use super::{Arc, Edge, Outline};
use kurbo::Line;
use std::f64::consts::TAU;

impl Outline {
    /// The edges with every run of pieces of one line, or of one circle, told as one edge. A whole circle
    /// is a single arc of a full turn. The first edge is the one that begins at or after the outline's first
    /// corner.
    pub fn merged(&self) -> Vec<Edge> {
        let edges = self.edges();
        let count = edges.len();
        let before = edges.iter().cycle().skip(count.saturating_sub(1));
        // Begins where one edge really ends; a circle has no such place.
        let Some(first) = before.zip(edges).position(|(into, out)| joined(into, out).is_none())
        else {
            return edges.first().map(whole_turn).into_iter().collect();
        };
        let mut merged: Vec<Edge> = Vec::with_capacity(count);
        for edge in edges.iter().cycle().skip(first).take(count) {
            match merged.last_mut() {
                Some(last) => match joined(last, edge) {
                    Some(both) => *last = both,
                    None => merged.push(*edge),
                },
                None => merged.push(*edge),
            }
        }
        merged
    }
}

/// The circle that an arc lies on; a line as it is.
fn whole_turn(edge: &Edge) -> Edge {
    match *edge {
        Edge::Arc(arc) => Edge::Arc(Arc { sweep: TAU.copysign(arc.sweep), ..arc }),
        line @ Edge::Line(_) => line,
    }
}

/// Both as one edge; none where they are not of one line or circle.
fn joined(into: &Edge, out: &Edge) -> Option<Edge> {
    match (into, out) {
        (Edge::Line(a), Edge::Line(b)) => {
            let both = Line::new(a.p0, b.p1);
            let on = (a.p1 - a.p0).dot(b.p1 - b.p0) > 0.0;
            let aside = Edge::Line(both).distance_to(a.p1);
            (on && aside <= REWORKED).then_some(Edge::Line(both))
        }
        (Edge::Arc(a), Edge::Arc(b)) => {
            let one = (a.centre - b.centre).hypot() <= REWORKED
                && (a.radius - b.radius).abs() <= REWORKED;
            let sweep = a.sweep + b.sweep;
            let on = a.sweep * b.sweep > 0.0 && sweep.abs() <= TAU + COINCIDENT;
            (one && on).then_some(Edge::Arc(Arc { sweep, ..*a }))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::circle;
    use approx::assert_relative_eq;
    use kurbo::Point;

    #[test]
    fn a_circle_is_one_arc_and_a_halved_side_one_line() {
        let [Edge::Arc(arc)] = circle(800.0).unwrap().outline().merged()[..] else { panic!("arc") };
        assert_relative_eq!(arc.sweep, TAU);
        assert_relative_eq!(arc.radius, 400.0);
        let corners = [(0.0, 0.0), (4.0, 0.0), (9.0, 0.0), (9.0, 5.0), (0.0, 5.0), (0.0, 2.0)];
        let outline = Outline::polygon(&corners.map(Point::from)).unwrap();
        let merged = outline.merged();
        assert_eq!(merged.len(), 4);
        let length: f64 = merged.iter().map(Edge::length).sum();
        assert_relative_eq!(length, outline.perimeter());
    }
}
