//! A glazing bar in its place: a centre line, straight or round, with a width.

use crate::geometry::{Edge, Outline, OutlineError, SAME};
use crate::survey::{Bar, Runs};
use kurbo::{Point, Rect};

/// How far a centre line is run on past the sash, mm, so that a strip along it ends in the open.
const BEYOND: f64 = 50.0;

/// A glazing bar in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedBar {
    /// Its centre line from end to end and on past the sash: upwards or to the left, so that X and Y
    /// grow to its right.
    pub path: Edge,
    /// Width seen from the room, mm.
    pub width: f64,
    /// Thickness of the old web, mm.
    pub web: f64,
}

impl PlacedBar {
    /// Puts a surveyed bar in place in a sash of that outer bounds.
    pub fn new(bar: &Bar, outer: Rect) -> PlacedBar {
        let all = outer.inflate(BEYOND, BEYOND);
        let path = match bar.runs {
            Runs::Upright => {
                Edge::line(Point::new(bar.centre, all.y0), Point::new(bar.centre, all.y1))
            }
            Runs::Cross => {
                Edge::line(Point::new(all.x1, bar.centre), Point::new(all.x0, bar.centre))
            }
        };
        PlacedBar { path, width: bar.width, web: bar.web() }
    }

    /// Whether it runs straight and square to the sash.
    pub fn is_square(&self) -> bool {
        let bounds = self.path.bounds();
        matches!(self.path, Edge::Line(_)) && bounds.width().min(bounds.height()) <= SAME
    }

    /// Distance of `at` from the centre line, mm.
    pub fn aside(&self, at: Point) -> f64 {
        self.path.distance_to(at)
    }

    /// The wood of that width along the whole centre line.
    ///
    /// # Errors
    /// Where the width is not above zero, or a round bar is too tight for it.
    pub fn strip(&self, width: f64) -> Result<Outline, OutlineError> {
        let aside = |by| self.path.shifted(by).ok_or(OutlineError::Empty);
        let (right, left) = (aside(width / 2.0)?, aside(-width / 2.0)?);
        Outline::new(vec![
            right,
            Edge::line(right.end(), left.end()),
            left.reversed(),
            Edge::line(left.start(), right.start()),
        ])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    #[test]
    fn a_strip_has_the_bar_s_width_and_runs_past_the_sash() {
        let survey = casement();
        let outer = Rect::new(-52.0, -74.0, 872.0, 982.0);
        let bar = PlacedBar::new(&survey.bars[0], outer);
        let strip = bar.strip(bar.width).unwrap();
        assert_relative_eq!(strip.area(), 22.0 * (outer.height() + 2.0 * BEYOND), epsilon = 1e-9);
        assert_relative_eq!(bar.aside(Point::new(280.0, 400.0)), 12.0);
        assert_relative_eq!(bar.web, 4.0);
    }

    // Closed form: a band along an arc has the area of its centre line times its width.
    #[test]
    fn a_strip_along_an_arc_has_the_area_of_its_centre_line() {
        let arc = Arc { centre: Point::new(3.0, 4.0), radius: 500.0, start: 0.2, sweep: 1.1 };
        let bar = PlacedBar { path: Edge::Arc(arc), width: 22.0, web: 4.0 };
        let area = bar.strip(22.0).unwrap().area();
        assert_relative_eq!(area, 22.0 * 550.0, epsilon = 1e-6);
        assert_eq!(bar.strip(1001.0).unwrap_err(), OutlineError::Empty);
    }
}
