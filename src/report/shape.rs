//! The shape of a unit that is no rectangle, as plain values: what a unit maker sets it out by.
//!
//! Promised: corners and arcs give the outline back exactly; everything is of the size to order, seen from
//! outside, from the lower left corner of the rectangle around it. Not promised: a name for every outline.

use crate::geometry::{Arc, CORNER, Edge, Outline, OutlineError, REWORKED, ROUNDING, Sided};
use kurbo::{Point, Rect, Vec2};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use std::f64::consts::FRAC_PI_2;

/// A length by which a shape is set out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Measure {
    /// What is measured.
    pub what: String,
    /// mm.
    pub mm: f64,
}

/// The arc of an edge.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ArcLine {
    /// Radius, mm.
    pub radius: f64,
    /// Centre, mm.
    pub centre: [f64; 2],
    /// How far its middle lies off the chord, mm; of a whole circle the diameter.
    pub rise: f64,
    /// Angle, degrees: positive where it bulges outwards.
    pub angle: f64,
}

/// An edge, anticlockwise as seen from outside.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct EdgeLine {
    /// Where it begins, mm.
    pub from: [f64; 2],
    /// Where it ends, mm.
    pub to: [f64; 2],
    /// Length along it, mm.
    pub length: f64,
    /// Its arc; none where it is straight.
    pub arc: Option<ArcLine>,
}

/// The shape of a unit to order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct ShapeLine {
    /// What it is called: `segmental head`, `raked head`, `circle`.
    pub name: Cow<'static, str>,
    /// Area, m².
    pub area: f64,
    /// The lengths it is set out and checked by.
    pub measures: Vec<Measure>,
    /// Its edges in order, from its lower left corner.
    pub edges: Vec<EdgeLine>,
}

impl ShapeLine {
    /// The shape of a unit; none for a rectangle, turned or not, which width and height tell.
    pub fn of(order: &Sided) -> Option<ShapeLine> {
        let bounds = order.bounds();
        let mut edges = order.outline().moved(-bounds.origin().to_vec2()).merged();
        if is_rectangle(&edges) {
            return None;
        }
        // A circle has no corner: it is told from its lowest point.
        if let [Edge::Arc(arc)] = edges.as_mut_slice() {
            arc.start = -FRAC_PI_2;
        }
        let corner = edges.iter().map(Edge::start).map(|p| p.to_vec2().hypot2()).enumerate();
        let first = corner.min_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |(index, _)| index);
        edges.rotate_left(first);
        let upright = jambs(&edges, bounds);
        let name = name(&edges, upright.as_ref());
        let measures = measures(&edges, bounds, upright.as_ref(), name);
        let area = order.outline().area() / 1e6;
        Some(ShapeLine {
            name: name.into(),
            area,
            measures,
            edges: edges.iter().map(edge_line).collect(),
        })
    }

    /// The outline, from what is written.
    ///
    /// # Errors
    /// None for a shape that came from an outline.
    pub fn outline(&self) -> Result<Outline, OutlineError> {
        let edges = self.edges.iter().flat_map(|line| {
            let (from, to) =
                (Point::from((line.from[0], line.from[1])), Point::from((line.to[0], line.to[1])));
            let Some(arc) = line.arc else { return vec![Edge::line(from, to)] };
            let centre = Point::from((arc.centre[0], arc.centre[1]));
            let (start, sweep) = ((from - centre).atan2(), arc.angle.to_radians());
            let arc = Arc { centre, radius: arc.radius, start, sweep };
            let whole = Edge::Arc(arc);
            // An outline has at least two edges.
            if arc.is_full_turn() {
                vec![whole.part(0.0, 0.5), whole.part(0.5, 1.0)]
            } else {
                vec![whole]
            }
        });
        Outline::new(edges.collect())
    }
}

fn edge_line(edge: &Edge) -> EdgeLine {
    let pair = |p: Point| [p.x, p.y];
    let arc = match edge {
        Edge::Line(_) => None,
        Edge::Arc(arc) => Some(ArcLine {
            radius: arc.radius,
            centre: pair(arc.centre),
            rise: arc.radius * (1.0 - (arc.sweep / 2.0).cos()),
            angle: arc.sweep.to_degrees(),
        }),
    };
    EdgeLine { from: pair(edge.start()), to: pair(edge.end()), length: edge.length(), arc }
}

/// Four straight edges, square to each other.
fn is_rectangle(edges: &[Edge]) -> bool {
    let next = edges.iter().cycle().skip(1);
    edges.len() == 4
        && edges.iter().zip(next).all(|(edge, next)| {
            let lines = matches!((edge, next), (Edge::Line(_), Edge::Line(_)));
            lines && edge.direction(1.0).dot(next.direction(0.0)).abs() <= ROUNDING
        })
}

/// A level foot with upright edges at both ends of it, and what closes them above.
struct Jambs<'a> {
    left: f64,
    right: f64,
    head: &'a [Edge],
}

/// The edges begin at the lower left corner where there is one.
fn jambs(edges: &[Edge], bounds: Rect) -> Option<Jambs<'_>> {
    let [foot, right, head @ .., left] = edges else { return None };
    let straight = |edge: &Edge, along: Vec2| {
        matches!(edge, Edge::Line(_)) && (edge.direction(0.0) - along).hypot() <= ROUNDING
    };
    let square = straight(foot, Vec2::new(1.0, 0.0))
        && straight(right, Vec2::new(0.0, 1.0))
        && straight(left, Vec2::new(0.0, -1.0))
        && (foot.length() - bounds.width()).abs() <= REWORKED;
    (square && !head.is_empty()).then(|| Jambs { left: left.length(), right: right.length(), head })
}

fn name(edges: &[Edge], upright: Option<&Jambs<'_>>) -> &'static str {
    let arcs = edges.iter().filter(|edge| matches!(edge, Edge::Arc(_))).count();
    let whole = |edge: &Edge| matches!(edge, Edge::Arc(arc) if arc.is_full_turn());
    if edges.len() == 1 && edges.iter().all(whole) {
        return "circle";
    }
    let Some(jambs) = upright else {
        return match (edges.len(), arcs) {
            (3, 0) => "triangle",
            (4, 0) => "quadrilateral",
            (_, 0) => "straight-sided outline",
            _ => "outline of lines and arcs",
        };
    };
    let level = (jambs.left - jambs.right).abs() <= REWORKED;
    match jambs.head {
        [Edge::Line(_)] => "raked head",
        [Edge::Arc(arc)] if level && (arc.sweep - 2.0 * FRAC_PI_2).abs() < CORNER => {
            "semicircular head"
        }
        [Edge::Arc(_)] if level => "segmental head",
        [Edge::Arc(_)] => "part of an arched head",
        [a @ Edge::Arc(_), b @ Edge::Arc(_)]
            if level && a.direction(1.0).cross(b.direction(0.0)) > CORNER =>
        {
            "pointed head"
        }
        [Edge::Arc(_), Edge::Arc(_), Edge::Arc(_)] if level => "three-centred head",
        head if head.iter().all(|edge| matches!(edge, Edge::Arc(_))) => "curved head",
        _ => "head of lines and arcs",
    }
}

fn measures(edges: &[Edge], bounds: Rect, upright: Option<&Jambs<'_>>, name: &str) -> Vec<Measure> {
    let mut all = Vec::new();
    let mut add = |what: &str, mm: f64| all.push(Measure { what: what.to_owned(), mm });
    if name == "circle" {
        add("diameter", bounds.width());
        return all;
    }
    add("width over all", bounds.width());
    add("height over all", bounds.height());
    match upright {
        Some(jambs) if name == "raked head" || (jambs.left - jambs.right).abs() > REWORKED => {
            add("height at the left", jambs.left);
            add("height at the right", jambs.right);
        }
        Some(jambs) => {
            add("height of the springing", jambs.left);
            add("rise of the head", bounds.height() - jambs.left);
        }
        None => {}
    }
    if let [a, b, c, d] = edges
        && edges.iter().all(|edge| matches!(edge, Edge::Line(_)))
    {
        add("diagonal from the lower left corner", (c.start() - a.start()).hypot());
        add("diagonal from the lower right corner", (d.start() - b.start()).hypot());
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Head, Height, arched, circle, raked};
    use approx::assert_relative_eq;

    fn measured(shape: &ShapeLine) -> Vec<(String, f64)> {
        shape.measures.iter().map(|m| (m.what.clone(), (m.mm * 1e6).round() / 1e6)).collect()
    }

    // Closed form: R = (s²/4 + h²)/(2h) = 850 for a span of 800 and a rise of 100; area 800 · 900 and the
    // segment 53994.168.
    #[test]
    fn a_segmental_head_is_told_by_springing_rise_and_radius() {
        let outline =
            arched(800.0, Height::Springing(900.0), Head::Segmental { rise: 100.0 }).unwrap();
        let shape = ShapeLine::of(&outline.moved(Vec2::new(-30.0, 17.0))).unwrap();
        assert_eq!(shape.name, "segmental head");
        assert_eq!(
            measured(&shape),
            [
                ("width over all", 800.0),
                ("height over all", 1000.0),
                ("height of the springing", 900.0),
                ("rise of the head", 100.0)
            ]
            .map(|(what, mm)| (what.to_owned(), mm))
        );
        let arc = shape.edges[2].arc.unwrap();
        assert_relative_eq!(arc.radius, 850.0, epsilon = 1e-9);
        assert_relative_eq!(arc.rise, 100.0, epsilon = 1e-9);
        assert_relative_eq!(arc.centre[0], 400.0, epsilon = 1e-9);
        assert_relative_eq!(shape.area, 0.773_994_168, epsilon = 1e-8);
        assert_relative_eq!(shape.outline().unwrap().area() / 1e6, shape.area, epsilon = 1e-12);
    }

    #[test]
    fn a_circle_a_rake_and_a_crooked_one_have_their_own_measures() {
        let round = ShapeLine::of(&circle(640.0).unwrap()).unwrap();
        assert_eq!(
            (round.name.as_ref(), measured(&round)),
            ("circle", vec![("diameter".to_owned(), 640.0)])
        );
        assert_relative_eq!(
            round.outline().unwrap().area(),
            102_400.0 * std::f64::consts::PI,
            epsilon = 1e-6
        );
        let slope = ShapeLine::of(&raked(600.0, 700.0, 250.0).unwrap()).unwrap();
        assert_eq!(slope.name, "raked head");
        // 3-4-5: the head falls 450 over 600.
        assert_relative_eq!(slope.edges[2].length, 750.0, epsilon = 1e-9);
        assert_relative_eq!(slope.measures[2].mm, 700.0);
        assert_relative_eq!(slope.measures[3].mm, 250.0);
        assert_relative_eq!(slope.measures[4].mm, 650.0);
        let corners = [(0.0, 0.0), (600.0, 3.0), (596.0, 800.0), (2.0, 803.0)].map(Point::from);
        let crooked =
            ShapeLine::of(&Sided::by_direction(Outline::polygon(&corners).unwrap())).unwrap();
        assert_eq!(crooked.name, "quadrilateral");
        assert_relative_eq!(crooked.measures[2].mm, 596.0_f64.hypot(800.0), epsilon = 1e-9);
        assert_relative_eq!(crooked.measures[3].mm, 598.0_f64.hypot(800.0), epsilon = 1e-9);
    }

    #[test]
    fn a_rectangle_needs_no_shape_even_where_it_is_turned() {
        let rect = Outline::rectangle(Rect::new(0.0, 0.0, 400.0, 600.0)).unwrap();
        assert_eq!(ShapeLine::of(&Sided::by_direction(rect)), None);
        let turned = [(0.0, 0.0), (400.0, 3.0), (395.5, 603.0), (-4.5, 600.0)].map(Point::from);
        let turned = Outline::polygon(&turned).unwrap();
        assert_eq!(ShapeLine::of(&Sided::by_direction(turned)), None);
    }
}
