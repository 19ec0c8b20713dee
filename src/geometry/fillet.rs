//! Inside corners rounded by an arc that touches both edges.

use super::tolerance::{COINCIDENT, CORNER, REWORKED};
use super::{Arc, Edge, Outline};
use std::f64::consts::TAU;

/// The arc of `radius` that touches both edges of a corner that turns left, travelled as they are; none
/// where it would not touch both.
///
/// ```
/// use fillister::geometry::{Edge, fillet};
/// let corner = (100.0, 0.0).into();
/// let into = Edge::line((0.0, 0.0).into(), corner);
/// let out = Edge::line(corner, (100.0, 80.0).into());
/// let arc = fillet(&into, &out, 6.0).unwrap();
/// assert!((arc.centre - kurbo::Point::new(94.0, 6.0)).hypot() < 1e-9);
/// ```
pub fn fillet(into: &Edge, out: &Edge, radius: f64) -> Option<Arc> {
    let at = out.start();
    let centres = into.shifted(-radius)?.crossings(&out.shifted(-radius)?);
    let away = |p: &kurbo::Point| (*p - at).hypot2();
    let centre = centres.into_iter().min_by(|a, b| away(a).total_cmp(&away(b)))?;
    let (from, to) = (into.at(into.nearest(centre)), out.at(out.nearest(centre)));
    let touches = |place: kurbo::Point| ((place - centre).hypot() - radius).abs() <= REWORKED;
    if !touches(from) || !touches(to) {
        return None;
    }
    let start = (from - centre).atan2();
    // The short way round, past the corner.
    let turn = ((to - centre).atan2() - start).rem_euclid(TAU);
    let sweep = if turn > TAU / 2.0 { turn - TAU } else { turn };
    Some(Arc { centre, radius, start, sweep })
}

impl Outline {
    /// The outline with every corner that turns left rounded to `radius`. A corner that the arc does not
    /// fit, because an edge is too short or an arc too tight, stays sharp.
    #[must_use]
    pub fn filleted(&self, radius: f64) -> Outline {
        let edges = self.edges();
        let count = edges.len();
        let before = edges.iter().cycle().skip(count.saturating_sub(1));
        // The arc at the start of each edge.
        let mut arcs: Vec<Option<Arc>> = before
            .zip(edges)
            .map(|(into, out)| {
                let left = into.direction(1.0).cross(out.direction(0.0)) > CORNER;
                if left && count > 1 { fillet(into, out, radius) } else { None }
            })
            .collect();
        let ends = |edge: &Edge, first: &Option<Arc>, last: &Option<Arc>| {
            let at = |arc: &Arc| edge.nearest(arc.centre);
            (first.as_ref().map_or(0.0, at), last.as_ref().map_or(1.0, at))
        };
        // Two arcs on an edge too short for both: the later one gives way.
        for index in 0..count {
            let next = (index + 1) % count.max(1);
            let (Some(edge), Some(first), Some(last)) =
                (edges.get(index), arcs.get(index), arcs.get(next))
            else {
                continue;
            };
            let (from, to) = ends(edge, first, last);
            if (to - from) * edge.length() < -COINCIDENT
                && let Some(late) = arcs.get_mut(next)
            {
                *late = None;
            }
        }
        let lasts = arcs.iter().cycle().skip(1);
        let mut rounded = Vec::with_capacity(2 * count);
        for ((edge, first), last) in edges.iter().zip(&arcs).zip(lasts) {
            let (from, to) = ends(edge, first, last);
            rounded.extend(first.map(Edge::Arc));
            let part = if first.is_none() && last.is_none() { *edge } else { edge.part(from, to) };
            if part.length() > COINCIDENT {
                rounded.push(part);
            }
        }
        Outline::new(rounded).unwrap_or_else(|_| self.clone())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::{Point, Rect};
    use std::f64::consts::PI;

    // Closed form: four corners lack (4 − π) r².
    #[test]
    fn a_rectangle_loses_its_corners() {
        let rect = Outline::rectangle(Rect::new(0.0, 0.0, 400.0, 600.0)).unwrap();
        let round = rect.filleted(12.0);
        assert_eq!(round.edges().len(), 8);
        assert_relative_eq!(round.area(), 240_000.0 - (4.0 - PI) * 144.0, epsilon = 1e-6);
    }

    // A corner between an arch and a jamb: every fillet touches both, and the arc is concentric with the
    // one that lies further out.
    #[test]
    fn a_corner_between_arch_and_jamb_is_touched_on_both_sides() {
        let head = Arc::from_bulge(Point::new(800.0, 900.0), Point::new(0.0, 900.0), 0.25).unwrap();
        let shape = Outline::new(vec![
            Edge::line(Point::ZERO, Point::new(800.0, 0.0)),
            Edge::line(Point::new(800.0, 0.0), Point::new(800.0, 900.0)),
            Edge::Arc(head),
            Edge::line(Point::new(0.0, 900.0), Point::ZERO),
        ])
        .unwrap();
        let round = shape.filleted(12.0);
        assert_eq!(round.edges().len(), 8);
        let next = round.edges().iter().cycle().skip(1);
        for (into, out) in round.edges().iter().zip(next) {
            assert!(into.direction(1.0).cross(out.direction(0.0)).abs() < 1e-9);
        }
        let inner = shape.offset(-6.0, super::super::Join::Sharp).unwrap().filleted(6.0);
        for edge in inner.edges() {
            assert_relative_eq!(round.distance_to(edge.at(0.4)), 6.0, epsilon = 1e-6);
        }
    }

    #[test]
    fn corners_too_close_for_the_arc_stay_sharp() {
        let thin = Outline::rectangle(Rect::new(0.0, 0.0, 10.0, 400.0)).unwrap();
        let round = thin.filleted(8.0);
        assert!(round.area() > 0.0 && round.area() <= thin.area());
        assert!(round.bounds().width() <= 10.0 + 1e-9);
    }
}
