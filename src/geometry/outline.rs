//! Closed outlines, and regions with holes.

use super::prepared::{Prepared, least_distance};
use super::tolerance::{COINCIDENT, ROUNDING};
use super::{Edge, distance_between};
use kurbo::{BezPath, Point, Rect, Vec2};
use std::f64::consts::TAU;
use std::fmt;
use std::sync::OnceLock;

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
pub struct Outline {
    edges: Vec<Edge>,
    /// The same edges, ready for questions.
    prepared: Vec<Prepared>,
    bounds: Rect,
    area: f64,
    /// The first two edges that touch where they should not, once that was asked.
    pub(super) crossing: OnceLock<Option<(usize, usize)>>,
}

impl PartialEq for Outline {
    fn eq(&self, other: &Outline) -> bool {
        self.edges == other.edges
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
            edges.reverse();
            for edge in &mut edges {
                *edge = edge.reversed();
            }
        }
        Ok(Outline::of(edges))
    }

    /// Prepares edges that are known to be an outline.
    fn of(edges: Vec<Edge>) -> Outline {
        let prepared: Vec<Prepared> = edges.iter().copied().map(Prepared::new).collect();
        let bounds = prepared.iter().map(|edge| edge.exact_bounds);
        let bounds = bounds.reduce(|a, b| a.union(b)).unwrap_or_default();
        let area = edges.iter().map(Edge::area_share).sum();
        Outline { edges, prepared, bounds, area, crossing: OnceLock::new() }
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
        Outline::polygon(&[
            Point::new(rect.x0, rect.y0),
            Point::new(rect.x1, rect.y0),
            Point::new(rect.x1, rect.y1),
            Point::new(rect.x0, rect.y1),
        ])
    }

    /// The same outline, moved by `by` mm.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Outline {
        Outline::of(self.edges.iter().map(|edge| edge.moved(by)).collect())
    }

    /// The same outline turned by half a turn about zero.
    #[must_use]
    pub fn half_turned(&self) -> Outline {
        Outline::of(self.edges.iter().map(Edge::half_turned).collect())
    }

    /// The same outline on paper at a scale of one to `scale`, which is above zero; zero stays where it is.
    #[must_use]
    pub fn reduced(&self, scale: f64) -> Outline {
        Outline::of(self.edges.iter().map(|edge| edge.reduced(scale)).collect())
    }

    /// The edges, anticlockwise.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    pub(super) fn prepared(&self) -> &[Prepared] {
        &self.prepared
    }

    /// Where each edge begins.
    pub fn corners(&self) -> impl Iterator<Item = Point> {
        self.prepared.iter().map(|edge| edge.from)
    }

    /// Enclosed area, mm², positive.
    pub fn area(&self) -> f64 {
        self.area
    }

    /// Length all round, mm.
    pub fn perimeter(&self) -> f64 {
        self.edges.iter().map(Edge::length).sum()
    }

    /// The smallest upright rectangle around the outline.
    pub fn bounds(&self) -> Rect {
        self.bounds
    }

    /// Least distance from `point` to the edge, mm, whether inside or out.
    pub fn distance_to(&self, point: Point) -> f64 {
        least_distance(&self.prepared, point)
    }

    /// The outline as a `kurbo` path; arcs become Béziers within 1e-9 mm.
    pub fn to_path(&self) -> BezPath {
        let mut path = BezPath::new();
        for (index, edge) in self.edges.iter().enumerate() {
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
        self.edges().map(|edge| distance_between(edge, path)).fold(f64::INFINITY, f64::min)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_clockwise_chain_is_turned_round() {
        let points = [(0.0, 0.0), (0.0, 3.0), (4.0, 3.0), (4.0, 0.0)].map(Point::from);
        let outline = Outline::polygon(&points).unwrap();
        assert_relative_eq!(outline.area(), 12.0);
        assert_relative_eq!(outline.perimeter(), 14.0);
        assert!(outline.contains(Point::new(1.0, 1.0)));
    }

    #[test]
    fn open_and_empty_chains_are_refused() {
        let gap = [
            Edge::line(Point::ZERO, Point::new(1.0, 0.0)),
            Edge::line(Point::new(1.0, 0.5), Point::ZERO),
        ];
        assert_eq!(Outline::new(gap.to_vec()), Err(OutlineError::Open(1)));
        assert_eq!(Outline::rectangle(Rect::ZERO), Err(OutlineError::Degenerate(0)));
        let flat = [(0.0, 0.0), (4.0, 0.0), (2.0, 0.0)].map(Point::from);
        assert_eq!(Outline::polygon(&flat), Err(OutlineError::Empty));
    }

    #[test]
    fn numbers_that_are_none_are_refused() {
        let corners = [(0.0, 0.0), (f64::NAN, 0.0), (4.0, 3.0)].map(Point::from);
        assert_eq!(Outline::polygon(&corners), Err(OutlineError::Degenerate(0)));
        let wide = [(0.0, 0.0), (f64::INFINITY, 0.0), (4.0, 3.0)].map(Point::from);
        assert_eq!(Outline::polygon(&wide), Err(OutlineError::Degenerate(0)));
        for (radius, sweep) in [(-5.0, 3.0), (f64::NAN, 3.0), (5.0, 7.0), (5.0, f64::NAN)] {
            let arc =
                Edge::Arc(crate::geometry::Arc { centre: Point::ZERO, radius, start: 0.0, sweep });
            let closed = vec![arc, Edge::line(arc.end(), arc.start())];
            assert_eq!(Outline::new(closed), Err(OutlineError::Degenerate(0)));
        }
    }

    #[test]
    fn a_frame_is_distant_from_a_path_in_its_opening_only() {
        let frame = Region {
            outline: Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 100.0)).unwrap(),
            holes: vec![Outline::rectangle(Rect::new(20.0, 20.0, 80.0, 80.0)).unwrap()],
        };
        let inside = Edge::line(Point::new(30.0, 40.0), Point::new(70.0, 40.0));
        assert_relative_eq!(frame.distance_to(&inside), 10.0);
        let across = Edge::line(Point::new(30.0, 40.0), Point::new(90.0, 40.0));
        assert_eq!(frame.distance_to(&across), 0.0);
        let within = Edge::line(Point::new(5.0, 5.0), Point::new(9.0, 9.0));
        assert_eq!(frame.distance_to(&within), 0.0);
        assert_relative_eq!(frame.area(), 6400.0);
    }
}
