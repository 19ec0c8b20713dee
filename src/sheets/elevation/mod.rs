//! The sash seen from the glazing face: every member, light and bead by name, with its sizes.

mod shape;

use super::kit::{LABEL, Lettering, composed, letter, mm, tell, wrapped};
use super::layers::{BARS, BEAD, CORD_GROOVE, DIMENSIONS, NEW_REBATE, SIGHT, TIMBER, WORDS};
use super::outlines::timber;
use super::{SheetError, Subject};
use crate::drawing::{Across, Dimension, Item, Layer, Scene, Text, Up, settled};
use crate::fit::UnitFit;
use crate::geometry::{Edge, Outline, OutlineError, Side};
use crate::number::NotFinite;
use crate::sash::Part;
use crate::survey::{Course, Runs};
use kurbo::{Point, Size, Vec2};
use shape::extremes;

/// The elevation as a scene of true size whose words can be read when it is shrunk into `most`.
///
/// # Errors
/// Where an outline has no area, or a number is not finite.
pub fn elevation(subject: &Subject<'_>, most: Size) -> Result<Scene, SheetError> {
    composed(most, subject.sash.extent().size(), |scale| view(subject, scale))
}

/// The elevation for so many millimetres of paper for each of the sash.
fn view(subject: &Subject<'_>, scale: f64) -> Result<Scene, SheetError> {
    let voice = subject.voice();
    let title = tell!(voice, "sash-title", sash = subject.id());
    let mut view = View {
        scene: Scene::new(title, voice.word("seen-from-face"), &[]),
        height: LABEL / scale,
        subject,
        letters: Lettering::round(&Scene::new("", "", &[]), 1.0 / scale, voice),
        key: Vec::new(),
    };
    view.outlines()?;
    view.sizes();
    if !subject.sash.outline.is_rectangle() {
        view.shape()?;
    }
    view.letters = Lettering::round(&view.scene, 1.0 / scale, voice);
    view.names()?;
    if !view.key.is_empty() {
        view.key();
    }
    Ok(view.scene)
}

/// Places along a line at which words are tried, the middle first.
const SHARES: [f64; 17] =
    [0.5, 0.55, 0.45, 0.6, 0.4, 0.65, 0.35, 0.7, 0.3, 0.75, 0.25, 0.8, 0.2, 0.85, 0.15, 0.9, 0.1];

struct View<'a> {
    scene: Scene,
    /// Height of capitals.
    height: f64,
    subject: &'a Subject<'a>,
    /// What names keep clear of.
    letters: Lettering,
    /// What letters stand for.
    key: Vec<String>,
}

impl View<'_> {
    fn outlines(&mut self) -> Result<(), OutlineError> {
        let sash = self.subject.sash;
        self.scene.add_all(&TIMBER, timber(sash)?.into_iter().map(Item::Outline));
        for unit in &self.subject.fit.units {
            self.scene.add(&NEW_REBATE, Item::Outline(unit.outlines.wall.within(unit.wall())?));
        }
        for place in Side::ALL.into_iter().filter_map(|side| sash.cord_groove_place(side)) {
            self.scene.add(&CORD_GROOVE, Item::Outline(Outline::rectangle(place)?));
        }
        self.scene.add(&BARS, Item::Outline(sash.outline.within(sash.sight)?));
        for light in &sash.lights {
            self.scene.add(&SIGHT, Item::Outline(light.outline.within(light.sight)?));
        }
        Ok(())
    }

    /// Puts `words` at the first place along `line` where they cover no others.
    fn word(&mut self, layer: &Layer, words: &str, line: [Point; 2], turn: f64) {
        let [from, to] = line;
        self.word_at(layer, words, &SHARES.map(|share| (from.lerp(to, share), turn)));
    }

    /// Puts `words` at the first of `places`, each with its turn, where there is room; else a letter, which the key
    /// explains.
    fn word_at(&mut self, layer: &Layer, words: &str, places: &[(Point, f64)]) {
        if self.letters.add(&mut self.scene, layer, words, places) {
            return;
        }
        let letter = letter(self.key.len()).to_lowercase();
        // What has no room even for a letter is named all the same.
        let shown = self.letters.add(&mut self.scene, layer, &letter, places);
        let words = self.subject.voice().said(words);
        self.key.push(format!("{} {words}", if shown { &letter } else { "–" }));
    }

    /// What the letters stand for, under the drawing.
    fn key(&mut self) {
        let all = self.scene.extents();
        for (row, line) in
            wrapped(&self.key.join(", "), self.height, all.width()).iter().enumerate()
        {
            let at = Point::new(all.x0, all.y0 - (1.0 + 1.8 * row as f64) * self.height);
            let text = Text::new(line.clone(), at, self.height).anchored(Across::Left, Up::Top);
            self.scene.add(&WORDS, Item::Text(text));
        }
    }

    fn names(&mut self) -> Result<(), NotFinite> {
        let (sash, voice) = (self.subject.sash, self.subject.voice());
        let (sight, outer) = (sash.sight, sash.outer);
        let walls = self.subject.fit.units.iter().map(UnitFit::wall);
        let wall = walls.reduce(|a, b| a.union(b)).unwrap_or(sight);
        let upright = |x: f64| [Point::new(x, sight.y0), Point::new(x, sight.y1)];
        // Clear of the groove in a stile.
        let stile = |side: Side, x: f64| {
            let groove = sash.cord_groove_place(side);
            let high = groove.map_or(sight.y1, |groove| groove.y0.min(sight.y1));
            [Point::new(x, sight.y0), Point::new(x, high.max(sight.y0))]
        };
        let level = |y: f64| [Point::new(sight.x0, y), Point::new(sight.x1, y)];
        for side in Side::ALL {
            let name = voice.named(&sash.part_name(Part::Member(side)));
            if !sash.outline.is_rectangle() {
                let places = self.along_member(side);
                if !places.is_empty() {
                    self.word_at(&WORDS, &name, &places);
                }
                continue;
            }
            let line = match side {
                Side::Left => stile(side, f64::midpoint(outer.x0, wall.x0)),
                Side::Right => stile(side, f64::midpoint(wall.x1, outer.x1)),
                Side::Bottom => level(f64::midpoint(outer.y0, wall.y0)),
                Side::Top => level(f64::midpoint(wall.y1, outer.y1)),
            };
            let turn = if side.is_upright() { 90.0 } else { 0.0 };
            self.word(&WORDS, &name, line, turn);
        }
        for light in &sash.lights {
            let middle = light.sight.center();
            let square = light.outline.is_rectangle();
            let at = if square { middle } else { light.outline.outline().deepest_inside().0 };
            let aside = Vec2::new(0.0, light.sight.height() / 3.0);
            self.word(&WORDS, &voice.named(&light.name), [at - aside, at + aside], 0.0);
        }
        for placed in &sash.bars {
            let (bar, name) = (&placed.measured, voice.named(&placed.name()));
            if !sash.is_square_bar(placed) {
                let places = self.along_bar(placed);
                let name = match bar.course {
                    Course::Between(Edge::Arc(arc)) => {
                        tell!(voice, "elevation-bar-radius", name, radius = mm(arc.radius)?)
                    }
                    _ => name,
                };
                self.word_at(&WORDS, &name, &places);
                continue;
            }
            match bar.runs {
                Runs::Upright => self.word(&WORDS, &name, upright(bar.centre), 90.0),
                Runs::Cross => self.word(&WORDS, &name, level(bar.centre), 0.0),
            }
        }
        for bead in &self.subject.materials.beads {
            let line = bead.edge.map(|end| end + 1.6 * self.height * bead.inwards);
            self.word(&BEAD, &bead.label, line, 0.0);
        }
        for bead in &self.subject.materials.face_beads {
            self.word(&BEAD, &bead.label, bead.line, 0.0);
        }
        if !sash.outline.is_rectangle() {
            self.radii()?;
        }
        self.horns()
    }

    /// Between the horns of an end how far they run on, and what is measured over them.
    fn horns(&mut self) -> Result<(), NotFinite> {
        let (sash, h) = (self.subject.sash, self.height);
        let over = mm(sash.extent().height())?;
        for horn in sash.horns().iter().filter(|horn| horn.stile == Side::Left) {
            let length = mm(sash.measured.horns.past(horn.end))?;
            let at = Point::new(sash.outer.center().x, horn.outline.bounds().center().y);
            let words = tell!(self.subject.voice(), "elevation-horns", length, over);
            let places = [0.0, 1.0, -1.0, 2.0, -2.0].map(|up| (at + Vec2::new(0.0, up * h), 0.0));
            self.word_at(&DIMENSIONS, &words, &places);
        }
        Ok(())
    }

    fn sizes(&mut self) {
        let sash = self.subject.sash;
        let (sight, outer, h) = (sash.sight, sash.outer, self.height);
        let extent = sash.extent();
        let voice = self.subject.voice();
        let figures = voice.figures(h);
        let mut all = Vec::new();
        for (outline, rect, words, row) in [
            (&sash.outline, sight, "elevation-sight", 3.0),
            (&sash.outer_outline, outer, "elevation-overall", 6.2),
        ] {
            let [left, right, low, high] = extremes(outline, rect);
            let words = voice.word(words);
            all.push(
                Dimension::across(left, right, extent.y0 - row * h, figures).saying(words.clone()),
            );
            all.push(Dimension::upright(low, high, extent.x0 - row * h, figures).saying(words));
        }
        // Bars by their centre lines, each from the datum.
        let (mut up, mut right) = (3.0, 3.0);
        // Others are drawn true to shape, and curved ones named with their radius.
        let bars = sash.bars.iter().map(|bar| &bar.measured);
        let through = bars.filter(|bar| bar.course == Course::Through);
        for bar in through {
            all.push(match bar.runs {
                Runs::Upright => {
                    let (from, to) = (Point::new(0.0, sight.y1), Point::new(bar.centre, sight.y1));
                    up += 3.2;
                    Dimension::across(from, to, extent.y1 + (up - 3.2) * h, figures)
                        .saying(voice.word("elevation-centre"))
                }
                Runs::Cross => {
                    let (from, to) = (Point::new(sight.x1, 0.0), Point::new(sight.x1, bar.centre));
                    right += 3.2;
                    Dimension::upright(from, to, outer.x1 + (right - 0.2) * h, figures)
                        .saying(voice.word("elevation-centre"))
                }
            });
        }
        self.scene.add_all(&DIMENSIONS, settled(all).into_iter().map(Item::Dimension));
    }
}
