//! A straight ramp under a flat cutter, row by row.
//!
//! Along the path by `s` and across it by `q`, the tip stands at `z(s)`, falling by `m` a mm. The
//! disc leaves at a place the lowest of all Z while it covers that place: where the place is
//! covered to the end, the Z of the end; elsewhere `z(s + √(R² − q²))`. On a row `s` and `q` are
//! linear in X, so the depth is convex between the two. A straight line between two places of it
//! lies above it, never below, and no further than is known in closed form.

use super::chord::{Capsule, disc};
use super::row::Span;
use crate::geometry::SAME;
use kurbo::{Line, Point, Vec2};
use std::f64::consts::FRAC_PI_2;

/// Most pieces that a quarter of the disc is parted in; a ramp that would need more is as good as
/// a plunge, and is only told more coarsely, on the safe side.
const MOST: u32 = 48;

/// A piece of a row under a ramp.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Slope {
    /// The depth, nowhere lower than the true one.
    pub span: Span,
    /// How much lower the true one may be at most, mm.
    pub dip: f64,
}

/// A disc that sweeps down or up along a straight line.
#[derive(Debug, Clone)]
pub(super) struct Ramp {
    capsule: Capsule,
    radius: f64,
    /// The high end, the low end, the direction from the one to the other.
    from: Point,
    to: Point,
    unit: Vec2,
    top: f64,
    bottom: f64,
    /// Fall a mm of the path.
    fall: f64,
    /// Where across the path the depth is taken, from the left to the right.
    places: Vec<f64>,
    /// Most that a dip may be without being taken for a plunge, mm.
    most_dip: f64,
}

impl Ramp {
    /// A disc of `radius` along `line` from `from_z` to `to_z`, whose dips are to be at most `dip`
    /// mm. `None` for a path without length.
    pub(super) fn new(
        line: &Line,
        (from_z, to_z): (f64, f64),
        radius: f64,
        dip: f64,
    ) -> Option<Ramp> {
        let falls = to_z < from_z;
        let (from, to) = if falls { (line.p0, line.p1) } else { (line.p1, line.p0) };
        let length = (to - from).hypot();
        if length < SAME {
            return None;
        }
        let fall = (from_z - to_z).abs() / length;
        Some(Ramp {
            capsule: Capsule::new(line, radius),
            radius,
            from,
            to,
            unit: (to - from) / length,
            top: from_z.max(to_z),
            bottom: from_z.min(to_z),
            fall,
            places: places(radius, fall, dip),
            most_dip: dip,
        })
    }

    /// Where the row `y` lies under it.
    pub(super) fn chord(&self, y: f64) -> Option<(f64, f64)> {
        self.capsule.chord(y)
    }

    /// The depths on the row `y` from left to right, into `slopes`.
    pub(super) fn slopes(&self, y: f64, slopes: &mut Vec<Slope>) {
        slopes.clear();
        let Some((a, b)) = self.chord(y) else { return };
        match disc(self.to, self.radius, y) {
            None => self.part(y, (a, b), slopes),
            Some(flat) => {
                let flat = (flat.0.max(a), flat.1.min(b));
                self.part(y, (a, flat.0), slopes);
                if flat.0 < flat.1 {
                    slopes.push(Slope { span: Span::level(flat, self.bottom), dip: 0.0 });
                }
                self.part(y, (flat.1, b), slopes);
            }
        }
    }

    /// The pieces between `a` and `b`, where the place is left before the end.
    fn part(&self, y: f64, (a, b): (f64, f64), slopes: &mut Vec<Slope>) {
        if b - a <= 0.0 {
            return;
        }
        let up = y - self.from.y;
        let mut before = self.at(a, up);
        let count = self.places.len();
        for index in 0..count {
            // To the right of the path is further along X where it runs up.
            let index = if self.unit.y > 0.0 { index } else { count - 1 - index };
            let Some(q) = self.places.get(index) else { continue };
            let x = self.from.x + (up * self.unit.x - q) / self.unit.y;
            if x >= b - SAME {
                break;
            }
            if x > before.x + SAME {
                let next = self.at(x, up);
                slopes.push(self.slope(before, next));
                before = next;
            }
        }
        slopes.push(self.slope(before, self.at(b, up)));
    }

    fn at(&self, x: f64, up: f64) -> Place {
        let aside = x - self.from.x;
        let s = aside * self.unit.x + up * self.unit.y;
        let q = up * self.unit.x - aside * self.unit.y;
        let w = (self.radius * self.radius - q * q).max(0.0).sqrt();
        let z = (self.top - self.fall * (s + w)).clamp(self.bottom, self.top);
        Place { x, q, w, z }
    }

    fn slope(&self, a: Place, b: Place) -> Slope {
        let width = b.x - a.x;
        if width < SAME {
            let z = a.z.max(b.z);
            let dip = z - self.bottom;
            return Slope { span: Span::level((a.x, b.x), z), dip };
        }
        // The chord of a circle between two places lies below it by R(1 − cos(δ/2)) at most, where
        // its length is ℓ = 2R sin(δ/2); straight down that is more by ℓ over its width across.
        let (across, length) = ((b.q - a.q).abs(), (b.q - a.q).hypot(b.w - a.w));
        let half = (length / 2.0).min(self.radius);
        let sagitta = self.radius - (self.radius * self.radius - half * half).sqrt();
        let dip = if across < LEVEL { 0.0 } else { self.fall * sagitta * length / across };
        if dip > self.most_dip {
            // Told level at its highest; it may be as low as the end.
            let z = a.z.max(b.z);
            return Slope { span: Span::level((a.x, b.x), z), dip: z - self.bottom };
        }
        Slope { span: Span { from: a.x, to: b.x, z: b.z, lean: (b.z - a.z) / width }, dip }
    }
}

/// Across the path, places nearer than this are one: the path is level and the depth even.
const LEVEL: f64 = 1e-12;

#[derive(Debug, Clone, Copy)]
struct Place {
    x: f64,
    q: f64,
    w: f64,
    z: f64,
}

/// Where across the path to take the depth, so that no dip is above `dip`: angles τ on the quarter
/// of the disc at (i/n)^1.5 of it, which part the sagitta about evenly; the greatest is below
/// 0.42 R m n^−1.5 for all n up to [`MOST`].
fn places(radius: f64, fall: f64, dip: f64) -> Vec<f64> {
    let needed = 0.42 * radius * fall / dip;
    let count = (1..MOST).find(|&n| f64::from(n).powf(1.5) >= needed).unwrap_or(MOST);
    let angle = |i: u32| FRAC_PI_2 * (f64::from(i) / f64::from(count)).powf(1.5);
    let right = (1..=count).map(|i| radius * angle(i).cos());
    let mut places: Vec<f64> = right.collect();
    // The last one is the middle itself.
    let left: Vec<f64> = places.iter().rev().skip(1).map(|q| -q).collect();
    places.extend(left);
    places
}

#[cfg(test)]
mod tests;
