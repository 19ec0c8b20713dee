//! A glazing bar in its place: a centre line, straight or round, with a width.

use crate::geometry::{COINCIDENT, Edge, Outline, OutlineError};
use crate::survey::{Bar, Course, OldGlazing, Runs};
use kurbo::{Point, Rect};

/// How far a centre line is run on past the sash, mm, so that a strip along it ends in the open.
const BEYOND: f64 = 50.0;

/// A glazing bar in its place.
#[derive(Debug, Clone, PartialEq)]
pub struct PlacedBar {
    /// Its place in the list of the survey, from 0.
    pub index: usize,
    /// What was measured of it.
    pub measured: Bar,
    /// Its centre line: upwards or to the left, so that X and Y grow to its right; run on behind the sight
    /// edges, but ending in the daylight where it ends on another bar.
    pub path: Edge,
    /// Whether it runs straight from one side of the sash to the other.
    pub through: bool,
}

impl PlacedBar {
    /// Puts a surveyed bar in place in a sash of that daylight and outer bounds. A bar that leans is
    /// measured at both ends of the sight.
    pub fn new(index: usize, bar: &Bar, daylight: &Outline, outer: Rect) -> PlacedBar {
        let placed = |path, through| PlacedBar { index, measured: bar.clone(), path, through };
        if let Some(path) = bar.course.run_on(daylight) {
            return placed(path, false);
        }
        let sight = daylight.bounds();
        let all = outer.inflate(BEYOND, BEYOND);
        let (middle, length) = match bar.runs {
            Runs::Upright => (sight.center().y, sight.height()),
            Runs::Cross => (sight.center().x, sight.width()),
        };
        let slope = if length > 0.0 { bar.lean / length } else { 0.0 };
        let across = |along: f64| bar.centre + slope * (along - middle);
        let path = match bar.runs {
            Runs::Upright => {
                Edge::line(Point::new(across(all.y0), all.y0), Point::new(across(all.y1), all.y1))
            }
            Runs::Cross => {
                Edge::line(Point::new(all.x1, across(all.x1)), Point::new(all.x0, across(all.x0)))
            }
        };
        placed(path, true)
    }

    /// Whether it runs straight, square to the sash, and from side to side.
    pub fn is_square(&self) -> bool {
        let bounds = self.path.bounds();
        self.through
            && matches!(self.path, Edge::Line(_))
            && bounds.width().min(bounds.height()) <= COINCIDENT
    }

    /// How the bar held the old glass.
    pub fn old_glazing(&self) -> OldGlazing {
        let Bar { rebate_width: width, rebate_depth: depth, .. } = self.measured;
        OldGlazing::Rebate { width, depth }
    }

    /// What a joiner calls it.
    pub fn name(&self) -> String {
        let square = |edge: &Edge| {
            let along = edge.end() - edge.start();
            along.x.abs().min(along.y.abs()) <= COINCIDENT
        };
        let way = match (self.measured.course, self.measured.runs) {
            (Course::Between(Edge::Arc(_)), _) => "curved",
            (Course::Between(line), _) if !square(&line) => "slanting",
            (_, Runs::Upright) => "upright",
            (_, Runs::Cross) => "cross",
        };
        format!("{way} bar {}", self.index + 1)
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
        self.path.strip(width)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use crate::sash::tests::{casement, placed};
    use approx::assert_relative_eq;

    #[test]
    fn a_strip_has_the_bar_s_width_and_runs_past_the_sash() {
        let survey = casement();
        let sight = Rect::new(0.0, 0.0, 820.0, 930.0);
        let outer = Rect::new(-52.0, -74.0, 872.0, 982.0);
        let bar = PlacedBar::new(0, &survey.bars[0], &Outline::rectangle(sight).unwrap(), outer);
        let strip = bar.strip(bar.measured.width).unwrap();
        assert_relative_eq!(strip.area(), 22.0 * (outer.height() + 2.0 * BEYOND), epsilon = 1e-9);
        assert_relative_eq!(bar.aside(Point::new(280.0, 400.0)), 12.0);
        assert_relative_eq!(bar.measured.web(), 4.0);
    }

    #[test]
    fn a_leaning_bar_passes_through_both_its_measured_ends() {
        let mut survey = casement();
        survey.bars[0].lean = 6.0;
        let sash = crate::sash::Sash::new(&survey).unwrap();
        let centre = survey.bars[0].centre;
        for (x, y) in [(centre - 3.0, 0.0), (centre, 465.0), (centre + 3.0, 930.0)] {
            assert!(sash.bars[0].aside(Point::new(x, y)) < 1e-9);
        }
        assert!(!sash.bars[0].is_square() && sash.bars[1].is_square());
        assert_eq!(sash.lights.len(), 3);
        survey.bars[0].runs = Runs::Cross;
        let sash = crate::sash::Sash::new(&survey).unwrap();
        assert!(sash.bars[0].aside(Point::new(820.0, centre + 3.0)) < 1e-9);
    }

    // Closed form: a band along an arc has the area of its centre line times its width.
    #[test]
    fn a_strip_along_an_arc_has_the_area_of_its_centre_line() {
        let arc = Arc { centre: Point::new(3.0, 4.0), radius: 500.0, start: 0.2, sweep: 1.1 };
        let bar = PlacedBar { through: false, ..placed(0, Edge::Arc(arc), 22.0) };
        let area = bar.strip(22.0).unwrap().area();
        assert_relative_eq!(area, 22.0 * 550.0, epsilon = 1e-6);
        assert_eq!(bar.strip(1001.0).unwrap_err(), OutlineError::Empty);
    }
}
