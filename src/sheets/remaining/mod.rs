//! The picture of a proof: how much wood the programs leave between cut and moulding, seen on the
//! glazing face, with a section of every part where least is left.
//!
//! Everything is drawn from the heights that the prover found, not from the plan. Promised: bands
//! are told apart by their lines, not by their tint alone. Not promised: the floor of a hollow, such as
//! an old groove, that the cutter did not open; and rings that keep apart where the places of least
//! wood of two parts do not.

mod bands;
mod sections;

use super::SheetError;
use super::kit::{Voice, tell};
use super::layers;
use super::outlines::bar;
use crate::drawing::{Across, Colour, Hatch, Item, Layer, LineKind, LineWidth, Scene, Text, Up};
use crate::geometry::{Arc, COINCIDENT, Edge, Outline, OutlineError, Region, Side};
use crate::prove::{Proof, Reserve, WoodLeft};
use crate::rebate::Rebate;
use crate::sash::{Part, Sash};
use crate::survey::{Bar, Runs};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::PI;

/// Height of capitals, mm.
const HEIGHT: f64 = 4.0;
/// The longer side of the sash takes at most this much of the picture, mm.
const LONGEST: f64 = 520.0;
/// Scales in use on drawings: one to so many.
const SCALES: [f64; 6] = [1.0, 2.0, 2.5, 5.0, 10.0, 20.0];
/// Between the map and the side views, mm.
const GAP: f64 = 30.0;

/// Places of least wood.
const MARKS: Layer = Layer::new("least wood", Colour::Black, LineKind::Continuous, LineWidth::W035);
/// The wood that is left, in bands.
const REMAINING: Layer =
    Layer::new("wood left", Colour::Brown, LineKind::Continuous, LineWidth::W013);

/// The picture.
///
/// # Errors
/// Where an outline has no area.
pub fn remaining_wood(
    sash: &Sash,
    rebate: &Rebate,
    reserve: &Reserve,
    proof: &Proof,
    voice: Voice,
) -> Result<Scene, SheetError> {
    let title = tell!(voice, "left-drawing", sash = sash.measured.id);
    let order = [REMAINING, layers::HATCHING, layers::TIMBER, layers::BARS, layers::NEW_REBATE];
    let scale = scale(sash.outer);
    let seen = tell!(voice, "left-seen", scale = scale.to_string());
    let mut scene = Scene::new(title, voice.said(&seen), &order);
    let sheet = Sheet { sash, scale };
    for (band, rects) in bands::bands(&proof.map, &reserve.fronts) {
        for rect in rects {
            let region = Region::solid(Outline::rectangle(sheet.rect(rect))?);
            scene.add(&REMAINING, Item::Hatch(region, band.hatch()));
        }
    }
    sheet.members(&mut scene)?;
    for pocket in &rebate.pockets {
        scene.add(&layers::NEW_REBATE, Item::Outline(pocket.wall.reduced(scale)));
    }
    for (index, left) in proof.margins.wood.iter().enumerate() {
        sheet.mark(&mut scene, index + 1, left)?;
    }
    let right = sheet.rect(sash.outer).x1 + GAP;
    let top = sheet.rect(sash.outer).y1;
    let from = legend(&mut scene, Point::new(right, top), sash.outline.is_rectangle(), voice)?;
    sections::sections(
        &mut scene,
        Point::new(right, from),
        &straight(sash, reserve),
        (proof, voice),
    )?;
    scene.add_caption(&layers::WORDS, HEIGHT);
    Ok(scene)
}

/// The surfaces of parts that run straight: a cut square through the sash shows no true section of others.
fn straight(sash: &Sash, reserve: &Reserve) -> Reserve {
    let curved = |side: Side| sash.outline.edges_on(side).any(|edge| matches!(edge, Edge::Arc(_)));
    let names: Vec<String> = Side::ALL
        .into_iter()
        .filter(|&side| curved(side))
        .map(|side| sash.part_name(Part::Member(side)))
        .collect();
    let fronts = reserve.fronts.iter().filter(|front| !names.contains(&front.name));
    Reserve { fronts: fronts.cloned().collect(), ..reserve.clone() }
}

/// The largest usual scale that keeps the sash on the picture.
fn scale(outer: Rect) -> f64 {
    let longest = outer.width().max(outer.height());
    let fits = |scale: &f64| longest / scale <= LONGEST;
    SCALES.into_iter().find(fits).unwrap_or(longest / LONGEST)
}

/// The sash on paper.
struct Sheet<'a> {
    sash: &'a Sash,
    scale: f64,
}

impl Sheet<'_> {
    fn point(&self, point: Point) -> Point {
        (point.to_vec2() / self.scale).to_point()
    }

    fn rect(&self, rect: Rect) -> Rect {
        Rect::from_points(self.point(rect.origin()), self.point(Point::new(rect.x1, rect.y1)))
    }

    /// Outer edges, sight, the joints of the rails, and the bars.
    fn members(&self, scene: &mut Scene) -> Result<(), OutlineError> {
        let (outer, sight) = (self.sash.outer, self.sash.sight);
        for (sided, rect) in [(&self.sash.outer_outline, outer), (&self.sash.outline, sight)] {
            let outline = sided.within(rect)?.reduced(self.scale);
            scene.add(&layers::TIMBER, Item::Outline(outline));
        }
        if !self.sash.outline.is_rectangle() {
            return self.bars(scene);
        }
        for x in [sight.x0, sight.x1] {
            for (from, to) in [(outer.y0, sight.y0), (sight.y1, outer.y1)] {
                let ends = [from, to].map(|y| self.point(Point::new(x, y)));
                let [from, to] = ends;
                scene.add(&layers::TIMBER, Item::Edge(Edge::line(from, to)));
            }
        }
        self.bars(scene)
    }

    fn bars(&self, scene: &mut Scene) -> Result<(), OutlineError> {
        for placed in &self.sash.bars {
            for item in bar(self.sash, placed)? {
                let small = match item {
                    Item::Outline(outline) => Item::Outline(outline.reduced(self.scale)),
                    Item::Edge(edge) => Item::Edge(edge.reduced(self.scale)),
                    other => other,
                };
                scene.add(&layers::BARS, small);
            }
        }
        Ok(())
    }

    /// A spot where least is left, and its number in a ring, away from what is hatched.
    fn mark(&self, scene: &mut Scene, number: usize, left: &WoodLeft) -> Result<(), OutlineError> {
        let spot = self.point(Point::from((left.at[0], left.at[1])));
        let side = self.ring_at(left);
        let ring = spot + 3.5 * HEIGHT * side;
        scene.add(&MARKS, Item::Outline(round(spot, 0.3 * HEIGHT)?));
        scene.add(&MARKS, Item::Outline(round(ring, HEIGHT)?));
        let along = Edge::line(spot + 0.3 * HEIGHT * side, ring - HEIGHT * side);
        scene.add(&MARKS, Item::Edge(along));
        let text = Text::new(number.to_string(), ring, 0.9 * HEIGHT);
        scene.add(&MARKS, Item::Text(text.anchored(Across::Centre, Up::Middle)));
        Ok(())
    }

    /// Into the nearest open light: from the frame towards the middle, from a bar to one side.
    fn ring_at(&self, left: &WoodLeft) -> Vec2 {
        let (sight, at) = (self.sash.sight, Point::from((left.at[0], left.at[1])));
        let daylight = self.sash.outline.outline();
        if !self.sash.outline.is_rectangle() && !daylight.contains(at) {
            let inwards = daylight.nearest_on(at).0 - at;
            return if inwards.hypot() > COINCIDENT {
                inwards.normalize()
            } else {
                Vec2::new(1.0, 0.0)
            };
        }
        if at.x <= sight.x0 {
            Vec2::new(1.0, 0.0)
        } else if at.x >= sight.x1 {
            Vec2::new(-1.0, 0.0)
        } else if at.y <= sight.y0 {
            Vec2::new(0.0, 1.0)
        } else if at.y >= sight.y1 {
            Vec2::new(0.0, -1.0)
        } else {
            let holds = |bar: &&Bar| {
                let across = if bar.runs == Runs::Upright { at.x } else { at.y };
                (bar.centre - across).abs() <= bar.width / 2.0
            };
            let aside = self
                .sash
                .bars
                .iter()
                .find(|bar| !bar.is_square() && bar.aside(at) <= bar.measured.width / 2.0);
            if let Some(bar) = aside {
                let along = bar.path.direction(bar.path.nearest(at));
                return Vec2::new(along.y, -along.x);
            }
            // Slanting, so that the rings of two bars that cross keep apart.
            match self.sash.bars.iter().map(|bar| &bar.measured).find(holds) {
                Some(bar) if bar.runs == Runs::Upright => {
                    Vec2::new(if at.x < bar.centre { -0.8 } else { 0.8 }, 0.6)
                }
                Some(bar) => Vec2::new(0.6, if at.y > bar.centre { 0.8 } else { -0.8 }),
                None => Vec2::new(1.0, 0.0),
            }
        }
    }
}

fn round(centre: Point, radius: f64) -> Result<Outline, OutlineError> {
    let half = |start| Edge::Arc(Arc { centre, radius, start, sweep: PI });
    Outline::new(vec![half(0.0), half(PI)])
}

/// What the lines mean, downwards from `at`; tells where it ends.
fn legend(scene: &mut Scene, at: Point, square: bool, voice: Voice) -> Result<f64, OutlineError> {
    let text = |words: &str, x: f64, y: f64| {
        let text = Text::new(voice.said(words), Point::new(x, y), HEIGHT);
        Item::Text(text.anchored(Across::Left, Up::Middle))
    };
    scene.add(&layers::WORDS, text(&voice.word("left-what"), at.x, at.y - HEIGHT));
    let mut y = at.y - 3.0 * HEIGHT;
    for band in bands::Band::ALL {
        let rect = Rect::new(at.x, y - 2.0 * HEIGHT, at.x + 6.0 * HEIGHT, y);
        let region = Region::solid(Outline::rectangle(rect)?);
        scene.add(&REMAINING, Item::Hatch(region.clone(), band.hatch()));
        scene.add(&layers::TIMBER, Item::Region(region));
        scene.add(&layers::WORDS, text(&band.words(voice), rect.x1 + HEIGHT, rect.center().y));
        y -= 3.0 * HEIGHT;
    }
    let keys = ["left-without-lines", "left-thick-line", "left-ring"];
    for key in keys.into_iter().chain((!square).then_some("left-curved")) {
        scene.add(&layers::WORDS, text(&voice.word(key), at.x, y - HEIGHT));
        y -= 2.0 * HEIGHT;
    }
    Ok(y - 2.0 * HEIGHT)
}

impl bands::Band {
    fn hatch(self) -> Hatch {
        Hatch::Scale(self.step())
    }
}
