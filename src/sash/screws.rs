//! Where hardware screws stand.

use super::Sash;
use crate::geometry::{Edge, Side, Sided};
use crate::survey::{Screw, ScrewFrom};
use kurbo::{Point, Rect, Vec2};

impl Sash {
    /// The axis of a screw from the outer edge, or the place of one from the room face as an axis without
    /// length. None where the member has no edge at that height.
    pub fn screw_axis(&self, screw: &Screw) -> Option<[Point; 2]> {
        let side = screw.member;
        let inwards = match side {
            Side::Left => Vec2::new(1.0, 0.0),
            Side::Right => Vec2::new(-1.0, 0.0),
            Side::Bottom => Vec2::new(0.0, 1.0),
            Side::Top => Vec2::new(0.0, -1.0),
        };
        match screw.from {
            ScrewFrom::OuterEdge { .. } => {
                let from = on_member(&self.outer_outline, self.outer, side, screw.at)?;
                Some([from, from + screw.length * inwards])
            }
            ScrewFrom::RoomFace { from_sight } => {
                let from = on_member(&self.outline, self.sight, side, screw.at)?;
                Some([from - from_sight * inwards; 2])
            }
        }
    }
}

/// The outermost point of `outline` on that side at `at` along it.
fn on_member(outline: &Sided, bounds: Rect, side: Side, at: f64) -> Option<Point> {
    if outline.is_rectangle() {
        return Some(match side {
            Side::Left => Point::new(bounds.x0, at),
            Side::Right => Point::new(bounds.x1, at),
            Side::Bottom => Point::new(at, bounds.y0),
            Side::Top => Point::new(at, bounds.y1),
        });
    }
    let across = bounds.inflate(1.0, 1.0);
    let line = if side.is_upright() {
        Edge::line(Point::new(across.x0, at), Point::new(across.x1, at))
    } else {
        Edge::line(Point::new(at, across.y0), Point::new(at, across.y1))
    };
    let own = outline.edges().filter(|(_, own)| *own == side);
    let met = own.flat_map(|(edge, _)| edge.crossings(&line));
    let outwards = |p: &Point| match side {
        Side::Left => -p.x,
        Side::Right => p.x,
        Side::Bottom => -p.y,
        Side::Top => p.y,
    };
    met.max_by(|a, b| outwards(a).total_cmp(&outwards(b)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Head, Height, arched};
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    // By hand: an arch of 850 mm radius about (400, 150) under a head 60 wide: at x = 200 the outer edge lies
    // at 150 + √(910² − 200²).
    #[test]
    fn a_screw_in_a_curved_head_starts_at_its_edge() {
        let mut survey = casement();
        survey.bars.clear();
        survey.members.top.width = 60.0;
        survey.outline =
            Some(arched(800.0, Height::Springing(900.0), Head::Segmental { rise: 100.0 }).unwrap());
        survey.sight = kurbo::Size::new(800.0, 1000.0);
        let sash = Sash::new(&survey).unwrap();
        let screw = Screw {
            member: Side::Top,
            from: ScrewFrom::OuterEdge { from_face: 20.0 },
            at: 200.0,
            length: 35.0,
        };
        let [from, to] = sash.screw_axis(&screw).unwrap();
        assert_relative_eq!(
            from.y,
            150.0 + (910.0_f64.powi(2) - 200.0_f64.powi(2)).sqrt(),
            epsilon = 1e-6
        );
        assert_relative_eq!(from.y - to.y, 35.0, epsilon = 1e-9);
        assert_eq!(sash.screw_axis(&Screw { at: 2000.0, ..screw }), None);
    }
}
