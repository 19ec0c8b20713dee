//! The coldest part of a sash cut across, before and after: lines of even warmth, the dew line and the coldest place.
//!
//! Promised: what is drawn is what was reckoned, on the stated day. Not promised: corners, where two edges meet and it
//! is colder.

use super::{HEIGHT, Label, bounds, figure, outlines, with_glazing, wood_of};
use crate::drawing::{Across, Colour, Hatch, Item, Layer, LineKind, LineWidth, Scene, Text, Up};
use crate::fit::Fit;
use crate::geometry::{COINCIDENT, Edge, Outline, Region, Side};
use crate::sash::{Part, Sash};
use crate::section::{Cross, Glazing};
use crate::sheets::kit::{Voice, tell};
use crate::sheets::{SheetError, layers};
use crate::warmth::{Choice, Isotherm, Warm, Warmth, warm};
use kurbo::{Point, Rect, Vec2};

/// How much glass is shown beyond the sight edge, mm.
const DAYLIGHT: f64 = 30.0;

/// Between both figures, the one over the other, mm.
const GAP: f64 = 4.0;

const ISOTHERMS: Layer =
    Layer::new("isotherms", Colour::Grey, LineKind::Continuous, LineWidth::W018);
const DEW: Layer = Layer::new("dew line", Colour::Cyan, LineKind::Continuous, LineWidth::W050);
const COLDEST: Layer =
    Layer::new("coldest place", Colour::Red, LineKind::Continuous, LineWidth::W035);
/// In drawing order.
const LAYERS: [Layer; 9] = [
    layers::HATCHING,
    ISOTHERMS,
    layers::TIMBER,
    layers::BEAD,
    layers::UNIT,
    layers::SIGHT_EDGE,
    DEW,
    COLDEST,
    layers::WORDS,
];

/// The coldest part of a sash; none where no section was reckoned.
///
/// # Errors
/// Where an outline has no area.
pub fn coldest(
    sash: &Sash,
    fit: &Fit,
    warmth: &Warmth,
    voice: Voice,
) -> Result<Option<Scene>, SheetError> {
    let members = Side::ALL.into_iter().map(Part::Member);
    let mut parts = members.chain(sash.bars.iter().map(Part::Bar));
    let edge = warmth.after.edge.as_ref();
    let part = edge.and_then(|edge| parts.find(|part| sash.part_name(*part) == edge.part));
    let Some((part, choice)) = part.zip(Choice::of(sash)) else { return Ok(None) };
    let cross = Cross::new(sash, fit, part);
    let warm = warm(&cross, &choice, &warmth.conditions, warmth.dew_point);
    warm.map(|warm| picture(&cross, warmth, &warm, voice)).transpose()
}

/// The picture; `warm` is that of `cross` before and after.
///
/// # Errors
/// Where an outline has no area.
fn picture(
    cross: &Cross<'_>,
    warmth: &Warmth,
    warm: &[Warm; 2],
    voice: Voice,
) -> Result<Scene, SheetError> {
    let room = &warmth.conditions;
    let part = voice.named(&cross.sash.part_name(cross.part));
    let title = tell!(voice, "section-warm", sash = cross.sash.measured.id, part);
    let seen = tell!(
        voice,
        "section-warm-seen",
        inside = format!("{:.0}", room.inside),
        damp = format!("{:.0}", 100.0 * room.humidity),
        outside = format!("{:.0}", room.outside)
    );
    let mut scene = Scene::new(title, voice.said(&seen), &LAYERS);
    let mut below: Option<f64> = None;
    let sides = [("section-before", &warmth.before), ("section-after", &warmth.after)]
        .into_iter()
        .zip(warm);
    for (index, ((heading, side), warm)) in sides.enumerate() {
        let edge = side.edge.as_ref().map(|edge| edge.temperature);
        let lay = |scene: &mut Scene, shift: Vec2| {
            let figure = Figure { cross, warm, shift, edge, dew: warmth.dew_point, voice };
            figure.draw(scene, index == 1)
        };
        let down = match below {
            None => 0.0,
            Some(below) => {
                let trial = lay(&mut Scene::new("", "", &[]), Vec2::ZERO)?;
                below - GAP - 3.0 * HEIGHT - trial.y1
            }
        };
        let filled = lay(&mut scene, Vec2::new(0.0, down))?;
        below = Some(filled.y0);
        let at = Point::new(cross.solid.center().x, filled.y1 + 1.5 * HEIGHT);
        let text =
            Text::new(voice.word(heading), at, 1.25 * HEIGHT).anchored(Across::Centre, Up::Base);
        scene.add(&layers::WORDS, Item::Text(text));
    }
    scene.add_caption(&layers::WORDS, 1.25 * HEIGHT);
    Ok(scene)
}

struct Figure<'a> {
    cross: &'a Cross<'a>,
    warm: &'a Warm,
    shift: Vec2,
    /// How warm the coldest place is, °C.
    edge: Option<f64>,
    dew: Option<f64>,
    voice: Voice,
}

impl Figure<'_> {
    /// Draws it and says what it fills.
    fn draw(&self, scene: &mut Scene, after: bool) -> Result<Rect, SheetError> {
        let (cross, shift) = (self.cross, self.shift);
        let (before_cuts, after_cuts) = wood_of(cross);
        let wood = outlines(if after { &after_cuts } else { &before_cuts }, shift)?;
        figure::wood(scene, &wood, &wood);
        let around = bounds(&wood);
        let shown = around.inflate(DAYLIGHT, 0.0);
        let mut filled = shown;
        if after {
            // Blocks and openings are short: what was reckoned is the gap between them.
            let between =
                Glazing { blocks: Vec::new(), drains: Vec::new(), ..cross.glazing(DAYLIGHT) };
            figure::glazing(scene, &between, around, shift)?;
            filled = with_glazing(filled, &between, shift);
        } else {
            for (corners, layer, hatch) in [
                (&self.warm.sealant, layers::BEAD, Hatch::Putty),
                (&self.warm.glass, layers::UNIT, Hatch::Glass),
            ] {
                for corners in corners {
                    let cropped = corners.iter().map(|at| {
                        let at = *at + shift;
                        Point::new(at.x.clamp(shown.x0, shown.x1), at.y)
                    });
                    let mut cropped: Vec<Point> = cropped.collect();
                    cropped.dedup_by(|next, last| (*next - *last).hypot() <= COINCIDENT);
                    // What lies beyond the picture, or is as thin as nothing, has no outline left.
                    if let Ok(outline) = Outline::polygon(&cropped) {
                        let region = Region::solid(outline.clone());
                        scene.add(&layer, Item::Hatch(region, hatch));
                        scene.add(&layer, Item::Outline(outline));
                    }
                }
            }
        }
        figure::sight(scene, &cross.sight(), around, shift);
        let mut labels = Vec::new();
        for line in &self.warm.isotherms {
            self.line(scene, &ISOTHERMS, line, shown);
            labels.extend(self.named(line, format!("{:.0}", line.temperature), shown));
        }
        if let Some(line) = &self.warm.dew {
            self.line(scene, &DEW, line, shown);
        }
        let on_the_left = |at: Point, words: String| Label { at, words, on_left: true };
        if let Some(degrees) = self.edge {
            // Glass may be as cold all along, up to where it is drawn no more.
            let coldest = self.warm.coldest;
            let (from, to) = (shown.x0 - shift.x + HEIGHT, shown.x1 - shift.x - HEIGHT);
            let at = Point::new(coldest.x.clamp(from, to), coldest.y);
            scene.add(&COLDEST, Item::Edge(Edge::circle(at + shift, HEIGHT / 2.0)));
            labels.push(on_the_left(
                at,
                tell!(self.voice, "section-coldest", degrees = format!("{degrees:.1}")),
            ));
        }
        let dew = self.warm.dew.as_ref().zip(self.dew);
        // Where it lies furthest out over the glass that is shown.
        labels.extend(dew.and_then(|(line, degrees)| {
            let inside =
                line.pieces.iter().map(|[a, _]| *a).filter(|at| shown.contains(*at + shift));
            let at = inside.min_by(|a, b| a.x.total_cmp(&b.x))?;
            Some(on_the_left(
                at,
                tell!(self.voice, "section-dew", degrees = format!("{degrees:.1}")),
            ))
        }));
        let figure = if cross.is_bar() { filled } else { Rect { x1: around.x1, ..filled } };
        Ok(super::annotations::labels(
            scene,
            &labels,
            &wood,
            figure,
            (shift, self.voice, HEIGHT),
            Vec::new(),
        ))
    }

    fn line(&self, scene: &mut Scene, layer: &Layer, line: &Isotherm, shown: Rect) {
        for [a, b] in &line.pieces {
            let (a, b) = (*a + self.shift, *b + self.shift);
            let within = |at: Point| (shown.x0..=shown.x1).contains(&at.x);
            if within(a) && within(b) && (b - a).hypot() > COINCIDENT {
                scene.add(layer, Item::Edge(Edge::line(a, b)));
            }
        }
    }

    /// A line is named where it ends furthest to the right in the wood, or in the glass beside it that is shown.
    fn named(&self, line: &Isotherm, words: String, shown: Rect) -> Option<Label> {
        let ends = || line.pieces.iter().flatten().copied();
        let furthest = |from: f64, to: f64| {
            let within = ends().filter(move |at| (from..=to).contains(&at.x));
            within.max_by(|a, b| a.x.total_cmp(&b.x))
        };
        let (wood, beyond) = (self.cross.solid, shown.x1 - self.shift.x);
        let at = furthest(wood.x0, wood.x1).or_else(|| furthest(wood.x1, beyond));
        let left = || Some((furthest(shown.x0 - self.shift.x, wood.x0)?, true));
        let (at, on_left) = at.map(|at| (at, false)).or_else(left)?;
        Some(Label { at, words, on_left })
    }
}
