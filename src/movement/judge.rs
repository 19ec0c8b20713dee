//! The gaps of one unit: across, up, and in depth.

use super::allowances::expands;
use super::timber::{HOLDS, swells};
use super::{Allowances, Budget, Taker, size_tolerance};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::{Fit, UnitFit};
use crate::geometry::Side;
use crate::language::text;
use crate::sash::{Part, Sash};
use crate::survey::{Limit, Limits};
use schemars::JsonSchema;
use serde::Serialize;

/// What the gaps across and up are for.
const GOES_IN: &str = "gap-goes-in";

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
/// `movement.across`, `.up`, `.depth`: the chance that enough is left when the unit is put in; `.in-use`: what damp
/// and sun leave of the gaps; `.moisture`: whether the formula holds.
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
        wanted: limits.movement_left_caution.value,
        goal: GOES_IN,
        takers: takers(sash, unit, [Side::Left, Side::Right], allowances),
    };
    let up = Budget {
        gap: unit.clearance.top.least + lowers,
        wanted: limits.movement_left_caution.value,
        goal: GOES_IN,
        takers: takers(sash, unit, [Side::Bottom, Side::Top], allowances),
    };
    let depth = Budget {
        gap: sash.measured.finish.bed + sash.measured.unit.over,
        wanted: limits.bed_left_caution.value,
        goal: "gap-has-bed",
        takers: vec![
            Taker::either_way("thickness of the unit", sash.measured.unit.over),
            Taker::either_way("cutting", allowances.cutting),
            Taker::later("timber", timber(sash, fit.depth, allowances, Change::Dries)),
        ],
    };
    let place = |way: &str| format!("{}, {way}", unit.light);
    let mut findings = Vec::new();
    for (rule, way, budget, wanted) in [
        ("movement.across", "across", &across, &limits.movement_left_caution),
        ("movement.up", "up", &up, &limits.movement_left_caution),
        ("movement.depth", "bed", &depth, &limits.bed_left_caution),
    ] {
        findings.push(goes_in(rule, place(way), budget, &limits.goes_in_caution));
        findings.push(in_use(place(way), budget, wanted));
    }
    findings.extend(moisture(unit, allowances));
    Movement { light: unit.light.clone(), across, up, depth, findings }
}

fn takers(sash: &Sash, unit: &UnitFit, sides: [Side; 2], allowances: &Allowances) -> Vec<Taker> {
    let tolerance = size_tolerance(&sash.measured.unit.build_up, unit.order);
    let upright = sides.contains(&Side::Left);
    let length = if upright { unit.order.width } else { unit.order.height };
    let wood: f64 = sides.into_iter().map(|side| beside(sash, unit, side)).sum();
    vec![
        Taker::either_way("size of the unit", tolerance),
        // Panes out of line only make a unit larger.
        Taker::takes("offset of its panes", tolerance),
        Taker::either_way("measuring", allowances.measuring),
        Taker::either_way("cutting", 2.0 * allowances.cutting),
        Taker::later("glass in the sun", expands(length, allowances)),
        Taker::later("timber", timber(sash, wood, allowances, Change::Swells)),
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

/// The chance that the unit goes in, and where it is poor what would make it surer.
fn goes_in(rule: &'static str, place: String, budget: &Budget, limit: &Limit) -> Finding {
    let words = budget.words();
    let measured = Quantity { value: 100.0 * budget.chance(), unit: "%" };
    let bounds = Bounds::caution(Bound::from(limit).map(|share| 100.0 * share));
    Finding::at_least(rule, place, measured, bounds, |verdict, _| match (verdict, rule) {
        (Verdict::Clear, _) => words,
        (_, "movement.depth") => text!("move-depth", words),
        _ => text!("move-size", words),
    })
}

/// `movement.in-use`.
fn in_use(place: String, budget: &Budget, wanted: &Limit) -> Finding {
    let measured = Quantity::mm(budget.in_use());
    Finding::at_least(
        "movement.in-use",
        place,
        measured,
        Bounds::caution(wanted),
        |verdict, bound| {
            let left = text!(
                "move-left",
                gap = format!("{:.1}", budget.gap),
                left = format!("{:.1}", measured.value)
            );
            match verdict {
                Verdict::Clear => left,
                _ => text!("move-more-room", left, more = format!("{:.1}", bound - measured.value)),
            }
        },
    )
}

/// Silent where the formula holds.
fn moisture(unit: &UnitFit, allowances: &Allowances) -> Option<Finding> {
    let (driest, dampest) = HOLDS;
    let source =
        Basis::Published("Wood Handbook FPL-GTR-190, ch. 13, and EN 942, external joinery");
    let now = allowances.moisture_now;
    let swing = (allowances.moisture_most - now).abs();
    let measured = Quantity { value: now + swing, unit: "%" };
    let bounds = Bounds::caution(Bound { value: dampest, basis: source.clone() });
    let advice = text!("move-damp");
    let place = unit.light.clone();
    let damp =
        Finding::at_most("movement.moisture", place.clone(), measured, bounds, |_, _| advice);
    let measured = Quantity { value: now - swing, unit: "%" };
    let bounds = Bounds::caution(Bound { value: driest, basis: source });
    let advice = text!("move-dry");
    let dry = Finding::at_least("movement.moisture", place, measured, bounds, |_, _| advice);
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

    // By hand: 844 mm of glass, 38 mm of wood beside either wall, softwood from 12 to 17 %. The unit may be 2 mm out
    // either way, its panes take up to 2, measuring and cutting 1 each: variances 4/3, 4/12, 1/3 and 1/3, mean 1.
    #[test]
    fn two_two_two_four_goes_in_thirty_nine_times_in_forty() {
        let moved = &moved(&casement(), &Allowances::default())[0];
        let wood = 76.0 * 0.003_9 * 5.0;
        let sun = 844.0 * 9e-6 * 40.0;
        assert_relative_eq!(moved.across.gap, 4.0);
        assert_relative_eq!(moved.across.in_use(), 4.0 - wood - sun, epsilon = 1e-9);
        // (4 − 1)/√(7/3) = 1.964: 0.9752 in the table of the normal distribution.
        assert_relative_eq!(moved.across.chance(), 0.9752, epsilon = 5e-5);
        let (largest, share) = moved.across.largest().unwrap();
        assert_eq!(largest.name, "size of the unit");
        assert_relative_eq!(share, 4.0 / 7.0, epsilon = 1e-9);
        // Blocks of 4 mm may be lowered to 2 mm.
        assert_relative_eq!(moved.up.gap, 4.0);
        assert!(moved.findings.iter().all(|finding| finding.verdict == Verdict::Clear));
        assert_eq!(
            moved.findings[0].advised(),
            "19 times in 20 the unit goes in without planing; most doubt is in the size of the unit: measure it before the \
             finishing cut."
        );
    }

    // What is told to be made better makes it surer, and wood that swells shut is told.
    #[test]
    fn the_measure_that_is_named_is_the_one_that_helps() {
        let mut tight = casement();
        tight.clearance.left = 1.0;
        tight.clearance.right = 1.0;
        let rough = Allowances { measuring: 4.0, ..Allowances::default() };
        let found = &moved(&tight, &rough)[0];
        assert!(
            found.findings[0].advised().contains("measuring: measure again"),
            "{:?}",
            found.findings[0]
        );
        let better = |allowances| moved(&tight, &allowances)[0].across.chance();
        let by_measuring = better(Allowances { measuring: 2.0, ..rough });
        let by_cutting = better(Allowances { cutting: 0.25, ..rough });
        assert!(by_measuring > by_cutting && by_cutting > found.across.chance());
        let wet = Allowances { moisture_most: 19.0, ..Allowances::default() };
        let swollen = moved(&tight, &wet);
        let in_use = swollen[0].findings.iter().find(|f| f.rule == "movement.in-use").unwrap();
        assert_eq!(in_use.verdict, Verdict::Caution, "{in_use:?}");
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
            let sure = tight.chance();
            prop_assert!(sure < 0.5 || worse.chance() <= sure + 1e-9);
            survey.clearance.left = gap + more;
            prop_assert!(left(&survey, &base).chance() >= sure - 1e-9);
            prop_assert!(left(&survey, &base).in_use() >= tight.in_use() - 1e-9);
        }
    }
}
