//! Where to put the rule: small pictures with a letter at each measure. Not to any scale.

use crate::drawing::{Across, Hatch, Item, Layer, Scene, Text, Up};
use crate::geometry::{Arc, Edge, Outline, OutlineError, Region};
use crate::sheets::kit::Voice;
use crate::sheets::layers::{BOXES, HATCHING, METAL, RULE, SIGHT, SQUARES, TIMBER, WORDS};
use kurbo::{Point, Rect, Size, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};

/// Height of letters and words, mm.
const LETTER: f64 = 2.6;
const SMALL: f64 = 2.4;

/// A picture being drawn.
struct Sketch(Scene, Voice);

impl Sketch {
    fn new(voice: Voice) -> Sketch {
        Sketch(Scene::new("", "", &[]), voice)
    }

    /// A closed outline through `points`, hatched where it is cut wood. One without area is left out.
    fn wood(&mut self, outline: Result<Outline, OutlineError>, cut: bool) {
        let Ok(outline) = outline else { return };
        if cut {
            let region = Region::solid(outline.clone());
            self.0.add(&HATCHING, Item::Hatch(region, Hatch::Timber));
        }
        self.0.add(&TIMBER, Item::Outline(outline));
    }

    fn line(&mut self, layer: &Layer, from: (f64, f64), to: (f64, f64)) {
        self.0.add(layer, Item::Edge(Edge::line(from.into(), to.into())));
    }

    /// The text of a key, or a letter.
    fn word(&mut self, key: &str, at: (f64, f64), height: f64) {
        let text =
            Text::new(self.1.word(key), at.into(), height).anchored(Across::Centre, Up::Middle);
        self.0.add(&WORDS, Item::Text(text));
    }

    /// A rule from `from` to `to` with an arrow at each end; its letter stands `share` of the way, `aside`
    /// to the left of travel.
    fn rule(&mut self, letter: &str, from: (f64, f64), to: (f64, f64), share: f64, aside: f64) {
        let (from, to): (Point, Point) = (from.into(), to.into());
        let along = (to - from).normalize();
        let left = Vec2::new(-along.y, along.x);
        self.0.add(&RULE, Item::Edge(Edge::line(from, to)));
        for (tip, inwards) in [(from, along), (to, -along)] {
            for side in [0.45, -0.45] {
                let barb = tip + 1.6 * inwards + side * 1.6 * left;
                self.0.add(&RULE, Item::Edge(Edge::line(tip, barb)));
            }
        }
        let at = from.lerp(to, share) + aside * left;
        self.word(letter, (at.x, at.y), LETTER);
    }
}

fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Result<Outline, OutlineError> {
    Outline::rectangle(Rect::new(x0, y0, x1, y1))
}

/// A closed outline through corners, each with the bulge of the edge that leads from it.
fn bulged(corners: &[((f64, f64), f64)]) -> Result<Outline, OutlineError> {
    let ends = corners.iter().zip(corners.iter().cycle().skip(1));
    let edges = ends.map(|(&(from, bulge), &(to, _))| Edge::bulged(from.into(), to.into(), bulge));
    Outline::new(edges.collect())
}

/// A closed outline through corners.
fn closed(corners: &[(f64, f64)]) -> Result<Outline, OutlineError> {
    bulged(&corners.iter().map(|&corner| (corner, 0.0)).collect::<Vec<_>>())
}

/// Elevation at the left; beside it a section with a rebate, and one with a groove and a tenon.
pub(super) fn sash(voice: Voice) -> Scene {
    let mut sketch = Sketch::new(voice);
    elevation(&mut sketch);
    rebated(&mut sketch, Vec2::new(112.0, 84.0));
    grooved(&mut sketch, Vec2::new(112.0, 29.0));
    sketch.0
}

/// 72 by 84, its zero at the lower left of the wood.
fn elevation(sketch: &mut Sketch) {
    let (x0, y0, x1, y1) = (9.0, 12.0, 63.0, 75.0);
    sketch.wood(rectangle(0.0, 0.0, 72.0, 84.0), false);
    for x in [x0, x1] {
        sketch.line(&TIMBER, (x, 0.0), (x, 84.0));
    }
    for y in [y0, y1] {
        sketch.line(&TIMBER, (x0, y), (x1, y));
    }
    for x in [44.0, 48.0] {
        sketch.line(&SIGHT, (x, y0), (x, y1));
    }
    sketch.rule("A", (x0, 62.0), (x1, 62.0), 0.5, 2.4);
    sketch.rule("B", (54.5, y0), (54.5, y1), 0.42, 2.4);
    sketch.rule("C", (x0, y0), (x1, y1), 0.22, 2.4);
    sketch.rule("D", (x1, y0), (x0, y1), 0.82, -2.4);
    sketch.rule("E", (0.0, -4.0), (72.0, -4.0), 0.5, -2.4);
    sketch.rule("F", (-4.0, 0.0), (-4.0, 84.0), 0.5, 2.4);
    sketch.rule("G", (0.0, 42.0), (x0, 42.0), 0.5, 2.4);
    sketch.rule("H", (x1, 42.0), (72.0, 42.0), 0.5, 2.4);
    sketch.rule("I", (30.0, y1), (30.0, 84.0), 0.5, 2.4);
    sketch.rule("J", (30.0, 0.0), (30.0, y0), 0.5, 2.4);
    sketch.rule("U", (x0, 17.0), (46.0, 17.0), 0.6, 2.4);
    sketch.word("0", (x0 - 2.6, y0 - 2.6), LETTER);
    sketch.word("form-face-up", (36.0, 88.5), SMALL);
}

/// A stile cut across: glazing face up, the light at the left. `at` is the sight edge on that face.
fn rebated(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    // 42 wide, 36 thick, rebate 9 by 14, and an ovolo of 8.
    let corner = Point::ZERO + at;
    let ovolo =
        Arc { centre: corner + Vec2::new(8.0, -28.0), radius: 8.0, start: PI, sweep: FRAC_PI_2 };
    let corners = [p(8.0, -36.0), p(42.0, -36.0), p(42.0, 0.0), p(9.0, 0.0), p(9.0, -14.0)];
    let on = corners.iter().skip(1).chain([&p(0.0, -14.0)]).copied().collect::<Vec<_>>();
    let mut edges = vec![Edge::line(p(0.0, -14.0).into(), p(0.0, -28.0).into()), Edge::Arc(ovolo)];
    edges.extend(corners.iter().zip(on).map(|(&from, to)| Edge::line(from.into(), to.into())));
    sketch.wood(Outline::new(edges), true);
    sketch.rule("K", p(46.5, -36.0), p(46.5, 0.0), 0.5, -2.6);
    sketch.rule("L", p(0.0, 3.0), p(9.0, 3.0), 0.5, 2.6);
    sketch.rule("M", p(-4.0, -14.0), p(-4.0, 0.0), 0.5, 2.6);
    sketch.rule("N", p(0.0, -39.0), p(8.0, -39.0), 0.5, -2.6);
    sketch.rule("O", p(-4.0, -36.0), p(-4.0, -28.0), 0.5, 2.6);
    for (from, to) in [
        (p(0.0, -13.0), p(0.0, 4.5)),
        (p(-6.0, 0.0), p(8.0, 0.0)),
        (p(-6.0, -14.0), p(-1.0, -14.0)),
        (p(-6.0, -28.0), p(-1.0, -28.0)),
        (p(-6.0, -36.0), p(7.0, -36.0)),
        (p(0.0, -29.0), p(0.0, -40.5)),
        (p(8.0, -37.0), p(8.0, -40.5)),
    ] {
        sketch.line(&SQUARES, from, to);
    }
    sketch.word("section-glazing-face", p(27.0, 2.6), SMALL);
    sketch.word("section-room-face", p(27.0, -38.8), SMALL);
    sketch.word("form-light", p(-14.0, -20.0), SMALL);
}

/// A meeting rail with a groove, and the tenon behind it.
fn grooved(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    sketch.wood(
        closed(&[
            p(0.0, 0.0),
            p(0.0, -9.0),
            p(9.0, -9.0),
            p(9.0, -14.0),
            p(0.0, -14.0),
            p(0.0, -32.0),
            p(42.0, -32.0),
            p(42.0, 0.0),
        ]),
        // Letters stand in it.
        false,
    );
    sketch.line(&METAL, p(14.0, -17.0), p(42.0, -17.0));
    sketch.line(&METAL, p(14.0, -27.0), p(42.0, -27.0));
    sketch.line(&METAL, p(14.0, -17.0), p(14.0, -27.0));
    sketch.word("form-tenon", p(27.0, -22.0), SMALL);
    sketch.rule("P", p(-4.0, -9.0), p(-4.0, 0.0), 0.5, 2.6);
    sketch.rule("Q", p(-10.0, -14.0), p(-10.0, -9.0), 0.5, 2.6);
    sketch.rule("R", p(0.0, 3.0), p(9.0, 3.0), 0.5, 2.6);
    sketch.rule("S", p(46.5, -27.0), p(46.5, -17.0), 0.5, -2.6);
    sketch.rule("T", p(46.5, -17.0), p(46.5, 0.0), 0.5, -2.6);
    for (from, to) in [
        (p(-6.0, 0.0), p(-1.0, 0.0)),
        (p(-12.0, -9.0), p(-1.0, -9.0)),
        (p(-12.0, -14.0), p(-1.0, -14.0)),
        (p(0.0, 1.0), p(0.0, 4.5)),
        (p(9.0, 1.0), p(9.0, 4.5)),
        (p(43.0, 0.0), p(48.5, 0.0)),
        (p(43.0, -17.0), p(48.5, -17.0)),
        (p(43.0, -27.0), p(48.5, -27.0)),
    ] {
        sketch.line(&SQUARES, from, to);
    }
    sketch.word("form-groove", p(21.0, -35.0), SMALL);
}

/// A bar cut across, and a stile with a screw from each side.
pub(super) fn bar_and_screws(voice: Voice) -> Scene {
    let mut sketch = Sketch::new(voice);
    bar(&mut sketch, Vec2::new(0.0, 0.0));
    screws(&mut sketch, Vec2::new(75.0, 0.0));
    sketch.0
}

/// `at` is the middle of the bar on its glazing face.
fn bar(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    sketch.wood(
        closed(&[
            p(3.0, 0.0),
            p(-3.0, 0.0),
            p(-3.0, -9.0),
            p(-10.0, -9.0),
            p(-10.0, -18.0),
            p(-4.0, -26.0),
            p(4.0, -26.0),
            p(10.0, -18.0),
            p(10.0, -9.0),
            p(3.0, -9.0),
        ]),
        true,
    );
    sketch.rule("V", p(-10.0, -30.0), p(10.0, -30.0), 0.5, -2.4);
    sketch.rule("K", p(15.0, -26.0), p(15.0, 0.0), 0.5, -2.4);
    sketch.rule("L", p(-10.0, 3.0), p(-3.0, 3.0), 0.5, 2.4);
    sketch.rule("M", p(-15.0, -9.0), p(-15.0, 0.0), 0.5, 2.4);
    for (from, to) in [
        (p(4.0, 0.0), p(17.0, 0.0)),
        (p(5.0, -26.0), p(17.0, -26.0)),
        (p(-17.0, 0.0), p(-4.0, 0.0)),
        (p(-17.0, -9.0), p(-11.0, -9.0)),
        (p(-10.0, -8.0), p(-10.0, 4.5)),
        (p(-3.0, 1.0), p(-3.0, 4.5)),
        (p(-10.0, -19.0), p(-10.0, -31.5)),
        (p(10.0, -19.0), p(10.0, -31.5)),
    ] {
        sketch.line(&SQUARES, from, to);
    }
    sketch.word("form-bar", p(0.0, 10.2), SMALL);
}

/// `at` is the sight edge on the glazing face; the outer edge is at the right.
fn screws(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    sketch.wood(
        closed(&[
            p(9.0, 0.0),
            p(9.0, -11.0),
            p(0.0, -11.0),
            p(0.0, -28.0),
            p(44.0, -28.0),
            p(44.0, 0.0),
        ]),
        // Letters stand in it.
        false,
    );
    for half in [-0.8, 0.8] {
        sketch.line(&METAL, p(24.0, -13.0 + half), p(44.0, -13.0 + half));
        sketch.line(&METAL, p(15.0 + half, -18.0), p(15.0 + half, -28.0));
    }
    sketch.line(&METAL, p(24.0, -13.8), p(24.0, -12.2));
    sketch.line(&METAL, p(14.2, -18.0), p(15.8, -18.0));
    sketch.rule("X", p(24.0, -17.5), p(44.0, -17.5), 0.6, -2.4);
    sketch.rule("Y", p(49.0, -13.0), p(49.0, 0.0), 0.5, -2.4);
    sketch.rule("X", p(20.0, -28.0), p(20.0, -18.0), 0.4, -2.4);
    sketch.rule("Z", p(0.0, -31.5), p(15.0, -31.5), 0.5, -2.4);
    for (from, to) in [
        (p(45.0, 0.0), p(51.0, 0.0)),
        (p(45.0, -13.0), p(51.0, -13.0)),
        (p(24.0, -14.5), p(24.0, -19.0)),
        (p(16.5, -18.0), p(21.5, -18.0)),
        (p(0.0, -29.0), p(0.0, -33.0)),
        (p(15.0, -29.0), p(15.0, -33.0)),
    ] {
        sketch.line(&SQUARES, from, to);
    }
    sketch.word("form-screws", p(24.0, 10.2), SMALL);
    // W: along the stile, as it is seen from the glazing face.
    let q = |x: f64, y: f64| p(78.0 + x, -28.0 + y);
    sketch.wood(closed(&[q(0.0, 0.0), q(10.0, 0.0), q(10.0, 31.0), q(0.0, 31.0)]), false);
    for half in [-0.8, 0.8] {
        sketch.line(&METAL, q(0.0, 20.0 + half), q(6.0, 20.0 + half));
    }
    sketch.line(&METAL, q(6.0, 19.2), q(6.0, 20.8));
    sketch.line(&TIMBER, q(10.0, 6.0), q(24.0, 6.0));
    sketch.line(&TIMBER, q(10.0, 0.0), q(24.0, 0.0));
    sketch.rule("W", q(14.0, 6.0), q(14.0, 20.0), 0.5, -2.4);
    sketch.line(&SQUARES, q(7.0, 20.0), q(16.0, 20.0));
    sketch.word("0", q(12.4, 2.8), LETTER);
    sketch.word("form-along-stile", q(10.0, 38.2), SMALL);
}

/// Squares of 5 mm in a frame of at most `most`, with lines to lay a sight edge and a room face on.
pub(super) fn squares(most: Size) -> Scene {
    let mut sketch = Sketch::new(Voice::plain());
    let count = |length: f64| (length / 5.0).floor().max(1.0);
    let (across, up) = (count(most.width - 1.0), count(most.height - 1.0));
    let mut step = 0.0;
    while step <= across {
        sketch.line(&SQUARES, (5.0 * step, 0.0), (5.0 * step, 5.0 * up));
        step += 1.0;
    }
    step = 0.0;
    while step <= up {
        sketch.line(&SQUARES, (0.0, 5.0 * step), (5.0 * across, 5.0 * step));
        step += 1.0;
    }
    let top = 5.0 * (up - 1.0).max(0.0);
    let mut x = 5.0;
    while x + 40.0 <= 5.0 * across {
        sketch.line(&BOXES, (x, 0.0), (x, top));
        sketch.line(&BOXES, (x, top), (x + 35.0, top));
        x += 45.0;
    }
    sketch.0
}

/// Heads, a round sash, and an edge that is bowed.
pub(super) fn shapes(voice: Voice) -> Scene {
    let mut sketch = Sketch::new(voice);
    segmental(&mut sketch, Vec2::new(0.0, 0.0));
    pointed(&mut sketch, Vec2::new(42.0, 0.0));
    raked(&mut sketch, Vec2::new(84.0, 0.0));
    round(&mut sketch, Vec2::new(138.0, 20.0));
    bowed(&mut sketch, Vec2::new(170.0, 0.0));
    sketch.0
}

fn segmental(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    // Rise 6 over a span of 24: bulge 2 h / s.
    let (left, right) = (p(0.0, 32.0), p(24.0, 32.0));
    let corners = [(p(0.0, 0.0), 0.0), (p(24.0, 0.0), 0.0), (right, 0.5), (left, 0.0)];
    sketch.wood(bulged(&corners), false);
    sketch.line(&SQUARES, p(0.0, 32.0), p(30.0, 32.0));
    sketch.line(&SQUARES, p(12.0, 38.0), p(30.0, 38.0));
    sketch.rule("a", p(28.0, 32.0), p(28.0, 38.0), 0.5, -2.4);
    sketch.word("form-head", p(12.0, 16.0), SMALL);
}

fn pointed(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    // Two arcs of the radius of the span: a sixth of a turn each.
    let (left, right, top) = (p(0.0, 18.0), p(24.0, 18.0), p(12.0, 18.0 + 12.0 * 3_f64.sqrt()));
    let bulge = (PI / 12.0).tan();
    let (from, to) = ((p(0.0, 0.0), 0.0), (p(24.0, 0.0), 0.0));
    sketch.wood(bulged(&[from, to, (right, bulge), (top, bulge), (left, 0.0)]), false);
    let along = (PI / 6.0).sin_cos();
    sketch.rule("b", left, p(24.0 * along.1, 18.0 + 24.0 * along.0), 0.5, 2.4);
    sketch.word("form-pointed", p(12.0, 8.0), SMALL);
}

fn raked(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    sketch.wood(closed(&[p(0.0, 0.0), p(24.0, 0.0), p(24.0, 38.0), p(0.0, 26.0)]), false);
    sketch.rule("c", p(-4.0, 0.0), p(-4.0, 26.0), 0.5, 2.4);
    sketch.rule("d", p(28.0, 0.0), p(28.0, 38.0), 0.5, -2.4);
    sketch.word("form-raked", p(12.0, 14.0), SMALL);
}

/// `at` is its centre.
fn round(sketch: &mut Sketch, at: Vec2) {
    sketch.0.add(&TIMBER, Item::Edge(Edge::circle(at.to_point(), 15.0)));
    sketch.rule("e", (at.x - 15.0, at.y), (at.x + 15.0, at.y), 0.5, 2.4);
    sketch.word("form-round", (at.x, at.y - 5.0), SMALL);
}

fn bowed(sketch: &mut Sketch, at: Vec2) {
    let p = |x: f64, y: f64| (at.x + x, at.y + y);
    let corners = [((0.0, 0.0), 0.0), ((16.0, 0.0), 0.21), ((16.0, 38.0), 0.0), ((0.0, 38.0), 0.0)];
    sketch.wood(bulged(&corners.map(|((x, y), bulge)| (p(x, y), bulge))), false);
    sketch.line(&METAL, p(16.0, -2.0), p(16.0, 40.0));
    sketch.rule("f", p(16.0, 19.0), p(20.0, 19.0), 0.5, 2.6);
    sketch.word("form-bowed", p(7.5, 12.0), SMALL);
}
