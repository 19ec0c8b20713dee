//! The inside corners of a pocket's wall, and what a round cutter leaves in them.

use super::Corner;
use crate::fit::UnitFit;
use crate::fit::corner::{FLAT, largest_radius_between};
use crate::geometry::{self, Arc, COINCIDENT, Edge, Outline};
use std::f64::consts::TAU;

/// Every inside corner of a unit's wall, with the wood that a cutter of `radius` leaves there, or one of the radius
/// `thinner` where the unit does not clear that; none where the cutter cannot touch both walls.
pub(super) fn corners(
    unit: &UnitFit,
    radius: f64,
    thinner: Option<f64>,
) -> Vec<(Corner, Option<Outline>)> {
    let edges = unit.outlines.wall.outline().edges();
    let before = edges.iter().cycle().skip(edges.len().saturating_sub(1));
    let glass = unit.outlines.unit.outline();
    let met = before.zip(edges).filter(|(into, out)| {
        // Anticlockwise, a turn to the left is an inside corner of the pocket.
        into.direction(1.0).cross(out.direction(0.0)) > FLAT
    });
    met.map(|(into, out)| {
        let at = out.start();
        let straight = matches!((into, out), (Edge::Line(_), Edge::Line(_)));
        let left = |radius: f64| {
            let fillet = fillet(into, out, radius);
            let chisel = match &fillet {
                _ if straight => radius > largest_radius_between(into, out, glass),
                Some(fillet) => !is_clear(glass, fillet),
                None => true,
            };
            (chisel, fillet)
        };
        let first = left(radius);
        // Into a corner that the first cutter does not even reach no path of the other leads.
        let again = thinner.filter(|thinner| {
            first.0 && first.1.is_some() && is_cleared(into, out, radius, *thinner)
        });
        let again = again.map(|radius| (radius, left(radius)));
        match again.filter(|(_, (_, fillet))| fillet.is_some()) {
            Some((radius, (chisel, fillet))) => {
                (Corner { at, chisel, cleaned: Some(radius) }, fillet)
            }
            None => (Corner { at, chisel: first.0, cleaned: None }, first.1),
        }
    })
    .collect()
}

/// Whether a cutter of the radius `thinner` that goes once along each wall takes all that one of `radius` left: it
/// takes a strip of its own diameter, and the middle of the round is furthest from both walls.
fn is_cleared(into: &Edge, out: &Edge, radius: f64, thinner: f64) -> bool {
    geometry::fillet(into, out, radius).is_some_and(|round| {
        let middle = Edge::Arc(round).at(0.5);
        let away = into.distance_to(middle).min(out.distance_to(middle));
        away <= 2.0 * thinner - COINCIDENT
    })
}

/// Whether the glass stays out of a fillet.
fn is_clear(glass: &Outline, fillet: &Outline) -> bool {
    let crossed = |edge: &Edge| fillet.edges().iter().any(|own| !own.crossings(edge).is_empty());
    !glass.edges().iter().any(|edge| crossed(edge) || fillet.contains(edge.start()))
}

/// The wood that a cutter of `radius` leaves where two walls meet; none where it does not reach both.
fn fillet(into: &Edge, out: &Edge, radius: f64) -> Option<Outline> {
    let centre = geometry::fillet(into, out, radius)?.centre;
    let (t_in, t_out) = (into.nearest(centre), out.nearest(centre));
    let (from, to) = (out.at(t_out), into.at(t_in));
    let start = (from - centre).atan2();
    // The short way round, past the corner.
    let turn = ((to - centre).atan2() - start).rem_euclid(TAU);
    let sweep = if turn > TAU / 2.0 { turn - TAU } else { turn };
    let round = Edge::Arc(Arc { centre, radius, start, sweep });
    Outline::new(vec![out.part(0.0, t_out), round, into.part(t_in, 1.0)]).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::corner::{fillet_area, fillet_diagonal};
    use approx::assert_relative_eq;
    use kurbo::Point;

    #[test]
    fn a_square_corner_has_the_closed_form() {
        let corner = Point::new(100.0, 0.0);
        let into = Edge::line(Point::ZERO, corner);
        let out = Edge::line(corner, Point::new(100.0, 80.0));
        let fillet = fillet(&into, &out, 6.0).unwrap();
        assert_relative_eq!(fillet.area(), fillet_area(6.0), epsilon = 1e-9);
        let nearest = Point::new(94.0, 6.0) + 6.0 * kurbo::Vec2::new(1.0, -1.0).normalize();
        assert_relative_eq!((nearest - corner).hypot(), fillet_diagonal(6.0), epsilon = 1e-9);
        assert!(fillet.distance_to(nearest) < 1e-9);
        let short = Edge::line(corner, Point::new(100.0, 5.0));
        assert_eq!(super::fillet(&into, &short, 6.0), None);
    }
}
