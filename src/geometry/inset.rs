//! Where the middle of a disk can go inside an outline.

use super::offset::{meet, trimmed};
use super::tolerance::REWORKED;
use super::{Edge, Join, OffsetError, Outline};

impl Outline {
    /// The outline moved inwards by `distance` mm, which is never negative, as [`Outline::offset`] moves
    /// it; but pieces of one line or circle are one edge, and an edge too short to be left is left out,
    /// its neighbours run on until they meet.
    ///
    /// # Errors
    /// Where nothing is left, or the outline falls apart.
    pub fn inset(&self, distance: f64) -> Result<Outline, OffsetError> {
        // A whole circle is no chain of edges.
        let mut outer = Outline::new(self.merged()).unwrap_or_else(|_| self.clone());
        loop {
            let error = match outer.offset(-distance, Join::Round) {
                Ok(inner) => return self.vouch_for_inset(inner, distance),
                Err(error) => error,
            };
            let OffsetError::Collapsed(index) = error else { return Err(error) };
            outer = outer.without(index).ok_or(error)?;
        }
    }

    /// Neighbours that were run on must not have come closer to what was left out.
    fn vouch_for_inset(&self, inner: Outline, distance: f64) -> Result<Outline, OffsetError> {
        let clear = |edge: &Edge| {
            let places = [0.0, 0.25, 0.5, 0.75].map(|t| edge.at(t));
            places
                .iter()
                .all(|&at| self.contains(at) && self.distance_to(at) >= distance - REWORKED)
        };
        let close = inner.edges().iter().position(|edge| distance > REWORKED && !clear(edge));
        close.map_or(Ok(inner), |index| Err(OffsetError::Collapsed(index)))
    }

    /// The outline without that edge: the edges beside it run on until they meet.
    fn without(&self, index: usize) -> Option<Outline> {
        let edges = self.edges();
        let count = edges.len();
        let lost = edges.get(index)?;
        let at = |place: usize| edges.get(place % count);
        let (before, after) = (at(index + count - 1)?, at(index + 1)?);
        let corner = meet(before, after, lost.at(0.5))?;
        let mut left: Vec<Edge> =
            (2..count.saturating_sub(1)).filter_map(|n| at(index + n).copied()).collect();
        left.insert(0, trimmed(after, corner, after.end())?);
        left.push(trimmed(before, before.start(), corner)?);
        Outline::new(left).ok()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, circle};
    use approx::assert_relative_eq;
    use kurbo::{Point, Rect};
    use std::f64::consts::FRAC_PI_2;

    // A chamfer of 1 mm is gone 1.71 mm inside, and a square of 80 mm is left 10 mm inside.
    #[test]
    fn a_chamfer_that_vanishes_leaves_a_square() {
        let corners = [(1.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 1.0)];
        let chamfered = Outline::polygon(&corners.map(Point::from)).unwrap();
        assert!(chamfered.offset(-10.0, Join::Round).is_err());
        let inner = chamfered.inset(10.0).unwrap();
        assert_eq!(inner.edges().len(), 4);
        assert_relative_eq!(inner.area(), 6400.0, epsilon = 1e-9);
        assert_eq!(chamfered.inset(1.0), chamfered.offset(-1.0, Join::Round));
        assert!(chamfered.inset(50.0).is_err());
    }

    // A quarter turn of a circle of 100 mm drawn in two arcs, one of them a degree long, and its chord. The
    // segment 5 mm inside is one of a circle of 95 mm whose chord lies 5 mm further out.
    #[test]
    fn arcs_of_one_circle_are_one_edge() {
        let arc = |start: f64, sweep: f64| {
            Edge::Arc(Arc { centre: Point::ZERO, radius: 100.0, start, sweep })
        };
        let short = 1.0_f64.to_radians();
        let (first, second) = (arc(0.0, FRAC_PI_2 - short), arc(FRAC_PI_2 - short, short));
        let chord = Edge::line(second.end(), first.start());
        let segment = Outline::new(vec![first, second, chord]).unwrap();
        assert!(segment.offset(-5.0, Join::Round).is_err());
        let (radius, away) = (95.0_f64, 100.0 / 2.0_f64.sqrt() + 5.0);
        let half = (away / radius).acos();
        let area = radius * radius * (half - half.sin() * half.cos());
        assert_relative_eq!(segment.inset(5.0).unwrap().area(), area, max_relative = 1e-9);
    }

    #[test]
    fn circles_and_rectangles_are_moved_as_ever() {
        let round = circle(100.0).unwrap().outline().clone();
        assert_eq!(round.inset(20.0), round.offset(-20.0, Join::Round));
        assert!(round.inset(50.0).is_err());
        let sheet = Outline::rectangle(Rect::new(0.0, 0.0, 400.0, 300.0)).unwrap();
        assert_relative_eq!(sheet.inset(20.0).unwrap().area(), 360.0 * 260.0);
    }
}
