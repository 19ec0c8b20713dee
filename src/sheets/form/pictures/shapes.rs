//! Daylights that are not four straight edges, square to each other.

use super::{SMALL, Sketch, closed};
use crate::drawing::{Item, Scene};
use crate::geometry::{Arc, Edge, Outline};
use crate::sheets::layers::{METAL, SQUARES, TIMBER};
use kurbo::{Point, Vec2};
use std::f64::consts::PI;

/// Heads, a round sash, and an edge that is bowed.
pub(in crate::sheets::form) fn shapes() -> Scene {
    let mut sketch = Sketch::new();
    segmental(&mut sketch, Vec2::new(0.0, 0.0));
    pointed(&mut sketch, Vec2::new(42.0, 0.0));
    raked(&mut sketch, Vec2::new(84.0, 0.0));
    round(&mut sketch, Vec2::new(138.0, 20.0));
    bowed(&mut sketch, Vec2::new(170.0, 0.0));
    sketch.0
}

/// The arc from `from` to `to` with that bulge; a line where there is none.
fn arc(from: (f64, f64), to: (f64, f64), bulge: f64) -> Edge {
    let (from, to) = (from.into(), to.into());
    Arc::from_bulge(from, to, bulge).map_or_else(|| Edge::line(from, to), Edge::Arc)
}

fn segmental(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    let (left, right) = (p(0.0, 32.0), p(24.0, 32.0));
    // Rise 6 over a span of 24: bulge 2 h / s.
    let edges = vec![
        Edge::line(p(0.0, 0.0).into(), p(24.0, 0.0).into()),
        Edge::line(p(24.0, 0.0).into(), right.into()),
        arc(right, left, 0.5),
        Edge::line(left.into(), p(0.0, 0.0).into()),
    ];
    sketch.wood(Outline::new(edges), false);
    sketch.line(&SQUARES, p(0.0, 32.0), p(30.0, 32.0));
    sketch.line(&SQUARES, p(12.0, 38.0), p(30.0, 38.0));
    sketch.rule("a", p(28.0, 32.0), p(28.0, 38.0), 0.5, -2.4);
    sketch.word("head", p(12.0, 16.0), SMALL);
}

fn pointed(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    // Two arcs of the radius of the span: a sixth of a turn each.
    let (left, right, top) = (p(0.0, 18.0), p(24.0, 18.0), p(12.0, 18.0 + 12.0 * 3_f64.sqrt()));
    let bulge = (PI / 12.0).tan();
    let edges = vec![
        Edge::line(p(0.0, 0.0).into(), p(24.0, 0.0).into()),
        Edge::line(p(24.0, 0.0).into(), right.into()),
        arc(right, top, bulge),
        arc(top, left, bulge),
        Edge::line(left.into(), p(0.0, 0.0).into()),
    ];
    sketch.wood(Outline::new(edges), false);
    let along = (PI / 6.0).sin_cos();
    sketch.rule("b", left, p(24.0 * along.1, 18.0 + 24.0 * along.0), 0.5, 2.4);
    sketch.word("pointed", p(12.0, 8.0), SMALL);
}

fn raked(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    sketch.wood(closed(&[p(0.0, 0.0), p(24.0, 0.0), p(24.0, 38.0), p(0.0, 26.0)]), false);
    sketch.rule("c", p(-4.0, 0.0), p(-4.0, 26.0), 0.5, 2.4);
    sketch.rule("d", p(28.0, 0.0), p(28.0, 38.0), 0.5, -2.4);
    sketch.word("raked", p(12.0, 14.0), SMALL);
}

/// `at` is its centre.
fn round(sketch: &mut Sketch, at: Vec2) {
    let circle = Arc { centre: Point::ZERO + at, radius: 15.0, start: 0.0, sweep: 2.0 * PI };
    sketch.0.add(&TIMBER, Item::Edge(Edge::Arc(circle)));
    sketch.rule("e", (at.x - 15.0, at.y), (at.x + 15.0, at.y), 0.5, 2.4);
    sketch.word("round", (at.x, at.y - 5.0), SMALL);
}

fn bowed(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    let edges = vec![
        Edge::line(p(0.0, 0.0).into(), p(16.0, 0.0).into()),
        arc(p(16.0, 0.0), p(16.0, 38.0), 0.21),
        Edge::line(p(16.0, 38.0).into(), p(0.0, 38.0).into()),
        Edge::line(p(0.0, 38.0).into(), p(0.0, 0.0).into()),
    ];
    sketch.wood(Outline::new(edges), false);
    sketch.line(&METAL, p(16.0, -2.0), p(16.0, 40.0));
    sketch.rule("f", p(16.0, 19.0), p(20.0, 19.0), 0.5, 2.6);
    sketch.word("bowed", p(7.5, 12.0), SMALL);
}
