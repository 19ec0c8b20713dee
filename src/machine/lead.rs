//! From an open light to a path and back: quarter circles that touch it, straight where the light is too
//! narrow for them.

use super::MARGIN;
use crate::geometry::{Arc, Edge, SAME, Sided};
use kurbo::{Point, Vec2};
use std::f64::consts::FRAC_PI_2;

/// Quarter circles are tried at these multiples of the shortest way in: a round light takes only wider
/// ones.
const TRIED: [f64; 4] = [1.0, 1.5, 2.0, 3.0];

/// The way in and out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Lead {
    /// Where the cutter comes down: free of wood.
    pub from: Point,
    pub way_in: Edge,
    pub way_out: Edge,
}

/// The lead to a closed path, in at its start and out at its end, for a cutter of `radius`.
///
/// # Errors
/// Twice the room there is round the best place tried, mm: less than the cutter and its margin need.
pub(super) fn lead(light: &Sided, path: &[Edge], radius: f64) -> Result<Lead, f64> {
    let (Some(first), Some(last)) = (path.first(), path.last()) else { return Err(0.0) };
    let (touch, along) = (first.start(), first.direction(0.0));
    let inwards = inwards(path, along);
    let edge = light.outline().nearest_on(touch).0;
    let shortest = (edge - touch).dot(inwards).max(0.0) + radius + MARGIN;
    let room = |at: Point| {
        if light.outline().contains(at) { light.outline().distance_to(at) } else { 0.0 }
    };
    let needed = radius + MARGIN - SAME;
    for times in TRIED {
        let lead = times * shortest;
        let hub = touch + lead * inwards;
        let (from, to) = (hub - lead * along, hub + lead * last.direction(1.0));
        if room(from) >= needed && room(to) >= needed {
            return Ok(quarters(hub, lead, inwards, along));
        }
    }
    let hub = touch + shortest * inwards;
    if room(hub) >= needed {
        let (way_in, way_out) = (Edge::line(hub, touch), Edge::line(last.end(), hub));
        Ok(Lead { from: hub, way_in, way_out })
    } else {
        Err(2.0 * room(hub))
    }
}

fn quarters(hub: Point, radius: f64, inwards: Vec2, along: Vec2) -> Lead {
    // The touching place lies opposite to `inwards`, as seen from the hub.
    let touch = (-inwards).atan2();
    let turn = FRAC_PI_2 * (-inwards).cross(along).signum();
    let quarter = |start: f64| Edge::Arc(Arc { centre: hub, radius, start, sweep: turn });
    let way_in = quarter(touch - turn);
    Lead { from: way_in.start(), way_in, way_out: quarter(touch) }
}

/// The direction square to `along` that leads from a path round a light into it.
fn inwards(path: &[Edge], along: Vec2) -> Vec2 {
    let anticlockwise = path.iter().map(Edge::area_share).sum::<f64>() >= 0.0;
    let left = Vec2::new(-along.y, along.x);
    if anticlockwise { left } else { -left }
}
