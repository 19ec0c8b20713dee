//! Which units a sash can take: every ranked answer is what `make` says of the same unit, thicker never
//! leaves more wood, and heavier never needs less counterweight.

use crate::support;
use crate::support::houses;
use crate::support::runs::for_all;
use fillister::finding::Verdict;
use fillister::glass::CANDIDATES;
use fillister::job::{Work, check, check_apart, make};
use fillister::report::{Candidate, SashReport};
use fillister::survey::{
    Candidates, House, Kind, Offered, Sash, WeightBox, read, thickness_tolerance,
};
use proptest::prelude::*;

/// One sash that nothing stops, quick to make.
const SMALL: &str = r#"
house = "Samphire Cottage"
[[sash]]
id        = "larder-1"
kind      = "sliding-lower"
thickness = 50
sight     = { width = 120, height = 150 }
stiles    = { width = 57 }
rails     = { width = 60 }
rebate    = { width = 9, depth = 17 }
moulding  = { shape = "ovolo", width = 8, depth = 8 }
unit      = { build_up = "4-6-4" }
old_glass = 3
weather   = { degree_hours = 70 }
weights   = { diameter = 40, height = 1500, travel = 700 }
"#;

fn small() -> House {
    read(SMALL, "small").unwrap()
}

/// `sash` with a unit that was tried, as the list says it.
fn with(sash: &Sash, offered: &Offered) -> Sash {
    let mut tried = sash.clone();
    tried.unit.build_up = offered.build_up.clone();
    tried.unit.make = offered.make;
    tried.unit.over = thickness_tolerance(&offered.build_up, &offered.make);
    tried
}

/// By how much of itself U of a sash may be off in the list: what depends on depth is told along a line.
const LIKE: f64 = 0.03;

fn same(candidate: &Candidate, report: &SashReport) {
    let warmth = report.warmth.as_ref().unwrap();
    let what = format!("{} {}", candidate.build_up, candidate.make);
    // The list has Uf and Ψ of the surveyed unit; the report of the unit has its own sections.
    let off = candidate.whole_u.unwrap() / warmth.after.whole_u - 1.0;
    assert!(off.abs() < LIKE, "{what}: {off}");
    assert_eq!(candidate.glass_u, Some(warmth.after.glass_u), "{what}");
    let saved = candidate.saved.unwrap() / warmth.saved.unwrap() - 1.0;
    assert!(saved.abs() < 3.0 * LIKE, "{what}: {saved}");
    assert_eq!(candidate.rebate_depth, report.rebate_depth, "{what}");
    let kg: f64 = report.units.iter().map(|unit| unit.weight.unwrap()).sum();
    assert_eq!(candidate.weight, Some(kg), "{what}");
    assert_eq!(candidate.make, report.units[0].make, "{what}");
    // The proof alone may say more.
    let told = report.findings.iter().filter(|found| !found.rule.starts_with("prove."));
    let open: Vec<_> = told.filter(|found| found.verdict != Verdict::Clear).cloned().collect();
    assert_eq!(candidate.findings, open, "{what}");
}

/// Makes every unit that fits the one sash of `house`, and says how many.
fn made_again(house: &House) -> usize {
    let report = check(house);
    let ranked = &report.sashes[0].choice.candidates;
    let fitting = ranked.iter().filter(|one| one.verdict != Verdict::Stop);
    let mut made = 0;
    for candidate in fitting {
        let offered = CANDIDATES.iter().filter_map(fillister::glass::Candidate::offered);
        let alike = |one: &Offered| {
            let sash = with(&house.sashes[0], one);
            let properties = fillister::glass::Properties::of(&sash.unit.make);
            one.build_up.to_string() == candidate.build_up && properties.words() == candidate.make
        };
        let sash = match offered.into_iter().find(alike) {
            Some(offered) => with(&house.sashes[0], &offered),
            None => house.sashes[0].clone(),
        };
        let again = House { sashes: vec![sash], ..house.clone() };
        same(candidate, &make(&again).unwrap().report.sashes[0]);
        made += 1;
    }
    made
}

#[test]
fn every_ranked_answer_planned_again_by_make_gives_the_same_numbers() {
    let made = made_again(&small());
    assert!(made > 8, "{made}");
}

// Of the example: its survey asks for a unit that is stopped, and five others fit.
#[test]
fn so_does_every_answer_for_a_sash_of_the_house() {
    let mut house = read(support::EXAMPLE, "example").unwrap();
    house.sashes.retain(|sash| sash.id == "scullery-1");
    assert_eq!(made_again(&house), 5);
}

#[test]
fn so_does_every_answer_for_an_arched_sash() {
    let arched = SMALL
        .replace("sliding-lower", "side-hung")
        .replace("height = 150", "height = 150, head = { shape = \"segmental\", rise = 30 }")
        .replace("weights ", "# weights ");
    let mut house = read(&arched, "arched").unwrap();
    // Every fourth of the list: each is planned, proven and drawn.
    let some = CANDIDATES.iter().step_by(4).filter_map(fillister::glass::Candidate::offered);
    house.workshop.candidates = Candidates { usual: false, units: some.collect() };
    assert!(house.sashes[0].outline.is_some() && house.sashes[0].around.weights.is_none());
    let made = made_again(&house);
    assert!(made > 2, "{made}");
}

#[test]
fn those_that_fit_stand_first_and_the_warmest_of_them_before_the_rest() {
    let house = read(support::EXAMPLE, "example").unwrap();
    for sash in check(&house).sashes {
        let ranked = sash.choice.candidates;
        let stopped = |one: &Candidate| one.verdict == Verdict::Stop;
        assert!(ranked.is_sorted_by_key(stopped), "{}", sash.id);
        for part in ranked.chunk_by(|a, b| stopped(a) == stopped(b)) {
            assert!(part.is_sorted_by(|a, b| a.whole_u <= b.whole_u), "{}", sash.id);
        }
        assert_eq!(ranked.iter().filter(|one| one.surveyed).count(), 1);
    }
}

// Of the scullery's 40 mm, 4 mm are left behind 4-8-4: a bed 1 mm thinner leaves the 5 that are enough.
#[test]
fn one_change_that_lets_a_unit_in_really_does() {
    let mut house = read(support::EXAMPLE, "example").unwrap();
    house.sashes.retain(|sash| sash.id == "scullery-1");
    let choice = check(&house).sashes.remove(0).choice;
    let next = choice.next.unwrap();
    assert_eq!(next.build_up, "4-8-4");
    assert!(next.changes.iter().any(|change| change.what.to_string().contains("a bed of 1.0 mm")));
    let mut changed = house.sashes[0].clone();
    assert_eq!(Work::new(&changed, &house.workshop).unwrap().verdict(), Verdict::Stop);
    changed.finish.bed = 1.0;
    assert_ne!(Work::new(&changed, &house.workshop).unwrap().verdict(), Verdict::Stop);
}

#[test]
fn the_survey_extends_or_replaces_the_list() {
    let mut house = small();
    let offered = CANDIDATES[0].offered().unwrap();
    let extra = Offered { build_up: "5-7-5".parse().unwrap(), ..offered };
    house.workshop.candidates = Candidates { usual: true, units: vec![extra.clone()] };
    let tried = |house: &House| {
        let sash = check(house).sashes.remove(0);
        sash.choice.candidates.into_iter().map(|one| one.build_up).collect::<Vec<_>>()
    };
    assert_eq!(tried(&house).len(), CANDIDATES.len() + 2);
    house.workshop.candidates = Candidates { usual: false, units: vec![extra] };
    let mut only = tried(&house);
    only.sort();
    assert_eq!(only, ["4-6-4", "5-7-5"]);
}

fn json(report: &impl serde::Serialize) -> String {
    serde_json::to_string_pretty(report).unwrap()
}

// Walls, templates and paths are worked out once for all units, beds and beads that look the same from above.
#[test]
fn sharing_what_is_seen_from_above_changes_no_answer() {
    let house = read(support::EXAMPLE, "example").unwrap();
    assert_eq!(json(&check(&house)), json(&check_apart(&house)));
    let workshop = house.workshop;
    let mut thin = workshop.clone();
    (thin.cutter.diameter, thin.cutter.cutting_length) = (8.0, 22.0);
    for_all(4, &(houses::sash(), any::<bool>()), |(sash, is_thin)| {
        let workshop = if is_thin { thin.clone() } else { workshop.clone() };
        let house = House { name: "x".into(), workshop, sashes: vec![sash], doubts: Vec::new() };
        prop_assert_eq!(json(&check(&house)), json(&check_apart(&house)));
        Ok(())
    });
}

#[test]
fn one_thread_and_eight_give_the_same_bytes() {
    let mut house = read(support::EXAMPLE, "example").unwrap();
    house.sashes.truncate(2);
    let with = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().unwrap();
        pool.install(|| (json(&check(&house)), make(&house).unwrap().files))
    };
    let (one, eight) = (with(1), with(8));
    assert_eq!(one.0, eight.0);
    assert_eq!(one.1.keys().collect::<Vec<_>>(), eight.1.keys().collect::<Vec<_>>());
    for (name, content) in &one.1 {
        assert_eq!(Some(content), eight.1.get(name), "{name}");
    }
}

fn wood(candidate: &Candidate) -> f64 {
    candidate.rebate_depth
}

#[test]
fn a_thicker_cavity_never_leaves_more_wood_and_a_heavier_unit_never_needs_less_weight() {
    for_all(12, &(houses::sash(), 4.0..12.0_f64, 0.1..6.0_f64), |(mut sash, cavity, more)| {
        sash.kind = Kind::SlidingLower;
        sash.finish.proud = 0.0;
        sash.around.old_glass = Some(3.0);
        sash.around.hinges = None;
        sash.around.weights =
            Some(WeightBox { diameter: 40.0, height: 1500.0, travel: 600.0, old: None });
        let workshop = fillister::survey::Workshop::default();
        let report = |build_up: String| {
            let mut sash = sash.clone();
            sash.unit.build_up = build_up.parse().unwrap();
            let house = House {
                name: "x".into(),
                workshop: workshop.clone(),
                sashes: vec![sash],
                doubts: Vec::new(),
            };
            check(&house).sashes.remove(0)
        };
        let (thin, thick) =
            (report(format!("4-{cavity}-4")), report(format!("4-{}-4", cavity + more)));
        prop_assert!(thick.wood_removed >= thin.wood_removed - 1e-6);
        for (side, left) in thick.timber.members.iter() {
            let before = thin.timber.members.get(side).under_platform.as_ref();
            if let (Some(after), Some(before)) = (left.under_platform.as_ref(), before) {
                prop_assert!(after.wood <= before.wood + 1e-6);
            }
        }
        let heavy = report(format!("{}-{cavity}-4", 4.0 + more.round()));
        let each = |report: &SashReport| {
            let hanging = report.hanging.as_ref().unwrap();
            (hanging.after, hanging.counterweights.as_ref().unwrap().each_after)
        };
        let (mut light, mut heavy) = (each(&thin), each(&heavy));
        // Of a small sash a thicker pane may take more wood than it weighs.
        if heavy.0 < light.0 {
            (light, heavy) = (heavy, light);
        }
        prop_assert!(heavy.1 >= light.1 - 1e-9);
        let own = |report: &SashReport| {
            report.choice.candidates.iter().find(|one| one.surveyed).map(wood).unwrap()
        };
        prop_assert!(own(&thick) >= own(&thin));
        Ok(())
    });
}

// Each by itself is reckoned on a finer grid and at every part, of which another may be the coldest.
#[test]
fn the_edge_of_a_unit_beside_others_is_as_dry_as_in_a_survey_of_its_own() {
    let text = include_str!("../examples/samphire-cottage.toml");
    let mut house = read(text, "house.toml").unwrap();
    house.sashes.retain(|sash| ["parlour-1", "landing-1", "hall-fanlight"].contains(&&*sash.id));
    let made = make(&house).unwrap().report;
    let mut held = 0;
    for (sash, report) in house.sashes.iter().zip(&made.sashes) {
        for listed in CANDIDATES {
            let offered = listed.offered().unwrap();
            let alone = House { sashes: vec![with(sash, &offered)], ..house.clone() };
            let alone = &check(&alone).sashes[0];
            let own = alone.choice.candidates.iter().find(|one| one.surveyed).unwrap();
            let like = |one: &&Candidate| one.build_up == own.build_up && one.make == own.make;
            let beside = report.choice.candidates.iter().find(like).unwrap();
            assert_eq!(beside.edge_dry_down_to.is_some(), beside.verdict != Verdict::Stop);
            let Some(dry) = beside.edge_dry_down_to else { continue };
            let edge = alone.warmth.as_ref().unwrap().after.edge.as_ref().unwrap();
            let off = dry - edge.dry_down_to.unwrap();
            assert!(off.abs() < 0.8, "{} {}: {dry}, off by {off}", report.id, own.build_up);
            held += 1;
        }
    }
    assert!(held > 20, "{held}");
    // What an answer does not tell is not worked out.
    let told = &check(&house).sashes[0].choice.candidates;
    assert!(told.iter().all(|one| one.surveyed || one.edge_dry_down_to.is_none()));
}
