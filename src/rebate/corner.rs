//! The inside corners of a pocket's wall, and what a round cutter leaves in them.

use super::Corner;
use crate::fit::UnitFit;
use crate::fit::corner::{FLAT, largest_radius_between};
use crate::geometry::{self, COINCIDENT, Edge, Outline, ROUNDING};
use kurbo::common::solve_itp;

/// Every inside corner of a unit's wall, with the wood that a cutter of `radius` leaves there, or one of the radius
/// `thinner` where the unit does not clear that; none where the cutter cannot touch both walls.
pub(super) fn corners(
    unit: &UnitFit,
    radius: f64,
    thinner: Option<f64>,
) -> Vec<(Corner, Option<Outline>)> {
    let glass = unit.outlines.unit.outline();
    let met = unit.outlines.wall.outline().meetings().filter(|(into, out)| {
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
/// takes a strip of its own diameter, and where the round is as far from the one wall as from the other it is furthest
/// from both.
fn is_cleared(into: &Edge, out: &Edge, radius: f64, thinner: f64) -> bool {
    let Some(round) = geometry::fillet(into, out, radius).map(Edge::Arc) else { return false };
    let away = |wall: &Edge, t: f64| wall.distance_to(round.at(t));
    let more = |t: f64| away(into, t) - away(out, t);
    let (at_into, at_out) = (more(0.0), more(1.0));
    if at_into >= 0.0 || at_out <= 0.0 {
        return false;
    }
    let furthest = solve_itp(more, 0.0, 1.0, ROUNDING, 1, 0.2, at_into, at_out);
    away(into, furthest).max(away(out, furthest)) <= 2.0 * thinner - COINCIDENT
}

/// Whether the glass stays out of a fillet.
fn is_clear(glass: &Outline, fillet: &Outline) -> bool {
    let crossed = |edge: &Edge| fillet.edges().iter().any(|own| !own.crossings(edge).is_empty());
    !glass.edges().iter().any(|edge| crossed(edge) || fillet.contains(edge.start()))
}

/// The wood that a cutter of `radius` leaves where two walls meet; none where it does not reach both.
fn fillet(into: &Edge, out: &Edge, radius: f64) -> Option<Outline> {
    let arc = geometry::fillet(into, out, radius)?;
    let (t_in, t_out) = (into.nearest(arc.centre), out.nearest(arc.centre));
    let round = Edge::Arc(arc).reversed();
    Outline::new(vec![out.part(0.0, t_out), round, into.part(t_in, 1.0)]).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;
    use kurbo::Point;
    use std::f64::consts::{FRAC_PI_4, SQRT_2};

    // By hand: between square walls the middle of the round is R (1 - 1/sqrt 2) from both. Under a head that bends
    // towards the round, the place as far from the one wall as from the other lies nearer to the jamb than the middle:
    // 2.12 mm from both here, more than two strips of 1.04.
    #[test]
    fn a_thinner_cutter_clears_what_lies_within_its_strips() {
        let corner = Point::new(100.0, 0.0);
        let into = Edge::line(Point::ZERO, corner);
        let out = Edge::line(corner, Point::new(100.0, 80.0));
        let furthest = 10.0 * (1.0 - 0.5_f64.sqrt());
        assert!(is_cleared(&into, &out, 10.0, furthest / 2.0 + 1e-6));
        assert!(!is_cleared(&into, &out, 10.0, furthest / 2.0 - 1e-6));
        let (centre, radius) = (Point::new(25.0557, 22.8858), 127.4691);
        let head = Edge::Arc(Arc { centre, radius, start: 1.2963, sweep: 0.5653 });
        let jamb = Edge::line(Point::new(head.start().x, -13.5), head.start());
        assert!(!is_cleared(&jamb, &head, 9.8884, 1.0391));
        assert!(is_cleared(&jamb, &head, 9.8884, 1.08));
    }

    // R²(1 − π/4) and R(√2 − 1).
    #[test]
    fn a_square_corner_has_the_closed_form() {
        let corner = Point::new(100.0, 0.0);
        let into = Edge::line(Point::ZERO, corner);
        let out = Edge::line(corner, Point::new(100.0, 80.0));
        let fillet = fillet(&into, &out, 6.0).unwrap();
        assert_relative_eq!(fillet.area(), 36.0 * (1.0 - FRAC_PI_4), epsilon = 1e-9);
        let nearest = Point::new(94.0, 6.0) + 6.0 * kurbo::Vec2::new(1.0, -1.0).normalize();
        assert_relative_eq!((nearest - corner).hypot(), 6.0 * (SQRT_2 - 1.0), epsilon = 1e-9);
        assert!(fillet.distance_to(nearest) < 1e-9);
        let short = Edge::line(corner, Point::new(100.0, 5.0));
        assert_eq!(super::fillet(&into, &short, 6.0), None);
    }
}
