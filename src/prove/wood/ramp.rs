//! A straight ramp under a flat cutter, row by row.
//!
//! Along the path by `s` and across it by `q`, the tip stands at `z(s)`, falling by `m` a mm. The
//! disc leaves at a place the lowest of all Z while it covers that place: where the place is
//! covered to the end, the Z of the end; elsewhere `z(s + √(R² − q²))`. On a row `s` and `q` are
//! linear in X, so the depth is convex between the two. A straight line between two places of it
//! lies above it, never below, and no further than is known in closed form.

use super::chord::{Capsule, disc};
use super::row::Span;
use crate::geometry::COINCIDENT;
use crate::prove::tolerance::{MOST_RAMP_PIECES, PARALLEL};
use kurbo::{Line, Point, Vec2};
use std::f64::consts::FRAC_PI_2;

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
        if length < COINCIDENT {
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
            if x >= b - COINCIDENT {
                break;
            }
            if x > before.x + COINCIDENT {
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
        if width < COINCIDENT {
            let z = a.z.max(b.z);
            let dip = z - self.bottom;
            return Slope { span: Span::level((a.x, b.x), z), dip };
        }
        // The chord of a circle between two places lies below it by R(1 − cos(δ/2)) at most, where
        // its length is ℓ = 2R sin(δ/2); straight down that is more by ℓ over its width across.
        let (across, length) = ((b.q - a.q).abs(), (b.q - a.q).hypot(b.w - a.w));
        let half = (length / 2.0).min(self.radius);
        let sagitta = self.radius - (self.radius * self.radius - half * half).sqrt();
        let dip = if across < PARALLEL { 0.0 } else { self.fall * sagitta * length / across };
        if dip > self.most_dip {
            // Level at its highest; it may be as low as the end.
            let z = a.z.max(b.z);
            return Slope { span: Span::level((a.x, b.x), z), dip: z - self.bottom };
        }
        Slope { span: Span { from: a.x, to: b.x, z: b.z, lean: (b.z - a.z) / width }, dip }
    }
}

#[derive(Debug, Clone, Copy)]
struct Place {
    x: f64,
    q: f64,
    w: f64,
    z: f64,
}

/// Where across the path to take the depth, so that no dip is above `dip`: angles τ on the quarter
/// of the disc at (i/n)^1.5 of it, which part the sagitta about evenly; the greatest is below
/// 0.42 R m n^−1.5 for all n up to [`MOST_RAMP_PIECES`].
fn places(radius: f64, fall: f64, dip: f64) -> Vec<f64> {
    let needed = 0.42 * radius * fall / dip;
    let count = (1..MOST_RAMP_PIECES)
        .find(|&n| f64::from(n).powf(1.5) >= needed)
        .unwrap_or(MOST_RAMP_PIECES);
    let angle = |i: u32| FRAC_PI_2 * (f64::from(i) / f64::from(count)).powf(1.5);
    let right = (1..=count).map(|i| radius * angle(i).cos());
    let mut places: Vec<f64> = right.collect();
    // The last one is the middle itself.
    let left: Vec<f64> = places.iter().rev().skip(1).map(|q| -q).collect();
    places.extend(left);
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Edge;
    use proptest::prelude::*;

    /// The lowest Z of the discs along the ramp that cover `point`, by the quadratic of the two times
    /// when its rim passes there.
    fn lowest(line: &Line, (from_z, to_z): (f64, f64), radius: f64, point: Point) -> Option<f64> {
        let along = line.p1 - line.p0;
        let back = line.p0 - point;
        let (a, b, c) = (along.hypot2(), back.dot(along), back.hypot2() - radius * radius);
        let root = b * b - a * c;
        if root < 0.0 {
            return None;
        }
        let (first, last) = ((-b - root.sqrt()) / a, (-b + root.sqrt()) / a);
        let (first, last) = (first.max(0.0), last.min(1.0));
        let z = |t: f64| from_z + t * (to_z - from_z);
        (first <= last).then(|| z(first).min(z(last)))
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(1000))]
        #[test]
        fn slopes_hold_the_true_depth_between_them(
            x0 in -20.0..20.0, y0 in -20.0..20.0, dx in -40.0..40.0,
            dy in prop_oneof![Just(0.0), -1e-3..1e-3, -40.0..40.0],
            from_z in -20.0..0.0, drop in prop_oneof![-20.0..20.0, -1.0..1.0],
            radius in 0.5..8.0, share in 0.0..1.0,
        ) {
            let line = Line::new((x0, y0), (x0 + dx, y0 + dy));
            let ends = (from_z, from_z + drop);
            let Some(ramp) = Ramp::new(&line, ends, radius, 0.02) else { return Ok(()) };
            let bounds = Edge::Line(line).bounds().inflate(radius, radius);
            let y = bounds.y0 + share * bounds.height();
            let mut slopes = Vec::new();
            ramp.slopes(y, &mut slopes);
            for pair in slopes.windows(2) {
                prop_assert!((pair[0].span.to - pair[1].span.from).abs() < 1e-9);
            }
            let low = ends.0.min(ends.1);
            for slope in &slopes {
                for part in [0.01, 0.2, 0.5, 0.7, 0.99] {
                    let x = slope.span.from + part * (slope.span.to - slope.span.from);
                    let z = slope.span.z + slope.span.lean * (x - slope.span.to);
                    let Some(exact) = lowest(&line, ends, radius, Point::new(x, y)) else { continue };
                    prop_assert!(z >= exact - 1e-6, "{} above {}", exact, z);
                    prop_assert!((z - slope.dip).max(low) <= exact + 1e-6, "{} {:?}", exact, slope);
                }
            }
            // And nothing is forgotten.
            for i in 0..200 {
                let x = bounds.x0 + f64::from(i) / 200.0 * bounds.width();
                let inside = slopes.iter().any(|s| s.span.from <= x && x <= s.span.to);
                let distance = Edge::Line(line).distance_to(Point::new(x, y));
                if (distance - radius).abs() > 1e-6 {
                    prop_assert_eq!(inside, distance < radius);
                }
            }
        }

        // Gentle ramps are exact within the dip asked for, whatever their direction.
        #[test]
        fn no_dip_of_a_gentle_ramp_is_more_than_asked(
            angle in -4.0..4.0, fall in 0.0..0.5, radius in 0.5..8.0, share in 0.0..1.0,
        ) {
            let to = 30.0 * Vec2::from_angle(angle);
            let line = Line::new(Point::ZERO, to.to_point());
            let Some(ramp) = Ramp::new(&line, (0.0, -30.0 * fall), radius, 0.02) else { return Ok(()) };
            let places = places(radius, fall, 0.02);
            let rim = |q: f64| (radius * radius - q * q).max(0.0).sqrt();
            let rims = [radius].into_iter().chain(places).chain([-radius]);
            let rims: Vec<_> = rims.map(|q| Place { x: -q, q, w: rim(q), z: 0.0 }).collect();
            for pair in rims.windows(2) {
                prop_assert!(pair[1].q <= pair[0].q);
                prop_assert!(ramp.slope(pair[0], pair[1]).dip <= 0.0201, "{:?}", pair);
            }
            let bounds = Edge::Line(line).bounds().inflate(0.0, radius);
            let mut slopes = Vec::new();
            ramp.slopes(bounds.y0 + share * bounds.height(), &mut slopes);
            prop_assert!(slopes.iter().all(|slope| slope.dip <= 0.0201 || slope.span.to - slope.span.from < 1e-3));
        }
    }
}
