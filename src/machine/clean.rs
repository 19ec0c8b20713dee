//! Into the corners with a thinner cutter: in from an open light, along one wall into the corner, along the other out
//! of it, and back into the light.

use super::NoWay;
use super::ring::{from_light, travelled};
use super::route::Path;
use super::split::EntryPoints;
use crate::geometry::{COINCIDENT, Edge, Join, Outline, backwards, fillet};
use crate::passes::{Ring, depths};
use crate::sash::Sash;
use crate::survey::Workshop;
use kurbo::Point;

/// The paths of a thinner cutter, which is that of `workshop`, into the corners `at` of a wall, where one of the radius
/// `from` was before: one a corner.
pub(super) fn paths(
    sash: &Sash,
    ring: &Ring,
    (at, from): (&[[f64; 2]], f64),
    workshop: &Workshop,
) -> Result<Vec<Path>, NoWay> {
    let radius = workshop.cutter.radius();
    let way = ring.wall.outline().offset(-radius, Join::Round).map_err(|_| NoWay::Shape(radius))?;
    // All bars in front of the unit are down by now.
    let entries = EntryPoints::of_ring(sash, ring, radius).once_bars_are_down();
    let path = |&[x, y]: &[f64; 2]| {
        let at = Point::new(x, y);
        let (turn, index) = nearest_turn(&way, at).ok_or(NoWay::Shape(radius))?;
        let round = travelled(&way, turn, index, workshop.cutting.direction);
        let length = reach(ring.wall.outline(), at, from) + radius;
        let before = backwards(&beginning(&backwards(&round), length));
        let edges = [before, beginning(&round, length)].concat();
        from_light(&entries, &edges).ok_or(NoWay::Entry(0.0))
    };
    at.iter().map(path).collect()
}

/// Depths that a corner is cut to, one after the other, mm: as in a slot, and no step deeper than the cutter is wide.
pub(super) fn steps(depth: f64, workshop: &Workshop) -> Vec<f64> {
    let step = workshop.cutting.step_depth.min(workshop.cutter.radius());
    depths(0.0, depth, step)
}

/// The corner of a path nearest to a place, and the edge that begins there.
fn nearest_turn(way: &Outline, at: Point) -> Option<(Point, usize)> {
    let starts = way.edges().iter().map(Edge::start).enumerate();
    let nearest = starts.min_by(|(_, a), (_, b)| a.distance(at).total_cmp(&b.distance(at)));
    nearest.map(|(index, start)| (start, index))
}

/// From a corner of the wall to where a cutter of `radius` that touches both sides touches the further one, mm.
fn reach(wall: &Outline, at: Point, radius: f64) -> f64 {
    let corner = wall
        .meetings()
        .min_by(|(_, a), (_, b)| a.start().distance(at).total_cmp(&b.start().distance(at)));
    let touches = corner.and_then(|(into, out)| {
        let arc = Edge::Arc(fillet(into, out, radius)?);
        Some(arc.start().distance(at).max(arc.end().distance(at)))
    });
    touches.unwrap_or(2.0 * radius)
}

/// The first `length` mm of edges one after another, or all of them.
fn beginning(edges: &[Edge], length: f64) -> Vec<Edge> {
    let mut left = length;
    let mut taken = Vec::new();
    for edge in edges {
        if left <= COINCIDENT {
            break;
        }
        let whole = edge.length();
        taken.push(if whole <= left { *edge } else { edge.part(0.0, left / whole) });
        left -= whole;
    }
    taken
}
