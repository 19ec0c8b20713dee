//! Bites that are wider than they may be, added up along the way.

use crate::prove::Setup;
use crate::prove::tolerance::BITE_SHARE;
use crate::prove::wood::Slice;
use kurbo::Point;
use std::collections::VecDeque;

/// Bites that are wider than they may be.
#[derive(Debug, Default)]
pub(super) struct Wide {
    /// Length of way of late along which they are, less that since along which they are not, mm.
    pub(super) length: f64,
    /// The widest of late.
    pub(super) widest: Bite,
    /// The whole way at feed, and how much of it was looked at, mm.
    pub(super) way: f64,
    pub(super) seen: f64,
    /// Bites at places that the next moves may come to, each with the way there.
    pub(super) ahead: VecDeque<(f64, Bite)>,
}

/// What stands across the path at a place.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Bite {
    pub(super) slice: Slice,
    pub(super) at: Point,
}

impl Bite {
    /// Whether it is wider than it may be, and takes more than a wider one may.
    pub(super) fn is_too_wide(&self, setup: &Setup) -> bool {
        self.slice.width > most_width(setup) && self.slice.area > most_area(setup)
    }
}

impl Wide {
    /// Adds a bite that stands for `length` of the way.
    pub(super) fn add(&mut self, bite: Bite, length: f64, setup: &Setup) {
        if !bite.is_too_wide(setup) {
            return self.pass(length);
        }
        if self.length == 0.0 || bite.slice.width > self.widest.slice.width {
            self.widest = bite;
        }
        self.length += length;
    }

    /// Passes a stretch of the way without any.
    pub(super) fn pass(&mut self, length: f64) {
        self.length = (self.length - length).max(0.0);
    }
}

/// Width of a bite that is judged too wide, mm.
pub(super) fn most_width(setup: &Setup) -> f64 {
    setup.widest_bite + BITE_SHARE * setup.cutter_diameter
}

/// Section of a bite that may be of any width, mm².
pub(super) fn most_area(setup: &Setup) -> f64 {
    setup.widest_bite * setup.step_depth
}
