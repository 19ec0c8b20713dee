//! Where metal and hardware screws stand, as solids that a cutter would meet.

use super::{Sash, Solid};
use crate::geometry::{Arc, Edge, Outline, Region, ShapeError, Side, Sided};
use crate::language::Text;
use crate::survey::{Metal, Screw, ScrewFrom};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::PI;

/// Half the thread of a hardware screw, mm: 5 mm screws are the thickest usual in a sash (common
/// practice).
pub const THREAD_RADIUS: f64 = 2.5;
/// Metal that was noted without a size is at least this large, mm.
const LEAST_METAL: f64 = 0.1;

impl Sash {
    /// Every piece of metal of the survey, in its order, drawn or not. How far down it reaches is not known:
    /// it is taken to reach through.
    pub(super) fn metal_solids(&self) -> Result<Vec<Solid>, ShapeError> {
        let solid = |metal: &Metal| {
            let outline = disc(metal.at, metal.radius.max(LEAST_METAL))?;
            Ok(self.down_from(metal.name.text(), outline, -metal.from_face))
        };
        self.measured.metal.iter().map(solid).collect()
    }

    /// Every hardware screw of the survey, in its order, drawn or not, with the end of its shank square.
    pub(super) fn screw_solids(&self) -> Result<Vec<Solid>, ShapeError> {
        let solid = |screw: &Screw| {
            let member = self.measured.members.get(screw.member);
            let name = format!("screw in the {}", self.measured.kind.member_name(screw.member));
            let [from, to] =
                self.screw_axis(screw).unwrap_or_else(|| self.beyond_its_member(screw));
            let half = THREAD_RADIUS;
            let (outline, top) = match screw.from {
                ScrewFrom::OuterEdge { from_face } => {
                    let aside = if screw.member.is_upright() {
                        Vec2::new(0.0, half)
                    } else {
                        Vec2::new(half, 0.0)
                    };
                    let shank = Rect::from_points(from - aside, to + aside);
                    (Outline::rectangle(shank)?, half - from_face)
                }
                ScrewFrom::RoomFace { .. } => (disc(from, half)?, screw.length - member.thickness),
            };
            Ok(self.down_from(Text::Name(name), outline, top))
        };
        self.measured.screws.iter().map(solid).collect()
    }

    /// From `top` down through the sash.
    fn down_from(&self, name: Text, outline: Outline, top: f64) -> Solid {
        let room_face = -self.measured.thickness().most;
        Solid { name, region: Region::solid(outline), top, bottom: room_face.min(top) - 1.0 }
    }

    /// The edges that the place of a screw counts from, outer or sight edges, and the rectangle around them.
    fn screw_edges(&self, screw: &Screw) -> (&Sided, Rect) {
        match screw.from {
            ScrewFrom::OuterEdge { .. } => (&self.outer_outline, self.outer),
            ScrewFrom::RoomFace { .. } => (&self.outline, self.sight),
        }
    }

    /// The axis of a screw that is told to stand where its member has no edge: as if that ran on straight.
    fn beyond_its_member(&self, screw: &Screw) -> [Point; 2] {
        let (_, bounds) = self.screw_edges(screw);
        axis(screw, screw.member.point_of(bounds, screw.at))
    }

    /// The axis of a screw from the outer edge, or the place of one from the room face as an axis without
    /// length. None where the member has no edge at that height.
    pub fn screw_axis(&self, screw: &Screw) -> Option<[Point; 2]> {
        let (outline, bounds) = self.screw_edges(screw);
        Some(axis(screw, on_member(outline, bounds, screw.member, screw.at)?))
    }
}

/// The axis of a screw whose place counts from `from`.
fn axis(screw: &Screw, from: Point) -> [Point; 2] {
    let inwards = screw.member.inwards();
    match screw.from {
        ScrewFrom::OuterEdge { .. } => [from, from + screw.length * inwards],
        ScrewFrom::RoomFace { from_sight } => [from - from_sight * inwards; 2],
    }
}

fn disc(centre: Point, radius: f64) -> Result<Outline, ShapeError> {
    let half = |start| Edge::Arc(Arc { centre, radius, start, sweep: PI });
    Ok(Outline::new(vec![half(0.0), half(PI)])?)
}

/// The outermost point of `outline` on that side at `at` along it.
fn on_member(outline: &Sided, bounds: Rect, side: Side, at: f64) -> Option<Point> {
    if outline.is_rectangle() {
        return Some(side.point_of(bounds, at));
    }
    let across = bounds.inflate(1.0, 1.0);
    let line = if side.is_upright() {
        Edge::line(Point::new(across.x0, at), Point::new(across.x1, at))
    } else {
        Edge::line(Point::new(at, across.y0), Point::new(at, across.y1))
    };
    let met = outline.edges_on(side).flat_map(|edge| edge.crossings(&line));
    let outwards = |p: &Point| -side.inwards().dot(p.to_vec2());
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
            cleared: false,
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
