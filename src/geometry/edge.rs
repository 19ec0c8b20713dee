//! A straight or circular edge.

use super::tolerance::{COINCIDENT, ROUNDING};
use kurbo::{Line, Point, Rect, Vec2};
use std::f64::consts::{PI, TAU};

/// A circular arc.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre of the circle.
    pub centre: Point,
    /// Radius, mm, positive.
    pub radius: f64,
    /// Angle of the start, radians anticlockwise from +X.
    pub start: f64,
    /// Signed angle swept, radians: positive anticlockwise. At most one turn either way.
    pub sweep: f64,
}

impl Arc {
    /// The point at `angle` radians on the whole circle.
    pub fn on_circle(&self, angle: f64) -> Point {
        self.centre + self.radius * Vec2::from_angle(angle)
    }

    /// Whether the ray from the centre at `angle` meets the arc.
    pub fn spans(&self, angle: f64) -> bool {
        let along = if self.sweep >= 0.0 { angle - self.start } else { self.start - angle };
        along.rem_euclid(TAU) <= self.sweep.abs()
    }

    /// Whether it is more than half a circle.
    pub(super) fn is_wide(&self) -> bool {
        self.sweep.abs() > PI
    }

    /// Whether it goes all the way round, so that it has no chord.
    pub fn is_full_turn(&self) -> bool {
        self.sweep.abs() >= TAU - ROUNDING
    }

    /// Tangent of a quarter of the sweep: the *bulge* of the DXF reference, negative clockwise.
    pub fn bulge(&self) -> f64 {
        (self.sweep / 4.0).tan()
    }

    /// The arc from `from` to `to` with the given `bulge` (DXF reference: tan of a quarter of the
    /// included angle, negative clockwise). `None` where the points coincide or the bulge is zero.
    pub fn from_bulge(from: Point, to: Point, bulge: f64) -> Option<Arc> {
        let chord = to - from;
        let length = chord.hypot();
        if length <= COINCIDENT || bulge == 0.0 || !bulge.is_finite() {
            return None;
        }
        let sweep = 4.0 * bulge.atan();
        let radius = length / (2.0 * (sweep / 2.0).sin().abs());
        // Distance of the centre from the chord, to the left of travel where positive.
        let aside = length * (1.0 - bulge * bulge) / (4.0 * bulge);
        let left = Vec2::new(-chord.y, chord.x) / length;
        let centre = from.midpoint(to) + aside * left;
        Some(Arc { centre, radius, start: (from - centre).atan2(), sweep })
    }
}

/// `angle` less whole turns, from half a turn back up to half a turn on.
pub(super) fn within_half_turn(angle: f64) -> f64 {
    (angle + PI).rem_euclid(TAU) - PI
}

/// A piece of an outline or of a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Edge {
    /// A straight line.
    Line(Line),
    /// A circular arc.
    Arc(Arc),
}

impl Edge {
    /// The straight edge from `from` to `to`.
    pub fn line(from: Point, to: Point) -> Edge {
        Edge::Line(Line::new(from, to))
    }

    /// The arc from `from` to `to` with that bulge, as of [`Arc::from_bulge`]; a line where it has none.
    pub fn bulged(from: Point, to: Point, bulge: f64) -> Edge {
        Arc::from_bulge(from, to, bulge).map_or(Edge::line(from, to), Edge::Arc)
    }

    /// A whole circle, anticlockwise from its rightmost point.
    pub fn circle(centre: Point, radius: f64) -> Edge {
        Edge::Arc(Arc { centre, radius, start: 0.0, sweep: TAU })
    }

    /// Where the edge begins.
    pub fn start(&self) -> Point {
        match self {
            Edge::Line(line) => line.p0,
            Edge::Arc(arc) => arc.on_circle(arc.start),
        }
    }

    /// Where the edge ends.
    pub fn end(&self) -> Point {
        match self {
            Edge::Line(line) => line.p1,
            Edge::Arc(arc) => arc.on_circle(arc.start + arc.sweep),
        }
    }

    /// The point at `t` from 0 (start) to 1 (end), evenly along the edge.
    pub fn at(&self, t: f64) -> Point {
        match self {
            Edge::Line(line) => line.p0.lerp(line.p1, t),
            Edge::Arc(arc) => arc.on_circle(arc.start + t * arc.sweep),
        }
    }

    /// Unit vector along the direction of travel at `t`; zero for an edge without length.
    pub fn direction(&self, t: f64) -> Vec2 {
        match self {
            Edge::Line(line) => {
                let along = line.p1 - line.p0;
                if along.hypot() > 0.0 { along.normalize() } else { Vec2::ZERO }
            }
            Edge::Arc(arc) => {
                let radial = Vec2::from_angle(arc.start + t * arc.sweep);
                arc.sweep.signum() * Vec2::new(-radial.y, radial.x)
            }
        }
    }

    /// Length, mm.
    pub fn length(&self) -> f64 {
        match self {
            Edge::Line(line) => (line.p1 - line.p0).hypot(),
            Edge::Arc(arc) => arc.radius * arc.sweep.abs(),
        }
    }

    /// Curvature, 1/mm: positive where the edge turns left, zero for a line.
    pub fn curvature(&self) -> f64 {
        match self {
            Edge::Line(_) => 0.0,
            Edge::Arc(arc) => arc.sweep.signum() / arc.radius,
        }
    }

    /// The same edge travelled the other way.
    #[must_use]
    pub fn reversed(&self) -> Edge {
        match *self {
            Edge::Line(line) => Edge::Line(line.reversed()),
            Edge::Arc(arc) => {
                Edge::Arc(Arc { start: arc.start + arc.sweep, sweep: -arc.sweep, ..arc })
            }
        }
    }

    /// The same edge, moved by `by` mm.
    #[must_use]
    pub fn moved(&self, by: Vec2) -> Edge {
        match *self {
            Edge::Line(line) => Edge::Line(Line::new(line.p0 + by, line.p1 + by)),
            Edge::Arc(arc) => Edge::Arc(Arc { centre: arc.centre + by, ..arc }),
        }
    }

    /// The same edge turned by half a turn about zero.
    #[must_use]
    pub fn half_turned(&self) -> Edge {
        let point = |p: Point| Point::new(-p.x, -p.y);
        match *self {
            Edge::Line(line) => Edge::Line(Line::new(point(line.p0), point(line.p1))),
            Edge::Arc(arc) => {
                let start = if arc.start > 0.0 { arc.start - PI } else { arc.start + PI };
                Edge::Arc(Arc { centre: point(arc.centre), start, ..arc })
            }
        }
    }

    /// The same edge on paper at a scale of one to `scale`, zero staying where it is.
    #[must_use]
    pub fn reduced(&self, scale: f64) -> Edge {
        let point = |p: Point| (p.to_vec2() / scale).to_point();
        match *self {
            Edge::Line(line) => Edge::Line(Line::new(point(line.p0), point(line.p1))),
            Edge::Arc(arc) => {
                Edge::Arc(Arc { centre: point(arc.centre), radius: arc.radius / scale, ..arc })
            }
        }
    }

    /// The edge `distance` mm to the right of travel (to the left where negative): the outside of
    /// an anticlockwise outline. `None` where an arc's radius would not stay positive.
    pub fn shifted(&self, distance: f64) -> Option<Edge> {
        match *self {
            Edge::Line(line) => {
                let along = self.direction(0.0);
                let right = Vec2::new(along.y, -along.x);
                Some(Edge::Line(Line::new(line.p0 + distance * right, line.p1 + distance * right)))
            }
            Edge::Arc(arc) => {
                let radius = arc.radius + distance * arc.sweep.signum();
                (radius > COINCIDENT).then_some(Edge::Arc(Arc { radius, ..arc }))
            }
        }
    }

    /// The smallest upright rectangle that holds the edge.
    pub fn bounds(&self) -> Rect {
        let mut bounds = Rect::from_points(self.start(), self.end());
        if let Edge::Arc(arc) = self {
            for quarter in 0..4 {
                let angle = f64::from(quarter) * TAU / 4.0;
                if arc.spans(angle) {
                    bounds = bounds.union_pt(arc.on_circle(angle));
                }
            }
        }
        bounds
    }

    /// The edge's share of a closed outline's signed area: ½∮(x dy − y dx), mm².
    pub(crate) fn area_share(&self) -> f64 {
        let (from, to) = (self.start().to_vec2(), self.end().to_vec2());
        let chord = from.cross(to) / 2.0;
        match self {
            Edge::Line(_) => chord,
            // Circular segment between chord and arc: R²(θ − sin θ)/2, signed by the sweep.
            Edge::Arc(arc) => chord + arc.radius.powi(2) * (arc.sweep - arc.sweep.sin()) / 2.0,
        }
    }

    /// Least distance from `point` to the edge, mm.
    pub fn distance_to(&self, point: Point) -> f64 {
        match self {
            Edge::Line(line) => (nearest_on_line(line, point) - point).hypot(),
            Edge::Arc(arc) => {
                let out = point - arc.centre;
                if arc.spans(out.atan2()) {
                    (out.hypot() - arc.radius).abs()
                } else {
                    (self.start() - point).hypot().min((self.end() - point).hypot())
                }
            }
        }
    }

    /// How far along the edge, from 0 (start) to 1 (end), its point nearest to `point` lies.
    pub fn nearest(&self, point: Point) -> f64 {
        match self {
            Edge::Line(line) => share_on_line(line, point),
            Edge::Arc(arc) => {
                let turn = (point - arc.centre).atan2() - arc.start;
                let along = if arc.sweep < 0.0 { -turn } else { turn }.rem_euclid(TAU);
                let sweep = arc.sweep.abs();
                if along <= sweep {
                    along / sweep
                } else if (point - self.start()).hypot2() <= (point - self.end()).hypot2() {
                    0.0
                } else {
                    1.0
                }
            }
        }
    }

    /// This edge and another that goes on from its end along the same line or circle, as one, no more than half a turn;
    /// none where the other does not.
    pub fn joined(&self, next: &Edge) -> Option<Edge> {
        let meet = self.end().distance(next.start()) <= COINCIDENT;
        if meet { self.as_one(next, COINCIDENT, PI) } else { None }
    }

    /// This edge and the one after it as one of at most `turn` radians; none where they do not go on along one line or
    /// circle within `within` mm.
    pub(super) fn as_one(&self, next: &Edge, within: f64, turn: f64) -> Option<Edge> {
        match (*self, *next) {
            (Edge::Line(a), Edge::Line(b)) => {
                let both = Edge::line(a.p0, b.p1);
                let onwards = (a.p1 - a.p0).dot(b.p1 - b.p0) > 0.0;
                (onwards && both.distance_to(a.p1) <= within).then_some(both)
            }
            (Edge::Arc(a), Edge::Arc(b)) => {
                let sweep = a.sweep + b.sweep;
                let same =
                    a.centre.distance(b.centre) <= within && (a.radius - b.radius).abs() <= within;
                let onwards = a.sweep * b.sweep > 0.0 && sweep.abs() <= turn;
                (same && onwards).then_some(Edge::Arc(Arc { sweep, ..a }))
            }
            _ => None,
        }
    }

    /// The piece of the edge between `from` and `to`, both from 0 to 1, travelled from `from` to `to`.
    #[must_use]
    pub fn part(&self, from: f64, to: f64) -> Edge {
        match *self {
            Edge::Line(line) => Edge::line(line.p0.lerp(line.p1, from), line.p0.lerp(line.p1, to)),
            Edge::Arc(arc) => Edge::Arc(Arc {
                start: arc.start + from * arc.sweep,
                sweep: (to - from) * arc.sweep,
                ..arc
            }),
        }
    }
}

/// How far along the segment `line`, from 0 to 1, its point nearest to `point` lies.
fn share_on_line(line: &Line, point: Point) -> f64 {
    let along = line.p1 - line.p0;
    let square = along.hypot2();
    if square == 0.0 { 0.0 } else { ((point - line.p0).dot(along) / square).clamp(0.0, 1.0) }
}

/// The point of the segment `line` nearest to `point`.
pub(super) fn nearest_on_line(line: &Line, point: Point) -> Point {
    line.p0 + share_on_line(line, point) * (line.p1 - line.p0)
}

/// Edges one after another travelled the other way.
pub fn backwards(edges: &[Edge]) -> Vec<Edge> {
    edges.iter().rev().map(Edge::reversed).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::FRAC_PI_2;

    // Segmental arch over 800 mm with 100 mm rise: closed form R = (s²/4 + h²)/(2h), bulge 2h/s.
    #[test]
    fn a_segmental_arch_has_the_closed_form_radius_length_and_area() {
        let arc = Arc::from_bulge(Point::new(800.0, 0.0), Point::ZERO, 0.25).unwrap();
        assert_relative_eq!(arc.radius, 850.0, epsilon = 1e-9);
        assert_relative_eq!(arc.sweep.to_degrees(), 56.144_974, epsilon = 1e-5);
        assert_relative_eq!(Edge::Arc(arc).length(), 832.9275, epsilon = 1e-4);
        let base = Edge::line(Point::ZERO, Point::new(800.0, 0.0));
        let area = base.area_share() + Edge::Arc(arc).area_share();
        assert_relative_eq!(area, 53_994.168, epsilon = 1e-3);
        assert_relative_eq!(arc.bulge(), 0.25, epsilon = 1e-12);
    }

    #[test]
    fn an_arc_shifts_concentric_and_reversal_keeps_its_points() {
        let arc = Arc { centre: Point::new(3.0, 4.0), radius: 5.0, start: 0.0, sweep: FRAC_PI_2 };
        let out = Edge::Arc(arc).shifted(2.0).unwrap();
        assert_eq!(out, Edge::Arc(Arc { radius: 7.0, ..arc }));
        assert_eq!(Edge::Arc(arc).shifted(-5.0), None);
        let back = Edge::Arc(arc).reversed();
        assert!((back.start() - Edge::Arc(arc).end()).hypot() < 1e-12);
        assert!((back.end() - Edge::Arc(arc).start()).hypot() < 1e-12);
    }

    #[test]
    fn bounds_of_an_arc_reach_its_quarter_points() {
        let arc = Arc { centre: Point::ZERO, radius: 10.0, start: 0.5, sweep: 3.0 };
        assert_relative_eq!(Edge::Arc(arc).bounds().y1, 10.0);
    }

    #[test]
    fn parts_and_nearest_agree() {
        let arc = Edge::Arc(Arc { centre: Point::ZERO, radius: 7.0, start: 1.0, sweep: -4.0 });
        for t in [0.0, 0.1, 0.5, 0.9, 1.0] {
            assert_relative_eq!(arc.nearest(arc.at(t)), t, epsilon = 1e-12);
        }
        let part = arc.part(0.75, 0.25);
        assert!((part.start() - arc.at(0.75)).hypot() < 1e-12);
        assert!((part.end() - arc.at(0.25)).hypot() < 1e-12);
    }
}
