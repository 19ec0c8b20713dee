//! The sash seen from the glazing face: every member, light and bead by name, with its sizes.

mod shape;

use super::kit::mm;
use super::layers::{BARS, BEAD, CORD_GROOVE, DIMENSIONS, NEW_REBATE, SIGHT, TIMBER, WORDS};
use super::outlines::timber;
use super::{SheetError, Subject};
use crate::drawing::{Across, Dimension, Item, Layer, Scene, Text, Up};
use crate::fit::UnitFit;
use crate::geometry::{Edge, Outline, OutlineError, Side};
use crate::number::NotFinite;
use crate::sash::Part;
use crate::survey::{Bar, Course, Runs};
use kurbo::{Point, Size};
use shape::extremes;

/// Height of words on paper, mm.
const HEIGHT: f64 = 1.9;

/// The elevation as a scene of true size whose words can be read when it is shrunk into `most`.
///
/// # Errors
/// Where an outline has no area, or a number is not finite.
pub fn elevation(subject: &Subject<'_>, most: Size) -> Result<Scene, SheetError> {
    let sash = subject.sash;
    // Dimensions take about this much of the paper beside the sash itself.
    let room = Size::new((most.width - 45.0).max(20.0), (most.height - 40.0).max(20.0));
    let all = sash.extent();
    let scale = (room.width / all.width()).min(room.height / all.height());
    let title = format!("sash {}", subject.id());
    let mut view = View {
        scene: Scene::new(title, "seen from the glazing face", &[]),
        height: HEIGHT / scale,
        subject,
        placed: Vec::new(),
    };
    view.outlines()?;
    view.names()?;
    view.horns()?;
    view.sizes();
    Ok(view.scene)
}

/// Places along a line at which words are tried, the middle first.
const SHARES: [f64; 17] =
    [0.5, 0.55, 0.45, 0.6, 0.4, 0.65, 0.35, 0.7, 0.3, 0.75, 0.25, 0.8, 0.2, 0.85, 0.15, 0.9, 0.1];

struct View<'a> {
    scene: Scene,
    height: f64,
    subject: &'a Subject<'a>,
    placed: Vec<Text>,
}

impl View<'_> {
    fn outlines(&mut self) -> Result<(), OutlineError> {
        let sash = self.subject.sash;
        for outline in timber(sash)? {
            self.scene.add(&TIMBER, Item::Outline(outline));
        }
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

    /// Puts `words` at the first of `places`, each with its turn, where they cover no others.
    fn word_at(&mut self, layer: &Layer, words: &str, places: &[(Point, f64)]) {
        let texts: Vec<Text> = places
            .iter()
            .map(|&(place, turn)| {
                let text = Text::new(words, place, self.height);
                text.anchored(Across::Centre, Up::Middle).turned(turn)
            })
            .collect();
        let clear = |text: &Text| !self.placed.iter().any(|other| other.covers(text));
        let off_bars = |text: &Text| {
            let level = text.turn.abs() < 45.0;
            let crossed = |bar: &Bar| {
                let across = if level { Runs::Upright } else { Runs::Cross };
                let (at, half) = (text.bounds(), bar.width / 2.0);
                let (low, high) = if level { (at.x0, at.x1) } else { (at.y0, at.y1) };
                bar.runs == across && low < bar.centre + half && bar.centre - half < high
            };
            !self.subject.sash.bars.iter().any(|bar| crossed(&bar.measured))
        };
        let best = texts.iter().find(|text| clear(text) && off_bars(text));
        let found = best.or_else(|| texts.iter().find(|text| clear(text)));
        let Some(text) = found.or(texts.first()).cloned() else { return };
        self.placed.push(text.clone());
        self.scene.add(layer, Item::Text(text));
    }

    fn names(&mut self) -> Result<(), NotFinite> {
        let sash = self.subject.sash;
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
            let name = sash.part_name(Part::Member(side));
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
            self.word(&WORDS, &light.name, [at, at], 0.0);
        }
        for placed in &sash.bars {
            let (bar, name) = (&placed.measured, placed.name());
            if !sash.is_square_bar(placed) {
                let places = self.along_bar(placed);
                let name = match bar.course {
                    Course::Between(Edge::Arc(arc)) => {
                        format!("{name}, R {}", mm(arc.radius)?)
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
            self.shape()?;
        }
        Ok(())
    }

    /// Between the horns of an end how far they run on, and what is measured over them.
    fn horns(&mut self) -> Result<(), NotFinite> {
        let (sash, h) = (self.subject.sash, self.height);
        let over = mm(sash.extent().height())?;
        for horn in sash.horns().iter().filter(|horn| horn.stile == Side::Left) {
            let length = mm(sash.measured.horns.past(horn.end))?;
            let at = Point::new(sash.outer.center().x, horn.outline.bounds().center().y);
            let words = format!("horns {length}, height over them {over}");
            let text = Text::new(words, at, h).anchored(Across::Centre, Up::Middle);
            self.scene.add(&DIMENSIONS, Item::Text(text));
        }
        Ok(())
    }

    fn sizes(&mut self) {
        let sash = self.subject.sash;
        let (sight, outer, h) = (sash.sight, sash.outer, self.height);
        let extent = sash.extent();
        let mut all = Vec::new();
        for (outline, rect, words, row) in
            [(&sash.outline, sight, "sight", 3.0), (&sash.outer_outline, outer, "overall", 6.2)]
        {
            let [left, right, low, high] = extremes(outline, rect);
            all.push(Dimension::across(left, right, extent.y0 - row * h, h).saying(words));
            all.push(Dimension::upright(low, high, extent.x0 - row * h, h).saying(words));
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
                    Dimension::across(from, to, extent.y1 + (up - 3.2) * h, h).saying("centre")
                }
                Runs::Cross => {
                    let (from, to) = (Point::new(sight.x1, 0.0), Point::new(sight.x1, bar.centre));
                    right += 3.2;
                    Dimension::upright(from, to, outer.x1 + (right - 0.2) * h, h).saying("centre")
                }
            });
        }
        for dimension in all {
            self.scene.add(&DIMENSIONS, Item::Dimension(dimension));
        }
    }
}
