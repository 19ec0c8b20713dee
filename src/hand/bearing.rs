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
use crate::geometry::{Edge, SAME, Side};
use crate::sash::{Part, PlacedBar, Sash};
use crate::survey::{Cutter, OldGlazing};

/// Smallest bearing that carries a router cutter, mm: 3/8 in. Common practice, no source.
pub const SMALLEST: f64 = 9.525;

/// How far the cutter's rim lies behind the wood that the bearing runs on, mm; negative where the bearing
/// is the wider of the two.
pub fn width_given(cutter_diameter: f64, bearing_diameter: f64) -> f64 {
    (cutter_diameter - bearing_diameter) / 2.0
}

/// An upright face that a bearing could run on.
#[derive(Debug, Clone, PartialEq)]
pub struct Face {
    /// How far behind it the new wall lies, mm.
    pub behind: f64,
    /// Height of upright wood below the cut, mm; not positive where there is none.
    pub height: f64,
    /// What the survey knows to be in the way.
    pub in_the_way: Vec<String>,
}

impl Face {
    /// Diameter of the bearing that makes this cutter reach the new wall, mm; none where the wall is no
    /// further in, or the bearing would be too small to be had.
    pub fn bearing(&self, cutter: &Cutter) -> Option<f64> {
        let diameter = cutter.diameter - 2.0 * self.behind;
        (self.behind > SAME && diameter >= SMALLEST - SAME).then_some(diameter)
    }

    /// Smallest cutter that reaches the new wall with any bearing, mm; none where there is nothing to
    /// cut.
    pub fn least_cutter(&self) -> Option<f64> {
        (self.behind > SAME).then_some(SMALLEST + 2.0 * self.behind)
    }
}

/// One side of a rebate and the faces beside it.
#[derive(Debug, Clone, PartialEq)]
pub struct Faces {
    /// Index of the unit.
    pub unit: usize,
    /// The side.
    pub side: Side,
    /// Sight edge to the new wall, mm.
    pub width: f64,
    /// The sight edge between the new platform and the moulding.
    pub sight_edge: Face,
    /// The old rebate's wall, before anything is cut; none where the glass sat in a groove.
    pub old_wall: Option<Face>,
}

/// The faces beside every rebate of a sash.
pub fn faces(sash: &Sash, fit: &Fit) -> Vec<Faces> {
    let units = fit.units.iter().enumerate();
    units
        .flat_map(|(index, unit)| {
            Side::ALL.map(|side| {
                let (part, old) = sash.neighbour(&unit.outlines.sight, side);
                let width = *unit.rebate_width.get(side);
                let sight_edge = Face {
                    behind: width,
                    height: below_platform(sash, part, old, fit.depth),
                    in_the_way: in_the_way(sash, unit, side),
                };
                let old_wall = match old {
                    OldGlazing::Rebate { width: old, depth } => {
                        Some(Face { behind: width - old, height: depth, in_the_way: Vec::new() })
                    }
                    OldGlazing::Groove { .. } => None,
                };
                Faces { unit: index, side, width, sight_edge, old_wall }
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
    thickness - platform.max(slot) - moulding.height_at(0.0)
}

/// Bars that end on that side, and metal in the sight edge.
fn in_the_way(sash: &Sash, unit: &UnitFit, side: Side) -> Vec<String> {
    let measured = &sash.measured;
    let sight = &unit.outlines.sight;
    let edges: Vec<&Edge> =
        sight.edges().filter(|(_, own)| *own == side).map(|(edge, _)| edge).collect();
    let ends = |bar: &PlacedBar| edges.iter().any(|edge| !edge.crossings(&bar.path).is_empty());
    let bars = sash.cut_bars().iter().filter(|bar| ends(bar));
    let mut found: Vec<String> = bars.map(PlacedBar::name).collect();
    for metal in measured.metal.iter().filter(|metal| !metal.cleared) {
        if edges.iter().any(|edge| edge.distance_to(metal.at) <= metal.radius) {
            found.push(metal.name.clone());
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
        let sash = Sash::new(survey).unwrap();
        faces(&sash, &fit::fit(&sash, &Workshop::default()).unwrap())
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
        let all = found(&casement());
        let left = side(&all, Side::Left);
        let cutter = |diameter: f64| Cutter { diameter, ..Cutter::default() };
        assert_relative_eq!(left.sight_edge.bearing(&cutter(38.0)).unwrap(), 10.0);
        assert_relative_eq!(left.sight_edge.least_cutter().unwrap(), 28.0 + 9.525);
        assert_eq!(left.sight_edge.bearing(&cutter(12.0)), None);
        let old = left.old_wall.as_ref().unwrap();
        assert_relative_eq!(old.bearing(&cutter(22.0)).unwrap(), 12.0);
        let bottom = side(&all, Side::Bottom);
        let given = bottom.old_wall.as_ref().unwrap().bearing(&cutter(30.0)).unwrap();
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
        let told = |at| side(&all, at).sight_edge.in_the_way.clone();
        assert_eq!(told(Side::Left), ["cross bar 1"]);
        assert_eq!(told(Side::Bottom), ["sprig"]);
        assert!(told(Side::Top).is_empty());
        survey.bars_as = crate::survey::BarsAs::UnitPerLight;
        survey.metal[0].cleared = true;
        assert!(found(&survey).iter().all(|faces| faces.sight_edge.in_the_way.is_empty()));
    }
}
