//! Words that name a line from a place with room for them, with a leader to it.

use super::obstacle::{Obstacle, length_inside};
use super::{LABEL, Voice};
use crate::drawing::{Across, Item, Layer, Scene, Text, Up};
use crate::geometry::Edge;
use crate::sheets::layers::{DIMENSIONS, WORDS};
use kurbo::{Point, Rect, Vec2};

/// Free paper round a name and beside a leader, mm.
const AWAY: f64 = 0.7;
/// How far words may stand outside what is drawn before them, mm.
const BEYOND: f64 = 16.0;
/// Free paper between words and a line beside them, mm.
const CLOSE: f64 = 0.2;
/// Free paper at the edge of what is drawn, mm.
const EDGE: f64 = 1.5;
/// Shortest and longest leader, and the steps between, mm.
const LEADERS: [f64; 3] = [3.0, 99.0, 4.0];
/// A line that runs beside a leader for so long hides it, mm.
const HIDDEN: f64 = 2.5;
/// Radius of the ring at what is named, mm.
const RING: f64 = 0.6;

/// Where words may stand: within a window, clear of lines and of what is taken.
pub struct Room<'a> {
    /// No word reaches out of it.
    pub window: Rect,
    /// Lines that no word lies on.
    pub lines: &'a [Obstacle],
    /// Boxes that neither words nor leaders enter.
    pub taken: &'a mut Vec<Rect>,
    /// Millimetres of the drawing for each of the paper.
    pub scale: f64,
}

/// Words with their leader.
pub struct Led {
    text: Text,
    /// From what is named to the words.
    leader: [Point; 2],
    ring: f64,
}

impl Led {
    /// Draws them, moved by `shift`.
    pub fn draw(self, scene: &mut Scene, shift: Vec2) {
        let [at, end] = self.leader.map(|point| point + shift);
        let edges = [Edge::circle(at, self.ring), Edge::line(at, end)];
        scene.add_all(&DIMENSIONS, edges.map(Item::Edge));
        scene.add(&WORDS, Item::Text(Text { at: self.text.at + shift, ..self.text }));
    }

    /// The leader as a line.
    pub fn leader(&self) -> Edge {
        let [at, end] = self.leader;
        Edge::line(at, end)
    }
}

impl Room<'_> {
    /// The name with the shortest leader that has room, to one of `places`, each with the direction of its line; the
    /// room it takes is taken from then on.
    pub fn led(&mut self, words: &str, places: &[(Point, Vec2)]) -> Option<Led> {
        let away = AWAY * self.scale;
        let inside = self.window.inset(-EDGE * self.scale);
        let [shortest, longest, step] = LEADERS.map(|length| length * self.scale);
        let reaches = std::iter::successors(Some(shortest), |reach| Some(reach + step));
        for reach in reaches.take_while(|reach| *reach <= longest) {
            for &(at, along) in places {
                for (way, across, up) in [
                    (Vec2::new(1.0, 0.0), Across::Left, Up::Middle),
                    (Vec2::new(-1.0, 0.0), Across::Right, Up::Middle),
                    (Vec2::new(0.0, 1.0), Across::Centre, Up::Base),
                    (Vec2::new(0.0, -1.0), Across::Centre, Up::Top),
                ] {
                    if way.dot(along).abs() > 0.7 * along.hypot() {
                        continue;
                    }
                    let end = at + reach * way;
                    let text = Text::new(words, end + away * way, LABEL * self.scale);
                    let text = text.anchored(across, up);
                    let (bounds, leader) = (text.bounds(), self.around(at, end));
                    if inside.union(bounds) == inside
                        && self.is_free(bounds)
                        && self.is_seen(leader)
                    {
                        self.taken.extend([bounds.inflate(away, away), leader]);
                        let ring = RING * self.scale;
                        return Some(Led { text, leader: [at, end], ring });
                    }
                }
            }
        }
        None
    }

    /// Whether words that fill `bounds` meet nothing.
    pub fn is_free(&self, bounds: Rect) -> bool {
        let kept = bounds.inflate(CLOSE * self.scale, CLOSE * self.scale);
        !self.taken.iter().any(|other| other.overlaps(bounds))
            && !self.lines.iter().any(|line| line.runs_through(kept))
    }

    fn around(&self, from: Point, to: Point) -> Rect {
        Rect::from_points(from, to).inflate(AWAY * self.scale, AWAY * self.scale)
    }

    /// Whether a leader runs through no words and along no line.
    fn is_seen(&self, leader: Rect) -> bool {
        let hidden = |line: &Obstacle| {
            line.ends()
                .is_some_and(|[from, to]| length_inside(from, to, leader) > HIDDEN * self.scale)
        };
        !self.taken.iter().any(|other| other.overlaps(leader)) && !self.lines.iter().any(hidden)
    }
}

/// The words of a drawing that is shown smaller than it is, kept clear of its lines and of one another.
pub struct Lettering {
    lines: Vec<Obstacle>,
    taken: Vec<Rect>,
    window: Rect,
    scale: f64,
    voice: Voice,
}

impl Lettering {
    /// How its words are said.
    pub fn voice(&self) -> Voice {
        self.voice
    }

    /// Round what is drawn so far, of which one millimetre of the paper shows `scale`; words are said by `voice`.
    pub fn round(scene: &Scene, scale: f64, voice: Voice) -> Lettering {
        let window = scene.extents().inflate(BEYOND * scale, BEYOND * scale);
        let mut own = Lettering { lines: Vec::new(), taken: Vec::new(), window, scale, voice };
        for item in scene.layers().flat_map(|(_, items)| items) {
            match item {
                Item::Edge(edge) => own.lines.push(Obstacle::new(edge)),
                Item::Outline(outline) => own.lines.extend(Obstacle::all(outline.edges())),
                Item::Text(text) => own.taken.extend(boxes(text)),
                Item::Dimension(dimension) => {
                    let (edges, text) = dimension.parts();
                    own.lines.extend(Obstacle::all(&edges));
                    own.taken.extend(boxes(&text));
                }
                Item::Region(_) | Item::Hatch(..) => {}
            }
        }
        own
    }

    fn text(&self, words: &str, (place, turn): (Point, f64)) -> Text {
        let text = Text::new(self.voice.said(words), place, LABEL * self.scale);
        text.anchored(Across::Centre, Up::Middle).turned(turn)
    }

    /// Puts `words` at the first of `places`, each with its turn, where they meet neither line nor words, or beside
    /// one of them with a leader. Whether there was room.
    pub fn add(
        &mut self,
        scene: &mut Scene,
        layer: &Layer,
        words: &str,
        places: &[(Point, f64)],
    ) -> bool {
        for &place in places {
            let text = self.text(words, place);
            let boxes = boxes(&text);
            if boxes.iter().all(|part| self.room().is_free(*part)) {
                self.taken.extend(boxes);
                scene.add(layer, Item::Text(text));
                return true;
            }
        }
        let from = places.iter().map(|(place, turn)| (*place, Vec2::from_angle(turn.to_radians())));
        let from: Vec<(Point, Vec2)> = from.collect();
        let words = self.voice.said(words);
        let Some(led) = self.room().led(&words, &from) else { return false };
        self.lines.push(Obstacle::new(&led.leader()));
        led.draw(scene, Vec2::ZERO);
        true
    }

    /// As [`Lettering::add`]; where there is no room `words` stand at the first place, whatever is there.
    pub fn place(
        &mut self,
        scene: &mut Scene,
        layer: &Layer,
        words: &str,
        places: &[(Point, f64)],
    ) {
        if !self.add(scene, layer, words, places)
            && let Some(&place) = places.first()
        {
            let text = self.text(words, place);
            self.taken.extend(boxes(&text));
            scene.add(layer, Item::Text(text));
        }
    }

    fn room(&mut self) -> Room<'_> {
        let Lettering { lines, taken, window, scale, .. } = self;
        Room { window: *window, lines, taken, scale: *scale }
    }
}

/// Boxes that a text fills, one beside the other along it: of a slanting one together far less than the box round it.
fn boxes(text: &Text) -> Vec<Rect> {
    let [a, b, c, d] = text.corners();
    let count = (text.width() / text.height).ceil().max(1.0);
    let mut boxes = Vec::new();
    let mut part = 0.0;
    while part < count {
        let (from, to) = (part / count, (part + 1.0) / count);
        let first = Rect::from_points(a.lerp(b, from), d.lerp(c, to));
        boxes.push(first.union_pt(a.lerp(b, to)).union_pt(d.lerp(c, from)));
        part += 1.0;
    }
    boxes
}
