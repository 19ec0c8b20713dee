//! Text, and the room it takes.

use super::font::{self, CAPITAL};
use crate::geometry::{Edge, ROUNDING};
use kurbo::{Point, Rect, Vec2};

/// Where the anchor lies across the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Across {
    /// The text begins at the anchor.
    Left,
    /// The anchor is in the middle.
    Centre,
    /// The text ends at the anchor.
    Right,
}

/// Where the anchor lies up the text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Up {
    /// On the base line.
    Base,
    /// At half the height of a capital.
    Middle,
    /// At the top of a capital.
    Top,
}

/// Length of `words` along the base line in capitals `height` mm high, mm, in the face that PDF embeds.
pub fn width(words: &str, height: f64) -> f64 {
    font::advance(words.chars()) * height / CAPITAL
}

/// One line of text.
#[derive(Debug, Clone, PartialEq)]
pub struct Text {
    /// What it says; no control characters.
    pub value: String,
    /// The anchor.
    pub at: Point,
    /// Height of a capital letter, mm, positive.
    pub height: f64,
    /// Where the anchor lies across the text.
    pub across: Across,
    /// Where the anchor lies up the text.
    pub up: Up,
    /// Turned about the anchor, degrees anticlockwise.
    pub turn: f64,
}

impl Text {
    /// Text that begins at `at`, upright, on its base line.
    pub fn new(value: impl Into<String>, at: Point, height: f64) -> Text {
        Text { value: value.into(), at, height, across: Across::Left, up: Up::Base, turn: 0.0 }
    }

    /// The same text held by another point of itself.
    #[must_use]
    pub fn anchored(self, across: Across, up: Up) -> Text {
        Text { across, up, ..self }
    }

    /// The same text turned to `degrees` anticlockwise.
    #[must_use]
    pub fn turned(self, degrees: f64) -> Text {
        Text { turn: degrees, ..self }
    }

    /// Its [`width`]. SVG is told to keep to it; another
    /// program that reads DXF may draw with another face.
    pub fn width(&self) -> f64 {
        width(&self.value, self.height)
    }

    /// From the anchor to where the base line begins, before turning.
    pub(super) fn base_from_anchor(&self) -> Vec2 {
        let x = match self.across {
            Across::Left => 0.0,
            Across::Centre => -self.width() / 2.0,
            Across::Right => -self.width(),
        };
        Vec2::new(x, self.drop_to_base())
    }

    /// From the anchor up (negative: down) to the base line, before turning, mm.
    pub(super) fn drop_to_base(&self) -> f64 {
        match self.up {
            Up::Base => 0.0,
            Up::Middle => -self.height / 2.0,
            Up::Top => -self.height,
        }
    }

    /// The four corners of the box that the text fills, tails and accents included, anticlockwise.
    pub fn corners(&self) -> [Point; 4] {
        let base = self.base_from_anchor();
        let (sin, cos) = self.turn.to_radians().sin_cos();
        let place = |x: f64, y: f64| {
            let v = base + Vec2::new(x, y);
            self.at + Vec2::new(v.x * cos - v.y * sin, v.x * sin + v.y * cos)
        };
        let (tail, top) = (-font::TAIL * self.height, font::TOP * self.height);
        let width = self.width();
        [place(0.0, tail), place(width, tail), place(width, top), place(0.0, top)]
    }

    /// Whether the boxes of both texts share any area.
    pub fn covers(&self, other: &Text) -> bool {
        let (a, b) = (self.corners(), other.corners());
        // Two convex shapes are apart exactly where one has a side that keeps the other off.
        let kept_off = |of: &[Point; 4], from: &[Point; 4]| {
            of.iter()
                .zip(of.iter().cycle().skip(1))
                .any(|(&p, &q)| from.iter().all(|&corner| (q - p).cross(corner - p) <= ROUNDING))
        };
        !kept_off(&a, &b) && !kept_off(&b, &a)
    }

    /// Whether a line or an arc runs through its box, by points along it.
    pub fn is_struck_by(&self, edge: &Edge) -> bool {
        let around = self.bounds();
        if !around.overlaps(edge.bounds().inflate(ROUNDING, ROUNDING)) {
            return false;
        }
        let corners = self.corners();
        let inside = |point: Point| {
            let sides = corners.iter().zip(corners.iter().cycle().skip(1));
            sides.into_iter().all(|(&a, &b)| (b - a).cross(point - a) >= 0.0)
        };
        let steps = (4.0 * edge.length() / self.height).ceil().clamp(1.0, 2000.0);
        let mut step = 0.0;
        while step <= steps {
            if inside(edge.at(step / steps)) {
                return true;
            }
            step += 1.0;
        }
        false
    }

    /// The smallest upright rectangle around the text.
    pub fn bounds(&self) -> Rect {
        let [a, b, c, d] = self.corners();
        Rect::from_points(a, c).union(Rect::from_points(b, d))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn a_turned_text_stands_where_it_is_held() {
        let text = Text::new("45", Point::new(10.0, 20.0), 2.5);
        let width = text.width();
        assert_relative_eq!(width, 2.0 * 1172.0 / 2048.0 * 2.5 / CAPITAL, epsilon = 0.01);
        let upright = text.clone().anchored(Across::Centre, Up::Middle).turned(90.0);
        let bounds = upright.bounds();
        assert_relative_eq!(bounds.y0, 20.0 - width / 2.0, epsilon = 1e-9);
        assert_relative_eq!(bounds.y1, 20.0 + width / 2.0, epsilon = 1e-9);
        // A capital is centred on the anchor: half its height to the left and right.
        assert_relative_eq!(bounds.x1 - 10.0, 2.5 * (0.5 + 0.35), epsilon = 1e-9);
    }

    #[test]
    fn texts_cover_each_other_only_where_their_boxes_meet() {
        let text = Text::new("member", Point::ZERO, 2.0);
        let moved =
            |x: f64, y: f64, turn: f64| Text { at: Point::new(x, y), ..text.clone() }.turned(turn);
        assert!(text.covers(&text) && text.covers(&moved(3.0, 1.0, 0.0)));
        assert!(!text.covers(&moved(0.0, 3.4, 0.0)) && text.covers(&moved(0.0, 3.2, 0.0)));
        assert!(!text.covers(&moved(text.width() + 0.1, 0.0, 0.0)));
        // The upright boxes around both would meet here, the turned boxes do not.
        let steep = moved(text.width() + 3.0, 0.0, 45.0);
        assert!(!text.covers(&steep) && !steep.covers(&text));
    }

    #[test]
    fn wide_scripts_take_more_room() {
        let width = |s: &str| Text::new(s, Point::ZERO, 1.0).width();
        assert!(width("Щ") > width("n") && width("i") < width("m"));
        assert_eq!(width(""), 0.0);
    }
}
