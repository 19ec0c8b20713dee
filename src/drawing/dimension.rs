//! Linear dimensions, drawn after ISO 129-1: thin lines, oblique strokes, the value above the line.

use super::text::{Across, Text, Up};
use crate::geometry::Edge;
use crate::number::{inches, told};
use kurbo::{Point, Vec2};

/// Where the value stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ValueAt {
    /// Above the middle of the dimension line; after its end where it is too short.
    #[default]
    Middle,
    /// Above the first quarter of the line, where that has room for it.
    Quarter,
    /// Above the last quarter of the line, where that has room for it.
    LastQuarter,
    /// Beyond the end.
    AfterEnd,
    /// Before the start.
    BeforeStart,
}

/// How values are written: no dimension is drawn without saying so.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Figures {
    /// Height, mm.
    pub height: f64,
    /// Whether inches stand beside the millimetres.
    pub inches: bool,
}

/// A linear dimension. The value is measured, never typed.
#[derive(Debug, Clone, PartialEq)]
pub struct Dimension {
    /// The first point measured.
    pub from: Point,
    /// The second point measured.
    pub to: Point,
    /// Unit vector along which the distance is measured: along X or Y, either way.
    along: Vec2,
    /// Any point of the dimension line.
    line_through: Point,
    /// How the value is written.
    pub figures: Figures,
    /// Words before the value.
    pub words: String,
    /// Where the value stands.
    pub value_at: ValueAt,
    /// How much further out a value stands that stands outside, mm.
    pub reach: f64,
}

impl Dimension {
    /// Along X, the dimension line at `y`.
    pub fn across(from: Point, to: Point, y: f64, figures: Figures) -> Dimension {
        let along = Vec2::new(if to.x < from.x { -1.0 } else { 1.0 }, 0.0);
        Dimension::new(from, to, along, Point::new(from.x, y), figures)
    }

    /// Along Y, the dimension line at `x`.
    pub fn upright(from: Point, to: Point, x: f64, figures: Figures) -> Dimension {
        let along = Vec2::new(0.0, if to.y < from.y { -1.0 } else { 1.0 });
        Dimension::new(from, to, along, Point::new(x, from.y), figures)
    }

    fn new(
        from: Point,
        to: Point,
        along: Vec2,
        line_through: Point,
        figures: Figures,
    ) -> Dimension {
        let (words, value_at) = (String::new(), ValueAt::default());
        Dimension { from, to, along, line_through, figures, words, value_at, reach: 0.0 }
    }

    /// The same dimension with `words` before its value.
    #[must_use]
    pub fn saying(self, words: impl Into<String>) -> Dimension {
        Dimension { words: words.into(), ..self }
    }

    /// The same dimension with its value elsewhere.
    #[must_use]
    pub fn with_value(self, value_at: ValueAt) -> Dimension {
        Dimension { value_at, ..self }
    }

    /// The same dimension with a value that stands outside so much further out, mm.
    #[must_use]
    pub fn reaching(self, reach: f64) -> Dimension {
        Dimension { reach, ..self }
    }

    /// The measured distance, mm.
    pub fn value(&self) -> f64 {
        (self.to - self.from).dot(self.along)
    }

    /// Whether every number in it is finite.
    pub(super) fn is_finite(&self) -> bool {
        self.from.is_finite() && self.to.is_finite() && self.line_through.is_finite()
    }

    /// Foot of `point` on the dimension line.
    fn foot(&self, point: Point) -> Point {
        self.line_through + (point - self.line_through).dot(self.along) * self.along
    }

    /// The lines and the text that the dimension is drawn with.
    pub fn parts(&self) -> (Vec<Edge>, Text) {
        let (start, end) = (self.foot(self.from), self.foot(self.to));
        let stroke = 0.4 * self.figures.height;
        let oblique = stroke * turned(self.along, 45.0);
        let mut edges: Vec<Edge> = [(self.from, start), (self.to, end)]
            .into_iter()
            .filter_map(|(point, foot)| self.witness(point, foot))
            .collect();
        let text = self.text(start, end);
        let (mut line_from, mut line_to) = (start - stroke * self.along, end + stroke * self.along);
        match self.stands(start, end) {
            ValueAt::Middle | ValueAt::Quarter | ValueAt::LastQuarter => {}
            ValueAt::AfterEnd => line_to = end + self.outside(&text) * self.along,
            ValueAt::BeforeStart => line_from = start - self.outside(&text) * self.along,
        }
        edges.push(Edge::line(line_from, line_to));
        edges.extend([start, end].map(|at| Edge::line(at - oblique, at + oblique)));
        (edges, text)
    }

    /// The line that leads from a measured point to the dimension line and a little beyond.
    fn witness(&self, point: Point, foot: Point) -> Option<Edge> {
        let away = foot - point;
        let gap = 0.3 * self.figures.height;
        (away.hypot() > gap).then(|| {
            let away = away.normalize();
            Edge::line(point + gap * away, foot + 0.6 * self.figures.height * away)
        })
    }

    fn stands(&self, start: Point, end: Point) -> ValueAt {
        let room = (end - start).hypot() - 0.8 * self.figures.height;
        let width = Text::new(self.label(), Point::ZERO, self.figures.height).width();
        match self.value_at {
            ValueAt::Middle if width > room => ValueAt::AfterEnd,
            // About a quarter there is room for half of the line.
            ValueAt::Quarter | ValueAt::LastQuarter if 2.0 * width > room => ValueAt::AfterEnd,
            other => other,
        }
    }

    /// Length of dimension line under a value that stands outside.
    fn outside(&self, text: &Text) -> f64 {
        self.figures.height + text.width() + self.reach
    }

    fn label(&self) -> String {
        // Tenths of a millimetre are what a joiner can read off a rule.
        let value = told(self.value(), 1);
        let value = if self.figures.inches {
            format!("{value} ({} in)", inches(self.value()))
        } else {
            value
        };
        if self.words.is_empty() { value } else { format!("{} {value}", self.words) }
    }

    /// The value, readable from below or from the right.
    fn text(&self, start: Point, end: Point) -> Text {
        let back = self.along.x < 0.0 || self.along.y < 0.0;
        let reading = if back { -self.along } else { self.along };
        let label = Text::new(self.label(), Point::ZERO, self.figures.height);
        let aside = self.figures.height + label.width() / 2.0 + self.reach;
        let middle = match self.stands(start, end) {
            ValueAt::Middle => start.midpoint(end),
            ValueAt::Quarter => start.lerp(end, 0.25),
            ValueAt::LastQuarter => start.lerp(end, 0.75),
            ValueAt::AfterEnd => end + aside * self.along,
            ValueAt::BeforeStart => start - aside * self.along,
        };
        let above = Vec2::new(-reading.y, reading.x);
        let at = middle + 0.45 * self.figures.height * above;
        let angle = reading.atan2().to_degrees();
        Text { at, ..label }.anchored(Across::Centre, Up::Base).turned(angle)
    }
}

/// Whether the value of `one` meets no line and no value of the others, of which it may be the one `at` that place.
pub fn is_clear(one: &Dimension, others: &[Dimension], at: usize) -> bool {
    let (_, text) = one.parts();
    let others = others.iter().enumerate().filter(|(index, _)| *index != at);
    let meets = |(_, other): (usize, &Dimension)| {
        let (edges, value) = other.parts();
        value.covers(&text) || edges.iter().any(|edge| text.is_struck_by(edge))
    };
    !others.into_iter().any(meets)
}

/// The same dimensions, each with its value where no line and no value of another meets it, if there is such a place.
pub fn settled(mut all: Vec<Dimension>) -> Vec<Dimension> {
    for at in 0..all.len() {
        let Some(own) = all.get(at).cloned() else { continue };
        let ways = [
            own.value_at,
            ValueAt::Quarter,
            ValueAt::LastQuarter,
            ValueAt::AfterEnd,
            ValueAt::BeforeStart,
        ];
        let found = ways.map(|way| own.clone().with_value(way));
        // Past the lines of others, if it must be.
        let past = [6.0, 12.0, 20.0].map(|far| own.clone().reaching(far * own.figures.height));
        let past = past.into_iter().flat_map(|one| {
            [ValueAt::AfterEnd, ValueAt::BeforeStart].map(|way| one.clone().with_value(way))
        });
        let found = found.into_iter().chain(past).find(|one| is_clear(one, &all, at));
        if let (Some(place), Some(found)) = (all.get_mut(at), found) {
            *place = found;
        }
    }
    all
}

fn turned(v: Vec2, degrees: f64) -> Vec2 {
    let (sin, cos) = degrees.to_radians().sin_cos();
    Vec2::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const FIGURES: Figures = Figures { height: 2.0, inches: false };

    #[test]
    fn measures_along_its_own_direction() {
        let (a, b) = (Point::new(0.0, 0.0), Point::new(30.0, 40.0));
        assert_eq!(Dimension::across(a, b, -5.0, FIGURES).value(), 30.0);
        assert_eq!(Dimension::upright(b, a, -5.0, FIGURES).value(), 40.0);
        let (_, text) = Dimension::across(a, b, -5.0, FIGURES).saying("rebate").parts();
        assert_eq!(text.value, "rebate 30");
        assert_eq!(Dimension::across(a, a, 1.0, FIGURES).parts().1.value, "0");
    }

    #[test]
    fn values_read_from_below_or_from_the_right() {
        let (a, b) = (Point::new(0.0, 0.0), Point::new(0.0, 40.0));
        for (from, to) in [(a, b), (b, a)] {
            assert_relative_eq!(Dimension::upright(from, to, -9.0, FIGURES).parts().1.turn, 90.0);
        }
        let c = Point::new(40.0, 0.0);
        for (from, to) in [(a, c), (c, a)] {
            assert_relative_eq!(Dimension::across(from, to, -9.0, FIGURES).parts().1.turn, 0.0);
        }
    }

    #[test]
    fn a_value_too_long_for_its_line_stands_outside() {
        let (a, b) = (Point::new(0.0, 0.0), Point::new(2.0, 0.0));
        let (edges, text) = Dimension::across(a, b, -9.0, FIGURES).parts();
        assert!(text.bounds().x0 > 2.0);
        assert!(edges.iter().any(|edge| edge.bounds().x1 >= text.bounds().x1));
    }
}
