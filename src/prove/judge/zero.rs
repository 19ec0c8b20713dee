//! How far off the zero may be set before the cut harms the sash or the unit no longer goes in.
//!
//! The programs are taken as they are and moved as a whole: shifted, raised, or turned about their
//! zero. Each thing that limits the move is a clearance that shrinks with it; the largest safe move
//! is where the first of them is used up. What counts of a path seen from above is its convex hull,
//! grown by the cutter's radius: exact for straight moves, and for arcs on the safe side by less
//! than a thousandth of their radius.

use crate::geometry::{Edge, Side};
use crate::language::{Text, text};
use crate::prove::Setup;
use crate::prove::motion::{Move, piece};
use crate::prove::proof::{Direction, Margins, Span, WoodLeft, ZeroError};
use crate::prove::setup::{Across, Front};
use crate::prove::tolerance::{MOST_SHIFT, MOST_TURN};
use crate::rebate::{Pocket, Rebate};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::PI;

/// Steps in which a clearance is watched for being used up; between two of them it is halved.
const STEPS: u32 = 16;
const HALVINGS: u32 = 40;
/// Sides of the polygon around a whole turn: it lies outside the circle by (1/cos(π/72) − 1) of its
/// radius, a thousandth.
const SIDES: f64 = 72.0;

/// Programs as they lie: shifted, raised and turned about their zero.
#[derive(Debug, Clone, Copy, Default)]
struct Place {
    shift: Vec2,
    rise: f64,
    /// Radians anticlockwise.
    turn: f64,
}

impl Place {
    fn of(&self, point: Point) -> Point {
        let (sin, cos) = self.turn.sin_cos();
        Point::new(cos * point.x - sin * point.y, sin * point.x + cos * point.y) + self.shift
    }

    /// A point of the sash in the frame of the programs.
    fn back(&self, point: Point) -> Point {
        let (sin, cos) = self.turn.sin_cos();
        let moved = point - self.shift;
        Point::new(cos * moved.x + sin * moved.y, cos * moved.y - sin * moved.x)
    }
}

/// Something that limits the move.
struct Bound<'a> {
    what: Text,
    /// Whether the wood is harmed beyond it; else the unit does not go in.
    wood: bool,
    /// Clearance that is left, mm; negative where it is used up.
    clearance: Box<dyn Fn(&Place) -> f64 + 'a>,
}

/// The margins of the zero; `None` where nothing is known that could limit it.
pub(super) fn margins<'m>(
    moves: impl Iterator<Item = &'m Move> + Clone,
    left: &[Option<WoodLeft>],
    margins: &Margins,
    rebate: &Rebate,
    setup: &Setup,
) -> Option<ZeroError> {
    let reserve = &setup.reserve;
    let hull = hull(paths(moves.clone(), 0.0));
    if hull.is_empty() {
        return None;
    }
    let mut bounds = Vec::new();
    for (front, left) in reserve.fronts.iter().zip(left) {
        front_bounds(front, left.as_ref(), &hull, setup, &mut bounds);
    }
    let deep: Vec<Vec<Point>> = paths(moves, rebate.platform + setup.tolerance).collect();
    for seat in &reserve.seats {
        let pocket = rebate.pockets.iter().find(|pocket| pocket.light == seat.light);
        let cut = pocket.and_then(|pocket| Some((pocket, cut_wall(pocket, &deep, setup)?)));
        if let Some((pocket, wall)) = cut {
            seat_bounds(seat.unit, &seat.light, pocket, wall, setup.radius(), &mut bounds);
            let (what, bed) = (text!("bound-bed", light = Text::name(&seat.light)), seat.bed);
            bounds.push(Bound { what, wood: false, clearance: Box::new(move |p| bed - p.rise) });
        }
    }
    obstacle_bounds(margins, &hull, &mut bounds);
    if bounds.is_empty() {
        return None;
    }
    let shift = |x, y| Place { shift: Vec2::new(x, y), ..Place::default() };
    let rise = |rise| Place { rise, ..Place::default() };
    let turn = |degrees: f64| Place { turn: degrees.to_radians(), ..Place::default() };
    let (turn, length) = (span(&bounds, MOST_TURN, turn), longer_side(&hull));
    let runs_out = |way: &Direction| length * way.by.to_radians().tan();
    Some(ZeroError {
        x: span(&bounds, MOST_SHIFT, |t| shift(t, 0.0)),
        y: span(&bounds, MOST_SHIFT, |t| shift(0.0, t)),
        z: span(&bounds, MOST_SHIFT, rise),
        runs_out: [runs_out(&turn.minus), runs_out(&turn.plus)],
        turn,
        length,
    })
}

fn longer_side(points: &[Point]) -> f64 {
    let around = points.iter().map(|point| Rect::from_points(*point, *point));
    let around = around.reduce(|a, b| a.union(b)).unwrap_or_default();
    around.width().max(around.height())
}

fn span(bounds: &[Bound], most: f64, place: impl Fn(f64) -> Place) -> Span {
    Span { minus: direction(bounds, most, |t| place(-t)), plus: direction(bounds, most, place) }
}

fn direction(bounds: &[Bound], most: f64, place: impl Fn(f64) -> Place) -> Direction {
    let mut found = Direction { by: most, limited_by: None, wood: most, wood_limited_by: None };
    for bound in bounds {
        let by = used_up(|t| (bound.clearance)(&place(t)), most);
        if by < found.by {
            (found.by, found.limited_by) = (by, Some(bound.what.clone()));
        }
        if bound.wood && by < found.wood {
            (found.wood, found.wood_limited_by) = (by, Some(bound.what.clone()));
        }
    }
    found
}

/// Where `clearance` is first used up between 0 and `most`; `most` where it never is.
fn used_up(clearance: impl Fn(f64) -> f64, most: f64) -> f64 {
    let spent = |t: f64| clearance(t) < 0.0;
    if spent(0.0) {
        return 0.0;
    }
    let at = |step: u32| most * f64::from(step) / f64::from(STEPS);
    let Some(first) = (1..=STEPS).find(|&step| spent(at(step))) else { return most };
    let (mut safe, mut over) = (at(first - 1), at(first));
    for _ in 0..HALVINGS {
        let middle = f64::midpoint(safe, over);
        if spent(middle) { over = middle } else { safe = middle }
    }
    safe
}

/// Corners of everything below `limit`, path by path; an arc as a polygon around it.
fn paths<'m>(
    moves: impl Iterator<Item = &'m Move>,
    limit: f64,
) -> impl Iterator<Item = Vec<Point>> {
    moves.filter_map(move |mv| {
        let (t0, t1) = mv.below(limit)?;
        let path = piece(&mv.path, t0, t1);
        let mut corners = vec![path.start(), path.end()];
        if let Edge::Arc(arc) = path {
            let count = (arc.sweep.abs() / (2.0 * PI) * SIDES).ceil().max(1.0);
            let step = arc.sweep / count;
            let out = arc.radius / (step / 2.0).cos();
            let mut index = 0.5;
            while index < count {
                let angle = arc.start + index * step;
                corners.push(arc.centre + out * Vec2::from_angle(angle));
                index += 1.0;
            }
        }
        Some(corners)
    })
}

/// Corners of the convex hull, anticlockwise (monotone chain).
fn hull(paths: impl Iterator<Item = Vec<Point>>) -> Vec<Point> {
    let mut points: Vec<Point> = paths.flatten().collect();
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let half = |points: &mut dyn Iterator<Item = Point>| {
        let mut chain: Vec<Point> = Vec::new();
        for point in points {
            while let [.., a, b] = chain[..] {
                if (b - a).cross(point - b) > 0.0 {
                    break;
                }
                chain.pop();
            }
            chain.push(point);
        }
        chain.pop();
        chain
    };
    if points.len() < 3 {
        return points;
    }
    let mut chain = half(&mut points.iter().copied());
    chain.extend(half(&mut points.iter().rev().copied()));
    chain
}

/// How far `points` reach towards a side.
fn reach<'p>(points: impl IntoIterator<Item = Point> + 'p, side: Side) -> f64 {
    let towards = |point: Point| match side {
        Side::Left => -point.x,
        Side::Right => point.x,
        Side::Bottom => -point.y,
        Side::Top => point.y,
    };
    points.into_iter().map(towards).fold(f64::NEG_INFINITY, f64::max)
}

/// Wood before the moulding, height of a bar, and wood beside the cut.
fn front_bounds<'a>(
    front: &'a Front,
    left: Option<&WoodLeft>,
    hull: &'a [Point],
    setup: &Setup,
    bounds: &mut Vec<Bound<'a>>,
) {
    let radius = setup.radius();
    let rim =
        move |place: &Place, side| reach(hull.iter().map(|&point| place.of(point)), side) + radius;
    if let Some(left) = left {
        let (wood, lowest) = (left.wood, left.lowest);
        let outer = front.outer.map(|(side, _)| (side, rim(&Place::default(), side)));
        // A shift outwards takes new wood of the member, at worst as deep as anywhere in it.
        let clearance = move |place: &Place| {
            let wood = outer.map_or(wood, |(side, before)| {
                let after = rim(place, side);
                if after <= before {
                    wood
                } else {
                    wood.min(new_wood(front, side, before, after, lowest))
                }
            });
            wood + place.rise - front.least
        };
        let what = text!("bound-wood", part = Text::name(&front.name));
        bounds.push(Bound { what, wood: true, clearance: Box::new(clearance) });
        if let Some(limit) = front.lowest {
            let what = text!("bound-height", part = Text::name(&front.name));
            let clearance = move |place: &Place| lowest + place.rise - limit;
            bounds.push(Bound { what, wood: true, clearance: Box::new(clearance) });
        }
    }
    if let Some((side, least)) = front.outer {
        let edge = reach([front.area.origin(), Point::new(front.area.x1, front.area.y1)], side);
        let what = text!("bound-beside", part = Text::name(&front.name));
        let clearance = move |place: &Place| edge - rim(place, side) - least;
        bounds.push(Bound { what, wood: true, clearance: Box::new(clearance) });
    }
}

/// Wood left where the rim comes to reach further than before.
fn new_wood(front: &Front, side: Side, before: f64, after: f64, lowest: f64) -> f64 {
    let across = matches!(
        (side, front.across),
        (Side::Left | Side::Right, Across::X) | (Side::Bottom | Side::Top, Across::Y)
    );
    let sign = if matches!(side, Side::Left | Side::Bottom) { -1.0 } else { 1.0 };
    let (from, to) =
        if across { (sign * before, sign * after) } else { (f64::NEG_INFINITY, f64::INFINITY) };
    lowest - front.highest(from, to).1
}

/// The wall as the programs cut it, from the paths at full depth within the pocket.
fn cut_wall(pocket: &Pocket, deep: &[Vec<Point>], setup: &Setup) -> Option<Rect> {
    let room = pocket.wall.bounds().inflate(setup.tolerance, setup.tolerance);
    let inside = deep.iter().filter(|path| path.iter().all(|&point| room.contains(point)));
    let points = inside.flatten().map(|&point| Rect::from_points(point, point));
    let wall = points.reduce(|a, b| a.union(b))?;
    Some(wall.inflate(setup.radius(), setup.radius()))
}

/// The unit where it is planned to rest, against the cut walls and the fillets that are to stay.
fn seat_bounds<'a>(
    unit: Rect,
    light: &str,
    pocket: &'a Pocket,
    wall: Rect,
    radius: f64,
    bounds: &mut Vec<Bound<'a>>,
) {
    let corners = [
        Point::new(unit.x0, unit.y0),
        Point::new(unit.x1, unit.y0),
        Point::new(unit.x1, unit.y1),
        Point::new(unit.x0, unit.y1),
    ];
    let wall_corners = [Point::new(wall.x0, wall.y0), Point::new(wall.x1, wall.y1)];
    for (side, name) in
        [(Side::Left, "left"), (Side::Right, "right"), (Side::Bottom, "bottom"), (Side::Top, "top")]
    {
        let edge = reach(wall_corners, side);
        let clearance = move |place: &Place| edge - reach(corners.map(|c| place.back(c)), side);
        let what = text!("bound-gap", light = Text::name(light), side = Text::name(name));
        bounds.push(Bound { what, wood: false, clearance: Box::new(clearance) });
    }
    let middle = wall.center();
    for corner in pocket.corners.iter().filter(|corner| !corner.chisel) {
        let away = (corner.at - middle).hypot();
        let nearest = corners
            .into_iter()
            .min_by(|a, b| (*a - corner.at).hypot2().total_cmp(&(*b - corner.at).hypot2()));
        let Some(of_unit) = nearest.filter(|_| away > 0.0) else { continue };
        let (right, up) = (corner.at.x > middle.x, corner.at.y > middle.y);
        let bound =
            Point::new(if right { wall.x1 } else { wall.x0 }, if up { wall.y1 } else { wall.y0 });
        let radius = corner.cleaned.unwrap_or(radius);
        // The springing of a head lies far from any corner of the rectangle round the wall.
        if (bound - corner.at).hypot() > radius {
            continue;
        }
        let centre = Point::new(
            if right { wall.x1 - radius } else { wall.x0 + radius },
            if up { wall.y1 - radius } else { wall.y0 + radius },
        );
        let clearance = move |place: &Place| {
            let at = place.back(of_unit);
            let out = at - centre;
            let past = (out.x > 0.0) == right && (out.y > 0.0) == up;
            if past { radius - out.hypot() } else { f64::INFINITY }
        };
        let corner = match (up, right) {
            (true, true) => text!("corner-upper-right"),
            (true, false) => text!("corner-upper-left"),
            (false, true) => text!("corner-lower-right"),
            (false, false) => text!("corner-lower-left"),
        };
        let what = text!("bound-corner", light = Text::name(light), corner);
        bounds.push(Bound { what, wood: false, clearance: Box::new(clearance) });
    }
}

/// Clamps and metal: nearer by no more than the shift, and what a turn moves the furthest point.
fn obstacle_bounds(margins: &Margins, hull: &[Point], bounds: &mut Vec<Bound>) {
    let furthest = hull.iter().map(|point| point.to_vec2().hypot()).fold(0.0, f64::max);
    if let Some(nearest) = &margins.obstacle {
        let distance = nearest.distance;
        let clearance = move |place: &Place| {
            distance - place.shift.hypot() - 2.0 * furthest * (place.turn / 2.0).sin().abs()
        };
        let what = nearest.solid.clone();
        bounds.push(Bound { what, wood: true, clearance: Box::new(clearance) });
    }
    if let Some(nearest) = &margins.over_obstacle {
        let height = nearest.distance;
        let (what, clearance) = (nearest.solid.clone(), move |place: &Place| height + place.rise);
        bounds.push(Bound { what, wood: true, clearance: Box::new(clearance) });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn what_is_used_up_is_found_and_what_is_not_has_no_end() {
        assert_relative_eq!(used_up(|t| 2.0 - t, 50.0), 2.0, epsilon = 1e-9);
        assert_eq!(used_up(|_| 1.0, 50.0), 50.0);
        assert_eq!(used_up(|_| -1.0, 50.0), 0.0);
    }

    #[test]
    fn back_undoes_of() {
        let place = Place { shift: Vec2::new(3.0, -2.0), rise: 1.0, turn: 0.3 };
        let point = Point::new(400.0, -70.0);
        assert!((place.back(place.of(point)) - point).hypot() < 1e-12);
    }

    #[test]
    fn the_hull_keeps_corners_only() {
        let corners = [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)].map(Point::from);
        let inner = [(2.0, 0.0), (1.0, 1.0), (4.0, 2.0)].map(Point::from);
        let found = hull([corners.to_vec(), inner.to_vec()].into_iter());
        assert_eq!(found.len(), 4);
        assert!(corners.iter().all(|corner| found.contains(corner)));
    }
}
