//! How far an outline of lines and arcs reaches in a direction.

use crate::geometry::edge::within_half_turn;
use crate::geometry::{Edge, Outline};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// The corners and outward arcs of an outline that can reach furthest.
#[derive(Debug, Clone)]
pub(super) struct Support {
    features: Vec<Feature>,
}

/// A corner (radius zero, every direction) or an outward arc (the directions of its span).
#[derive(Debug, Clone, Copy)]
struct Feature {
    centre: Point,
    radius: f64,
    /// First direction, radians, and how far round it goes.
    span: (f64, f64),
}

impl Feature {
    /// How far it reaches along `angle`, if at all.
    fn reach(&self, angle: f64) -> Option<f64> {
        let (start, sweep) = self.span;
        ((angle - start).rem_euclid(TAU) <= sweep)
            .then(|| self.centre.to_vec2().dot(Vec2::from_angle(angle)) + self.radius)
    }
}

/// The outline's size in a direction and its opposite, on an interval of angles over which the same
/// corners and arcs bound it: `reach`·cos(θ − `towards`) + `round`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Extent {
    pub(super) reach: f64,
    pub(super) towards: f64,
    /// Sum of the radii of the arcs that take part.
    pub(super) round: f64,
}

impl Extent {
    pub(super) fn at(&self, angle: f64) -> f64 {
        self.reach * (angle - self.towards).cos() + self.round
    }

    pub(super) fn slope(&self, angle: f64) -> f64 {
        -self.reach * (angle - self.towards).sin()
    }

    /// Where it neither grows nor shrinks.
    pub(super) fn stationary(&self) -> [f64; 2] {
        [self.towards, self.towards + PI]
    }

    /// Least and most between two angles at most half a turn apart.
    pub(super) fn range(&self, from: f64, to: f64) -> (f64, f64) {
        let inside =
            self.stationary().map(within_half_turn).into_iter().filter(|a| (from..=to).contains(a));
        let values = inside.chain([from, to]).map(|angle| self.at(angle));
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), v| {
            (least.min(v), most.max(v))
        })
    }

    /// The two angles at which it has this value; none where it never has.
    pub(super) fn angles_at(&self, value: f64) -> Option<[f64; 2]> {
        let share = (value - self.round) / self.reach;
        (share.abs() <= 1.0).then(|| {
            let aside = share.acos();
            [self.towards - aside, self.towards + aside]
        })
    }
}

impl Support {
    pub(super) fn new(outline: &Outline) -> Support {
        let corners = hull(outline.corners().collect());
        let corner = |centre| Feature { centre, radius: 0.0, span: (0.0, TAU) };
        let arcs = outline.edges().iter().filter_map(|edge| match edge {
            Edge::Arc(arc) if arc.sweep > 0.0 => Some(Feature {
                centre: arc.centre,
                radius: arc.radius,
                span: (arc.start, arc.sweep.min(TAU)),
            }),
            _ => None,
        });
        Support { features: corners.into_iter().map(corner).chain(arcs).collect() }
    }

    /// The feature that reaches furthest along `angle`.
    fn furthest(&self, angle: f64) -> Option<(f64, &Feature)> {
        let reaches = self.features.iter().filter_map(|f| Some((f.reach(angle)?, f)));
        reaches.max_by(|(a, _), (b, _)| a.total_cmp(b))
    }

    fn reach(&self, angle: f64) -> f64 {
        self.furthest(angle).map_or(0.0, |(reach, _)| reach)
    }

    /// The outline's bounds in a frame turned by `turn` about zero.
    pub(super) fn bounds(&self, turn: f64) -> Rect {
        Rect::new(
            -self.reach(turn + PI),
            -self.reach(turn - FRAC_PI_2),
            self.reach(turn),
            self.reach(turn + FRAC_PI_2),
        )
    }

    /// Width and height over an interval without a critical angle inside.
    pub(super) fn extents_between(&self, from: f64, to: f64) -> (Extent, Extent) {
        let middle = f64::midpoint(from, to);
        (self.extent(middle, 0.0), self.extent(middle, FRAC_PI_2))
    }

    /// The extent in the direction `middle` + `ahead` and its opposite, as a function of the first.
    fn extent(&self, middle: f64, ahead: f64) -> Extent {
        let angle = middle + ahead;
        let far = self.furthest(angle).map(|(_, feature)| *feature);
        let near = self.furthest(angle + PI).map(|(_, feature)| *feature);
        let (Some(far), Some(near)) = (far, near) else {
            return Extent { reach: 0.0, towards: 0.0, round: 0.0 };
        };
        let between = far.centre - near.centre;
        Extent {
            reach: between.hypot(),
            towards: between.atan2() - ahead,
            round: far.radius + near.radius,
        }
    }

    /// Every turn within ±`limit` at which another corner or arc may take over in one of the four
    /// directions of a turned frame. Some of them change nothing.
    pub(super) fn critical(&self, limit: f64) -> Vec<f64> {
        let mut turns = Vec::new();
        let mut note = |direction: f64| {
            for quarter in 0..4 {
                let turn = within_half_turn(direction - f64::from(quarter) * FRAC_PI_2);
                if turn.abs() <= limit {
                    turns.push(turn);
                }
            }
        };
        for (index, one) in self.features.iter().enumerate() {
            if one.radius > 0.0 {
                note(one.span.0);
                note(one.span.0 + one.span.1);
            }
            // Two features reach equally far where (c − c')·u = r' − r.
            for other in self.features.iter().skip(index + 1) {
                let between = one.centre - other.centre;
                let share = (other.radius - one.radius) / between.hypot();
                if share.abs() <= 1.0 {
                    let aside = share.acos();
                    note(between.atan2() + aside);
                    note(between.atan2() - aside);
                }
            }
        }
        turns
    }
}

/// The corners of the convex hull, anticlockwise (monotone chain: lower part, then upper).
fn hull(mut points: Vec<Point>) -> Vec<Point> {
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
    points.dedup();
    let mut whole = chain(points.iter().copied());
    let upper = chain(points.iter().rev().copied());
    whole.pop();
    whole.extend(upper);
    if whole.len() > 1 {
        whole.pop();
    }
    whole
}

/// The points between which the chain only turns to the left.
fn chain(points: impl Iterator<Item = Point>) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::new();
    for point in points {
        while let [.., a, b] = *kept.as_slice()
            && (b - a).cross(point - b) <= 0.0
        {
            kept.pop();
        }
        kept.push(point);
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use approx::assert_relative_eq;

    #[test]
    fn the_hull_leaves_out_what_lies_within() {
        let points = [(0.0, 0.0), (4.0, 0.0), (2.0, 1.0), (4.0, 3.0), (2.0, 0.0), (0.0, 3.0)];
        let hull = hull(points.map(Point::from).to_vec());
        assert_eq!(hull, [(0.0, 0.0), (4.0, 0.0), (4.0, 3.0), (0.0, 3.0)].map(Point::from));
    }

    // Closed form: a half circle on a square reaches its centre and radius in each of its directions.
    #[test]
    fn an_arc_reaches_its_radius_within_its_span_only() {
        let head = Arc { centre: Point::new(0.0, 800.0), radius: 400.0, start: 0.0, sweep: PI };
        let outline = Outline::new(vec![
            Edge::line(Point::new(-400.0, 0.0), Point::new(400.0, 0.0)),
            Edge::line(Point::new(400.0, 0.0), Point::new(400.0, 800.0)),
            Edge::Arc(head),
            Edge::line(Point::new(-400.0, 800.0), Point::new(-400.0, 0.0)),
        ])
        .unwrap();
        let support = Support::new(&outline);
        assert_relative_eq!(support.reach(FRAC_PI_2), 1200.0, epsilon = 1e-9);
        assert_relative_eq!(support.reach(0.3), 400.0 + 800.0 * 0.3_f64.sin(), epsilon = 1e-9);
        assert_relative_eq!(support.reach(-0.3), 400.0 * 0.3_f64.cos(), epsilon = 1e-9);
        let bounds = support.bounds(0.0);
        assert_relative_eq!(bounds.height(), 1200.0, epsilon = 1e-9);
        // Turned a little to the left the arc bounds above and on the right, a corner elsewhere.
        let (wide, _) = support.extents_between(0.01, 0.02);
        assert_eq!(wide.round, 400.0);
        assert_relative_eq!(wide.at(0.015), support.bounds(0.015).width(), epsilon = 1e-9);
    }
}
