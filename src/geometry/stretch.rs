//! Stretches of edges within an outline, and stretches of an outline between two points.

use super::{COINCIDENT, Edge, Outline};
use kurbo::Point;

impl Outline {
    /// The pieces of `edge` that lie inside the outline, in order along it. A piece that runs along
    /// the outline itself, within [`COINCIDENT`], is not inside; pieces no longer than [`COINCIDENT`] are left out.
    ///
    /// ```
    /// use fillister::geometry::{Edge, Outline};
    /// let sheet = Outline::rectangle(kurbo::Rect::new(0.0, 0.0, 400.0, 600.0))?;
    /// let across = Edge::line((-50.0, 300.0).into(), (450.0, 300.0).into());
    /// let inside = sheet.stretches_inside(&across);
    /// assert_eq!(inside, [Edge::line((0.0, 300.0).into(), (400.0, 300.0).into())]);
    /// # Ok::<(), fillister::geometry::OutlineError>(())
    /// ```
    pub fn stretches_inside(&self, edge: &Edge) -> Vec<Edge> {
        let length = edge.length();
        if !length.is_finite() || length <= COINCIDENT {
            return Vec::new();
        }
        let meeting = self.edges().iter().flat_map(|own| own.crossings(edge));
        let corners = self.corners().filter(|corner| edge.distance_to(*corner) <= COINCIDENT);
        let mut cuts: Vec<f64> =
            meeting.chain(corners).map(|point| edge.nearest(point)).chain([0.0, 1.0]).collect();
        cuts.sort_by(f64::total_cmp);
        let mut kept: Vec<(f64, f64)> = Vec::new();
        for (&from, &to) in cuts.iter().zip(cuts.iter().skip(1)) {
            if (to - from) * length <= COINCIDENT {
                continue;
            }
            let inside = self.holds_piece(&edge.part(from, to));
            match kept.last_mut() {
                // The cut before was a touch, not a way out.
                Some(last) if inside && (from - last.1) * length <= COINCIDENT => last.1 = to,
                _ if inside => kept.push((from, to)),
                _ => {}
            }
        }
        kept.into_iter().map(|(from, to)| edge.part(from, to)).collect()
    }

    /// How much of `edge` lies inside the outline, mm; see [`Outline::stretches_inside`].
    pub fn length_inside(&self, edge: &Edge) -> f64 {
        self.stretches_inside(edge).iter().map(Edge::length).sum()
    }

    /// Whether a piece that does not cross the outline lies inside, and not along it.
    fn holds_piece(&self, piece: &Edge) -> bool {
        [0.5, 0.25, 0.75, 0.1, 0.9]
            .map(|t| piece.at(t))
            .into_iter()
            .find(|point| self.distance_to(*point) > COINCIDENT)
            .is_some_and(|point| self.contains(point))
    }

    /// The stretch of the outline travelled anticlockwise from its point nearest to `from` to its
    /// point nearest to `to`. Where both are one point, the stretch is the whole outline.
    pub fn between(&self, from: Point, to: Point) -> Vec<Edge> {
        let (start, first) = self.nearest_on(from);
        let (end, last) = self.nearest_on(to);
        let edges = self.edges();
        let (Some(leaving), Some(arriving)) = (edges.get(first), edges.get(last)) else {
            return Vec::new();
        };
        let (leave, arrive) = (leaving.nearest(start), arriving.nearest(end));
        let one_place = (start - end).hypot() <= COINCIDENT;
        if first == last && leave < arrive && !one_place {
            return vec![leaving.part(leave, arrive)];
        }
        let mut walked = vec![leaving.part(leave, 1.0)];
        // From the edge after the first round to the edge before the last.
        let between = (last + edges.len() - first - 1) % edges.len();
        walked.extend(edges.iter().cycle().skip(first + 1).take(between).copied());
        walked.push(arriving.part(0.0, arrive));
        walked.retain(|edge| edge.length() > COINCIDENT);
        walked
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;
    use kurbo::Rect;
    use proptest::prelude::*;
    use std::f64::consts::{PI, TAU};

    fn arched() -> Outline {
        let head = Arc::from_bulge(Point::new(800.0, 900.0), Point::new(0.0, 900.0), 0.5).unwrap();
        Outline::new(vec![
            Edge::line(Point::ZERO, Point::new(800.0, 0.0)),
            Edge::line(Point::new(800.0, 0.0), Point::new(800.0, 900.0)),
            Edge::Arc(head),
            Edge::line(Point::new(0.0, 900.0), Point::ZERO),
        ])
        .unwrap()
    }

    // An upright 100 mm beside the middle of an arch of rise 200 over 800: R = 500 about (400, 600),
    // so it ends at 600 + √(500² − 100²).
    #[test]
    fn an_upright_ends_at_the_arch() {
        let upright = Edge::line(Point::new(500.0, -20.0), Point::new(500.0, 2000.0));
        let [inside] = arched().stretches_inside(&upright)[..] else { panic!("one piece") };
        assert_relative_eq!(inside.start().y, 0.0, epsilon = 1e-9);
        assert_relative_eq!(inside.end().y, 600.0 + 240_000.0_f64.sqrt(), epsilon = 1e-9);
    }

    #[test]
    fn a_concave_outline_cuts_a_line_in_pieces_and_edges_along_it_are_not_inside() {
        let comb = [
            (0.0, 0.0),
            (50.0, 0.0),
            (50.0, 40.0),
            (40.0, 40.0),
            (40.0, 10.0),
            (10.0, 10.0),
            (10.0, 40.0),
            (0.0, 40.0),
        ];
        let comb = Outline::polygon(&comb.map(Point::from)).unwrap();
        let across = Edge::line(Point::new(60.0, 30.0), Point::new(-10.0, 30.0));
        let pieces = comb.stretches_inside(&across);
        let ends: Vec<f64> = pieces.iter().flat_map(|p| [p.start().x, p.end().x]).collect();
        for (found, expected) in ends.iter().zip([50.0, 40.0, 10.0, 0.0]) {
            assert_relative_eq!(*found, expected, epsilon = 1e-9);
        }
        assert_eq!(ends.len(), 4);
        // Along the floor of the comb, and touching the corner at (10, 10): along is not inside.
        let floor = Edge::line(Point::new(-5.0, 10.0), Point::new(55.0, 10.0));
        let lengths: Vec<f64> = comb.stretches_inside(&floor).iter().map(Edge::length).collect();
        assert_eq!(lengths.len(), 2);
        assert!(lengths.iter().all(|length| (length - 10.0).abs() < 1e-9));
        let touch = Edge::line(Point::new(0.0, 20.0), Point::new(20.0, 0.0));
        let through = comb.stretches_inside(&touch);
        assert_eq!(through.len(), 1, "a touch does not cut: {through:?}");
    }

    #[test]
    fn a_stretch_between_two_points_runs_anticlockwise() {
        let shape = arched();
        let (right, left) = (Point::new(800.0, 300.0), Point::new(0.0, 300.0));
        let head = shape.between(right, left);
        assert_eq!(head.len(), 3);
        let foot = shape.between(left, right);
        assert_eq!(foot.len(), 3);
        let length = |edges: &[Edge]| edges.iter().map(Edge::length).sum::<f64>();
        assert_relative_eq!(length(&foot), 1400.0, epsilon = 1e-9);
        assert_relative_eq!(length(&head) + length(&foot), shape.perimeter(), epsilon = 1e-9);
        assert_eq!(shape.between(Point::ZERO, Point::new(800.0, 900.0)).len(), 2);
        assert_relative_eq!(length(&shape.between(left, left)), shape.perimeter(), epsilon = 1e-9);
        let up = shape.between(Point::new(800.0, 100.0), Point::new(800.0, 400.0));
        assert_relative_eq!(length(&up), 300.0, epsilon = 1e-9);
        let round = shape.between(Point::new(800.0, 400.0), Point::new(800.0, 100.0));
        assert_relative_eq!(length(&round), shape.perimeter() - 300.0, epsilon = 1e-9);
    }

    #[test]
    fn an_edge_without_length_has_no_stretches() {
        let shape = Outline::rectangle(Rect::new(0.0, 0.0, 9.0, 9.0)).unwrap();
        let point = Point::new(4.0, 4.0);
        assert_eq!(shape.stretches_inside(&Edge::line(point, point)), []);
        assert_eq!(shape.stretches_inside(&Edge::line(point, Point::new(f64::NAN, 0.0))), []);
    }

    proptest! {
        // Every sampled point of the edge lies in a stretch exactly if it lies inside.
        #[test]
        fn stretches_agree_with_samples(
            x in -100.0..900.0, y in -100.0..1200.0, r in 50.0..600.0, s in -PI..PI, w in -TAU..TAU,
            straight in any::<bool>(),
        ) {
            let shape = arched();
            let edge = if straight {
                Edge::line(Point::new(x, y), Point::new(x + r * w, y + r * s))
            } else {
                Edge::Arc(Arc { centre: Point::new(x, y), radius: r, start: s, sweep: w })
            };
            prop_assume!(edge.length() > 1.0);
            let pieces = shape.stretches_inside(&edge);
            for step in 0..=100 {
                let point = edge.at(f64::from(step) / 100.0);
                if shape.distance_to(point) > 1e-6 {
                    let near = pieces.iter().any(|piece| piece.distance_to(point) < 1e-9);
                    prop_assert_eq!(near, shape.contains(point), "{:?}", point);
                }
            }
        }
    }
}
