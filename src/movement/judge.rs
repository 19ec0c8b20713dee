//! The gaps of one unit: across, up, and in depth.

use super::allowances::expands;
use super::timber::{HOLDS, swells};
use super::{Allowances, Budget, Taker, size_tolerance};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::{Fit, UnitFit};
use crate::geometry::Side;
use crate::sash::{Part, Sash};
use crate::survey::{Limit, Limits};
use schemars::JsonSchema;
use serde::Serialize;

/// Gaps of one unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Movement {
    /// The light it serves.
    pub light: String,
    /// Both sides together.
    pub across: Budget,
    /// Above the unit, and what its blocks may be lowered by.
    pub up: Budget,
    /// Bed under the unit and the thickness it is allowed to be over.
    pub depth: Budget,
    /// Judgements.
    pub findings: Vec<Finding>,
}

/// Works out and judges the gaps of every unit of `fit`.
///
/// Timber is taken as if its outer edges were held, so that all the wood from there to the rebate's
/// wall swells into the opening, along the growth rings: the worst way. A bar has its web. Rules
/// `movement.across`, `.up`, `.depth`: what is likely to be left; `.moisture`: whether the formula
/// holds.
pub fn movement(sash: &Sash, fit: &Fit, allowances: &Allowances, limits: &Limits) -> Vec<Movement> {
    fit.units.iter().map(|unit| of_unit(sash, fit, unit, allowances, limits)).collect()
}

fn of_unit(
    sash: &Sash,
    fit: &Fit,
    unit: &UnitFit,
    allowances: &Allowances,
    limits: &Limits,
) -> Movement {
    let lowers = (sash.measured.block_height - limits.block_caution.value).max(0.0);
    let across = Budget {
        gap: unit.clearance.left.least + unit.clearance.right.least,
        takers: takers(sash, unit, [Side::Left, Side::Right], allowances),
    };
    let up = Budget {
        gap: unit.clearance.top.least + lowers,
        takers: takers(sash, unit, [Side::Bottom, Side::Top], allowances),
    };
    let depth = Budget {
        gap: sash.measured.finish.bed + sash.measured.unit.over,
        takers: vec![
            Taker { name: "thickness of the unit", most: sash.measured.unit.over },
            Taker { name: "cutting", most: allowances.cutting },
            Taker { name: "timber", most: timber(sash, fit.depth, allowances, Change::Dries) },
        ],
    };
    let place = |way: &str| format!("{}, {way}", unit.light);
    let gap = &limits.movement_left_caution;
    let mut findings = vec![
        judge("movement.across", place("across"), &across, gap),
        judge("movement.up", place("up"), &up, gap),
        judge("movement.depth", place("bed"), &depth, &limits.bed_left_caution),
    ];
    findings.extend(moisture(unit, allowances));
    Movement { light: unit.light.clone(), across, up, depth, findings }
}

fn takers(sash: &Sash, unit: &UnitFit, sides: [Side; 2], allowances: &Allowances) -> Vec<Taker> {
    let tolerance = size_tolerance(&sash.measured.unit.build_up, unit.order);
    let upright = sides.contains(&Side::Left);
    let length = if upright { unit.order.width } else { unit.order.height };
    let wood: f64 = sides.into_iter().map(|side| beside(sash, unit, side)).sum();
    vec![
        Taker { name: "size of the unit", most: tolerance.size },
        Taker { name: "offset of its panes", most: tolerance.offset },
        Taker { name: "measuring", most: allowances.measuring },
        Taker { name: "cutting", most: 2.0 * allowances.cutting },
        Taker { name: "glass in the sun", most: expands(length, allowances) },
        Taker { name: "timber", most: timber(sash, wood, allowances, Change::Swells) },
    ]
}

/// Wood from the rebate's wall to the outer edge of a member, or half the web of a bar, mm.
fn beside(sash: &Sash, unit: &UnitFit, side: Side) -> f64 {
    let taken = unit.rebate_width.get(side).least;
    match sash.neighbour(&unit.outlines.sight, side).0 {
        Part::Member(member) => (sash.measured.members.get(member).width - taken).max(0.0),
        Part::Bar(bar) => (bar.measured.width / 2.0 - taken).max(0.0),
    }
}

#[derive(Clone, Copy)]
enum Change {
    Swells,
    Dries,
}

/// How far `across` mm of the sash's timber move, at most. Damp closes a gap between members; for a
/// depth it is drying, by as much again, that brings the platform nearer to the face.
fn timber(sash: &Sash, across: f64, allowances: &Allowances, change: Change) -> f64 {
    let coefficient = sash.measured.timber.species.moves.tangential;
    let to = match change {
        Change::Swells => allowances.moisture_most,
        Change::Dries => 2.0 * allowances.moisture_now - allowances.moisture_most,
    };
    swells(across, coefficient, allowances.moisture_now, to).abs()
}

fn judge(rule: &'static str, place: String, budget: &Budget, limit: &Limit) -> Finding {
    let measured = Quantity::mm(budget.likely());
    let worst = budget.worst();
    let at_worst = if worst < 0.0 {
        format!("at the worst {:.1} mm are wanting of {:.1} mm", -worst, budget.gap)
    } else {
        format!("at the worst {worst:.1} mm of {:.1} mm are left", budget.gap)
    };
    let largest = budget.largest().map_or_else(String::new, |taker| {
        format!("; what takes most is the {} ({:.1} mm)", taker.name, taker.most)
    });
    let figure = format!("{at_worst}{largest}");
    Finding::at_least(rule, place, measured, Bounds::caution(limit), |verdict, bound| match verdict
    {
        Verdict::Clear if worst >= bound => format!("enough even so: {figure}"),
        Verdict::Clear => {
            format!("likely enough, but {figure}: measure the unit itself before the finishing cut")
        }
        _ => format!("{figure}: {}", cure(rule, (bound - budget.likely()).ceil())),
    })
}

fn cure(rule: &str, wanting: f64) -> String {
    if rule == "movement.depth" {
        format!(
            "a bed {wanting:.0} mm thicker or a deeper rebate, and measure the unit before cutting"
        )
    } else {
        format!(
            "order {wanting:.0} mm smaller or leave more room, and measure the unit before cutting"
        )
    }
}

/// Silent where the formula holds.
fn moisture(unit: &UnitFit, allowances: &Allowances) -> Option<Finding> {
    let (driest, dampest) = HOLDS;
    let source =
        Basis::Published("Wood Handbook FPL-GTR-190, ch. 13, and EN 942, external joinery");
    let now = allowances.moisture_now;
    let swing = (allowances.moisture_most - now).abs();
    let measured = Quantity { value: now.max(now + swing), unit: "%" };
    let bounds = Bounds::caution(Bound { value: dampest, basis: source.clone() });
    let advice = "wood this damp moves as no formula says: dry it first, or leave more room";
    let place = unit.light.clone();
    let damp = Finding::at_most("movement.moisture", place.clone(), measured, bounds, |_, _| {
        advice.into()
    });
    let measured = Quantity { value: now - swing, unit: "%" };
    let bounds = Bounds::caution(Bound { value: driest, basis: source });
    let advice =
        "wood this dry moves as no formula says: let it take up the air of the house first";
    let dry = Finding::at_least("movement.moisture", place, measured, bounds, |_, _| advice.into());
    [damp, dry].into_iter().find(|finding| finding.verdict != Verdict::Clear)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fit::fit;
    use crate::sash::tests::casement;
    use crate::survey::{self, BarsAs, Workshop};
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn moved(survey: &survey::Sash, allowances: &Allowances) -> Vec<Movement> {
        let sash = Sash::new(survey).unwrap();
        let workshop = Workshop::default();
        movement(&sash, &fit(&sash, &workshop).unwrap(), allowances, &workshop.limits)
    }

    // By hand: 844 mm of glass, 38 mm of wood beside either wall, softwood from 12 to 17 %.
    #[test]
    fn two_two_two_four_is_likely_enough_but_not_at_the_worst() {
        let moved = &moved(&casement(), &Allowances::default())[0];
        let wood = 76.0 * 0.003_9 * 5.0;
        let sun = 844.0 * 9e-6 * 40.0;
        assert_relative_eq!(moved.across.gap, 4.0);
        assert_relative_eq!(moved.across.worst(), 4.0 - 6.0 - wood - sun, epsilon = 1e-9);
        let squares: f64 = 4.0 + 4.0 + 1.0 + 1.0 + wood * wood + sun * sun;
        assert_relative_eq!(moved.across.likely(), 4.0 - squares.sqrt(), epsilon = 1e-9);
        assert_eq!(moved.across.largest().unwrap().name, "size of the unit");
        // Blocks of 4 mm may be lowered to 2 mm.
        assert_relative_eq!(moved.up.gap, 4.0);
        assert!(moved.findings.iter().all(|finding| finding.verdict == Verdict::Clear));
        assert!(moved.findings[0].advice.contains("measure the unit"), "{:?}", moved.findings[0]);
    }

    #[test]
    fn tight_gaps_and_a_thin_bed_want_care() {
        let mut tight = casement();
        tight.clearance.left = 1.0;
        tight.clearance.right = 1.0;
        tight.finish.bed = 0.5;
        let moved = &moved(&tight, &Allowances::default())[0];
        let verdict = |rule| moved.findings.iter().find(|f| f.rule == rule).unwrap().verdict;
        assert_eq!(verdict("movement.across"), Verdict::Caution);
        assert_eq!(verdict("movement.depth"), Verdict::Caution);
        assert_eq!(verdict("movement.up"), Verdict::Clear);
    }

    #[test]
    fn the_formula_says_where_it_does_not_hold() {
        for (now, most, found) in
            [(12.0, 17.0, 0), (16.0, 20.0, 1), (12.0, 19.5, 1), (8.0, 12.0, 1)]
        {
            let allowances =
                Allowances { moisture_now: now, moisture_most: most, ..Allowances::default() };
            let moved = &moved(&casement(), &allowances)[0];
            let rules = moved.findings.iter().filter(|f| f.rule == "movement.moisture");
            assert_eq!(rules.count(), found, "{now} {most}");
        }
    }

    #[test]
    fn a_unit_in_each_light_has_its_own_gaps_and_bars_swell_by_half_their_web() {
        let mut lights = casement();
        lights.bars_as = BarsAs::UnitPerLight;
        lights.unit.cover = 5.0;
        let moved = moved(&lights, &Allowances::default());
        assert_eq!(moved.len(), 3);
        let wood = |moved: &Movement| moved.across.takers.last().unwrap().most;
        // The middle light lies between two webs of 4 mm.
        assert_relative_eq!(wood(&moved[1]), 4.0 * 0.003_9 * 5.0, epsilon = 1e-9);
        assert!(wood(&moved[0]) > wood(&moved[1]));
    }

    proptest! {
        #[test]
        fn more_room_is_never_less_and_more_deviation_never_leaves_more(
            gap in 0.5..8.0_f64, more in 0.0..5.0_f64, measuring in 0.0..4.0_f64, damp in 12.0..17.0_f64,
        ) {
            let mut survey = casement();
            survey.clearance.left = gap;
            let base = Allowances { measuring, moisture_most: damp, ..Allowances::default() };
            let left = |survey: &survey::Sash, allowances: &Allowances| moved(survey, allowances)[0].across.clone();
            let tight = left(&survey, &base);
            let worse = left(&survey, &Allowances { measuring: measuring + more, ..base });
            prop_assert!(worse.likely() <= tight.likely() + 1e-9 && worse.worst() <= tight.worst() + 1e-9);
            survey.clearance.left = gap + more;
            prop_assert!(left(&survey, &base).worst() >= tight.worst() - 1e-9);
        }
    }
}
