//! The sash seen from the glazing face: every member, light and bead by name, with its sizes.

use super::Subject;
use super::beads::{Bead, beads, face_beads};
use super::layers::{BARS, BEAD, DIMENSIONS, NEW_REBATE, SIGHT, TIMBER, WORDS};
use crate::drawing::{Across, Dimension, Item, Scene, Text, Up};
use crate::geometry::{Outline, OutlineError, Side};
use crate::sash::Part;
use crate::survey::Runs;
use kurbo::{Point, Rect, Size, Vec2};

/// Height of words on paper, mm.
const HEIGHT: f64 = 1.9;

/// The elevation as a scene of true size whose words can be read when it is shrunk into `most`.
///
/// # Errors
/// Where an outline has no area.
pub fn elevation(subject: &Subject<'_>, most: Size) -> Result<Scene, OutlineError> {
    let sash = subject.sash;
    // Dimensions take about this much of the paper beside the sash itself.
    let room = Size::new((most.width - 45.0).max(20.0), (most.height - 40.0).max(20.0));
    let scale = (room.width / sash.outer.width()).min(room.height / sash.outer.height());
    let title = format!("sash {}", subject.id());
    let mut view = View {
        scene: Scene::new(title, "seen from the glazing face", &[]),
        height: HEIGHT / scale,
        subject,
    };
    view.outlines()?;
    view.names();
    view.sizes();
    Ok(view.scene)
}

struct View<'a> {
    scene: Scene,
    height: f64,
    subject: &'a Subject<'a>,
}

impl View<'_> {
    fn outlines(&mut self) -> Result<(), OutlineError> {
        let sash = self.subject.sash;
        let closed = |rect: Rect| Outline::rectangle(rect).map(Item::Outline);
        self.scene.add(&TIMBER, closed(sash.outer)?);
        for unit in &self.subject.fit.units {
            self.scene.add(&NEW_REBATE, closed(unit.wall)?);
        }
        self.scene.add(&BARS, closed(sash.sight)?);
        for light in &sash.lights {
            self.scene.add(&SIGHT, closed(light.sight)?);
        }
        Ok(())
    }

    fn word(&mut self, words: String, at: Point, turn: f64) {
        let text = Text::new(words, at, self.height).anchored(Across::Centre, Up::Middle);
        self.scene.add(&WORDS, Item::Text(text.turned(turn)));
    }

    fn names(&mut self) {
        let sash = self.subject.sash;
        let (sight, outer) = (sash.sight, sash.outer);
        let walls = self.subject.fit.units.iter().map(|unit| unit.wall);
        let wall = walls.reduce(|a, b| a.union(b)).unwrap_or(sight);
        for side in Side::ALL {
            let middle = sight.center();
            let at = match side {
                Side::Left => Point::new(f64::midpoint(outer.x0, wall.x0), middle.y),
                Side::Right => Point::new(f64::midpoint(wall.x1, outer.x1), middle.y),
                Side::Bottom => Point::new(middle.x, f64::midpoint(outer.y0, wall.y0)),
                Side::Top => Point::new(middle.x, f64::midpoint(wall.y1, outer.y1)),
            };
            let turn = if side.is_upright() { 90.0 } else { 0.0 };
            self.word(sash.part_name(Part::Member(side)), at, turn);
        }
        for (index, bar) in sash.measured.bars.iter().enumerate() {
            let name = sash.part_name(Part::Bar(index));
            match bar.runs {
                Runs::Upright => {
                    self.word(name, Point::new(bar.centre, 0.2 * sight.height()), 90.0);
                }
                Runs::Cross => {
                    let first = sash.lights.first().map_or(sight, |light| light.sight);
                    self.word(name, Point::new(first.x0 + 0.35 * first.width(), bar.centre), 0.0);
                }
            }
        }
        for light in &sash.lights {
            self.word(light.name.clone(), light.sight.center(), 0.0);
        }
        for bead in beads(sash, self.subject.fit) {
            let at = bead.at + 1.2 * self.height * into_light(&bead, self.subject);
            self.bead(bead.label, at);
        }
        for bead in face_beads(sash) {
            self.bead(bead.label, bead.at);
        }
    }

    fn bead(&mut self, label: String, at: Point) {
        let text = Text::new(label, at, self.height).anchored(Across::Centre, Up::Middle);
        self.scene.add(&BEAD, Item::Text(text));
    }

    fn sizes(&mut self) {
        let sash = self.subject.sash;
        let (sight, outer, h) = (sash.sight, sash.outer, self.height);
        let corner = |rect: Rect| {
            (rect.origin(), Point::new(rect.x1, rect.y0), Point::new(rect.x0, rect.y1))
        };
        let mut all = Vec::new();
        for (rect, words, row) in [(sight, "sight", 3.0), (outer, "overall", 6.2)] {
            let (low, right, high) = corner(rect);
            all.push(Dimension::across(low, right, outer.y0 - row * h, h).saying(words));
            all.push(Dimension::upright(low, high, outer.x0 - row * h, h).saying(words));
        }
        // Bars by their centre lines, each from the datum.
        let (mut up, mut right) = (3.0, 3.0);
        for bar in &sash.measured.bars {
            all.push(match bar.runs {
                Runs::Upright => {
                    let (from, to) = (Point::new(0.0, sight.y1), Point::new(bar.centre, sight.y1));
                    up += 3.2;
                    Dimension::across(from, to, outer.y1 + (up - 3.2) * h, h).saying("centre")
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

/// From the sight edge that a bead lies on into the daylight.
fn into_light(bead: &Bead, subject: &Subject<'_>) -> Vec2 {
    let lights = subject.fit.units.iter().map(|unit| unit.sight);
    let near = |rect: &Rect| {
        let on =
            [rect.x0 - bead.at.x, rect.x1 - bead.at.x, rect.y0 - bead.at.y, rect.y1 - bead.at.y];
        on.iter().any(|off| off.abs() < 1e-9) && rect.inflate(1e-6, 1e-6).contains(bead.at)
    };
    let middle = lights.into_iter().find(near).map_or(bead.at, |rect| rect.center());
    let way = middle - bead.at;
    // Beads lie on the middle of a side, so the way is straight across or straight up.
    if way.hypot() > 0.0 { 1.3 * way.normalize() } else { Vec2::ZERO }
}
