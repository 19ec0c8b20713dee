//! Straightedges beside the walls of units, for the router's round base.

use super::straightedge_offset;
use crate::fit::UnitFit;
use crate::geometry::{Edge, Side};
use crate::sash::Sash;
use crate::survey::Workshop;
use kurbo::Point;
use schemars::JsonSchema;
use serde::Serialize;

/// Straightedges of a sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Straightedges {
    /// From a new wall to the straightedge beside it, mm.
    pub offset: f64,
    /// Unit by unit: of a square one the four sides, of another one its edges in order.
    pub walls: Vec<Straightedge>,
}

/// What lies beside one wall.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Straightedge {
    /// The light.
    pub light: String,
    /// The side of the unit.
    pub side: Side,
    /// Where the straightedge lies; none beside a curved wall, which it cannot follow.
    pub place: Option<StraightedgePlace>,
}

/// Where a straightedge lies.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct StraightedgePlace {
    /// Square to it from either end of the sight edge, anticlockwise, mm; none where no straight sight edge lies
    /// on that side.
    pub from_sight_edge: Option<[f64; 2]>,
    /// Whether the sash carries it; else a board outside the sash does.
    pub on_sash: bool,
}

/// The straightedges for `units`.
pub fn straightedges(sash: &Sash, units: &[UnitFit], workshop: &Workshop) -> Straightedges {
    let offset = straightedge_offset(&workshop.router, &workshop.cutter);
    let walls = units.iter().flat_map(|unit| beside(sash, unit, offset));
    Straightedges { offset, walls: walls.collect() }
}

fn beside(sash: &Sash, unit: &UnitFit, offset: f64) -> Vec<Straightedge> {
    let line = |side, place| Straightedge { light: unit.light.clone(), side, place };
    let (wall, sight) = (&unit.outlines.wall, &unit.outlines.sight);
    if wall.is_rectangle() && sight.is_rectangle() {
        let all = sash.outer.union(unit.wall().inflate(offset, offset));
        let place = |side| StraightedgePlace {
            from_sight_edge: Some([unit.rebate_width.get(side).most + offset; 2]),
            on_sash: (side.of(all) - side.of(sash.outer)).abs() <= 0.0,
        };
        return Side::ALL.map(|side| line(side, Some(place(side)))).to_vec();
    }
    let outer = sash.outer_outline.outline();
    let walls = wall.edges().map(|(wall, side)| {
        let fence = wall.shifted(offset).filter(|_| matches!(wall, Edge::Line(_)));
        let place = fence.map(|fence| StraightedgePlace {
            from_sight_edge: from_sight_edge(wall, &fence, sight.edges_on(side)),
            on_sash: [0.1, 0.5, 0.9].iter().all(|&t| outer.contains(fence.at(t))),
        });
        line(side, place)
    });
    walls.collect()
}

/// From the ends of that straight edge of `sight` which lies next to the middle of `wall`.
fn from_sight_edge<'a>(
    wall: &Edge,
    fence: &Edge,
    sight: impl Iterator<Item = &'a Edge>,
) -> Option<[f64; 2]> {
    let middle = wall.at(0.5);
    let straight = sight.filter(|edge| matches!(edge, Edge::Line(_)));
    let near = straight.min_by(|a, b| a.distance_to(middle).total_cmp(&b.distance_to(middle)))?;
    Some([0.0, 1.0].map(|t| square_to(near.at(t), fence)))
}

/// From a place square to the line of an edge, mm.
fn square_to(place: Point, edge: &Edge) -> f64 {
    edge.direction(0.0).cross(place - edge.start()).abs()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    // Closed form: the base of 150 round a cutter of 12 runs 69 mm outside the wall, which lies 14 mm, at the
    // bottom 16, behind the sight edge: beyond stiles of 52 and a rail of 74. A base of 40 runs 14 mm outside.
    #[test]
    fn a_straightedge_lies_rebate_and_half_a_difference_behind_the_sight_edge() {
        let (sash, mut workshop) = (Sash::new(&casement()).unwrap(), Workshop::default());
        for (base, offset, on_sash) in [(150.0, 69.0, false), (40.0, 14.0, true)] {
            workshop.router.base_diameter = base;
            let units = fit::seats(&sash).unwrap();
            let found = straightedges(&sash, &units, &workshop);
            assert_relative_eq!(found.offset, offset);
            assert_eq!(found.walls.len(), 4);
            for wall in found.walls {
                let width = if wall.side == Side::Bottom { 16.0 } else { 14.0 };
                let place = wall.place.unwrap();
                let [from, to] = place.from_sight_edge.unwrap();
                assert_relative_eq!(from, width + offset, epsilon = 1e-9);
                assert_relative_eq!(to, width + offset, epsilon = 1e-9);
                assert_eq!(place.on_sash, on_sash, "{:?}", wall.side);
            }
        }
    }

    // Closed form: a straightedge 69 mm below a level wall, and a sight edge that rises over it from 10 to 14 mm;
    // one further off, and an arc, are not measured from.
    #[test]
    fn a_sight_edge_that_leans_is_measured_at_both_its_ends() {
        let edge = |from: (f64, f64), to: (f64, f64)| Edge::line(from.into(), to.into());
        let wall = edge((0.0, 0.0), (1000.0, 0.0));
        let fence = wall.shifted(69.0).unwrap();
        let sight = [edge((20.0, 10.0), (980.0, 14.0)), edge((980.0, 300.0), (20.0, 300.0))];
        let [from, to] = from_sight_edge(&wall, &fence, sight.iter()).unwrap();
        assert_relative_eq!(from, 79.0, epsilon = 1e-9);
        assert_relative_eq!(to, 83.0, epsilon = 1e-9);
        assert_eq!(from_sight_edge(&wall, &fence, [].iter()), None);
    }
}
