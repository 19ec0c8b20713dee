//! What a program makes the cutter do, free of words and units.

use crate::geometry::{Arc, Edge};
use kurbo::Rect;

/// How fast a move runs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Pace {
    /// As fast as the machine can.
    Rapid,
    /// At this feed, mm/min; zero where no feed was set.
    Feed(f64),
}

/// What the spindle does.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) enum Spindle {
    /// Nothing, or nothing that was said.
    #[default]
    Still,
    /// Turns clockwise seen from above, 1/min.
    Clockwise(f64),
    /// Turns the other way, 1/min.
    Anticlockwise(f64),
}

/// One move of the cutter's tip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Move {
    /// Line of the program, from 1.
    pub line: usize,
    /// How fast.
    pub pace: Pace,
    /// Path of the axis seen from above; without length for a move along Z.
    pub path: Edge,
    /// Z at the start, mm.
    pub from_z: f64,
    /// Z at the end, mm.
    pub to_z: f64,
    /// What the spindle does meanwhile.
    pub spindle: Spindle,
    /// How far the true path may lie from `path`, mm: half the difference of an arc's two radii.
    pub slack: f64,
    /// The first move over the wood: where it comes from is not known.
    pub arrival: bool,
    /// How long the tip then stands where it ends, the cutter turning, s.
    pub dwell: f64,
}

impl Move {
    /// Least Z along the move.
    pub(super) fn low(&self) -> f64 {
        self.from_z.min(self.to_z)
    }

    /// Whether the tip only goes up or down.
    pub(super) fn is_upright(&self) -> bool {
        self.path.length() == 0.0
    }

    /// Whether the tip stays at one height.
    #[expect(clippy::float_cmp, reason = "a level move staying its Z bit for bit")]
    pub(super) fn is_level(&self) -> bool {
        self.from_z == self.to_z
    }

    /// The rectangle that its way may be anywhere in, seen from above: on a rapid move each axis runs as fast as
    /// it can by itself, so the tip may leave the straight line for any way between the two ends. `None` where
    /// the way is its path.
    pub(super) fn anywhere_in(&self) -> Option<Rect> {
        let bounds = self.path.bounds();
        let slants = bounds.width().min(bounds.height()) > 0.0;
        (self.pace == Pace::Rapid && slants).then_some(bounds)
    }

    /// Angle below the level of a falling move, degrees, 0 to 90; zero for a level or rising one.
    pub(super) fn fall(&self) -> f64 {
        (self.from_z - self.to_z).max(0.0).atan2(self.path.length()).to_degrees()
    }

    /// Length in space, mm.
    pub(super) fn length(&self) -> f64 {
        self.path.length().hypot(self.to_z - self.from_z)
    }

    /// How long it takes, minutes, without acceleration; `rapid` is the speed of rapid moves, mm/min.
    pub(super) fn minutes(&self, rapid: f64) -> f64 {
        match self.pace {
            Pace::Rapid => self.length() / rapid,
            Pace::Feed(feed) if feed > 0.0 => self.length() / feed,
            Pace::Feed(_) => 0.0,
        }
    }

    /// Z at `t` from 0 to 1 along the path.
    pub(super) fn z_at(&self, t: f64) -> f64 {
        // Each end to the last bit.
        if t >= 1.0 { self.to_z } else { self.from_z + t * (self.to_z - self.from_z) }
    }

    /// The part of the move below `limit` as parameters from 0 to 1; `None` where there is none.
    /// Z is linear along the path, so the part is exact.
    pub(super) fn below(&self, limit: f64) -> Option<(f64, f64)> {
        if self.low() >= limit {
            return None;
        }
        if self.from_z.max(self.to_z) < limit {
            return Some((0.0, 1.0));
        }
        let at = ((limit - self.from_z) / (self.to_z - self.from_z)).clamp(0.0, 1.0);
        Some(if self.to_z < self.from_z { (at, 1.0) } else { (0.0, at) })
    }
}

/// The piece of `path` between the parameters `t0` and `t1`.
pub(super) fn piece(path: &Edge, t0: f64, t1: f64) -> Edge {
    match *path {
        _ if t0 <= 0.0 && t1 >= 1.0 => *path,
        Edge::Line(_) => Edge::line(path.at(t0), path.at(t1)),
        Edge::Arc(arc) => Edge::Arc(Arc {
            start: arc.start + t0 * arc.sweep,
            sweep: (t1 - t0) * arc.sweep,
            ..arc
        }),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    fn ramp(from_z: f64, to_z: f64) -> Move {
        Move {
            line: 1,
            pace: Pace::Feed(100.0),
            path: Edge::line(Point::ZERO, Point::new(10.0, 0.0)),
            from_z,
            to_z,
            spindle: Spindle::Still,
            slack: 0.0,
            arrival: false,
            dwell: 0.0,
        }
    }

    #[test]
    fn a_ramp_is_below_a_limit_for_its_exact_share() {
        assert_eq!(ramp(0.0, -4.0).below(-1.0), Some((0.25, 1.0)));
        assert_eq!(ramp(-4.0, 0.0).below(-1.0), Some((0.0, 0.75)));
        assert_eq!(ramp(0.0, -4.0).below(-4.0), None);
        assert_eq!(ramp(-2.0, -2.0).below(-1.0), Some((0.0, 1.0)));
    }

    #[test]
    fn only_falling_moves_have_a_fall() {
        assert_eq!(ramp(0.0, -10.0).fall(), 45.0);
        assert_eq!(ramp(-10.0, 0.0).fall(), 0.0);
    }
}
