//! Timber, glass, beads or putty.

use crate::fit::{Fit, UnitFit, putty_volume};
use crate::geometry::PerSide;
use crate::glass;
use crate::rebate::Rebate;
use crate::sash::{Horn, Part, Profile, Sash, Solid};
use kurbo::{BezPath, Point, Shape};
use schemars::JsonSchema;
use serde::Serialize;

/// Cubic millimetres in a cubic metre.
const MM3_A_M3: f64 = 1e9;

/// Density of linseed putty, kg/m³: chalk in oil (from memory).
const PUTTY: f64 = 1900.0;

/// What a sash weighs, kg.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Weights {
    /// Timber as it is.
    pub timber_before: f64,
    /// Timber after the cut.
    pub timber_after: f64,
    /// New beads, counted as filling the rebate above the unit, or face putty.
    pub beads: f64,
    /// Old panes; none where their thickness is not known.
    pub glass_before: Option<f64>,
    /// New units, spacers not counted.
    pub glass_after: f64,
}

impl Weights {
    /// The whole sash as it is, where its glass is known.
    pub fn before(&self) -> Option<f64> {
        self.glass_before.map(|glass| self.timber_before + glass)
    }

    /// The whole sash with its units.
    pub fn after(&self) -> f64 {
        self.timber_after + self.beads + self.glass_after
    }

    /// What it gains.
    pub fn gain(&self) -> Option<f64> {
        self.before().map(|before| self.after() - before)
    }
}

/// Weighs `sash` before and after, its old panes `old_glass` mm thick where that is known; `None` where the unit is a bare
/// thickness, which cannot tell glass from gas.
///
/// The solids of `rebate` are square at the room side, so that the wood which mouldings lack is taken
/// off, along each sight edge.
pub fn weigh(sash: &Sash, fit: &Fit, rebate: &Rebate, old_glass: Option<f64>) -> Option<Weights> {
    let density = sash.measured.timber.species.density / MM3_A_M3;
    let volume = |solids: &[Solid]| solids.iter().map(Solid::volume).sum::<f64>();
    let lacks = mouldings(sash);
    let horn = |horn: &Horn| horn.outline.area() * sash.measured.members.get(horn.stile).thickness;
    let horns: f64 = sash.horns().iter().map(horn).sum();
    let stays = (volume(&rebate.stay) - lacks).max(0.0) + horns;
    let goes = volume(&rebate.go);

    let build_up = &sash.measured.unit.build_up;
    let units: Option<Vec<f64>> =
        fit.units.iter().map(|unit| glass::weight(build_up, unit.glass_area())).collect();
    let beads: f64 = fit.units.iter().map(bead_area).sum();
    let finish = &sash.measured.finish;
    Some(Weights {
        timber_before: density * (stays + goes),
        timber_after: density * stays,
        beads: if finish.is_puttied() {
            let putty = fit.units.iter().map(|unit| putty_volume(finish, unit));
            PUTTY / MM3_A_M3 * putty.sum::<f64>()
        } else {
            density * beads * finish.bead
        },
        glass_before: old_glass.map(|thick| glass::DENSITY / MM3_A_M3 * thick * old_panes(sash)),
        glass_after: units?.iter().sum(),
    })
}

/// Area of the beads round a unit, seen on the face, mm².
fn bead_area(unit: &UnitFit) -> f64 {
    unit.outlines.wall.outline().area() - unit.outlines.sight.outline().area()
}

/// Area of the old panes, mm²: each light with the old rebates round it.
fn old_panes(sash: &Sash) -> f64 {
    let pane = |light: &crate::sash::Light| {
        let old = PerSide::from_fn(|side| sash.neighbour(&light.outline, side).1.width());
        if light.outline.is_rectangle() {
            return old.grow(light.sight).area();
        }
        // Where the rebates do not meet at a corner, daylight and a strip along each edge.
        let strips = || light.outline.edges().map(|(edge, side)| edge.length() * old.get(side));
        let grown = light.outline.grow(&old).map(|pane| pane.outline().area());
        grown.unwrap_or_else(|_| light.outline.outline().area() + strips().sum::<f64>())
    };
    sash.lights.iter().map(pane).sum()
}

/// Wood that the mouldings lack, mm³. Mitres at corners and crossings are not taken off.
fn mouldings(sash: &Sash) -> f64 {
    let daylight = sash.outline.outline();
    let members = sash
        .outline
        .edges()
        .map(|(edge, side)| edge.length() * beside_profile(&sash.section_of(Part::Member(side)).1));
    let bars = sash.bars.iter().map(|bar| {
        let both = 2.0 * beside_profile(&sash.section_of(Part::Bar(bar)).1);
        daylight.length_inside(&bar.path) * both
    });
    members.chain(bars).sum()
}

/// Area between a moulding and the square arris it was cut from, mm².
fn beside_profile(profile: &Profile) -> f64 {
    let mut region: BezPath = profile.path().clone();
    if region.elements().len() < 2 {
        return 0.0;
    }
    // Down to the room face under the end, along it to the sight edge, and up.
    region.line_to(Point::ZERO);
    region.close_path();
    region.area().abs()
}

#[cfg(test)]
pub(super) mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use crate::survey::{self, BarsAs, Moulding, Workshop};
    use crate::{fit, rebate};
    use approx::assert_relative_eq;
    use proptest::prelude::*;
    use std::f64::consts::FRAC_PI_4;

    pub(in crate::hanging) fn weighed(survey: &survey::Sash, old_glass: f64) -> Option<Weights> {
        let sash = Sash::new(survey).unwrap();
        let fit = fit::fit(&sash, &Workshop::default()).unwrap();
        let rebate = rebate::divide(&sash, &fit, 6.0).unwrap();
        weigh(&sash, &fit, &rebate, Some(old_glass))
    }

    #[test]
    fn a_moulding_lacks_its_closed_form() {
        let lacks = |moulding: &Moulding| beside_profile(&Profile::new(moulding));
        assert_eq!(lacks(&Moulding::Square), 0.0);
        assert_relative_eq!(lacks(&Moulding::Chamfer { width: 8.0, depth: 6.0 }), 24.0);
        let ovolo = lacks(&Moulding::Ovolo { width: 8.0, depth: 8.0 });
        assert_relative_eq!(ovolo, 64.0 * (1.0 - FRAC_PI_4), epsilon = 1e-3);
        // A lamb's tongue of two like quarters takes half of its box.
        let ogee = lacks(&Moulding::Ogee { width: 10.0, depth: 8.0 });
        assert_relative_eq!(ogee, 40.0, epsilon = 1e-3);
    }

    // By hand, without bars and mouldings: rings of wood 45 mm thick less the old and the new rebate.
    #[test]
    fn a_plain_sash_weighs_what_its_rings_do() {
        let mut plain = casement();
        plain.bars.clear();
        let members = &mut plain.members;
        for member in [&mut members.left, &mut members.right, &mut members.bottom, &mut members.top]
        {
            member.moulding = Moulding::Square;
        }
        let weights = weighed(&plain, 3.0).unwrap();
        let (sight, old) = (820.0 * 930.0, 838.0 * 948.0);
        let (outer, wall) = (924.0 * 1056.0, 848.0 * 960.0);
        let before = (outer - sight) * 45.0 - (old - sight) * 17.0;
        let after = (outer - sight) * 45.0 - (wall - sight) * 27.0;
        assert_relative_eq!(weights.timber_before, before * 520e-9, epsilon = 1e-9);
        assert_relative_eq!(weights.timber_after, after * 520e-9, epsilon = 1e-9);
        assert_relative_eq!(weights.beads, (wall - sight) * 10.0 * 520e-9, epsilon = 1e-9);
        assert_relative_eq!(weights.glass_before.unwrap(), old * 3.0 * 2500e-9, epsilon = 1e-9);
        assert_relative_eq!(weights.glass_after, 16.103_52, epsilon = 1e-6);
        assert_relative_eq!(weights.gain().unwrap(), weights.after() - weights.before().unwrap());
    }

    // By hand: two horns of 52 by 60 by 45 mm at 520 kg/m³; face putty of half 12 by 10 (14 by 10 at the bottom) along a
    // unit of 844 by 954, at 1900.
    #[test]
    fn horns_and_putty_weigh_what_they_fill() {
        let plain = weighed(&casement(), 3.0).unwrap();
        let mut survey = casement();
        survey.horns.bottom = 60.0;
        survey.finish.held_by = survey::HeldBy::Putty;
        let found = weighed(&survey, 3.0).unwrap();
        let horns = 2.0 * 52.0 * 60.0 * 45.0 * 520e-9;
        assert_relative_eq!(found.timber_after - plain.timber_after, horns, epsilon = 1e-9);
        assert_relative_eq!(found.timber_before - plain.timber_before, horns, epsilon = 1e-9);
        let putty = (844.0 + 2.0 * 954.0) * 60.0 + 844.0 * 70.0;
        assert_relative_eq!(found.beads, putty * 1900e-9, epsilon = 1e-9);
    }

    #[test]
    fn a_bare_thickness_cannot_be_weighed() {
        let mut bare = casement();
        bare.unit.build_up = "14".parse().unwrap();
        assert_eq!(weighed(&bare, 3.0), None);
    }

    proptest! {
        #[test]
        fn more_glass_and_denser_wood_never_weigh_less(
            pane in 3.0..8.0_f64, more in 0.0..4.0_f64, density in 300.0..800.0_f64, lights in any::<bool>(),
        ) {
            let mut survey = casement();
            if lights {
                survey.bars_as = BarsAs::UnitPerLight;
                survey.unit.cover = 5.0;
            }
            survey.timber.species.density = density;
            let weight = |survey: &survey::Sash, pane: f64| {
                let mut survey = survey.clone();
                survey.unit.build_up = format!("{pane}-6-{pane}").parse().unwrap();
                weighed(&survey, 3.0).unwrap()
            };
            let thin = weight(&survey, pane);
            prop_assert!(weight(&survey, pane + more).glass_after >= thin.glass_after);
            prop_assert!(thin.timber_after < thin.timber_before);
            survey.timber.species.density = density + 100.0;
            prop_assert!(weight(&survey, pane).after() > thin.after());
        }
    }
}
