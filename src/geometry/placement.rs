//! Frames that lie level in each other: shifted, and turned by half a turn or not.

use super::{Edge, Outline};
use kurbo::{Point, Rect, Vec2};

/// Where a thing lies, told by a frame of its place's own.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placement {
    /// What of the thing lies at the place's zero, mm, in the thing's frame.
    pub origin: [f64; 2],
    /// Whether it is turned by half a turn, so that its X and Y run against the place's.
    pub turned: bool,
}

impl Placement {
    /// The thing's own frame.
    pub const IDENTITY: Placement = Placement { origin: [0.0, 0.0], turned: false };

    /// A point of the thing in the place's frame: p − o, or o − p where it is turned.
    pub fn local(&self, at: Point) -> Point {
        let from = at - self.origin();
        if self.turned { (-from.to_vec2()).to_point() } else { from }
    }

    /// An edge of the thing in the place's frame.
    #[must_use]
    pub fn local_edge(&self, edge: &Edge) -> Edge {
        let from = edge.moved(-self.origin());
        if self.turned { from.half_turned() } else { from }
    }

    /// A rectangle of the thing in the place's frame.
    pub fn local_rect(&self, rect: Rect) -> Rect {
        let corners = [Point::new(rect.x0, rect.y0), Point::new(rect.x1, rect.y1)];
        let [a, b] = corners.map(|corner| self.local(corner));
        Rect::from_points(a, b)
    }

    /// An outline of the thing in the place's frame.
    #[must_use]
    pub fn local_outline(&self, outline: &Outline) -> Outline {
        let from = outline.moved(-self.origin());
        if self.turned { from.half_turned() } else { from }
    }

    /// From the place's frame back to the thing's.
    #[must_use]
    pub fn inverse(&self) -> Placement {
        let [x, y] = self.origin;
        let origin = if self.turned { [x, y] } else { [-x, -y] };
        Placement { origin, turned: self.turned }
    }

    /// Whether it is a place at all.
    pub fn is_finite(&self) -> bool {
        self.origin().is_finite()
    }

    fn origin(&self) -> Vec2 {
        let [x, y] = self.origin;
        Vec2::new(x, y)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;

    // By hand: what lies at the zero is the origin, and a turned thing runs the other way from there.
    #[test]
    fn a_thing_lies_where_its_placement_says_and_comes_back() {
        for (turned, by_hand) in [(false, (20.0, -5.0)), (true, (-20.0, 5.0))] {
            let place = Placement { origin: [100.0, 50.0], turned };
            assert_eq!(place.local(Point::new(100.0, 50.0)), Point::ZERO);
            let at = Point::new(120.0, 45.0);
            assert_eq!(place.local(at), by_hand.into());
            assert_eq!(place.inverse().local(place.local(at)), at);
            let arc = Arc { centre: at, radius: 10.0, start: 2.0, sweep: 1.0 };
            let edge = Edge::Arc(arc);
            let own = place.local_edge(&edge);
            for t in [0.0, 0.3, 1.0] {
                assert!((own.at(t) - place.local(edge.at(t))).hypot() < 1e-12);
            }
            let rect = Rect::new(0.0, 10.0, 30.0, 50.0);
            let outline = place.local_outline(&Outline::rectangle(rect).unwrap());
            assert_eq!(outline.bounds(), place.local_rect(rect));
            assert_eq!(place.local_rect(rect).size(), rect.size());
        }
    }
}
