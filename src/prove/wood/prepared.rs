//! A solid seen from above, for exact distances to the cutter's path.

use super::shape::{MonotoneEdge, monotone_edges};
use crate::geometry::{Edge, distance_between};
use crate::sash::Solid;
use kurbo::{Point, Rect};

/// A solid with what makes distances to it quick.
#[derive(Debug, Clone)]
pub(in crate::prove) struct PreparedSolid<'a> {
    /// The wood.
    pub solid: &'a Solid,
    bounds: Rect,
    edges: Vec<(Edge, Rect)>,
    monotone_edges: Vec<MonotoneEdge>,
}

impl<'a> PreparedSolid<'a> {
    /// Makes `solid` ready.
    pub(in crate::prove) fn new(solid: &'a Solid) -> Self {
        let edges = solid.region.edges().map(|edge| (*edge, edge.bounds())).collect();
        let bounds = solid.region.outline.bounds();
        PreparedSolid { solid, bounds, edges, monotone_edges: monotone_edges(&solid.region) }
    }

    /// Whether what lies in `rect` may be nearer than that, mm.
    pub(in crate::prove) fn may_be_within(&self, within: f64, rect: Rect) -> bool {
        gap(rect, self.bounds) < within
    }

    /// Whether `point` lies inside the region; on its boundary either answer may come.
    pub(in crate::prove) fn contains(&self, point: Point) -> bool {
        let beyond = |edge: &&MonotoneEdge| edge.meets(point.y) && edge.x_at(point.y) > point.x;
        self.bounds.contains(point) && self.monotone_edges.iter().filter(beyond).count() % 2 == 1
    }

    /// Least distance from `path`, whose bounds are `around`, to the region: exact where it is
    /// below `cutoff`, else `cutoff`. Zero where the path enters the region.
    pub(in crate::prove) fn distance(&self, path: &Edge, around: Rect, cutoff: f64) -> f64 {
        if gap(around, self.bounds) >= cutoff {
            return cutoff;
        }
        if self.contains(path.start()) {
            return 0.0;
        }
        let mut least = cutoff;
        for (edge, bounds) in &self.edges {
            if gap(around, *bounds) < least {
                least = least.min(distance_between(edge, path));
            }
        }
        least
    }

    /// Least distance from anywhere in `rect` to the region, exact where it is below `cutoff`, else `cutoff`. Zero
    /// where the two meet.
    pub(in crate::prove) fn distance_to_rect(&self, rect: Rect, cutoff: f64) -> f64 {
        if gap(rect, self.bounds) >= cutoff {
            return cutoff;
        }
        // Neither holds the other unless it holds its corners too.
        if self.edges.iter().any(|(edge, _)| rect.contains(edge.start())) {
            return 0.0;
        }
        let corner = |x, y| Point::new(x, y);
        let corners = [
            corner(rect.x0, rect.y0),
            corner(rect.x1, rect.y0),
            corner(rect.x1, rect.y1),
            corner(rect.x0, rect.y1),
        ];
        let next = corners.iter().cycle().skip(1);
        let sides = corners.iter().zip(next).map(|(a, b)| Edge::line(*a, *b));
        sides.map(|side| self.distance(&side, side.bounds(), cutoff)).fold(cutoff, f64::min)
    }

    /// Distance from `point` to the region; zero inside.
    pub(in crate::prove) fn distance_to_point(&self, point: Point) -> f64 {
        if self.contains(point) {
            return 0.0;
        }
        self.edges.iter().map(|(edge, _)| edge.distance_to(point)).fold(f64::INFINITY, f64::min)
    }
}

/// A lower bound of the distance between what two rectangles hold.
fn gap(a: Rect, b: Rect) -> f64 {
    let x = (b.x0 - a.x1).max(a.x0 - b.x1).max(0.0);
    let y = (b.y0 - a.y1).max(a.y0 - b.y1).max(0.0);
    // The larger of the two is a bound without a root.
    x.max(y)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, Outline, Region};
    use proptest::prelude::*;

    fn frame() -> Solid {
        let corner = Arc {
            centre: Point::new(60.0, 60.0),
            radius: 20.0,
            start: 0.0,
            sweep: std::f64::consts::FRAC_PI_2,
        };
        let outline = Outline::new(vec![
            Edge::line(Point::new(0.0, 0.0), Point::new(80.0, 0.0)),
            Edge::line(Point::new(80.0, 0.0), Point::new(80.0, 60.0)),
            Edge::Arc(corner),
            Edge::line(Point::new(60.0, 80.0), Point::new(0.0, 80.0)),
            Edge::line(Point::new(0.0, 80.0), Point::new(0.0, 0.0)),
        ])
        .unwrap();
        let hole = Outline::rectangle(Rect::new(20.0, 15.0, 55.0, 60.0)).unwrap();
        let region = Region { outline, holes: vec![hole] };
        Solid { name: crate::language::Text::name("frame"), region, top: 0.0, bottom: -45.0 }
    }

    // By hand: the frame spans 0 to 80 with a hole of 20 to 55 by 15 to 60.
    #[test]
    fn a_rectangle_is_as_far_as_its_nearest_place() {
        let (solid, far) = (frame(), 100.0);
        let solid = PreparedSolid::new(&solid);
        let distance = |x0, y0, x1, y1| solid.distance_to_rect(Rect::new(x0, y0, x1, y1), far);
        assert_eq!(distance(-30.0, 0.0, -10.0, 50.0), 10.0);
        assert_eq!(distance(25.0, 30.0, 50.0, 40.0), 5.0);
        assert_eq!(distance(-10.0, -10.0, 90.0, 90.0), 0.0);
        assert_eq!(distance(5.0, 5.0, 7.0, 7.0), 0.0);
        assert_eq!(distance(30.0, 30.0, 60.0, 40.0), 0.0);
        assert_eq!(distance(500.0, 0.0, 600.0, 10.0), far);
    }

    proptest! {
        // The quick distance and the plain one of `geometry` are the same.
        #[test]
        fn quick_distance_is_the_plain_one(
            x in -40.0..120.0, y in -40.0..120.0, dx in -30.0..30.0, dy in -30.0..30.0,
            sweep in -6.0..6.0, bent: bool,
        ) {
            let solid = frame();
            let from = Point::new(x, y);
            let path = if bent {
                Edge::Arc(Arc { centre: from, radius: f64::max(1.0, f64::abs(dx)), start: dy, sweep })
            } else {
                Edge::line(from, Point::new(x + dx, y + dy))
            };
            let plain = solid.region.distance_to(&path);
            let quick = PreparedSolid::new(&solid).distance(&path, path.bounds(), 1000.0);
            prop_assert!((plain - quick).abs() < 1e-9, "{plain} {quick}");
            let near = PreparedSolid::new(&solid).distance(&path, path.bounds(), 5.0);
            prop_assert!((plain.min(5.0) - near).abs() < 1e-9);
        }
    }
}
