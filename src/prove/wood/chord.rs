//! Where a row lies under a swept cutter: exact intervals along X.

use crate::geometry::{Arc, Edge};
use kurbo::{Line, Point, Vec2};
use std::f64::consts::PI;

/// Sorted, disjoint intervals. Seven hold every case: an annular sector has at most four on a row
/// (two chords, each parted once), and its end discs one each.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Chords {
    list: [(f64, f64); 7],
    count: usize,
}

impl Chords {
    /// The intervals.
    pub(super) fn as_slice(&self) -> &[(f64, f64)] {
        self.list.get(..self.count).unwrap_or_default()
    }

    fn push(&mut self, interval: Option<(f64, f64)>) {
        if let (Some((a, b)), Some(slot)) = (interval, self.list.get_mut(self.count))
            && a < b
        {
            *slot = (a, b);
            self.count += 1;
        }
    }

    /// Sorts the intervals and joins those that touch.
    fn united(mut self) -> Self {
        let Some(list) = self.list.get_mut(..self.count) else { return self };
        list.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let mut united = Chords::default();
        let mut open: Option<(f64, f64)> = None;
        for &mut (a, b) in list {
            match &mut open {
                Some((_, end)) if a <= *end => *end = end.max(b),
                _ => {
                    united.push(open);
                    open = Some((a, b));
                }
            }
        }
        united.push(open);
        united
    }
}

/// The chord of a disc.
pub(in crate::prove) fn disc(centre: Point, radius: f64, y: f64) -> Option<(f64, f64)> {
    let up = y - centre.y;
    let square = radius * radius - up * up;
    (square > 0.0).then(|| {
        let half = square.sqrt();
        (centre.x - half, centre.x + half)
    })
}

/// What two intervals have in common; where that is nothing, its end lies before its beginning.
///
/// Not by `f64::max`, which takes long to ask for numbers that are none: much of a proof is this.
pub(in crate::prove) fn overlap(a: (f64, f64), b: (f64, f64)) -> (f64, f64) {
    (if a.0 > b.0 { a.0 } else { b.0 }, if a.1 < b.1 { a.1 } else { b.1 })
}

/// A disc swept along a straight line, seen from above.
#[derive(Debug, Clone, Copy)]
pub(super) struct Capsule {
    from: Point,
    to: Point,
    radius: f64,
    /// Direction and length of the line.
    unit: Vec2,
    length: f64,
}

impl Capsule {
    /// A disc of `radius` swept along `line`, which may be a point.
    pub(super) fn new(line: &Line, radius: f64) -> Capsule {
        let along = line.p1 - line.p0;
        let length = along.hypot();
        // The lower end first, or that to the left.
        let back = along.y < 0.0 || along.y == 0.0 && along.x < 0.0;
        let (from, to) = if back { (line.p1, line.p0) } else { (line.p0, line.p1) };
        let unit = if length > 0.0 { (to - from) / length } else { Vec2::ZERO };
        Capsule { from, to, radius, unit, length }
    }

    /// Whether every row from `low` up to `high` lies under it alike: an upright one between its ends.
    pub(super) fn is_even(&self, low: f64, high: f64) -> bool {
        self.unit.x == 0.0 && self.from.y <= low && high <= self.to.y
    }

    /// Where the row `y` lies under it: it is convex, so one interval, from the least to the
    /// greatest X of its two discs and the strip between them.
    pub(super) fn chord(&self, y: f64) -> Option<(f64, f64)> {
        let (from, to) = (self.from, self.to);
        if self.unit.x == 0.0 {
            // Upright or a point: between the ends the whole width, else the chord of a disc.
            let nearest = y.clamp(from.y, to.y);
            if y.to_bits() == nearest.to_bits() {
                return Some((from.x - self.radius, from.x + self.radius));
            }
            return disc(Point::new(from.x, nearest), self.radius, y);
        }
        if self.unit.y == 0.0 {
            // Level: half a chord beyond either end.
            let chord = disc(from, self.radius, y);
            return chord.map(|(a, b)| (a, b + (to.x - from.x)));
        }
        let ends = hull(disc(from, self.radius, y), disc(to, self.radius, y));
        let (unit, up) = (self.unit, y - from.y);
        // Along and across the path, both linear in x: s = (x−x0)ux + up·uy, q = up·ux − (x−x0)uy.
        let s = slab(unit.x, up * unit.y - from.x * unit.x, 0.0, self.length);
        let q = slab(-unit.y, up * unit.x + from.x * unit.y, -self.radius, self.radius);
        let strip = overlap(s, q);
        hull(ends, (strip.0 < strip.1).then_some(strip))
    }
}

/// Where `low ≤ a x + b ≤ high`.
fn slab(a: f64, b: f64, low: f64, high: f64) -> (f64, f64) {
    if a == 0.0 {
        let inside = (low..=high).contains(&b);
        return if inside { (f64::NEG_INFINITY, f64::INFINITY) } else { (1.0, 0.0) };
    }
    let (p, q) = ((low - b) / a, (high - b) / a);
    (p.min(q), p.max(q))
}

fn hull(a: Option<(f64, f64)>, b: Option<(f64, f64)>) -> Option<(f64, f64)> {
    match (a, b) {
        (Some(a), Some(b)) => Some((a.0.min(b.0), a.1.max(b.1))),
        (a, b) => a.or(b),
    }
}

/// A disc swept along a path, seen from above.
#[derive(Debug, Clone, Copy)]
pub(super) enum SweptPath {
    /// Along a straight line.
    Straight(Capsule),
    /// Along an arc.
    Round(SweptArc),
}

impl SweptPath {
    /// A disc of `radius` swept along `path`.
    pub(super) fn new(path: &Edge, radius: f64) -> SweptPath {
        match path {
            Edge::Line(line) => SweptPath::Straight(Capsule::new(line, radius)),
            Edge::Arc(arc) => SweptPath::Round(SweptArc::new(arc, radius)),
        }
    }

    /// Where the row `y` lies under it.
    pub(super) fn chords(&self, y: f64) -> Chords {
        match self {
            SweptPath::Round(bow) => bow.chords(y),
            SweptPath::Straight(capsule) => {
                let mut chords = Chords::default();
                chords.push(capsule.chord(y));
                chords
            }
        }
    }
}

/// A disc swept along an arc, seen from above.
#[derive(Debug, Clone, Copy)]
pub(super) struct SweptArc {
    arc: Arc,
    ends: [Point; 2],
    radius: f64,
    /// Sines and cosines of the first and the last ray, anticlockwise.
    rays: [(f64, f64); 2],
}

impl SweptArc {
    /// A disc of `radius` swept along `arc`.
    pub(super) fn new(arc: &Arc, radius: f64) -> SweptArc {
        let (start, end) = (arc.start, arc.start + arc.sweep);
        let rays = [start.min(end).sin_cos(), start.max(end).sin_cos()];
        let ends = [arc.on_circle(start), arc.on_circle(end)];
        SweptArc { arc: *arc, ends, radius, rays }
    }

    /// Where the row `y` lies under it.
    pub(super) fn chords(&self, y: f64) -> Chords {
        let mut chords = Chords::default();
        for end in self.ends {
            chords.push(disc(end, self.radius, y));
        }
        self.sector(y, &mut chords);
        chords.united()
    }

    /// The intervals of the ring that a disc sweeps between the rays through the arc's ends.
    /// Beyond the rays the nearest place of the arc is an end, and its disc covers what is covered
    /// there.
    fn sector(&self, y: f64, chords: &mut Chords) {
        let (arc, radius) = (&self.arc, self.radius);
        let Some(outer) = disc(arc.centre, arc.radius + radius, y) else { return };
        let inner =
            if arc.radius > radius { disc(arc.centre, arc.radius - radius, y) } else { None };
        let ring = match inner {
            Some((a, b)) => [Some((outer.0, a)), Some((b, outer.1))],
            None => [Some(outer), None],
        };
        if arc.sweep.abs() >= 2.0 * PI {
            for interval in ring {
                chords.push(interval);
            }
            return;
        }
        let up = y - arc.centre.y;
        // To the left of the first ray, to the right of the last one.
        let left = half_plane(self.rays[0], up, arc.centre.x, 1.0);
        let right = half_plane(self.rays[1], up, arc.centre.x, -1.0);
        for interval in ring.into_iter().flatten() {
            let after = meet(interval, left);
            if arc.sweep.abs() <= PI {
                chords.push(after.and_then(|part| meet(part, right)));
            } else {
                chords.push(after);
                chords.push(meet(interval, right));
            }
        }
    }
}

/// The x on the row `up` above the centre that lie on one side (`1` left, `−1` right) of the whole
/// line through the centre along a ray: side·(cos·up − sin·(x − cx)) ≥ 0.
fn half_plane((sin, cos): (f64, f64), up: f64, centre: f64, side: f64) -> (f64, f64) {
    slab(-side * sin, side * (cos * up + sin * centre), 0.0, f64::INFINITY)
}

fn meet(a: (f64, f64), b: (f64, f64)) -> Option<(f64, f64)> {
    Some(overlap(a, b)).filter(|both| both.0 < both.1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;
    use std::f64::consts::TAU;

    fn paths() -> impl Strategy<Value = Edge> {
        let near = -20.0..20.0;
        prop_oneof![
            (near.clone(), near.clone(), near.clone(), near.clone())
                .prop_map(|(a, b, c, d)| Edge::line(Point::new(a, b), Point::new(c, d))),
            (near.clone(), near.clone(), near.clone())
                .prop_map(|(a, b, c)| Edge::line(Point::new(a, b), Point::new(c, b))),
            (near.clone(), near.clone())
                .prop_map(|(a, b)| Edge::line(Point::new(a, b), Point::new(a, b))),
            (
                near.clone(),
                near,
                0.5..15.0,
                -7.0..7.0,
                prop_oneof![-TAU..TAU, Just(2.0 * PI), Just(-2.0 * PI), Just(PI)]
            )
                .prop_map(|(x, y, radius, start, sweep)| Edge::Arc(Arc {
                    centre: Point::new(x, y),
                    radius,
                    start,
                    sweep
                })),
        ]
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(2000))]
        // A place on the row is covered exactly where the path is nearer than the radius, by the
        // distance of `geometry`, which knows nothing of chords.
        #[test]
        fn chords_are_the_places_nearer_than_the_radius(path in paths(), radius in 0.5..8.0, y in -30.0..30.0) {
            let chords = SweptPath::new(&path, radius).chords(y);
            let list = chords.as_slice();
            for pair in list.windows(2) {
                prop_assert!(pair[0].1 < pair[1].0);
            }
            for step in 0..400 {
                let x = -45.0 + f64::from(step) * 0.225;
                let distance = path.distance_to(Point::new(x, y));
                if (distance - radius).abs() > 1e-6 {
                    let inside = list.iter().any(|&(a, b)| a <= x && x <= b);
                    prop_assert_eq!(inside, distance < radius, "x {} distance {}", x, distance);
                }
            }
        }
    }
}
