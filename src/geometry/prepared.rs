//! An edge of an outline with its ends and its box worked out, so that questions about a point are answered by
//! products and comparisons, without an angle.

use super::edge::nearest_on_line;
use super::tolerance::ROUNDING;
use super::{Arc, Edge};
use kurbo::{Point, Rect, Vec2};

/// An edge, its ends and its box.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Prepared {
    pub(super) edge: Edge,
    pub(super) from: Point,
    pub(super) to: Point,
    /// The smallest upright rectangle that holds it.
    pub(super) exact_bounds: Rect,
    /// The same with room for rounding.
    pub(super) bounds: Rect,
}

impl Prepared {
    pub(super) fn new(edge: Edge) -> Prepared {
        let exact_bounds = edge.bounds();
        let bounds = exact_bounds.inflate(ROUNDING, ROUNDING);
        Prepared { edge, from: edge.start(), to: edge.end(), exact_bounds, bounds }
    }

    /// The same edge travelled the other way.
    pub(super) fn reversed(&self) -> Prepared {
        let edge = self.edge.reversed();
        Prepared { edge, from: edge.start(), to: edge.end(), ..*self }
    }

    /// How often the edge, run on to `next` where the one after it begins, crosses the ray from `point` to +X:
    /// upwards less downwards. A point level with an end counts as just below it; a point on the edge lies on
    /// the side that rounding gives it.
    pub(super) fn crossings_of_ray(&self, next: Point, point: Point) -> i32 {
        let mut count = crosses_ray(self.from, self.to, point);
        if next != self.to {
            count += crosses_ray(self.to, next, point);
        }
        if let Edge::Arc(arc) = &self.edge
            && self.bounds.contains(point)
            && self.in_segment(arc, point)
        {
            count += if arc.sweep > 0.0 { 1 } else { -1 };
        }
        count
    }

    /// Whether `point` lies between the arc and its chord. The side of the chord is judged by the very number
    /// by which it crosses a ray, so that a point on the chord is not counted on both sides.
    fn in_segment(&self, arc: &Arc, point: Point) -> bool {
        let beyond = || side(self.from, self.to, point).is_sign_negative() == (arc.sweep > 0.0);
        (point - arc.centre).hypot() < arc.radius && (arc.is_full_turn() || beyond())
    }

    /// Least distance from `point` to the edge, mm.
    pub(super) fn distance_to(&self, point: Point) -> f64 {
        match &self.edge {
            Edge::Line(line) => (nearest_on_line(line, point) - point).hypot(),
            Edge::Arc(arc) => {
                let out = point - arc.centre;
                if self.spans(arc, out) {
                    (out.hypot() - arc.radius).abs()
                } else {
                    (self.from - point).hypot().min((self.to - point).hypot())
                }
            }
        }
    }

    /// Unit vector along the direction of travel where the edge is nearest to `point`; zero where that is not told.
    pub(super) fn direction_beside(&self, point: Point) -> Vec2 {
        let Edge::Arc(arc) = &self.edge else { return self.edge.direction(0.0) };
        let out = point - arc.centre;
        let nearest = if self.spans(arc, out) {
            out
        } else if (point - self.from).hypot2() <= (point - self.to).hypot2() {
            self.from - arc.centre
        } else {
            self.to - arc.centre
        };
        let away = nearest.hypot();
        if away > 0.0 {
            arc.sweep.signum() / away * Vec2::new(-nearest.y, nearest.x)
        } else {
            Vec2::ZERO
        }
    }

    /// Square of the least distance from `point` to the box: none of the edge is nearer.
    pub(super) fn box_distance_squared(&self, point: Point) -> f64 {
        let x = (self.bounds.x0 - point.x).max(point.x - self.bounds.x1).max(0.0);
        let y = (self.bounds.y0 - point.y).max(point.y - self.bounds.y1).max(0.0);
        x * x + y * y
    }

    /// The same between two boxes.
    pub(super) fn boxes_apart_squared(&self, other: &Prepared) -> f64 {
        let (own, other) = (self.bounds, other.bounds);
        let x = (own.x0 - other.x1).max(other.x0 - own.x1).max(0.0);
        let y = (own.y0 - other.y1).max(other.y0 - own.y1).max(0.0);
        x * x + y * y
    }

    /// Whether the ray from the centre along `out` meets the arc.
    pub(super) fn spans(&self, arc: &Arc, out: Vec2) -> bool {
        let [after_start, before_end] = self.flanks(arc).map(|flank| flank.dot(out) >= 0.0);
        if arc.is_wide() { after_start || before_end } else { after_start && before_end }
    }

    /// Directions square to the arc's two end radii, each into the arc's own sector: what lies that way of
    /// both (of either, where the arc is more than half a circle) is in the sector.
    pub(super) fn flanks(&self, arc: &Arc) -> [Vec2; 2] {
        let turn = arc.sweep.signum();
        let (start, end) = (self.from - arc.centre, self.to - arc.centre);
        [turn * Vec2::new(-start.y, start.x), turn * Vec2::new(end.y, -end.x)]
    }
}

/// Edges sorted from the left to the right, so that of many only those near a box are looked at.
pub(super) struct FromLeft<'a> {
    edges: Vec<&'a Prepared>,
    /// The widest of their boxes.
    widest: f64,
}

impl<'a> FromLeft<'a> {
    pub(super) fn new(edges: &'a [Prepared]) -> FromLeft<'a> {
        let mut edges: Vec<&Prepared> = edges.iter().collect();
        edges.sort_by(|a, b| a.bounds.x0.total_cmp(&b.bounds.x0));
        let widest = edges.iter().map(|edge| edge.bounds.width()).fold(0.0, f64::max);
        FromLeft { edges, widest }
    }

    /// Those whose boxes overlap `around`.
    pub(super) fn near(&self, around: Rect) -> impl Iterator<Item = &'a Prepared> {
        let first = self.edges.partition_point(|edge| edge.bounds.x0 < around.x0 - self.widest);
        let right =
            self.edges.iter().skip(first).take_while(move |edge| edge.bounds.x0 <= around.x1);
        right.copied().filter(move |edge| around.overlaps(edge.bounds))
    }
}

/// Least distance from `point` to any of the edges, mm.
pub(super) fn least_distance<'a>(
    edges: impl IntoIterator<Item = &'a Prepared>,
    point: Point,
) -> f64 {
    edges.into_iter().fold(f64::INFINITY, |least, edge| {
        let beyond = edge.box_distance_squared(point) > least * least;
        if beyond { least } else { least.min(edge.distance_to(point)) }
    })
}

/// Twice the signed area of the triangle `from`, `to`, `point`: positive where the point is to the left.
fn side(from: Point, to: Point, point: Point) -> f64 {
    (from - point).cross(to - point)
}

fn crosses_ray(from: Point, to: Point, point: Point) -> i32 {
    let upwards = from.y < point.y;
    if upwards == (to.y < point.y) {
        return 0;
    }
    match (upwards, side(from, to, point).is_sign_negative()) {
        (true, false) => 1,
        (false, true) => -1,
        _ => 0,
    }
}
