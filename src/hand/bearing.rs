//! A cutter that follows the wood itself with a ball bearing under its tip.
//!
//! A bearing of diameter b under a cutter of diameter D keeps the cutter's rim (D − b)/2 behind the
//! wood that the bearing runs on. Two faces can carry it: the sight edge below the new platform, which
//! gives the whole rebate width at once; and the old rebate's wall below a shallow pass, which gives what
//! is to be widened.
//!
//! Promised: which bearing gives the width, how much upright face there is for it, and what the survey
//! knows to be in its way. Not promised: that the face is sound; look and feel along it.

use crate::fit::{Fit, UnitFit};
use crate::geometry::{COINCIDENT, Edge, MinMax, Side};
use crate::language::Text;
use crate::sash::{Part, PlacedBar, Sash, wood_under};
use crate::survey::{Cutter, OldGlazing};
use schemars::JsonSchema;
use serde::Serialize;

/// Smallest bearing that carries a router cutter, mm: 3/8 in. Common practice, no source.
pub const SMALLEST: f64 = 9.525;

/// How far the cutter's rim lies behind the wood that the bearing runs on, mm; negative where the bearing
/// is the wider of the two.
pub fn width_given(cutter_diameter: f64, bearing_diameter: f64) -> f64 {
    (cutter_diameter - bearing_diameter) / 2.0
}

/// An upright face that a bearing could run on.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Face {
    /// How far behind it the new wall lies, mm.
    pub behind: MinMax,
    /// Height of upright wood below the cut, mm; not positive where there is none.
    pub height: f64,
    /// What the survey knows to be in the way.
    pub in_the_way: Vec<Text>,
    /// Diameter of the bearing that makes the cutter reach the new wall where it lies nearest, mm; none where the
    /// wall is no further in, or the bearing would be too small to be had.
    pub bearing: Option<f64>,
    /// Smallest cutter that reaches the new wall with any bearing, mm; none where there is nothing to cut.
    pub least_cutter: Option<f64>,
}

impl Face {
    fn new(behind: MinMax, height: f64, in_the_way: Vec<Text>, cutter: &Cutter) -> Face {
        // A bearing keeps one width all along: more than the least would run past the wall.
        let nearest = behind.least;
        let diameter = cutter.diameter - 2.0 * nearest;
        let to_cut = nearest > COINCIDENT;
        Face {
            behind,
            height,
            in_the_way,
            bearing: (to_cut && diameter >= SMALLEST - COINCIDENT).then_some(diameter),
            least_cutter: to_cut.then_some(SMALLEST + 2.0 * nearest),
        }
    }
}

/// One side of a rebate and the faces beside it.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Faces {
    /// The light of the unit.
    pub light: String,
    /// The side.
    pub side: Side,
    /// Sight edge to the new wall, mm.
    pub width: MinMax,
    /// The sight edge between the new platform and the moulding.
    pub sight_edge: Face,
    /// The old rebate's wall, before anything is cut; none where the glass sat in a groove.
    pub old_wall: Option<Face>,
}

/// The faces beside every rebate of a sash, for a cutter with a bearing.
pub fn faces(sash: &Sash, fit: &Fit, cutter: &Cutter) -> Vec<Faces> {
    fit.units
        .iter()
        .flat_map(|unit| {
            Side::ALL.map(|side| {
                let (part, old) = sash.neighbour(&unit.outlines.sight, side);
                let width = *unit.rebate_width.get(side);
                let height = below_platform(sash, part, old, fit.depth);
                let sight_edge = Face::new(width, height, in_the_way(sash, unit, side), cutter);
                let old_wall = match old {
                    OldGlazing::Rebate { width: old, depth } => {
                        Some(Face::new(width.map(|new| new - old), depth, Vec::new(), cutter))
                    }
                    OldGlazing::Groove { .. } => None,
                };
                Faces { light: unit.light.clone(), side, width, sight_edge, old_wall }
            })
        })
        .collect()
}

/// Upright wood of the sight edge below the platform: down to the moulding, which eats it from the room
/// side, and below the slot of an old groove that reaches deeper than the platform.
fn below_platform(sash: &Sash, part: Part, old: OldGlazing, platform: f64) -> f64 {
    let (thickness, moulding) = sash.section_of(part);
    let slot = match old {
        OldGlazing::Groove { from_face, width, .. } => from_face + width,
        OldGlazing::Rebate { .. } => 0.0,
    };
    wood_under(platform.max(slot), thickness, moulding.height_at(0.0))
}

/// Bars that end on that side, and metal in the sight edge.
fn in_the_way(sash: &Sash, unit: &UnitFit, side: Side) -> Vec<Text> {
    let measured = &sash.measured;
    let edges: Vec<&Edge> = unit.outlines.sight.edges_on(side).collect();
    let ends = |bar: &PlacedBar| edges.iter().any(|edge| !edge.crossings(&bar.path).is_empty());
    let bars = sash.cut_bars().iter().filter(|bar| ends(bar));
    let mut found: Vec<Text> = bars.map(|bar| Text::Name(bar.name())).collect();
    for metal in measured.metal.iter().filter(|metal| !metal.cleared) {
        if edges.iter().any(|edge| edge.distance_to(metal.at) <= metal.radius) {
            found.push(metal.name.text());
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit;
    use crate::sash::tests::casement;
    use crate::survey::{Bar, Metal, Moulding, Runs, Workshop};
    use approx::assert_relative_eq;
    use kurbo::Point;

    fn found(survey: &crate::survey::Sash) -> Vec<Faces> {
        found_for(survey, 12.0)
    }

    fn found_for(survey: &crate::survey::Sash, diameter: f64) -> Vec<Faces> {
        let sash = Sash::new(survey).unwrap();
        let fit = fit::fit(&sash, &Workshop::default()).unwrap();
        faces(&sash, &fit, &Cutter { diameter, ..Cutter::default() })
    }

    fn side(all: &[Faces], side: Side) -> &Faces {
        all.iter().find(|faces| faces.side == side).unwrap()
    }

    // Closed forms: width (D - b)/2; so b = D - 2 w. A casement of 45 mm with an ovolo 8 deep, its old
    // rebate 9 by 17; the unit wants 14 mm at the sides and 16 at the bottom, 27 deep.
    #[test]
    fn the_bearing_is_the_cutter_less_twice_the_width() {
        assert_relative_eq!(width_given(38.0, 10.0), 14.0);
        assert_relative_eq!(width_given(12.0, 20.0), -4.0);
        let with = |diameter: f64, at: Side| {
            let faces = side(&found_for(&casement(), diameter), at).clone();
            (faces.sight_edge, faces.old_wall.unwrap())
        };
        assert_relative_eq!(with(38.0, Side::Left).0.bearing.unwrap(), 10.0);
        assert_relative_eq!(with(38.0, Side::Left).0.least_cutter.unwrap(), 28.0 + 9.525);
        assert_eq!(with(12.0, Side::Left).0.bearing, None);
        assert_relative_eq!(with(22.0, Side::Left).1.bearing.unwrap(), 12.0);
        let given = with(30.0, Side::Bottom).1.bearing.unwrap();
        assert_relative_eq!(9.0 + width_given(30.0, given), 16.0);
    }

    // By hand: 45 - 27 - 8 = 10 under an ovolo; 18 where the arris is square; a slot that reaches to 32
    // leaves 45 - 32 - 8 = 5, and no old wall.
    #[test]
    fn moulding_and_groove_eat_into_the_face() {
        let mut survey = casement();
        assert_relative_eq!(side(&found(&survey), Side::Top).sight_edge.height, 10.0);
        survey.members.top.moulding = Moulding::Square;
        assert_relative_eq!(side(&found(&survey), Side::Top).sight_edge.height, 18.0);
        survey.members.left.old = OldGlazing::Groove { from_face: 26.0, width: 6.0, depth: 9.0 };
        let all = found(&survey);
        assert_relative_eq!(side(&all, Side::Left).sight_edge.height, 5.0);
        assert_eq!(side(&all, Side::Left).old_wall, None);
        assert_relative_eq!(side(&all, Side::Right).old_wall.as_ref().unwrap().height, 17.0);
    }

    #[test]
    fn bars_and_nails_are_in_the_way_only_where_they_are() {
        let mut survey = casement();
        survey.bars.clear();
        let bar = Bar {
            runs: Runs::Cross,
            centre: 400.0,
            course: crate::survey::Course::Through,
            lean: 0.0,
            width: 22.0,
            thickness: 45.0,
            rebate_width: 8.0,
            rebate_depth: 17.0,
            moulding: Moulding::Square,
            tenon: None,
        };
        survey.bars.push(bar);
        survey.metal = vec![Metal {
            name: "sprig".into(),
            at: Point::new(300.0, -3.0),
            radius: 5.0,
            from_face: 0.0,
            cleared: false,
        }];
        let all = found(&survey);
        let in_the_way = |at| side(&all, at).sight_edge.in_the_way.clone();
        assert_eq!(in_the_way(Side::Left), ["cross bar 1"]);
        assert_eq!(in_the_way(Side::Bottom), ["sprig"]);
        assert!(in_the_way(Side::Top).is_empty());
        survey.bars_as = crate::survey::BarsAs::UnitPerLight;
        survey.metal[0].cleared = true;
        assert!(found(&survey).iter().all(|faces| faces.sight_edge.in_the_way.is_empty()));
    }
}
