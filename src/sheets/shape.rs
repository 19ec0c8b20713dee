//! Outlines of a sash's parts as drawings show them.

use crate::geometry::{Edge, Outline, OutlineError, Side, Sided};
use crate::sash::Sash;
use crate::survey::{Screw, ScrewFrom};
use kurbo::{Point, Rect, Vec2};

/// An outline with the exact bounds where it is a rectangle: what was grown may carry rounding.
///
/// # Errors
/// Where a rectangle has no area.
pub(super) fn drawn(sided: &Sided, bounds: Rect) -> Result<Outline, OutlineError> {
    if sided.is_rectangle() { Outline::rectangle(bounds) } else { Ok(sided.outline().clone()) }
}

/// Where the edges of a bar are seen: its two sight edges within the daylight.
pub(super) fn bar_edges(sash: &Sash, index: usize) -> Vec<Edge> {
    let Some(bar) = sash.bars.get(index) else { return Vec::new() };
    let half = bar.width / 2.0;
    let sides = [-half, half].into_iter().filter_map(|by| bar.path.shifted(by));
    sides.flat_map(|edge| sash.outline.outline().stretches_inside(&edge)).collect()
}

/// Whether the bar's sight edges make a rectangle.
pub(super) fn is_square(sash: &Sash, index: usize) -> bool {
    sash.outline.is_rectangle() && sash.bars.get(index).is_some_and(|bar| bar.is_square())
}

/// The axis of a screw from the outer edge, or the place of one from the room face as an axis without
/// length. None where the member has no edge at that height.
pub(super) fn screw_axis(sash: &Sash, screw: &Screw) -> Option<[Point; 2]> {
    let side = screw.member;
    let inwards = match side {
        Side::Left => Vec2::new(1.0, 0.0),
        Side::Right => Vec2::new(-1.0, 0.0),
        Side::Bottom => Vec2::new(0.0, 1.0),
        Side::Top => Vec2::new(0.0, -1.0),
    };
    match screw.from {
        ScrewFrom::OuterEdge { .. } => {
            let from = on_member(&sash.outer_outline, sash.outer, side, screw.at)?;
            Some([from, from + screw.length * inwards])
        }
        ScrewFrom::RoomFace { from_sight } => {
            let from = on_member(&sash.outline, sash.sight, side, screw.at)?;
            Some([from - from_sight * inwards; 2])
        }
    }
}

/// The outermost point of `outline` on that side at `at` along it.
fn on_member(outline: &Sided, bounds: Rect, side: Side, at: f64) -> Option<Point> {
    if outline.is_rectangle() {
        return Some(match side {
            Side::Left => Point::new(bounds.x0, at),
            Side::Right => Point::new(bounds.x1, at),
            Side::Bottom => Point::new(at, bounds.y0),
            Side::Top => Point::new(at, bounds.y1),
        });
    }
    let across = bounds.inflate(1.0, 1.0);
    let line = if side.is_upright() {
        Edge::line(Point::new(across.x0, at), Point::new(across.x1, at))
    } else {
        Edge::line(Point::new(at, across.y0), Point::new(at, across.y1))
    };
    let own = outline.edges().filter(|(_, own)| *own == side);
    let met = own.flat_map(|(edge, _)| edge.crossings(&line));
    let outwards = |p: &Point| match side {
        Side::Left => -p.x,
        Side::Right => p.x,
        Side::Bottom => -p.y,
        Side::Top => p.y,
    };
    met.max_by(|a, b| outwards(a).total_cmp(&outwards(b)))
}
