//! What an elevation says of a daylight that is no rectangle: names along its members, lengths of straight
//! edges, radii of round ones, the rise of a head, diagonals.

use super::{SHARES, View};
use crate::drawing::{Across, Dimension, Item, Text, Up};
use crate::geometry::{COINCIDENT, Edge, ROUNDING, Side, Sided};
use crate::number::NotFinite;
use crate::sash::PlacedBar;
use crate::sheets::kit::{mm, tell};
use crate::sheets::layers::DIMENSIONS;
use kurbo::{Line, Point, Rect, Vec2};

/// Sizes stand this far inside the sight edge, in heights of words: clear of the beads' numbers.
const INSIDE: f64 = 5.0;

/// An edge that leans by less than this counts as upright for reading, degrees.
const LEAN: f64 = 5.0;

/// The points of an outline furthest left, right, down and up; of a rectangle its corners from the lower
/// left one.
pub(super) fn extremes(sided: &Sided, bounds: Rect) -> [Point; 4] {
    if sided.is_rectangle() {
        let low = bounds.origin();
        return [low, Point::new(bounds.x1, bounds.y0), low, Point::new(bounds.x0, bounds.y1)];
    }
    let outline = sided.outline();
    let on = |x: f64, y: f64| outline.nearest_on(Point::new(x, y)).0;
    let middle = bounds.center();
    // The nearest point to a place far out on that side is as good as the extreme itself.
    let touch = |at: Point, level: bool, value: f64| {
        let mut best = outline.edges().iter().flat_map(|edge| {
            [edge.start(), edge.end()].into_iter().chain(touching(edge, level, value))
        });
        let off = |p: &Point| if level { (p.y - value).abs() } else { (p.x - value).abs() };
        best.find(|p| off(p) <= COINCIDENT).unwrap_or(at)
    };
    [
        touch(on(bounds.x0, middle.y), false, bounds.x0),
        touch(on(bounds.x1, middle.y), false, bounds.x1),
        touch(on(middle.x, bounds.y0), true, bounds.y0),
        touch(on(middle.x, bounds.y1), true, bounds.y1),
    ]
}

/// Where an arc touches a level or upright line.
fn touching(edge: &Edge, level: bool, value: f64) -> Option<Point> {
    let Edge::Arc(arc) = edge else { return None };
    let c = arc.centre;
    let at = if level { Point::new(c.x, value) } else { Point::new(value, c.y) };
    (edge.distance_to(at) <= COINCIDENT).then_some(at)
}

/// Degrees that words along `direction` are turned by to be read from below or from the right.
fn reading(direction: Vec2) -> f64 {
    let turn = direction.atan2().to_degrees();
    // A stile may lean a little either way.
    let turn = if turn > 90.0 + LEAN {
        turn - 180.0
    } else if turn <= LEAN - 90.0 {
        turn + 180.0
    } else {
        turn
    };
    if turn.abs() < ROUNDING { 0.0 } else { turn }
}

fn outwards(edge: &Edge, t: f64) -> Vec2 {
    let along = edge.direction(t);
    Vec2::new(along.y, -along.x)
}

impl View<'_> {
    /// Places for a name on the wood of a member, the middle of its longest edge first.
    pub(super) fn along_member(&self, side: Side) -> Vec<(Point, f64)> {
        let sash = self.subject.sash;
        let own = sash.outline.edges_on(side);
        let Some(edge) = own.max_by(|a, b| a.length().total_cmp(&b.length())) else {
            return Vec::new();
        };
        let units = self.subject.fit.units.iter();
        let rebate = units.map(|unit| unit.rebate_width.get(side).most).fold(0.0, f64::max);
        let width = sash.measured.members.get(side).width;
        let middle = f64::midpoint(rebate.min(width), width);
        let place = |t: f64| (edge.at(t) + middle * outwards(edge, t), reading(edge.direction(t)));
        SHARES.map(place).to_vec()
    }

    /// Places for a name on a bar, where it is seen.
    pub(super) fn along_bar(&self, bar: &PlacedBar) -> Vec<(Point, f64)> {
        let sash = self.subject.sash;
        let pieces = sash.outline.outline().stretches_inside(&bar.path);
        let places = pieces
            .iter()
            .flat_map(|piece| SHARES.map(|t| (piece.at(t), reading(piece.direction(t)))));
        places.collect()
    }

    /// Radii of round edges and lengths of slanting ones, inside the daylight.
    pub(super) fn radii(&mut self) -> Result<(), NotFinite> {
        let (h, voice) = (self.height, self.subject.voice());
        for edge in self.subject.sash.outline.outline().merged() {
            let (words, whole) = match edge {
                Edge::Arc(arc) => {
                    (tell!(voice, "radius-mm", radius = mm(arc.radius)?), arc.is_full_turn())
                }
                Edge::Line(line) => {
                    let all = Rect::from_points(line.p0, line.p1);
                    if all.width() <= COINCIDENT || all.height() <= COINCIDENT {
                        continue;
                    }
                    (tell!(voice, "length-mm", length = mm(edge.length())?), false)
                }
            };
            let places = SHARES.map(|t| {
                let t = if whole { (t + 0.25) % 1.0 } else { t };
                (edge.at(t) - INSIDE * h * outwards(&edge, t), reading(edge.direction(t)))
            });
            self.word_at(&DIMENSIONS, &words, &places);
        }
        Ok(())
    }

    /// Sizes inside the daylight.
    pub(super) fn shape(&mut self) -> Result<(), NotFinite> {
        let (sash, h, voice) = (self.subject.sash, self.height, self.subject.voice());
        let edges = sash.outline.outline().merged();
        let lines = edges.iter().filter_map(|edge| match edge {
            Edge::Line(line) => Some(*line),
            Edge::Arc(_) => None,
        });
        let straight: Vec<Line> = lines.collect();
        if straight.len() == 4 && edges.len() == 4 {
            let corners: Vec<Point> = straight.iter().map(|line| line.p0).collect();
            if let [a, b, c, d] = corners.as_slice() {
                let diagonals =
                    [("elevation-from-left", *c - *a), ("elevation-from-right", *d - *b)];
                for ((key, across), step) in diagonals.into_iter().zip([9.5, 12.0]) {
                    let words = tell!(voice, key, length = mm(across.hypot())?);
                    let at = Point::new(sash.outer.center().x, sash.extent().y0 - step * h);
                    let text =
                        Text::new(voice.said(&words), at, h).anchored(Across::Centre, Up::Middle);
                    self.scene.add(&DIMENSIONS, Item::Text(text));
                }
            }
        }
        self.heights(&edges);
        Ok(())
    }

    /// Heights of the jambs, and the rise of a curved head over jambs of one height.
    fn heights(&mut self, edges: &[Edge]) {
        let sash = self.subject.sash;
        let (sight, outer, h) = (sash.sight, sash.outer, self.height);
        let jamb = |x: f64| {
            edges.iter().find_map(|edge| {
                let all = edge.bounds();
                let upright = matches!(edge, Edge::Line(_)) && all.width() <= COINCIDENT;
                (upright && (all.x0 - x).abs() <= COINCIDENT).then_some([all.y0, all.y1])
            })
        };
        let column = outer.x1 + 3.0 * h;
        let voice = self.subject.voice();
        let (figures, mut all) = (voice.figures(h), Vec::new());
        let mut height = |x: f64, [low, high]: [f64; 2], line: f64, key: &str| {
            let ends = [low, high].map(|y| Point::new(x, y));
            all.push(Dimension::upright(ends[0], ends[1], line, figures).saying(voice.word(key)));
        };
        let short = |[low, high]: [f64; 2]| high - low < sight.height() - COINCIDENT;
        let (left, right) = (jamb(sight.x0), jamb(sight.x1));
        let level = left.zip(right).is_some_and(|(a, b)| (a[1] - b[1]).abs() <= COINCIDENT);
        let curved = edges.iter().any(|edge| matches!(edge, Edge::Arc(_)));
        if let Some(jamb) = right.filter(|jamb| short(*jamb)) {
            height(
                sight.x1,
                jamb,
                column,
                if level && curved { "shape-springing" } else { "shape-right" },
            );
        }
        if let Some(jamb) = left.filter(|jamb| short(*jamb) && !level) {
            height(sight.x0, jamb, outer.x0 - 9.4 * h, "shape-left");
        }
        if let Some(jamb) = right.filter(|jamb| level && curved && short(*jamb)) {
            let [.., crown] = extremes(&sash.outline, sight);
            let spring = Point::new(sight.x1, jamb[1]);
            all.push(
                Dimension::upright(spring, crown, column + 3.2 * h, figures)
                    .saying(voice.word("shape-rise")),
            );
        }
        self.scene.add_all(&DIMENSIONS, all.into_iter().map(Item::Dimension));
    }
}
