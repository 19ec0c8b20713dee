//! What sun does to glass whose edge stays cold: a pane partly in shade, or deep in timber that the sun does not warm.
//!
//! The middle of each pane is as warm as sun and room make it, its edge as cold as plain wood is at its depth without
//! sun: the edge is drawn by σ = E α ΔT. Not promised: how the spacer cools or warms the edge, blinds, films or radiators
//! close to the glass, nicks in its edge, and which way the window looks.

use super::model::wood;
use super::{Choice, Conditions};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::glass::strength::STIFFNESS;
use crate::glass::thermal::{GLASS, INSIDE, OUTSIDE};
use crate::glass::{EXPANSION, Properties};
use crate::language::text;
use crate::sash::Sash;
use crate::survey::Treatment;
use schemars::JsonSchema;
use serde::Serialize;

/// E α of glass along a cold edge, N/(mm² K).
const DRAWN: f64 = STIFFNESS * EXPANSION;

/// Sun on an upright pane, W/m² (from memory, as French rules have it for the plains).
const SUN: f64 = 750.0;

/// Of the sun a plain face sends back, 0 to 1 (from memory).
const REFLECTED: f64 = 0.075;

/// What clear glass absorbs for each mm: of 4 mm α = 0.085, which with g = 0.860 (an open building simulator's optics
/// file) follows from g = 1 − ρ − α + α hi/(hi + he).
const ABSORBS: f64 = 0.0222;

/// What a coat against heat absorbs besides, 0 to 1 (from memory).
const COAT: f64 = 0.15;

/// What the edge bears, N/mm²: of float 18 to 25 (second hand), the less of them; of glass that was heated, a difference
/// of 100 and of 200 K (from memory).
fn bears(glass: Treatment) -> f64 {
    match glass {
        Treatment::Annealed => 18.0,
        Treatment::HeatStrengthened => 100.0 * DRAWN,
        Treatment::Toughened => 200.0 * DRAWN,
    }
}

/// A pane in the sun.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct HeatStress {
    /// Counted from the outside, the first is 1.
    pub pane: usize,
    /// Its middle over its edge, K.
    pub difference: f64,
    /// N/mm².
    pub stress: f64,
    /// What its edge bears, N/mm².
    pub bears: f64,
}

/// Middles of the panes in the sun, °C, from the outside in. Each is taken as the one that is coated, which nobody has
/// said.
///
/// Heat q at pane j warms pane i by q Re(min) Ri(max)/R, with Re up to outdoors and Ri to the room: both stand in a
/// chain of resistances.
pub(super) fn middles(choice: &Choice, on: &Conditions) -> Vec<f64> {
    let panes = choice.new.panes();
    let gaps = choice.new.resistances();
    let own = |thick: f64| thick / 1000.0 / GLASS;
    let mut to_outdoors = Vec::with_capacity(panes.len());
    let mut so_far = 1.0 / OUTSIDE;
    for (index, thick) in panes.iter().enumerate() {
        to_outdoors.push(so_far + own(*thick) / 2.0);
        so_far += own(*thick) + gaps.get(index).copied().unwrap_or(0.0);
    }
    let whole = so_far + 1.0 / INSIDE;
    let plain = |thick: f64| 1.0 - (-ABSORBS * thick).exp();
    let coat = if choice.coated { COAT } else { 0.0 };
    let middle = |coated: usize| {
        let mut sun = SUN;
        let mut warm = 0.0;
        let here = to_outdoors.get(coated).copied().unwrap_or(0.0);
        for (index, (thick, outwards)) in panes.iter().zip(&to_outdoors).enumerate() {
            let absorbs = plain(*thick) + if index == coated { coat } else { 0.0 };
            let (near, far) = (outwards.min(here), outwards.max(here));
            warm += sun * absorbs * near * (whole - far) / whole;
            sun *= 1.0 - REFLECTED - absorbs;
        }
        on.outside + (on.inside - on.outside) * here / whole + warm
    };
    (0..panes.len()).map(middle).collect()
}

/// f of the edges of the panes, 0 outdoors and 1 in the room, from the outside in: that of plain wood at the depth of
/// their outer faces, (1/he + z/λ)/(1/he + t/λ + 1/hi), in the thinnest member.
fn edges(sash: &Sash, choice: &Choice) -> Vec<f64> {
    let measured = &sash.measured;
    let through = |mm: f64| mm / 1000.0 / wood(&measured.timber);
    let whole = 1.0 / OUTSIDE + through(measured.thickness().least) + 1.0 / INSIDE;
    let mut depth = measured.finish.bead - measured.finish.proud;
    let mut gaps = choice.new.widths();
    let panes = choice.new.panes().iter().map(|pane| {
        let edge = (1.0 / OUTSIDE + through(depth)) / whole;
        depth += pane + gaps.next().unwrap_or(0.0);
        edge
    });
    panes.collect()
}

/// The pane that comes nearest to what its edge bears: `glass.heat-stress`.
pub(super) fn judge(
    sash: &Sash,
    choice: &Choice,
    on: &Conditions,
) -> Option<(HeatStress, Finding)> {
    let glass = Properties::of(&sash.measured.unit.make).glass;
    let middles = middles(choice, on);
    let panes =
        middles.iter().zip(edges(sash, choice)).enumerate().map(|(pane, (middle, edge))| {
            let edge = on.outside + edge * (on.inside - on.outside);
            let difference = (middle - edge).max(0.0);
            HeatStress {
                pane: pane + 1,
                difference,
                stress: DRAWN * difference,
                bears: bears(glass),
            }
        });
    let worst = panes.max_by(|a, b| a.stress.total_cmp(&b.stress))?;
    let source = match glass {
        Treatment::Annealed => {
            Basis::Published("edge strength of float 18 to 25 N/mm², second hand")
        }
        _ => Basis::CommonPractice,
    };
    let bounds = Bounds::caution(Bound { value: worst.bears, basis: source });
    let stress = Quantity { value: worst.stress, unit: "N/mm²" };
    let place = format!("pane {}", worst.pane);
    let inner = worst.pane > 1 && worst.pane < middles.len();
    let finding =
        Finding::at_most("glass.heat-stress", place, stress, bounds, |verdict, _| match verdict {
            Verdict::Clear => {
                text!("glass-sun-fine", difference = format!("{:.0}", worst.difference))
            }
            _ if inner => text!("glass-sun-inner"),
            _ => text!("glass-sun"),
        });
    Some((worst, finding))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::glass::thermal::{Filling, Gas, Glazing, corrected};
    use crate::sash::tests::casement;
    use crate::survey::Spacer;
    use approx::assert_relative_eq;

    fn choice(build_up: &str) -> Choice {
        let filling = Filling::in_air(Gas::Argon, 0.9).unwrap();
        let new = Glazing::of(&build_up.parse().unwrap(), filling, corrected(0.03).unwrap());
        Choice {
            old: Glazing::single(3.0).unwrap(),
            old_thickness: 3.0,
            new: new.unwrap().unwrap(),
            spacer: Spacer::Metal,
            seal: 12.0,
            coated: true,
        }
    }

    // E α: 70 000 × 9e-6 = 0.63, and 40 K make 25.2 N/mm² (EN 572-1, worked out elsewhere).
    #[test]
    fn a_kelvin_draws_an_edge_by_what_its_stiffness_says() {
        assert_relative_eq!(DRAWN, 70_000.0 * 9e-6, epsilon = 1e-12);
        assert_relative_eq!(40.0 * DRAWN, 25.2, epsilon = 1e-12);
        // g of clear glass of 4 mm is what it lets through and 7.7/32.7 of what it absorbs: 0.860 (published).
        let absorbs = 1.0 - (-4.0 * ABSORBS).exp();
        let g = 1.0 - REFLECTED - absorbs + absorbs * INSIDE / (INSIDE + OUTSIDE);
        assert_relative_eq!(g, 0.860, epsilon = 1e-3);
    }

    // By hand for 4-6-4, Ug 2.0101: R 0.4975; the inner pane lies at 0.4975 − 1/7.7 − 0.002 from outdoors. 4 mm absorb
    // 0.085; 750 W/m² reach it as 750 (1 − 0.075 − 0.085), of which it takes 0.235.
    #[test]
    fn the_middle_of_a_pane_in_the_sun_by_hand() {
        let on = Conditions { inside: 20.0, outside: 0.0, humidity: 0.5 };
        let whole = 1.0 / 2.0101;
        let here = whole - 1.0 / 7.7 - 0.002;
        let (sun, first) = (750.0 * (1.0 - 0.075 - 0.085), 0.04 + 0.002);
        let warm = sun * 0.235 * here * (whole - here) / whole
            + 750.0 * 0.085 * first * (whole - here) / whole;
        let found = middles(&choice("4-6-4"), &on);
        assert_relative_eq!(found[1], 20.0 * here / whole + warm, epsilon = 0.05);
        let without = middles(&Choice { coated: false, ..choice("4-6-4") }, &on);
        assert!(without[1] < found[1] && without[0] < found[0]);
    }

    // By hand: wood of 45 mm and λ 0.13 between its films is 0.04 + 0.346 + 0.130 = 0.516; under a bead of 10 the outer
    // pane's edge lies at (0.04 + 0.077)/0.516 of the way, and 10 mm deeper the inner one's at 0.376.
    #[test]
    fn an_edge_is_as_cold_as_the_wood_at_its_depth() {
        let sash = Sash::new(&casement()).unwrap();
        let found = edges(&sash, &choice("4-6-4"));
        assert_relative_eq!(
            found[0],
            (0.04 + 0.01 / 0.13) / (0.04 + 0.045 / 0.13 + 1.0 / 7.7),
            epsilon = 1e-9
        );
        assert_relative_eq!(found[1], 0.376, epsilon = 1e-3);
    }

    #[test]
    fn the_inner_pane_of_three_is_the_one_to_toughen() {
        let on = Conditions { inside: 20.0, outside: 0.0, humidity: 0.5 };
        let judged = |build_up, glass| {
            let mut survey = casement();
            survey.unit.make.glass = Some(glass);
            judge(&Sash::new(&survey).unwrap(), &choice(build_up), &on).unwrap()
        };
        let (worst, finding) = judged("3-6-3-6-3", Treatment::Annealed);
        assert_eq!((worst.pane, finding.verdict), (2, Verdict::Caution));
        assert_relative_eq!(worst.stress, 0.63 * worst.difference, epsilon = 1e-12);
        assert_eq!(judged("3-6-3-6-3", Treatment::Toughened).1.verdict, Verdict::Clear);
        assert_eq!(judged("4-6-4", Treatment::Annealed).1.verdict, Verdict::Clear);
    }
}
