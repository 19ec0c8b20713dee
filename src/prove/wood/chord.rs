//! Where a row lies under a swept cutter: exact intervals along X.

use crate::geometry::{Arc, Edge};
use kurbo::{Line, Point};
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

/// Where the row `y` lies under a disc of `radius` swept along `path`.
pub(super) fn chords(path: &Edge, radius: f64, y: f64) -> Chords {
    let mut chords = Chords::default();
    match path {
        Edge::Line(line) => {
            chords.push(capsule(line, radius, y));
            chords
        }
        Edge::Arc(arc) => {
            chords.push(disc(path.start(), radius, y));
            chords.push(disc(path.end(), radius, y));
            sector(arc, radius, y, &mut chords);
            chords.united()
        }
    }
}

/// The chord of a disc.
fn disc(centre: Point, radius: f64, y: f64) -> Option<(f64, f64)> {
    let up = y - centre.y;
    let square = radius * radius - up * up;
    (square > 0.0).then(|| {
        let half = square.sqrt();
        (centre.x - half, centre.x + half)
    })
}

/// The chord of a disc swept along a straight line: convex, so one interval from the least to the
/// greatest X of its two discs and the strip between them.
fn capsule(line: &Line, radius: f64, y: f64) -> Option<(f64, f64)> {
    let along = line.p1 - line.p0;
    if along.y == 0.0 {
        // Level or pointlike: half a chord beyond either end.
        let (left, right) = (line.p0.x.min(line.p1.x), line.p0.x.max(line.p1.x));
        return disc(Point::new(left, line.p0.y), radius, y).map(|(a, b)| (a, b + (right - left)));
    }
    if along.x == 0.0 {
        // Upright: the chord of the nearest disc.
        let (low, high) = (line.p0.y.min(line.p1.y), line.p0.y.max(line.p1.y));
        return disc(Point::new(line.p0.x, y.clamp(low, high)), radius, y);
    }
    let ends = hull(disc(line.p0, radius, y), disc(line.p1, radius, y));
    let length = along.hypot();
    let unit = along / length;
    let up = y - line.p0.y;
    // Along and across the path, both linear in x: s = (x−x0)ux + up·uy, q = up·ux − (x−x0)uy.
    let s = slab(unit.x, up * unit.y - line.p0.x * unit.x, 0.0, length);
    let q = slab(-unit.y, up * unit.x + line.p0.x * unit.y, -radius, radius);
    let strip = (s.0.max(q.0), s.1.min(q.1));
    hull(ends, (strip.0 < strip.1).then_some(strip))
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

/// The intervals of the ring that a disc sweeps between the rays through an arc's ends. Beyond the
/// rays the nearest place of the arc is an end, and its disc covers what is covered there.
fn sector(arc: &Arc, radius: f64, y: f64, chords: &mut Chords) {
    let Some(outer) = disc(arc.centre, arc.radius + radius, y) else { return };
    let inner = if arc.radius > radius { disc(arc.centre, arc.radius - radius, y) } else { None };
    let ring = match inner {
        Some((a, b)) => [Some((outer.0, a)), Some((b, outer.1))],
        None => [Some(outer), None],
    };
    let up = y - arc.centre.y;
    let (first, last) = if arc.sweep >= 0.0 {
        (arc.start, arc.start + arc.sweep)
    } else {
        (arc.start + arc.sweep, arc.start)
    };
    if last - first >= 2.0 * PI {
        for interval in ring {
            chords.push(interval);
        }
        return;
    }
    // To the left of the first ray, to the right of the last one.
    let left = half_plane(first, up, arc.centre.x, 1.0);
    let right = half_plane(last, up, arc.centre.x, -1.0);
    for interval in ring.into_iter().flatten() {
        let after = meet(interval, left);
        let before = meet(interval, right);
        if last - first <= PI {
            chords.push(after.and_then(|part| meet(part, right)));
        } else {
            chords.push(after);
            chords.push(before);
        }
    }
}

/// The x on the row `up` above the centre that lie on one side (`1` left, `−1` right) of the whole
/// line through the centre at `angle`: side·(cos·up − sin·(x − cx)) ≥ 0.
fn half_plane(angle: f64, up: f64, centre: f64, side: f64) -> (f64, f64) {
    let (sin, cos) = angle.sin_cos();
    slab(-side * sin, side * (cos * up + sin * centre), 0.0, f64::INFINITY)
}

fn meet(a: (f64, f64), b: (f64, f64)) -> Option<(f64, f64)> {
    let both = (a.0.max(b.0), a.1.min(b.1));
    (both.0 < both.1).then_some(both)
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
            let chords = chords(&path, radius, y);
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
