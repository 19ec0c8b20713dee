//! The best rectangle around an outline, a little turned.
//!
//! Promised: of all rectangles turned by at most a limit that hold the outline with the margins asked
//! for, the one with the least grown area, with its size rounded up to a step; by enumeration, not by
//! search. Not promised: anything beyond the limit of turning.
//!
//! # Why enumeration finds the best
//!
//! Turned by θ, a rectangle must be as wide as the outline is across: w(θ) = h(θ) + h(θ + 180°), where
//! h is the support function, the furthest that the outline reaches in a direction. A corner p
//! reaches p·u in the direction u; an outward arc reaches c·u + R, from its centre, while u lies in its
//! span. h is the largest of these, so between neighbouring *critical angles*, where another corner
//! or arc takes over or a span ends, h is one of them, and w(θ) = d·cos(θ − φ) + K with K the sum of
//! the radii that take part. The same holds for the height. All critical angles come in closed form,
//! from each pair of corners and arcs.
//!
//! *Rounded up to a step.* The size is then one of a grid. Take the best size W by H: the angles at
//! which the outline fits into it form a closed set, so unless that set is the whole range, and holds
//! zero, it has an end, where w or the height meets W or H exactly, or the range ends. Where a set is
//! a single angle, it is the least of w or of the height: a critical angle or a stationary one. So it
//! is enough to try zero, both ends of the range, all critical and stationary angles, and on each
//! interval the solutions of d·cos(θ − φ) + K = a whole number of steps.
//!
//! *Not rounded.* Where K is zero on an interval, both factors of (w + a)(height + b) have the form
//! cos + constant with a positive value, which is log-concave, and so is their product: its least is
//! at an end of the interval, with an edge flush. With arcs (K above zero) there can be a least inside;
//! the interval is halved until a bound by the second derivative shows that nothing is left in it that
//! is better by a thousandth of a square millimetre.

mod support;

use super::edge::within_half_turn;
use super::tolerance::{AREA, COINCIDENT, FINEST_STEP, ONE_ANGLE, PARALLEL};
use super::{Arc, Edge, MinMax, PerSide, Side, Sided};
use kurbo::{Affine, Point, Rect, Size};
use std::f64::consts::FRAC_PI_4;
use support::{Extent, Support};

/// More steps than any window has: ten metres by the hundredth.
const MOST_STEPS: f64 = 1e6;

/// What is asked of the rectangle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wanted {
    /// Least distance from the outline out to each side of the rectangle, mm.
    pub margin: PerSide<f64>,
    /// Width and height are rounded up to whole numbers of this, mm; zero, or less than a hundredth,
    /// for no rounding.
    pub step: f64,
    /// What the area to be kept small is larger by: width + this width times height + this height.
    pub grown: Size,
    /// Furthest that the rectangle may be turned either way, radians, at most an eighth of a turn.
    pub limit: f64,
}

/// A rectangle around an outline.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Enclosing {
    /// Its centre.
    pub centre: Point,
    /// How far it is turned anticlockwise, radians.
    pub turn: f64,
    /// Width and height.
    pub size: Size,
    /// For each side of the outline, how far its edges lie from that side of the rectangle, mm.
    pub margin: PerSide<MinMax>,
}

impl Enclosing {
    /// Corners, anticlockwise from the lower left.
    pub fn corners(&self) -> [Point; 4] {
        let half = self.size / 2.0;
        let frame = Affine::translate(self.centre.to_vec2()) * Affine::rotate(self.turn);
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)]
            .map(|(x, y)| frame * Point::new(x * half.width, y * half.height))
    }
}

/// The best rectangle around `outline`: least grown area, then least turned; centred between the
/// margins.
///
/// A margin may be negative; a `step`, `grown` or `limit` below zero counts as zero. A size that would
/// not be positive becomes one step, or zero.
pub fn enclosing(outline: &Sided, wanted: &Wanted) -> Enclosing {
    let support = Support::new(outline.outline());
    let limit = wanted.limit.clamp(0.0, FRAC_PI_4);
    let mut best = Best { support: &support, wanted, found: None };
    let mut ends = vec![-limit, 0.0, limit];
    ends.extend(support.critical(limit));
    ends.sort_by(f64::total_cmp);
    ends.dedup_by(|a, b| (*a - *b).abs() < ONE_ANGLE);
    for &end in &ends {
        best.consider(end);
    }
    for pair in ends.windows(2) {
        let [from, to] = *pair else { continue };
        let (wide, high) = support.extents_between(from, to);
        for angle in [wide.stationary(), high.stationary()].into_iter().flatten() {
            best.consider_within(angle, from, to);
        }
        if wanted.step >= FINEST_STEP {
            best.consider_steps(&wide, wanted.margin.left + wanted.margin.right, from, to);
            best.consider_steps(&high, wanted.margin.bottom + wanted.margin.top, from, to);
        } else if wide.round > 0.0 || high.round > 0.0 {
            best.halve([&wide, &high], from, to);
        }
    }
    let turn = best.found.map_or(0.0, |(_, turn)| turn);
    place(outline, &support, wanted, turn)
}

/// The best angle found so far.
struct Best<'a> {
    support: &'a Support,
    wanted: &'a Wanted,
    /// Grown area and angle.
    found: Option<(f64, f64)>,
}

impl Best<'_> {
    fn consider(&mut self, turn: f64) {
        let size = size(self.support.bounds(turn), self.wanted);
        let area = self.area(size);
        let better = self.found.is_none_or(|(least, at)| {
            area < least - AREA || (area <= least + AREA && turn.abs() < at.abs() - PARALLEL)
        });
        if better {
            self.found = Some((area, turn));
        }
    }

    fn area(&self, size: Size) -> f64 {
        (size.width + self.wanted.grown.width.max(0.0))
            * (size.height + self.wanted.grown.height.max(0.0))
    }

    /// Considers `angle`, give or take whole turns, where it lies between.
    fn consider_within(&mut self, angle: f64, from: f64, to: f64) {
        let angle = within_half_turn(angle);
        if (from..=to).contains(&angle) {
            self.consider(angle);
        }
    }

    /// Considers every angle at which `extent` with its margins is a whole number of steps.
    fn consider_steps(&mut self, extent: &Extent, margins: f64, from: f64, to: f64) {
        let step = self.wanted.step;
        let (least, most) = extent.range(from, to);
        let (first, last) = ((least + margins) / step, (most + margins) / step);
        // Beyond whole numbers, or none at all, for margins without end or sense.
        if !(first.abs() < MOST_STEPS && last.abs() < MOST_STEPS) {
            return;
        }
        let mut count = first.ceil();
        while count <= last {
            for angle in extent.angles_at(count * step - margins).into_iter().flatten() {
                self.consider_within(angle, from, to);
            }
            count += 1.0;
        }
    }

    /// Halves the interval until nothing better can be left in it.
    fn halve(&mut self, extents: [&Extent; 2], from: f64, to: f64) {
        let mut open = vec![(from, to)];
        while let Some((from, to)) = open.pop() {
            let (middle, half) = (f64::midpoint(from, to), (to - from) / 2.0);
            self.consider(middle);
            let Some((least, _)) = self.found else { return };
            let bound = self.lower_bound(extents, middle, half);
            if bound < least - AREA && half > PARALLEL {
                open.extend([(middle, to), (from, middle)]);
            }
        }
    }

    /// No grown area within `half` of `middle` is smaller: by Taylor's formula f + f'·x − ½M·x², with
    /// M a bound on the second derivative of the product.
    fn lower_bound(&self, extents: [&Extent; 2], middle: f64, half: f64) -> f64 {
        let margin = &self.wanted.margin;
        let more = [
            margin.left + margin.right + self.wanted.grown.width.max(0.0),
            margin.bottom + margin.top + self.wanted.grown.height.max(0.0),
        ];
        let [wide, high] = extents;
        let [w, h] = [wide.at(middle) + more[0], high.at(middle) + more[1]];
        let [dw, dh] = [wide.slope(middle), high.slope(middle)];
        let [sw, sh] = [wide.reach, high.reach];
        // |(wh)''| ≤ |w''|·h + 2|w'||h'| + w·|h''|, each derivative at most `reach`, and w and h over
        // the interval at most what they are in its middle and half a width's slope.
        let most = sw * (h.abs() + sh * half) + 2.0 * sw * sh + sh * (w.abs() + sw * half);
        w * h - (dw * h + w * dh).abs() * half - most * half * half / 2.0
    }
}

/// Width and height for the outline's bounds in the turned frame.
fn size(bounds: Rect, wanted: &Wanted) -> Size {
    let up = |length: f64| {
        if wanted.step >= FINEST_STEP {
            ((length - COINCIDENT) / wanted.step).ceil().max(1.0) * wanted.step
        } else {
            length.max(0.0)
        }
    };
    let margin = &wanted.margin;
    Size::new(
        up(bounds.width() + margin.left + margin.right),
        up(bounds.height() + margin.bottom + margin.top),
    )
}

fn place(outline: &Sided, support: &Support, wanted: &Wanted, turn: f64) -> Enclosing {
    let bounds = support.bounds(turn);
    let size = size(bounds, wanted);
    let held = wanted.margin.grow(bounds);
    let centre = Point::new(f64::midpoint(held.x0, held.x1), f64::midpoint(held.y0, held.y1));
    let rect = Rect::from_center_size(centre, size);
    let margin = PerSide::from_fn(|side| {
        let edges = outline.edges_on(side).map(|edge| turned(edge, -turn).bounds());
        let all = edges.reduce(|a, b| a.union(b));
        let all = all.unwrap_or(bounds);
        let (least, most) = match side {
            Side::Left => (all.x0 - rect.x0, all.x1 - rect.x0),
            Side::Right => (rect.x1 - all.x1, rect.x1 - all.x0),
            Side::Bottom => (all.y0 - rect.y0, all.y1 - rect.y0),
            Side::Top => (rect.y1 - all.y1, rect.y1 - all.y0),
        };
        MinMax { least, most }
    });
    let centre = Affine::rotate(turn) * centre;
    Enclosing { centre, turn, size, margin }
}

/// `edge` turned about zero by `angle` radians.
fn turned(edge: &Edge, angle: f64) -> Edge {
    let by = Affine::rotate(angle);
    match *edge {
        Edge::Line(line) => Edge::line(by * line.p0, by * line.p1),
        Edge::Arc(arc) => {
            Edge::Arc(Arc { centre: by * arc.centre, start: arc.start + angle, ..arc })
        }
    }
}

#[cfg(test)]
mod tests;
