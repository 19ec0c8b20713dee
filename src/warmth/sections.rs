//! What the sections of a sash let through, and where they are coldest on the room side.
//!
//! EN ISO 10077-2: Uf = (L2D,p − Up bp)/bf with a panel in place of the glass, Ψ = L2D − Uf bf − Ug bg with the glass, of
//! each stile, rail and bar; both against their own sight edge. f_Rsi = (θsi − θe)/(θi − θe), EN ISO 13788. Promised:
//! the thermal coupling to about 1 %, f_Rsi to 0.01 of what a finer grid says. Not promised: corners, where two
//! edges meet and it is colder; and beads or putty of another shape than drawn. A rail is cut across between its setting
//! blocks, which stand under a sixth of it or so: at one, heat is less than 1 % more and f_Rsi less than 0.01 off.

use super::conduction::grid::Fineness;
use super::model::{GLASS_SHOWN, Model, PANEL};
use super::{Choice, Spacer};
use crate::fit::Fit;
use crate::glass::thermal::{INSIDE, OUTSIDE};
use crate::lately::Lately;
use crate::sash::{Part, Sash};
use crate::section::Cross;
use crate::survey::BuildUp;
use rayon::prelude::*;
use schemars::JsonSchema;
use serde::Serialize;

/// As coarse as keeps heat within 1 % and f_Rsi within 0.004 of what finite elements say.
pub(super) const FINENESS: Fineness = Fineness { beside: 1.2, growth: 1.8 };

/// For what is asked of heat alone, and where nothing short-circuits the glass: within 2 %.
pub(super) const COARSE: Fineness = Fineness { beside: 3.0, growth: 2.2 };

/// Air warmer than this is the room's: 1 there and 0 outdoors, so that temperatures are f_Rsi.
const ROOM: f64 = 0.5;

/// What is known of a stile, rail or bar from its section.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PartHeat {
    /// What a joiner calls it.
    pub part: String,
    /// Uf before, W/(m²K), what the edge of the old glass does counted in.
    pub frame_u_before: f64,
    /// Uf after, W/(m²K).
    pub frame_u: f64,
    /// Ψ along one edge of its glass after, W/(m K).
    pub linear: f64,
    /// f_Rsi at its coldest on the room side before, 0 to 1.
    pub factor_before: f64,
    /// f_Rsi at its coldest on the room side after, 0 to 1.
    pub factor: f64,
}

/// Every part of a sash, and what they come to together.
#[derive(Debug, Clone, PartialEq)]
pub struct Sections {
    /// Each part that glass comes to lie on.
    pub parts: Vec<PartHeat>,
    /// Uf before, each part by its area.
    pub frame_u_before: f64,
    /// Uf after.
    pub frame_u: f64,
    /// Ψ after, each part by the length of its edges.
    pub linear: f64,
    /// What Uf changes by for each mm that the unit is thicker and its rebate deeper, W/(m²K).
    pub thicker: f64,
    /// f_Rsi of the coldest part with an improved spacer, where it has a metal one and is colder than asked.
    pub improved: Option<f64>,
}

/// The models of one part: with a panel, with the unit, before, and with an improved spacer.
#[derive(PartialEq)]
struct Models {
    panel: Model,
    /// The same with a unit that is thicker.
    thicker: Model,
    after: Model,
    before: Model,
    thickness: f64,
    width: f64,
    /// On how many sides glass ends, before and after.
    sides: [f64; 2],
}

impl Sections {
    /// Those of `sash` with its unit as `fit` has it; `None` where one of them has no answer. What a better spacer
    /// would bring is asked only where f_Rsi is under `enough`.
    pub fn of(sash: &Sash, fit: &Fit, choice: &Choice, enough: Option<f64>) -> Option<Sections> {
        let lengths = lengths(sash);
        let by = thicker_by(sash, fit);
        let mut other = (sash.clone(), fit.clone());
        other.1.depth += by;
        let thickness = sash.measured.unit.build_up.thickness() + by;
        other.0.measured.unit.build_up = BuildUp::Bare(thickness);
        // Like parts are reckoned once.
        let mut models: Vec<Models> = Vec::new();
        let mut which = Vec::new();
        for (part, _) in &lengths {
            let thicker = Cross::new(&other.0, &other.1, *part);
            let own = Models::of(&Cross::new(sash, fit, *part), &thicker, choice);
            let known = models.iter().position(|known| *known == own);
            which.push(known.unwrap_or(models.len()));
            if known.is_none() {
                models.push(own);
            }
        }
        let solved: Option<Vec<(PartHeat, f64)>> =
            models.par_iter().map(|models| models.solve(choice, by)).collect();
        let solved = solved?;
        let mut parts = Vec::new();
        let (mut area, mut length, mut sums) = (0.0, 0.0, [0.0; 4]);
        for ((part, own), which) in lengths.iter().zip(which) {
            let ((heat, thicker), models) = (solved.get(which)?, models.get(which)?);
            // A bar lies between two edges.
            let wide = own * models.width / models.sides[0];
            area += wide;
            length += own;
            let frame = [heat.frame_u_before, heat.frame_u, *thicker].map(|u| wide * u);
            let add = frame.into_iter().chain([own * heat.linear]);
            sums.iter_mut().zip(add).for_each(|(sum, add)| *sum += add);
            parts.push(PartHeat { part: sash.part_name(*part), ..heat.clone() });
        }
        let coldest = lengths.iter().zip(&parts).min_by(|a, b| a.1.factor.total_cmp(&b.1.factor));
        let short = |heat: &PartHeat| enough.is_some_and(|enough| heat.factor < enough);
        let cured = coldest.filter(|(_, heat)| choice.spacer == Spacer::Metal && short(heat));
        let improved = cured.and_then(|((part, _), _)| {
            let cross = Cross::new(sash, fit, *part);
            let model = Model::after(&cross, &choice.new, Spacer::Improved);
            Some(solve(&model, FINENESS)?.1)
        });
        let [before, after, thicker, edges] = sums;
        (area > 0.0 && length > 0.0).then(|| Sections {
            parts,
            frame_u_before: before / area,
            frame_u: after / area,
            linear: edges / length,
            thicker: thicker / area,
            improved,
        })
    }
}

/// f_Rsi at the coldest place of one part with its unit, for one unit beside others: within 0.008 of what [`Sections`]
/// has. `None` where there is no such part, or it has no answer.
pub(super) fn factor_at(sash: &Sash, fit: &Fit, choice: &Choice, part: &str) -> Option<f64> {
    let lengths = lengths(sash);
    let (part, _) = lengths.iter().find(|(own, _)| sash.part_name(*own) == part)?;
    let model = Model::after(&Cross::new(sash, fit, *part), &choice.new, choice.spacer);
    Some(solve(&model, COARSE)?.1)
}

/// By how much thicker a unit is tried, mm: thinner where so much wood is not there.
fn thicker_by(sash: &Sash, fit: &Fit) -> f64 {
    let left = sash.measured.thickness().least - fit.depth;
    if left > 15.0 { 10.0 } else { -0.25 * sash.measured.unit.build_up.thickness() }
}

/// Heat and the coldest place of sections that were solved.
static SOLVED: Lately<(Model, Fineness), (f64, f64)> = Lately::new(256);

/// Heat, W/(m K), and f_Rsi of the coldest place.
fn solve(model: &Model, fineness: Fineness) -> Option<(f64, f64)> {
    let solved = SOLVED.ask((model.clone(), fineness), |(model, fineness)| {
        let field = model.solve(&model.body(*fineness)).ok_or(())?;
        let (_, coldest) = field.coldest(ROOM).ok_or(())?;
        Ok::<_, ()>((field.heat, coldest))
    });
    solved.ok()
}

/// Every part that is a sight edge, and the length of its edges, mm.
fn lengths(sash: &Sash) -> Vec<(Part<'_>, f64)> {
    let mut lengths: Vec<(Part<'_>, f64)> = Vec::new();
    for light in &sash.lights {
        for (edge, side) in light.outline.edges() {
            let (part, length) = (sash.along(edge, side), edge.length());
            match lengths.iter_mut().find(|(known, _)| *known == part) {
                Some((_, sum)) => *sum += length,
                None => lengths.push((part, length)),
            }
        }
    }
    lengths
}

impl Models {
    fn of(cross: &Cross<'_>, thicker: &Cross<'_>, choice: &Choice) -> Models {
        let old = if cross.is_bar() { 2.0 } else { 1.0 };
        let new = if cross.runs_over() { old } else { cross.ends.len() as f64 };
        Models {
            panel: Model::with_panel(cross),
            thicker: Model::with_panel(thicker),
            after: Model::after(cross, &choice.new, choice.spacer),
            before: Model::before(cross, choice.old_thickness),
            thickness: cross.sash.measured.unit.build_up.thickness(),
            width: cross.solid.width(),
            sides: [old, new],
        }
    }

    /// And what Uf changes by for each mm, of a unit that is thicker `by` mm.
    fn solve(&self, choice: &Choice, by: f64) -> Option<(PartHeat, f64)> {
        let (width, shown) = (self.width / 1000.0, GLASS_SHOWN / 1000.0);
        let [old, new] = self.sides;
        let frame_u = |model: &Model, thick: f64| {
            let panel = 1.0 / (1.0 / INSIDE + thick / 1000.0 / PANEL + 1.0 / OUTSIDE);
            Some((solve(model, COARSE)?.0 - new * shown * panel) / width)
        };
        let thicker = frame_u(&self.thicker, self.thickness + by)?;
        let frame_u = frame_u(&self.panel, self.thickness)?;
        let (after, factor) = solve(&self.after, FINENESS)?;
        let glass = new * shown * choice.new.u_value();
        let (before, factor_before) = solve(&self.before, COARSE)?;
        let old_glass = old * shown * choice.old.u_value();
        let heat = PartHeat {
            part: String::new(),
            frame_u_before: (before - old_glass) / width,
            frame_u,
            linear: (after - frame_u * width - glass) / new,
            factor_before,
            factor,
        };
        Some((heat, (thicker - frame_u) / by))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::fit;
    use crate::glass::thermal::{Filling, Gas, Glazing, corrected};
    use crate::sash::tests::casement;
    use crate::survey::{self, Member, Moulding, OldGlazing, Workshop};
    use crate::warmth::frame_u;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn choice(measured: &survey::Sash, spacer: Spacer) -> Choice {
        let filling = Filling::in_air(Gas::Argon, 0.9).unwrap();
        let new = Glazing::of(&measured.unit.build_up, filling, corrected(0.03).unwrap());
        let old = Glazing::single(3.0).unwrap();
        let (new, seal) = (new.unwrap().unwrap(), measured.unit.spacer_height);
        Choice { old, old_thickness: 3.0, new, spacer, seal, coated: true }
    }

    fn sections(measured: &survey::Sash, spacer: Spacer) -> Sections {
        let sash = Sash::new(measured).unwrap();
        let fit = fit(&sash, &Workshop::default()).unwrap();
        Sections::of(&sash, &fit, &choice(measured, spacer), Some(1.0)).unwrap()
    }

    fn plain(thickness: f64, width: f64, moulding: &Moulding) -> survey::Sash {
        let mut sash = casement();
        sash.bars.clear();
        let like = |member: &Member| Member {
            thickness,
            width,
            moulding: moulding.clone(),
            ..member.clone()
        };
        sash.members = sash.members.map(like);
        sash
    }

    // A section of 57 by 57 mm with 4-6-4, argon and a coat, worked out apart from this program by finite differences
    // at 0.5 mm: at 20 °C inside and 0 outside the sight line is at 7.7 °C with a metal spacer and at 9.4 with an
    // improved one; Uf 1.81. Its bed lets less heat through, and its bead has another shape. Its Ψ counts the glass from another edge.
    #[test]
    fn a_joiners_section_is_as_cold_as_an_independent_calculation_says() {
        let sash = plain(57.0, 57.0, &Moulding::Ovolo { width: 8.0, depth: 10.0 });
        for (spacer, degrees) in [(Spacer::Metal, 7.7), (Spacer::Improved, 9.4)] {
            let found = sections(&sash, spacer);
            let stile = &found.parts[0];
            assert!((20.0 * stile.factor - degrees).abs() < 0.55, "{}", 20.0 * stile.factor);
            assert_relative_eq!(stile.frame_u, 1.81, max_relative = 0.05);
        }
        let metal = sections(&sash, Spacer::Metal);
        let improved = sections(&sash, Spacer::Improved);
        assert_relative_eq!(metal.improved.unwrap(), improved.parts[0].factor, epsilon = 1e-3);
        assert_eq!(improved.improved, None);
    }

    // The finer grid is held against finite elements elsewhere.
    #[test]
    fn units_beside_one_another_are_as_cold_as_each_by_itself() {
        let (mut least, mut most) = (1.0_f64, 0.0_f64);
        for (thickness, width) in [(45.0, 45.0), (57.0, 95.0), (70.0, 57.0)] {
            for (build_up, gas, emissivity, spacer) in [
                ("4-6-4", Gas::Argon, 0.03, Spacer::Metal),
                ("3-4-3", Gas::Krypton, 0.03, Spacer::Improved),
                ("4-16-4", Gas::Argon, 0.837, Spacer::Metal),
                ("3-6-3-6-3", Gas::Krypton, 0.03, Spacer::Improved),
                ("6-12-4", Gas::Argon, 0.03, Spacer::Improved),
            ] {
                let ovolo = Moulding::Ovolo { width: 8.0, depth: 10.0 };
                let mut measured = plain(thickness, width, &ovolo);
                measured.unit.build_up = build_up.parse().unwrap();
                let filling = Filling::in_air(gas, 0.9).unwrap();
                let new =
                    Glazing::of(&measured.unit.build_up, filling, corrected(emissivity).unwrap());
                let new = new.unwrap().unwrap();
                let choice = Choice { new, ..choice(&measured, spacer) };
                let sash = Sash::new(&measured).unwrap();
                let fit = fit(&sash, &Workshop::default()).unwrap();
                for part in Sections::of(&sash, &fit, &choice, None).unwrap().parts {
                    let found = factor_at(&sash, &fit, &choice, &part.part).unwrap();
                    let off = found - part.factor;
                    assert!(off.abs() < 0.008, "{build_up} {}: {found} {}", part.part, part.factor);
                    (least, most) = (least.min(part.factor), most.max(part.factor));
                }
            }
        }
        assert!(most - least > 0.1, "{least} {most}");
    }

    // A closed form of the glass alone: the wood behind adds a little to it.
    #[test]
    fn an_edge_costs_about_what_two_fins_say() {
        let sash = plain(57.0, 57.0, &Moulding::Square);
        for spacer in [Spacer::Metal, Spacer::Improved] {
            let found = sections(&sash, spacer);
            assert_relative_eq!(found.linear, choice(&sash, spacer).fins(), max_relative = 0.15);
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(24))]
        // The tables of the trade are for frames as a whole, of which the wood beside the glass is thinner here.
        #[test]
        fn sections_keep_near_the_tables(
            thickness in 45.0..80.0_f64, width in 45.0..110.0_f64, deep in 12.0..20.0_f64, square in any::<bool>(),
        ) {
            let moulding = if square { Moulding::Square } else { Moulding::Chamfer { width: 8.0, depth: 8.0 } };
            let mut sash = plain(thickness, width, &moulding);
            sash.members = sash.members.map(|member| Member {
                old: OldGlazing::Rebate { width: 9.0, depth: deep }, ..member.clone()
            });
            let [metal, improved] = [Spacer::Metal, Spacer::Improved].map(|spacer| sections(&sash, spacer));
            let table = frame_u(&sash.timber, thickness);
            prop_assert!((0.75..1.15).contains(&(metal.frame_u / table)), "{} {table}", metal.frame_u);
            prop_assert!((0.05..0.11).contains(&metal.linear), "{}", metal.linear);
            prop_assert!(improved.linear < metal.linear);
            for (metal, improved) in metal.parts.iter().zip(&improved.parts) {
                prop_assert!(metal.factor < improved.factor && metal.factor_before < metal.factor);
                prop_assert!((metal.frame_u - improved.frame_u).abs() < 1e-12);
            }
        }
    }
}
