//! Closed outlines, and regions with holes.

use super::crossings::first_crossing;
use super::edge::backwards;
use super::prepared::{Prepared, least_distance};
use super::tolerance::{COINCIDENT, REWORKED, ROUNDING};
use super::{Arc, Edge};
use kurbo::{BezPath, Point, Rect, Vec2};
use std::f64::consts::{PI, TAU};
use std::fmt;
use std::sync::{self, OnceLock};

/// Why some edges do not make an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OutlineError {
    /// Fewer than two edges, or no area.
    Empty,
    /// The edge with this index does not begin where the one before it ends.
    Open(usize),
    /// The edge with this index has no length, a coordinate that is not finite, or is an arc without
    /// radius or of more than a turn.
    Degenerate(usize),
}

impl fmt::Display for OutlineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OutlineError::Empty => write!(f, "the outline holds no area"),
            OutlineError::Open(i) => write!(f, "edge {i} does not begin where the one before ends"),
            OutlineError::Degenerate(i) => write!(f, "edge {i} has no length"),
        }
    }
}

impl std::error::Error for OutlineError {}

/// A closed chain of edges, anticlockwise, so that the outside is to the right of travel.
#[derive(Debug, Clone)]
pub struct Outline(sync::Arc<Known>);

/// The edges of an outline and what was worked out of them, shared by its clones.
#[derive(Debug)]
pub(super) struct Known {
    edges: Vec<Edge>,
    /// The same edges, ready for questions.
    prepared: Vec<Prepared>,
    bounds: Rect,
    area: f64,
    /// The first two edges that touch where they should not, once that was asked.
    crossing: OnceLock<Option<(usize, usize)>>,
    /// The deepest point and its depth, once that was asked.
    pub(super) deepest: OnceLock<(Point, f64)>,
}

impl PartialEq for Outline {
    fn eq(&self, other: &Outline) -> bool {
        self.0.edges == other.0.edges
    }
}

impl Outline {
    /// Closes `edges` into an outline; a clockwise chain is turned round.
    ///
    /// # Errors
    /// Where the chain is open, an edge has no length, or no area is enclosed.
    pub fn new(mut edges: Vec<Edge>) -> Result<Outline, OutlineError> {
        if edges.len() < 2 {
            return Err(OutlineError::Empty);
        }
        let mut before = edges.last().map(Edge::end);
        for (index, edge) in edges.iter().enumerate() {
            if !is_edge(edge) {
                return Err(OutlineError::Degenerate(index));
            }
            if before.is_none_or(|end| (edge.start() - end).hypot() > COINCIDENT) {
                return Err(OutlineError::Open(index));
            }
            before = Some(edge.end());
        }
        let area: f64 = edges.iter().map(Edge::area_share).sum();
        if area.abs() <= COINCIDENT {
            return Err(OutlineError::Empty);
        }
        if area < 0.0 {
            edges = backwards(&edges);
        }
        Ok(Outline::of(edges))
    }

    /// Prepares edges that are known to be an outline.
    fn of(edges: Vec<Edge>) -> Outline {
        let prepared: Vec<Prepared> = edges.iter().copied().map(Prepared::new).collect();
        let bounds = prepared.iter().map(|edge| edge.exact_bounds);
        let bounds = bounds.reduce(|a, b| a.union(b)).unwrap_or_default();
        let area = edges.iter().map(Edge::area_share).sum();
        let (crossing, deepest) = (OnceLock::new(), OnceLock::new());
        Outline(sync::Arc::new(Known { edges, prepared, bounds, area, crossing, deepest }))
    }

    /// The straight-edged outline through `corners`.
    ///
    /// # Errors
    /// As [`Outline::new`].
    pub fn polygon(corners: &[Point]) -> Result<Outline, OutlineError> {
        let next = corners.iter().cycle().skip(1);
        Outline::new(corners.iter().zip(next).map(|(&a, &b)| Edge::line(a, b)).collect())
    }

    /// The outline of `rect`, from its lower left corner: bottom, right, top, left.
    ///
    /// # Errors
    /// Where `rect` has no area.
    pub fn rectangle(rect: Rect) -> Result<Outline, OutlineError> {
        Outline::polygon(&corners(rect))
    }

    /// The same outline, moved by `by` mm.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Outline {
        Outline::of(self.edges().iter().map(|edge| edge.moved(by)).collect())
    }

    /// The same outline turned by half a turn about zero.
    #[must_use]
    pub fn half_turned(&self) -> Outline {
        Outline::of(self.edges().iter().map(Edge::half_turned).collect())
    }

    /// The same outline on paper at a scale of one to `scale`, which is above zero; zero stays where it is.
    #[must_use]
    pub fn reduced(&self, scale: f64) -> Outline {
        Outline::of(self.edges().iter().map(|edge| edge.reduced(scale)).collect())
    }

    /// The edges, anticlockwise.
    pub fn edges(&self) -> &[Edge] {
        &self.0.edges
    }

    /// Every corner as the edge that ends there and the one that begins, the first edge's own first.
    pub fn meetings(&self) -> impl Iterator<Item = (&Edge, &Edge)> {
        let edges = self.edges();
        edges.iter().cycle().skip(edges.len().saturating_sub(1)).zip(edges)
    }

    pub(super) fn known(&self) -> &Known {
        &self.0
    }

    pub(super) fn prepared(&self) -> &[Prepared] {
        &self.0.prepared
    }

    /// Where each edge begins.
    pub fn corners(&self) -> impl Iterator<Item = Point> {
        self.prepared().iter().map(|edge| edge.from)
    }

    /// Enclosed area, mm², positive.
    pub fn area(&self) -> f64 {
        self.0.area
    }

    /// Length all round, mm.
    pub fn perimeter(&self) -> f64 {
        self.edges().iter().map(Edge::length).sum()
    }

    /// The smallest upright rectangle around the outline.
    pub fn bounds(&self) -> Rect {
        self.0.bounds
    }

    /// Least distance from `point` to the edge, mm, whether inside or out.
    pub fn distance_to(&self, point: Point) -> f64 {
        least_distance(self.prepared(), point)
    }

    /// Whether `point` lies inside; on the edge itself either answer may come.
    pub fn contains(&self, point: Point) -> bool {
        let edges = self.prepared();
        let next = edges.iter().cycle().skip(1);
        let crossings =
            edges.iter().zip(next).map(|(edge, next)| edge.crossings_of_ray(next.from, point));
        crossings.sum::<i32>() != 0
    }

    /// The point of the outline nearest to `point`, and the index of the edge it lies on.
    pub fn nearest_on(&self, point: Point) -> (Point, usize) {
        let mut best = (point, 0, f64::INFINITY);
        for (index, edge) in self.prepared().iter().enumerate() {
            if edge.box_distance_squared(point) > best.2 * best.2 {
                continue;
            }
            let edge = &edge.edge;
            let on = edge.at(edge.nearest(point));
            let away = (on - point).hypot();
            if away < best.2 {
                best = (on, index, away);
            }
        }
        (best.0, best.1)
    }

    /// Whether edges that are not neighbours touch, or neighbours meet anywhere but at their corner.
    pub fn crosses_itself(&self) -> bool {
        self.first_crossing().is_some()
    }

    /// The first two edges that touch where they should not; see [`Outline::crosses_itself`].
    pub fn first_crossing(&self) -> Option<(usize, usize)> {
        *self.0.crossing.get_or_init(|| first_crossing(self.prepared()))
    }

    /// The edges with every run of pieces of one line, or of one circle, made one edge. A whole circle
    /// is a single arc of a full turn. The first edge is the one that begins at or after the outline's first
    /// corner.
    pub fn merged(&self) -> Vec<Edge> {
        let edges = self.edges();
        let count = edges.len();
        // Begins where one edge really ends; a circle has no such place.
        let Some(first) = self.meetings().position(|(into, out)| one_edge(into, out).is_none())
        else {
            return edges.first().map(whole_turn).into_iter().collect();
        };
        let mut merged: Vec<Edge> = Vec::with_capacity(count);
        for edge in edges.iter().cycle().skip(first).take(count) {
            match merged.last_mut() {
                Some(last) => match one_edge(last, edge) {
                    Some(both) => *last = both,
                    None => merged.push(*edge),
                },
                None => merged.push(*edge),
            }
        }
        merged
    }

    /// Every place where one edge goes over into the next, with the angle inside, radians: from 0 where the second
    /// runs back beside the first to a whole turn.
    pub fn corner_angles(&self) -> impl Iterator<Item = (Point, f64)> {
        self.meetings().map(|(into, out)| {
            let (along, on) = (into.direction(1.0), out.direction(0.0));
            (out.start(), PI - along.cross(on).atan2(along.dot(on)))
        })
    }

    /// The least angle inside, radians, between neighbours that turn to the left; half a turn where none
    /// do.
    pub fn sharpest_corner(&self) -> f64 {
        self.corner_angles().map(|(_, angle)| angle).fold(PI, f64::min)
    }

    /// The outline as a `kurbo` path; arcs become Béziers within 1e-9 mm.
    pub fn to_path(&self) -> BezPath {
        let mut path = BezPath::new();
        for (index, edge) in self.edges().iter().enumerate() {
            if index == 0 {
                path.move_to(edge.start());
            }
            match edge {
                Edge::Line(line) => path.line_to(line.p1),
                Edge::Arc(arc) => {
                    kurbo::Arc::new(
                        arc.centre,
                        (arc.radius, arc.radius),
                        arc.start,
                        arc.sweep,
                        0.0,
                    )
                    .to_cubic_beziers(ROUNDING, |a, b, c| path.curve_to(a, b, c));
                }
            }
        }
        path.close_path();
        path
    }
}

/// Whether an edge has finite coordinates and a length, and an arc a radius and at most one turn.
fn is_edge(edge: &Edge) -> bool {
    let finite = [edge.start(), edge.end()].iter().all(|point| point.is_finite());
    let round = match edge {
        Edge::Line(_) => true,
        Edge::Arc(arc) => arc.radius > COINCIDENT && arc.sweep.abs() <= TAU + COINCIDENT,
    };
    finite && round && edge.length() > COINCIDENT
}

/// An outline less its holes.
#[derive(Debug, Clone, PartialEq)]
pub struct Region {
    /// The outer boundary.
    pub outline: Outline,
    /// Holes, each wholly inside the outline and clear of the others.
    pub holes: Vec<Outline>,
}

impl Region {
    /// A region without holes.
    pub fn solid(outline: Outline) -> Region {
        Region { outline, holes: Vec::new() }
    }

    /// Area, mm².
    pub fn area(&self) -> f64 {
        self.outline.area() - self.holes.iter().map(Outline::area).sum::<f64>()
    }

    /// Every boundary edge, outer first.
    pub fn edges(&self) -> impl Iterator<Item = &Edge> {
        self.outline.edges().iter().chain(self.holes.iter().flat_map(Outline::edges))
    }

    /// Least distance from `path` to the region, mm; zero where they meet.
    pub fn distance_to(&self, path: &Edge) -> f64 {
        if self.contains(path.start()) {
            return 0.0;
        }
        let path = Prepared::new(*path);
        let loops = std::iter::once(&self.outline).chain(&self.holes);
        let edges = loops.flat_map(Outline::prepared);
        edges.map(|edge| edge.distance_between(&path)).fold(f64::INFINITY, f64::min)
    }

    /// Whether `point` lies in the region; on the edge itself either answer may come.
    pub fn contains(&self, point: Point) -> bool {
        self.outline.contains(point) && !self.holes.iter().any(|hole| hole.contains(point))
    }

    /// Least distance from `point` to any boundary, mm.
    pub(super) fn clear_of_boundary(&self, point: Point) -> f64 {
        let loops = std::iter::once(&self.outline).chain(&self.holes);
        loops.map(|outline| outline.distance_to(point)).fold(f64::INFINITY, f64::min)
    }
}

/// The circle that an arc lies on; a line as it is.
fn whole_turn(edge: &Edge) -> Edge {
    match *edge {
        Edge::Arc(arc) => Edge::Arc(Arc { sweep: TAU.copysign(arc.sweep), ..arc }),
        line @ Edge::Line(_) => line,
    }
}

/// Both as one edge; none where they are not of one line or circle.
fn one_edge(into: &Edge, out: &Edge) -> Option<Edge> {
    into.as_one(out, REWORKED, TAU + COINCIDENT)
}

/// Corners of a rectangle, anticlockwise from the lower left.
pub fn corners(rect: Rect) -> [Point; 4] {
    let Rect { x0, y0, x1, y1 } = rect;
    [(x0, y0), (x1, y0), (x1, y1), (x0, y1)].map(Point::from)
}

impl Edge {
    /// The band of that width, mm, along the whole edge; its ends are square to it.
    ///
    /// # Errors
    /// Where the width is not above zero, or an arc is too tight for it.
    pub fn strip(&self, width: f64) -> Result<Outline, OutlineError> {
        let aside = |by| self.shifted(by).ok_or(OutlineError::Empty);
        let (right, left) = (aside(width / 2.0)?, aside(-width / 2.0)?);
        Outline::new(vec![
            right,
            Edge::line(right.end(), left.end()),
            left.reversed(),
            Edge::line(left.start(), right.start()),
        ])
    }
}

#[cfg(test)]
mod tests;
