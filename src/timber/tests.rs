//! The room as a whole: what it says about an invented sash, and how it answers to change.

use super::*;
use crate::finding::Verdict;
use crate::fit::{Outlines, UnitFit};
use crate::geometry::{MinMax, Side, Sided};
use crate::sash::tests::{casement, wood_at};
use crate::survey::{BarsAs, Metal, Moulding, OldGlazing, Screw, ScrewFrom};
use approx::assert_relative_eq;
use kurbo::{Point, Rect, Size};
use proptest::prelude::*;

/// Edge clearance of every unit here, mm.
const CLEARANCE: f64 = 2.0;

/// A fit with the same cover all round, one unit or one a light as the survey says.
pub(super) fn fit_of(sash: &Sash, cover: f64, depth: f64) -> Fit {
    let unit = |light: &str, sight: Rect| UnitFit {
        light: light.to_owned(),
        order: Size::new(sight.width() + 2.0 * cover, sight.height() + 2.0 * cover),
        rebate_width: PerSide::all(MinMax::even(cover + CLEARANCE)),
        clearance: PerSide::all(MinMax::even(CLEARANCE)),
        cover: PerSide::all(MinMax::even(cover)),
        bars: Vec::new(),
        largest_cutter: f64::INFINITY,
        outlines: {
            let [sight, wall, unit] = [0.0, cover + CLEARANCE, cover]
                .map(|by| Sided::rectangle(sight.inflate(by, by)).unwrap());
            Outlines { sight, wall, order: unit.clone(), unit }
        },
    };
    let units = match sash.measured.bars_as {
        BarsAs::OneUnit => vec![unit("whole sash", sash.sight)],
        BarsAs::UnitPerLight => {
            sash.lights.iter().map(|light| unit(&light.name, light.sight)).collect()
        }
    };
    Fit { units, depth, findings: Vec::new() }
}

pub(super) fn casement_fit() -> (Sash, Fit) {
    let sash = Sash::new(&casement()).unwrap();
    let fit = fit_of(&sash, 12.0, 27.0);
    (sash, fit)
}

fn found<'a>(timber: &'a Timber, rule: &str, place: &str) -> &'a Finding {
    let mut all = timber.findings.iter();
    all.find(|finding| finding.rule == rule && finding.place == place)
        .unwrap_or_else(|| panic!("no {rule} at {place}: {:#?}", timber.findings))
}

// Closed forms: members 45 thick, ovolo 8 deep, platform 27 deep, walls 14 behind the sight edge.
#[test]
fn a_casement_is_measured_to_the_drawing() {
    let (sash, fit) = casement_fit();
    let timber = judge(&sash, &fit, &Limits::default());
    let value = |rule, place| found(&timber, rule, place).measured.value;
    assert_relative_eq!(value("timber.front", "left stile"), 10.0, epsilon = 1e-6);
    assert_relative_eq!(value("timber.sight-line", "top rail"), 10.0, epsilon = 1e-6);
    assert_relative_eq!(value("timber.beside", "left stile"), 38.0);
    assert_relative_eq!(value("timber.beside", "bottom rail"), 60.0);
    assert_relative_eq!(value("timber.bar", "upright bar 1"), 18.0);
    assert_relative_eq!(value("timber.front", "upright bar 2"), 10.0, epsilon = 1e-6);
    assert!(timber.findings.iter().all(|finding| finding.rule != "timber.web"));
    assert_eq!(found(&timber, "timber.proud", "bead").verdict, Verdict::Clear);
    assert_eq!(timber.members.left.under_platform.unwrap().from_sight, 0.0);
    assert!(timber.members.left.after.ix < timber.members.left.before.ix);
}

// Worked out by the Python package sectionproperties 3.10.2 on the same outlines, ovolo in 2000 chords.
#[test]
fn moulded_sections_agree_with_an_independent_library() {
    let (sash, fit) = casement_fit();
    let timber = judge(&sash, &fit, &Limits::default());
    let (stile, bar) = (&timber.members.left, &timber.bars[0]);
    let rows = [
        (stile.before, [2_173.265_48, 27.666_642, 21.645_288, 353_691.17, 441_403.26, 42_278.769]),
        (stile.after, [1_948.265_48, 29.857_049, 20.899_850, 330_381.57, 347_580.92, 69_792.366]),
        (bar.before, [656.530_95, 11.0, 16.841_421, 66_848.325, 22_542.607, 0.0]),
        (bar.after, [368.530_95, 11.0, 9.537_637, 9_094.500_9, 13_578.607, 0.0]),
    ];
    for (ours, theirs) in rows {
        let ours = [ours.area, ours.x, ours.y, ours.ix, ours.iy, ours.ixy];
        for (a, b) in ours.into_iter().zip(theirs) {
            assert_relative_eq!(a, b, max_relative = 1e-5, epsilon = 1e-6);
        }
    }
}

#[test]
fn units_in_each_light_share_the_bar() {
    let mut survey = casement();
    survey.bars_as = BarsAs::UnitPerLight;
    survey.bars[0].width = 34.0;
    let sash = Sash::new(&survey).unwrap();
    let timber = judge(&sash, &fit_of(&sash, 12.0, 27.0), &Limits::default());
    let wide = found(&timber, "timber.web", "upright bar 1");
    assert_relative_eq!(wide.measured.value, 6.0);
    assert_eq!(wide.verdict, Verdict::Clear);
    // A bar of 22 mm has no room for two rebates of 14 mm.
    let narrow = found(&timber, "timber.web", "upright bar 2");
    assert_relative_eq!(narrow.measured.value, -6.0);
    assert_eq!(narrow.verdict, Verdict::Stop);
    assert!(timber.findings.iter().all(|finding| finding.rule != "timber.bar"));
    assert_eq!(timber.bars[0].height, None);
}

#[test]
fn a_sash_without_a_unit_is_left_as_it_is() {
    let (sash, mut fit) = casement_fit();
    fit.units.clear();
    fit.depth = 0.0;
    let timber = judge(&sash, &fit, &Limits::default());
    for (_, member) in timber.members.iter() {
        assert_eq!(member.before, member.after);
    }
}

#[test]
fn the_judgement_is_all_numbers_when_written_down() {
    let (sash, fit) = casement_fit();
    let written = serde_json::to_value(judge(&sash, &fit, &Limits::default())).unwrap();
    assert!(written["members"]["left"]["bending"]["after"]["deflection"].is_f64());
    assert_eq!(written["members"]["top"]["name"], "top rail");
}

fn moulding() -> impl Strategy<Value = Moulding> {
    let size = || (2.0..14.0_f64, 2.0..14.0_f64);
    prop_oneof![
        Just(Moulding::Square),
        size().prop_map(|(width, depth)| Moulding::Chamfer { width, depth }),
        size().prop_map(|(width, depth)| Moulding::Ovolo { width, depth }),
        size().prop_map(|(width, depth)| Moulding::Ogee { width, depth }),
        // A fillet, a quirk that rises, and a slope.
        (size(), 0.0..6.0_f64).prop_map(|((width, depth), quirk)| {
            let points =
                [(0.0, depth), (width / 3.0, depth), (width / 3.0, depth + quirk), (width, 0.0)];
            Moulding::Traced(points.map(Point::from).to_vec())
        }),
    ]
}

fn old() -> impl Strategy<Value = OldGlazing> {
    prop_oneof![
        (5.0..14.0_f64, 8.0..24.0_f64)
            .prop_map(|(width, depth)| OldGlazing::Rebate { width, depth }),
        (4.0..12.0_f64, 4.0..8.0_f64, 5.0..12.0_f64).prop_map(|(from_face, width, depth)| {
            OldGlazing::Groove { from_face, width, depth }
        }),
    ]
}

prop_compose! {
    fn any_sash()(
        moulding in moulding(),
        bar_moulding in moulding(),
        old in old(),
        per_light in any::<bool>(),
        thickness in 38.0..60.0_f64,
        bar_width in 18.0..40.0_f64,
    ) -> Sash {
        let mut survey = casement();
        for member in [
            &mut survey.members.left,
            &mut survey.members.right,
            &mut survey.members.bottom,
            &mut survey.members.top,
        ] {
            member.moulding = moulding.clone();
            member.old = old;
            member.thickness = thickness;
        }
        for bar in &mut survey.bars {
            bar.thickness = thickness;
            bar.width = bar_width;
            bar.rebate_width = bar_width / 3.0;
            bar.moulding = bar_moulding.clone();
        }
        survey.bars_as = if per_light { BarsAs::UnitPerLight } else { BarsAs::OneUnit };
        Sash::new(&survey).unwrap()
    }
}

/// Every number of which less is worse.
fn worth(timber: &Timber) -> Vec<f64> {
    let members = timber.members.iter().flat_map(|(_, left)| {
        let front = left.under_platform.map_or(f64::INFINITY, |least| least.wood);
        let tenon = left.tenon.map_or(1.0, |tenon| tenon.share);
        [
            front,
            left.beside.least,
            tenon,
            left.after.area,
            left.after.ix,
            -left.bending.after.deflection,
        ]
    });
    let bars = timber.bars.iter().flat_map(|left| {
        let front = left.under_platform.map_or(f64::INFINITY, |least| least.wood);
        let height = left.height.unwrap_or(f64::INFINITY);
        let web = left.web.unwrap_or(f64::INFINITY);
        [front, height, web, left.after.area, left.after.ix, -left.bending.after.deflection]
    });
    members.chain(bars).collect()
}

fn never_more(less_cut: &Timber, more_cut: &Timber) -> Result<(), TestCaseError> {
    for (index, (less, more)) in worth(less_cut).iter().zip(worth(more_cut)).enumerate() {
        let rounding = 1e-9 * less.abs().max(1.0);
        prop_assert!(more <= less + rounding, "number {index}: {more} after {less}");
    }
    Ok(())
}

proptest! {
    #[test]
    fn a_deeper_unit_never_leaves_more(sash in any_sash(), depth in 5.0..40.0_f64, more in 0.0..20.0_f64) {
        let limits = Limits::default();
        let judged = |depth| judge(&sash, &fit_of(&sash, 12.0, depth), &limits);
        never_more(&judged(depth), &judged(depth + more))?;
    }

    #[test]
    fn a_wider_cover_never_leaves_more(sash in any_sash(), cover in 2.0..20.0_f64, more in 0.0..15.0_f64) {
        let limits = Limits::default();
        let judged = |cover| judge(&sash, &fit_of(&sash, cover, 27.0), &limits);
        never_more(&judged(cover), &judged(cover + more))?;
    }

    #[test]
    fn whatever_the_cut_every_finding_has_numbers_and_advice(
        sash in any_sash(),
        cover in 0.0..120.0_f64,
        depth in 0.0..120.0_f64,
    ) {
        let mut survey = sash.measured;
        survey.metal = vec![Metal { name: "pin".into(), at: Point::new(-3.0, 70.0), radius: 5.0, from_face: 0.0, cleared: false }];
        let screw =
            |from| Screw { member: Side::Top, from, at: 40.0, length: depth, cleared: false };
        survey.screws = vec![
            screw(ScrewFrom::OuterEdge { from_face: 20.0 }),
            screw(ScrewFrom::RoomFace { from_sight: 20.0 }),
        ];
        let sash = Sash::new(&survey).unwrap();
        let timber = judge(&sash, &fit_of(&sash, cover, depth), &Limits::default());
        for finding in &timber.findings {
            prop_assert!(finding.measured.value.is_finite() && finding.limit.value.is_finite(), "{finding:?}");
            prop_assert!(!finding.advised().is_empty() && finding.place != "", "{finding:?}");
        }
        for rule in ["timber.front", "timber.sight-line", "timber.beside", "timber.tenon", "timber.wind", "timber.screw", "metal.in-path", "timber.proud"] {
            prop_assert!(timber.findings.iter().any(|finding| finding.rule == rule), "no {rule}");
        }
    }

    /// The sash answers point by point which wood stands where; least wood and area must agree.
    #[test]
    fn numbers_agree_with_the_wood_at_each_point(sash in any_sash(), cover in 2.0..20.0_f64, depth in 5.0..36.0_f64) {
        const STEP: f64 = 0.05;
        let timber = judge(&sash, &fit_of(&sash, cover, depth), &Limits::default());
        let left = &timber.members.left;
        let member = &sash.measured.members.left;
        let profile = crate::sash::Profile::new(&member.moulding);
        let platform_to = left.rebate_width.most.max(member.old.width());
        let (mut least, mut area) = (f64::INFINITY, 0.0);
        // The stile is 52 mm wide.
        for step in 0..1040_u32 {
            let behind = (f64::from(step) + 0.5) * STEP;
            let (_, wood) = wood_at(&sash, Point::new(-behind, 100.0)).unwrap();
            let cut = if behind < left.rebate_width.most { -depth } else { 0.0 };
            // A groove loses its back lip with the cut.
            let lip = if behind < member.old.width() { -member.old.depth() } else { 0.0 };
            let room = -member.thickness + profile.height_at(behind);
            let top = wood.iter().map(|piece| piece.top.min(cut).min(lip)).fold(f64::NEG_INFINITY, f64::max);
            if behind < platform_to {
                least = least.min(top - room);
            }
            area += STEP * (top - room).max(0.0);
        }
        let measured = left.under_platform.unwrap().wood;
        // Samples stand beside the worst place, so they may see more, never less; at the place itself
        // the number is met.
        prop_assert!(least >= measured - 1e-3, "{least} sampled, {measured} measured");
        let worst = left.under_platform.unwrap();
        let platform = if worst.by_old { member.old.depth() } else { depth };
        let there = member.thickness - platform - profile.height_at(worst.from_sight);
        prop_assert!((there - measured).abs() < 0.02, "{there} at {worst:?}");
        prop_assert!((area - left.after.area).abs() < 3.0, "{area} sampled, {}", left.after.area);
        let front = found(&timber, "timber.front", "left stile");
        prop_assert_eq!(front.measured.value, measured);
    }
}
