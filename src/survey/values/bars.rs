//! Glazing bars: how they run, and what they are.

use super::members::{Moulding, Tenon};
use crate::geometry::{Arc, Edge, Outline};
use crate::survey::tolerance::ON_FRAME;

/// Which way a bar runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Runs {
    /// From rail to rail; its centre is an X.
    Upright,
    /// From stile to stile; its centre is a Y.
    Cross,
}

/// A glazing bar, the same on both sides of its centre line.
#[derive(Debug, Clone, PartialEq)]
pub struct Bar {
    /// Which way it runs; of one between two places, which way it mostly does.
    pub runs: Runs,
    /// Whether it runs from one side of the daylight to the other, or between two places of its own.
    pub course: Course,
    /// Middle of its centre line, from the datum corner of the sight rectangle.
    pub centre: f64,
    /// How much further its upper end (of a cross bar: its right end) lies from there than its other
    /// end, over the whole sight.
    pub lean: f64,
    /// Width seen from the room, sight edge to sight edge.
    pub width: f64,
    /// From glazing face to room face.
    pub thickness: f64,
    /// Width of each old rebate: sight edge to web.
    pub rebate_width: f64,
    /// Depth of each old rebate: glazing face to platform.
    pub rebate_depth: f64,
    /// Moulding on each room-side arris.
    pub moulding: Moulding,
    /// Tenon at its ends, if known.
    pub tenon: Option<Tenon>,
}

impl Bar {
    /// Thickness of the old web between the two rebates.
    pub fn web(&self) -> f64 {
        self.width - 2.0 * self.rebate_width
    }
}

/// How bars and unit go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BarsAs {
    /// One unit behind cut-down bars.
    OneUnit,
    /// A unit in each light.
    UnitPerLight,
}

/// How far a centre line is run on behind the sight edge, mm: past any rebate.
const BEHIND: f64 = 150.0;
/// An arc is run on by no more than this angle, radians, lest it come back.
const MOST_TURN: f64 = 0.8;

/// The centre line of a bar.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Course {
    /// Straight from rail to rail, or from stile to stile.
    Through,
    /// A line or an arc between two places: on the sight edge, or on the centre line of another bar.
    Between(Edge),
}

impl Course {
    /// A centre line between two places run on behind the sight edge at each end that lies on it, so that
    /// a strip along it ends in the wood of the frame; and turned to lead upwards, or to the left. `None`
    /// for a bar that runs through.
    pub fn run_on(&self, daylight: &Outline) -> Option<Edge> {
        let Course::Between(edge) = self else { return None };
        let on_frame = |point| !daylight.contains(point) || daylight.distance_to(point) <= ON_FRAME;
        let by = |end| if on_frame(end) { BEHIND } else { 0.0 };
        let (before, after) = (by(edge.start()), by(edge.end()));
        let long = match *edge {
            Edge::Line(line) => {
                let along = edge.direction(0.5);
                Edge::line(line.p0 - before * along, line.p1 + after * along)
            }
            Edge::Arc(arc) => {
                let turn = |by: f64| (by / arc.radius).min(MOST_TURN) * arc.sweep.signum();
                let (before, after) = (turn(before), turn(after));
                let (start, sweep) = (arc.start - before, before + arc.sweep + after);
                Edge::Arc(Arc { start, sweep, ..arc })
            }
        };
        let along = edge.end() - edge.start();
        let leads = match Runs::of(edge) {
            Runs::Upright => along.y >= 0.0,
            Runs::Cross => along.x <= 0.0,
        };
        Some(if leads { long } else { long.reversed() })
    }
}

impl Runs {
    /// Which way a centre line mostly runs, by its ends.
    pub fn of(course: &Edge) -> Runs {
        let along = course.end() - course.start();
        if along.y.abs() >= along.x.abs() { Runs::Upright } else { Runs::Cross }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::{Point, Rect};
    use std::f64::consts::PI;

    #[test]
    fn an_end_on_the_sight_edge_is_run_on_and_one_inside_is_not() {
        let daylight = Outline::rectangle(Rect::new(0.0, 0.0, 600.0, 800.0)).unwrap();
        let down = Edge::line(Point::new(300.0, 798.0), Point::new(300.0, 200.0));
        let on = Course::Between(down).run_on(&daylight).unwrap();
        assert_eq!(on, Edge::line(Point::new(300.0, 200.0), Point::new(300.0, 948.0)));
        // Half a circle on the sill: 150 mm more at each end, to the left as it ran to the right.
        let half = Arc { centre: Point::new(300.0, 0.0), radius: 250.0, start: PI, sweep: -PI };
        let on = Course::Between(Edge::Arc(half)).run_on(&daylight).unwrap();
        assert_relative_eq!(on.length(), 250.0 * PI + 300.0, epsilon = 1e-9);
        assert!(on.start().x > on.end().x && on.start().y < -100.0);
        assert_eq!(Course::Through.run_on(&daylight), None);
    }
}
