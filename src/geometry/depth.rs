//! How far inside an outline edges come, and the place inside it that is furthest from its edge. Both look first
//! where the most may be found, until a bound shows that no more is left.

use super::prepared::Prepared;
use super::tolerance::{DEPTH, LARGEST_CIRCLE, PATIENCE};
use super::{Edge, Outline};
use kurbo::{Point, Rect, Vec2};
use std::cmp::Ordering;
use std::collections::BinaryHeap;
use std::f64::consts::SQRT_2;

/// What is still to be looked into, with the greatest depth that it can hold.
struct Open<T> {
    what: T,
    most: f64,
    /// The least of equal ones comes first, so that the answer is always the same.
    rank: [f64; 2],
}

impl<T> PartialEq for Open<T> {
    fn eq(&self, other: &Open<T>) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<T> Eq for Open<T> {}

impl<T> PartialOrd for Open<T> {
    fn partial_cmp(&self, other: &Open<T>) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<T> Ord for Open<T> {
    fn cmp(&self, other: &Open<T>) -> Ordering {
        let ranks = other.rank.iter().zip(&self.rank).map(|(theirs, own)| theirs.total_cmp(own));
        ranks.fold(self.most.total_cmp(&other.most), Ordering::then)
    }
}

impl Outline {
    /// The greatest distance from the outline, mm, of any place of `edges` inside it, never above it and
    /// within a thousandth of a micrometre below; zero where they lie outside.
    ///
    /// No place of a stretch is further from the outline than its furthest place is from any one edge of
    /// the outline. Stretches are halved, those that may come deepest first, until that bound shows that
    /// none comes deeper than a place found.
    pub fn depth_of<'a>(&self, edges: impl IntoIterator<Item = &'a Edge>) -> f64 {
        let (mut best, mut number, mut heap) = (0.0, 0.0, BinaryHeap::new());
        let mut hint = 0;
        let mut bounded = |on: Prepared, best: f64| {
            let most = self.depth_bound(&on, best + DEPTH, &mut hint);
            number += 1.0;
            (most > best + DEPTH).then_some(Open { what: on, most, rank: [number, 0.0] })
        };
        for edge in edges {
            let whole = Prepared::new(*edge);
            if !whole.bounds.overlaps(self.bounds()) {
                continue;
            }
            let Some(whole) = bounded(whole, best) else { continue };
            for end in [whole.what.from, whole.what.to] {
                best = self.depth_beyond(end, best).max(best);
            }
            heap.push(whole);
        }
        for _ in 0..PATIENCE {
            let Some(stretch) = heap.pop().filter(|stretch| stretch.most > best + DEPTH) else {
                break;
            };
            let edge = &stretch.what.edge;
            let depth = self.depth_beyond(edge.at(0.5), best);
            if depth < 0.0 && -depth > edge.length() / 2.0 {
                // Too far outside for any of it to come in.
                continue;
            }
            best = best.max(depth);
            for half in [edge.part(0.0, 0.5), edge.part(0.5, 1.0)] {
                heap.extend(bounded(Prepared::new(half), best));
            }
        }
        best
    }

    /// Distance from `point` to the outline, negative outside; of a point less than `beyond` away nothing is
    /// told but that.
    fn depth_beyond(&self, point: Point, beyond: f64) -> f64 {
        let away = self.distance_to(point);
        if away <= beyond || self.contains(point) { away } else { -away }
    }

    /// No place of the stretch lies further from the outline than this, mm; no less than `enough` need be
    /// told. `hint` is the edge that told most the last time.
    fn depth_bound(&self, stretch: &Prepared, enough: f64, hint: &mut usize) -> f64 {
        let middle = stretch.edge.at(0.5);
        let own = self.prepared();
        let mut least = own.get(*hint).map_or(f64::INFINITY, |edge| furthest_from(edge, stretch));
        for (index, edge) in own.iter().enumerate() {
            if least <= enough {
                break;
            }
            if edge.box_distance_squared(middle) > least * least {
                continue;
            }
            let furthest = furthest_from(edge, stretch);
            if furthest < least {
                (least, *hint) = (furthest, index);
            }
        }
        least
    }
}

/// A bound on the distance of any place of `stretch` from `edge`: the exact most where all of the stretch is
/// nearest to the edge's inside, the most from one of its ends where not.
fn furthest_from(edge: &Prepared, stretch: &Prepared) -> f64 {
    let ends = reach_from(stretch, edge.from).min(reach_from(stretch, edge.to));
    match (&edge.edge, &stretch.edge) {
        // The distance from a line is convex along a line.
        (Edge::Line(_), Edge::Line(_)) => {
            ends.min(edge.distance_to(stretch.from).max(edge.distance_to(stretch.to)))
        }
        (Edge::Line(line), Edge::Arc(_)) => {
            let along = line.p1 - line.p0;
            let length = along.hypot();
            let (along, across) = (along / length, Vec2::new(-along.y, along.x) / length);
            let level = reaches(stretch, line.p0, along);
            if level[0] < 0.0 || level[1] > length {
                return ends;
            }
            let [low, high] = reaches(stretch, line.p0, across);
            ends.min(high.max(-low))
        }
        (Edge::Arc(arc), _) => {
            let [start, end] =
                edge.flanks(arc).map(|flank| reaches(stretch, arc.centre, flank)[0] >= 0.0);
            if !(start && end || arc.is_wide() && (start || end)) {
                return ends;
            }
            let (near, far) = (stretch.distance_to(arc.centre), reach_from(stretch, arc.centre));
            ends.min((far - arc.radius).max(arc.radius - near))
        }
    }
}

/// The distance from `point` to the place of the edge furthest from it.
fn reach_from(edge: &Prepared, point: Point) -> f64 {
    let ends = (edge.from - point).hypot().max((edge.to - point).hypot());
    match &edge.edge {
        Edge::Arc(arc) if edge.spans(arc, arc.centre - point) => {
            (arc.centre - point).hypot() + arc.radius
        }
        _ => ends,
    }
}

/// How far the edge reaches from `origin` along `direction`: the least and the most of (p − o)·d.
fn reaches(edge: &Prepared, origin: Point, direction: Vec2) -> [f64; 2] {
    let (a, b) = ((edge.from - origin).dot(direction), (edge.to - origin).dot(direction));
    let (mut least, mut most) = (a.min(b), a.max(b));
    if let Edge::Arc(arc) = &edge.edge {
        let centre = (arc.centre - origin).dot(direction);
        let round = arc.radius * direction.hypot();
        if edge.spans(arc, direction) {
            most = centre + round;
        }
        if edge.spans(arc, -direction) {
            least = centre - round;
        }
    }
    [least, most]
}

impl Outline {
    /// A point inside, whose distance from the outline (given with it, mm) is within 0.01 mm of the
    /// greatest: the centre of the largest circle that fits in.
    ///
    /// Squares are split in four, those that may hold the deepest point first, until none can hold a
    /// point deeper by more than 0.01 mm. In no shape is a point deeper than half the lesser side of its box:
    /// between parallel sides, where many are as deep, the first that is found will do.
    pub fn deepest_inside(&self) -> (Point, f64) {
        *self.known().deepest.get_or_init(|| self.find_deepest())
    }

    fn find_deepest(&self) -> (Point, f64) {
        let bounds = self.bounds();
        let (mut best, mut heap) = ((bounds.center(), f64::NEG_INFINITY), BinaryHeap::new());
        let enough = bounds.width().min(bounds.height()) / 2.0 - LARGEST_CIRCLE;
        let mut look = |middle: Point, half: f64, heap: &mut BinaryHeap<Open<(Point, f64)>>| {
            let depth = self.depth_beyond(middle, f64::NEG_INFINITY);
            if depth > best.1 {
                best = (middle, depth);
            }
            // Depth changes no faster than the distance walked, and the corners are furthest away.
            let most = depth + half * SQRT_2;
            if most > best.1 + LARGEST_CIRCLE {
                heap.push(Open { what: (middle, half), most, rank: [middle.y, middle.x] });
            }
            best.1
        };
        let (first, half) = cover(bounds);
        for middle in first {
            look(middle, half, &mut heap);
        }
        for _ in 0..PATIENCE {
            let Some(Open { what: (centre, half), .. }) = heap.pop() else { break };
            let half = half / 2.0;
            let mut deepest = f64::NEG_INFINITY;
            for (right, up) in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
                let middle = centre + half * Vec2::new(right, up);
                deepest = look(middle, half, &mut heap);
            }
            // The next square holds the most of all: once it cannot do better, none can.
            if deepest >= enough
                || heap.peek().is_none_or(|next| next.most <= deepest + LARGEST_CIRCLE)
            {
                break;
            }
        }
        best
    }
}

/// Middles of squares that cover `bounds`, at most a few dozen, and half their side.
fn cover(bounds: Rect) -> (Vec<Point>, f64) {
    let (wide, high) = (bounds.width(), bounds.height());
    let half = (wide.min(high) / 2.0).max(wide.max(high) / 32.0);
    let places = |from: f64, length: f64| {
        let mut at = vec![from + half];
        while at.len() < 32 && at.last().is_some_and(|last| last + half < from + length) {
            at.extend(at.last().map(|last| last + 2.0 * half));
        }
        at
    };
    let columns = places(bounds.x0, wide);
    let middles = places(bounds.y0, high)
        .into_iter()
        .flat_map(|y| columns.iter().map(move |&x| Point::new(x, y)))
        .collect();
    (middles, half)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, circle};
    use approx::assert_relative_eq;
    use proptest::prelude::*;
    use std::f64::consts::PI;

    // Closed forms: along y = x/3 in a square of 100 mm, y is the least distance until it meets 100 − x at
    // x = 75; on a parallel line it is the same everywhere.
    #[test]
    fn the_deepest_place_of_a_line_is_where_two_sides_are_equally_far() {
        let square = Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 100.0)).unwrap();
        let slanting = Edge::line(Point::ZERO, Point::new(120.0, 40.0));
        assert_relative_eq!(square.depth_of([&slanting]), 25.0, epsilon = DEPTH);
        let level = Edge::line(Point::new(20.0, 7.0), Point::new(60.0, 7.0));
        assert_eq!(square.depth_of([&level]), 7.0);
        let outside = Edge::line(Point::new(120.0, 7.0), Point::new(160.0, 7.0));
        assert_eq!(square.depth_of([&outside]), 0.0);
        assert_relative_eq!(square.depth_of([&level, &slanting]), 25.0, epsilon = DEPTH);
    }

    // Closed forms in a circle of 400 mm: an arc about its centre is as deep everywhere, a chord in its middle.
    #[test]
    fn the_depth_in_a_circle_is_what_the_radius_leaves() {
        let round = circle(800.0).unwrap().outline().clone();
        let centre = round.bounds().center();
        let within = Edge::Arc(Arc { centre, radius: 388.0, start: 1.0, sweep: -5.0 });
        assert_relative_eq!(round.depth_of([&within]), 12.0, epsilon = 1e-9);
        let (left, right) = (Vec2::new(-410.0, 300.0), Vec2::new(420.0, 300.0));
        let chord = Edge::line(centre + left, centre + right);
        assert_relative_eq!(round.depth_of([&chord]), 100.0, epsilon = DEPTH);
    }

    /// Places along an edge looked at first, and thirds taken off the stretch round the deepest of them.
    fn searched(outline: &Outline, edge: &Edge) -> f64 {
        let depth = |t: f64| {
            let at = edge.at(t);
            if outline.contains(at) { outline.distance_to(at) } else { 0.0 }
        };
        let places = (0..=400_u32).map(|n| f64::from(n) / 400.0);
        let (t, mut most) =
            places.map(|t| (t, depth(t))).max_by(|a, b| a.1.total_cmp(&b.1)).unwrap();
        let (mut from, mut to) = ((t - 0.0025).max(0.0), (t + 0.0025).min(1.0));
        for _ in 0..28 {
            let third = (to - from) / 3.0;
            let (at_a, at_b) = (depth(from + third), depth(to - third));
            most = most.max(at_a).max(at_b);
            if at_a < at_b { from += third } else { to -= third }
        }
        most
    }

    proptest! {
        // A search along the edge never finds a deeper place, and one as deep within its step.
        #[test]
        fn the_depth_is_the_deepest_that_a_search_finds(
            bulges in prop::array::uniform6(-0.4..0.4), away in prop::array::uniform6(60_u32..100),
            x in -120.0..120.0, y in -120.0..120.0, r in 5.0..150.0, s in -PI..PI, w in -6.2..6.2,
            straight in any::<bool>(),
        ) {
            let corners: Vec<Point> = (0_u32..6).zip(away).map(|(n, away)| {
                (Vec2::from_angle(f64::from(n) * PI / 3.0) * f64::from(away)).to_point()
            }).collect();
            let next = corners.iter().cycle().skip(1);
            let edges = corners.iter().zip(next).zip(bulges).map(|((&a, &b), bulge)| {
                Arc::from_bulge(a, b, bulge).map_or(Edge::line(a, b), Edge::Arc)
            });
            let shape = Outline::new(edges.collect()).unwrap();
            let edge = if straight {
                Edge::line(Point::new(x, y), Point::new(x + r * w, y + r * s))
            } else {
                Edge::Arc(Arc { centre: Point::new(x, y), radius: r, start: s, sweep: w })
            };
            prop_assume!(edge.length() > 0.1);
            let (found, searched) = (shape.depth_of([&edge]), searched(&shape, &edge));
            prop_assert!(found >= searched - DEPTH, "{} of {}", found, searched);
            prop_assert!(found <= searched + edge.length() / 800.0 + DEPTH, "{} of {}", found, searched);
        }
    }

    #[test]
    fn the_largest_circle_in_plain_shapes_is_known() {
        let strip = Outline::rectangle(Rect::new(0.0, 0.0, 2000.0, 60.0)).unwrap();
        let (at, depth) = strip.deepest_inside();
        assert_relative_eq!(depth, 30.0, epsilon = LARGEST_CIRCLE);
        assert!(strip.contains(at));
        // Right triangle 300-400-500: in-radius (a + b − c)/2 = 100, centre (100, 100).
        let corners = [(0.0, 0.0), (400.0, 0.0), (0.0, 300.0)].map(Point::from);
        let (at, depth) = Outline::polygon(&corners).unwrap().deepest_inside();
        assert_relative_eq!(depth, 100.0, epsilon = LARGEST_CIRCLE);
        assert!((at - Point::new(100.0, 100.0)).hypot() < 0.1);
    }

    // Half circle of radius R: the largest circle has half its radius.
    #[test]
    fn a_half_circle_holds_a_circle_of_half_its_radius() {
        let (right, left) = (Point::new(500.0, 0.0), Point::new(-500.0, 0.0));
        let head = Edge::Arc(Arc::from_bulge(right, left, 1.0).unwrap());
        let shape = Outline::new(vec![Edge::line(left, right), head]).unwrap();
        let (at, depth) = shape.deepest_inside();
        assert_relative_eq!(depth, 250.0, epsilon = LARGEST_CIRCLE);
        assert!((at - Point::new(0.0, 250.0)).hypot() < 5.0);
    }

    #[test]
    fn in_a_hook_the_deepest_point_is_inside_where_the_middle_is_not() {
        let hook =
            [(0.0, 0.0), (300.0, 0.0), (300.0, 30.0), (40.0, 30.0), (40.0, 300.0), (0.0, 300.0)];
        let hook = Outline::polygon(&hook.map(Point::from)).unwrap();
        let (at, depth) = hook.deepest_inside();
        assert!(hook.contains(at));
        assert_relative_eq!(depth, hook.distance_to(at), epsilon = 1e-12);
        // The circle in the corner touches both outer edges and the inner corner (40, 30):
        // (40 − r)² + (30 − r)² = r², so r = 70 − √2400.
        assert_relative_eq!(depth, 70.0 - 2400.0_f64.sqrt(), epsilon = LARGEST_CIRCLE);
    }
}
