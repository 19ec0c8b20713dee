//! A unit that is no rectangle, drawn and described so that it can be set out from the sheet alone.

use super::{BESIDE, HEIGHT, to_bars};
use crate::drawing::{Dimension, Item, Scene, settled, width};
use crate::geometry::{COINCIDENT, Edge, Join, Outline, REWORKED};
use crate::number::NotFinite;
use crate::report::{EdgeLine, ShapeLine, UnitLine};
use crate::sheets::SheetError;
use crate::sheets::kit::{
    Column, Flow, Lettering, Table, Voice, cross, hundredths, letter, mm, tell,
};
use crate::sheets::layers::{BEAD, DIMENSIONS, SIGHT_EDGE, UNIT, WORDS};
use kurbo::{Point, Vec2};

/// The unit with its sizes, corners by letter, radii with their centres, and internal bars.
pub(super) fn drawing(
    unit: &UnitLine,
    shape: &ShapeLine,
    outline: &Outline,
    (scale, voice): (f64, Voice),
) -> Result<Scene, SheetError> {
    let h = HEIGHT / scale;
    let mut scene = Scene::new("", voice.word("seen-from-outside"), &[]);
    scene.add(&UNIT, Item::Outline(outline.clone()));
    // Where the seal is wider than the unit has room for, there is nothing to see through.
    if let Ok(seal) = outline.offset(-unit.spacer_height, Join::Sharp) {
        bars(&mut scene, unit, &seal);
        scene.add(&SIGHT_EDGE, Item::Outline(seal));
    }
    centres(&mut scene, shape, outline, h);
    let sizes = settled(sizes(unit, shape, (h, voice)));
    scene.add_all(&DIMENSIONS, sizes.into_iter().map(Item::Dimension));
    let mut letters = Lettering::round(&scene, 1.0 / scale, voice);
    corners(&mut scene, &mut letters, shape, outline, h);
    radii(&mut scene, &mut letters, shape, h)?;
    let (middle, _) = outline.deepest_inside();
    outside(&mut scene, &mut letters, middle, h);
    Ok(scene)
}

/// Internal bars as far as they are seen.
fn bars(scene: &mut Scene, unit: &UnitLine, seal: &Outline) {
    let (width, height) = (unit.order.width, unit.order.height);
    for bar in &unit.internal_bars {
        for at in [bar.from_edge - bar.width / 2.0, bar.from_edge + bar.width / 2.0] {
            let edge = if bar.runs == "upright" {
                Edge::line(Point::new(at, -1.0), Point::new(at, height + 1.0))
            } else {
                Edge::line(Point::new(-1.0, at), Point::new(width + 1.0, at))
            };
            scene.add_all(&BEAD, seal.stretches_inside(&edge).into_iter().map(Item::Edge));
        }
    }
}

fn point([x, y]: [f64; 2]) -> Point {
    Point::new(x, y)
}

/// Corners by letter, outside.
fn corners(
    scene: &mut Scene,
    letters: &mut Lettering,
    shape: &ShapeLine,
    outline: &Outline,
    h: f64,
) {
    for (index, line) in shape.edges.iter().enumerate() {
        let at = point(line.from);
        let meets = |p: Point| (p - at).hypot() <= REWORKED;
        let edges = outline.edges();
        let out = edges.iter().find(|edge| meets(edge.start())).map(|edge| edge.direction(0.0));
        let into = edges.iter().find(|edge| meets(edge.end())).map(|edge| edge.direction(1.0));
        let (Some(out), Some(into)) = (out, into) else { continue };
        let along = into + out;
        // Straight outwards; along the edge before where it comes back on itself.
        let away = if along.hypot() > COINCIDENT { along.normalize() } else { into };
        let outwards = Vec2::new(away.y, -away.x);
        let tick = Edge::line(at, at + 0.6 * h * outwards);
        scene.add(&DIMENSIONS, Item::Edge(tick));
        let places = AWAY.map(|far| (at + far * h * outwards, 0.0));
        letters.place(scene, &WORDS, &letter(index), &places);
    }
}

/// How far from its corner a letter is tried, in heights.
const AWAY: [f64; 7] = [2.0, 1.7, 2.4, 2.8, 3.3, 4.0, 5.0];

/// Radii inside.
fn radii(
    scene: &mut Scene,
    letters: &mut Lettering,
    shape: &ShapeLine,
    h: f64,
) -> Result<(), NotFinite> {
    let voice = letters.voice();
    for line in &shape.edges {
        let Some(arc) = line.arc else { continue };
        let centre = point(arc.centre);
        let from = (point(line.from) - centre).atan2();
        let words = tell!(voice, "radius-mm", radius = mm(arc.radius)?);
        let wide = width(&words, h);
        // A circle's lowest point has its letter; its top is clear.
        let places = [0.5, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85].map(|share: f64| {
            let ray = Vec2::from_angle(from + share * arc.angle.to_radians());
            // Inside the outline, past the seal, whichever way the arc bulges.
            let inwards = -arc.angle.signum() * ray;
            (centre + arc.radius * ray + (3.0 * h + 0.5 * wide * ray.x.abs()) * inwards, 0.0)
        });
        letters.place(scene, &DIMENSIONS, &words, &places);
    }
    Ok(())
}

/// A cross on each centre that lies near enough to be drawn.
fn centres(scene: &mut Scene, shape: &ShapeLine, outline: &Outline, h: f64) {
    let bounds = outline.bounds();
    let centres = shape.edges.iter().filter_map(|line| line.arc).map(|arc| point(arc.centre));
    for centre in centres.filter(|centre| bounds.contains(*centre)) {
        scene.add_all(&DIMENSIONS, cross(centre, h).map(Item::Edge));
    }
}

/// Which face is seen, about the middle; the sheet says so as well.
pub(super) fn outside(scene: &mut Scene, letters: &mut Lettering, middle: Point, h: f64) {
    let places = [0.0, 5.0, -5.0, 8.0, -8.0, 2.5, -2.5];
    let places = places.map(|up| (middle + Vec2::new(0.0, up * h), 0.0));
    letters.add(scene, &WORDS, &letters.voice().word("unit-outside"), &places);
}

fn sizes(unit: &UnitLine, shape: &ShapeLine, (h, voice): (f64, Voice)) -> Vec<Dimension> {
    let (width, height) = (unit.order.width, unit.order.height);
    let outline_points = || shape.edges.iter().map(|line| point(line.from));
    let at = |found: Option<Point>, otherwise: Point| found.unwrap_or(otherwise);
    let middle = Point::new(width / 2.0, height / 2.0);
    let left = at(outline_points().find(|p| p.x <= COINCIDENT), Point::new(0.0, middle.y));
    let right =
        at(outline_points().find(|p| p.x >= width - COINCIDENT), Point::new(width, middle.y));
    let low = at(outline_points().find(|p| p.y <= COINCIDENT), Point::new(middle.x, 0.0));
    let high =
        at(outline_points().find(|p| p.y >= height - COINCIDENT), Point::new(middle.x, height));
    let (large, figures) = (voice.figures(1.3 * h), voice.figures(h));
    let mut all = vec![
        Dimension::across(left, right, -6.0 * h, large).saying(voice.word("unit-order")),
        Dimension::upright(low, high, -5.0 * h, large).saying(voice.word("unit-order")),
    ];
    all.extend(to_bars(unit, (5.0, 5.0), h, figures));
    let measure = |what: &str| shape.measures.iter().find(|m| m.what == what).map(|m| m.mm);
    let foot = Point::new(width, 0.0);
    // Further out than the bars, whose words its lines would cross.
    let cross = unit.internal_bars.iter().filter(|bar| bar.runs != "upright").count();
    let mut column = width + (5.0 + BESIDE * cross as f64) * h;
    if let (Some(springing), Some(_)) =
        (measure("height of the springing"), measure("rise of the head"))
    {
        let spring = Point::new(width, springing);
        // The rise may be too low for its words.
        for (from, to, words) in [(foot, spring, "shape-springing"), (spring, high, "shape-rise")] {
            all.push(Dimension::upright(from, to, column, figures).saying(voice.word(words)));
            column += BESIDE * h;
        }
    }
    let sides =
        [("height at the left", "shape-left", 0.0), ("height at the right", "shape-right", width)];
    for (what, key, x) in sides {
        // The higher side is the height over all already.
        if let Some(tall) = measure(what).filter(|tall| height - tall > COINCIDENT) {
            let line = if x > 0.0 { column } else { -8.5 * h };
            let (from, to) = (Point::new(x, 0.0), Point::new(x, tall));
            all.push(Dimension::upright(from, to, line, figures).saying(voice.word(key)));
        }
    }
    all
}

/// The measures, and every corner and arc.
pub(super) fn tables(flow: &mut Flow, shape: &ShapeLine) -> Result<(), NotFinite> {
    let voice = flow.voice();
    let measures = shape.measures.iter().map(|m| {
        Ok(tell!(voice, "shape-measure", what = voice.named(&m.what), length = mm(m.mm)?))
    });
    let measures = measures.collect::<Result<Vec<_>, NotFinite>>()?.join("; ");
    flow.paragraph(&tell!(voice, "shape-told", name = voice.named(&shape.name), measures));
    flow.paragraph(&voice.word("shape-how"));
    let mut table = Table::new(vec![
        Column::words(&voice.word("shape-edge"), 1.0),
        Column::numbers(&voice.word("shape-begins"), 1.8),
        Column::numbers(&voice.word("shape-ends"), 1.8),
        Column::numbers(&voice.word("shape-length"), 1.3),
        Column::words(&voice.word("shape-line"), 1.4),
        Column::numbers(&voice.word("shape-radius"), 1.1),
        Column::numbers(&voice.word("shape-centre"), 1.8),
        Column::numbers(&voice.word("shape-rise-of-arc"), 1.0),
    ]);
    let count = shape.edges.len();
    for (index, line) in shape.edges.iter().enumerate() {
        table.rows.push(row(index, count, (line, voice))?);
    }
    table.lay(flow);
    Ok(())
}

fn row(
    index: usize,
    count: usize,
    (line, voice): (&EdgeLine, Voice),
) -> Result<Vec<String>, NotFinite> {
    let pair = |[x, y]: [f64; 2]| Ok(format!("{}, {}", hundredths(x)?, hundredths(y)?));
    let (from, to) = (letter(index), letter((index + 1) % count.max(1)));
    let mut cells = vec![
        if count == 1 {
            tell!(voice, "shape-all-round", from)
        } else {
            tell!(voice, "shape-from-to", from, to)
        },
        pair(line.from)?,
        pair(line.to)?,
        hundredths(line.length)?,
    ];
    match line.arc {
        None => cells.extend([
            voice.word("shape-straight"),
            String::new(),
            String::new(),
            String::new(),
        ]),
        Some(arc) => cells.extend([
            voice.word(if arc.angle > 0.0 { "shape-outwards" } else { "shape-inwards" }),
            hundredths(arc.radius)?,
            pair(arc.centre)?,
            hundredths(arc.rise)?,
        ]),
    }
    Ok(cells)
}
