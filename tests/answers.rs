//! What is answered about wood, order and cutting: each from one judgement, wherever it is written.

use crate::support::runs::for_all;
use crate::support::{houses, machinable};
use fillister::finding::{Question, Verdict};
use fillister::job::{self, Made};
use fillister::report::SashReport;
use fillister::sheets::summary::{Detail, answer};
use fillister::survey::read;
use proptest::prelude::*;
use std::cell::Cell;

const EXAMPLE: &str = include_str!("../examples/samphire-cottage.toml");

/// A stout casement, with `more` in its table.
fn made(more: &str) -> Made {
    let text = format!(
        "house = \"Tern House\"\n[[sash]]\nid = \"s\"\nkind = \"fixed\"\nthickness = 57\n\
         sight = {{ width = 600, height = 500 }}\nstiles = {{ width = 57 }}\nrails = {{ width = 57 }}\n\
         rebate = {{ width = 9, depth = 17 }}\nunit = {{ build_up = \"4-6-4\" }}\n\
         moulding = {{ shape = \"ovolo\", width = 8, depth = 10 }}\n{more}\n"
    );
    job::make(&read(&text, "tern-house.toml").unwrap()).unwrap()
}

fn file<'a>(made: &'a Made, name: &str) -> &'a str {
    std::str::from_utf8(&made.files[name]).unwrap()
}

// The new wall lies 14 mm behind the sight: a clamp from 627 on stands behind it, and below rapid moves.
#[test]
fn a_clamp_beside_the_cut_is_in_nobodys_way() {
    let made =
        made("clamps = [{ name = \"edge clamp\", at = [627, 200], size = [30, 30], height = 20 }]");
    assert_ne!(made.report.sashes[0].answers.programs, Verdict::Stop);
    let air_run = file(&made, "s/cuts/1-air-run.ngc");
    assert!(air_run.contains("\nG0 Z25\n"), "5 mm over the clamp: {air_run}");
}

// By hand: stiles of 57 beside a daylight of 600 by 500 between rails of 57 run on by 60, to Y -117; a stop of 20 by 10
// at X -50 Y -80 stands whole on the left one, 2 cm², a clamp beside the stile on none.
#[test]
fn a_stop_on_a_horn_is_told_and_horns_are_drawn() {
    let stop = |at: &str| {
        made(&format!(
            "horns = {{ bottom = 60 }}\nclamps = [{{ name = \"stop\", at = {at}, size = [20, 10], height = -5 }}]"
        ))
    };
    let on = stop("[-50, -80]");
    let sash = &on.report.sashes[0];
    assert_eq!(sash.height_over_horns, Some(500.0 + 2.0 * 57.0 + 60.0));
    let found = sash.findings.iter().find(|found| found.rule == "machine.horn").unwrap();
    assert_eq!((found.measured.value, found.verdict), (2.0, Verdict::Caution));
    assert!(file(&on, "s/sash.dxf").contains("-117"), "the horn's end");
    let boards = &sash.materials.as_ref().unwrap().boards;
    let between = boards.iter().find(|board| board.place == "beside the bottom rail").unwrap();
    assert_eq!((between.count, between.length), (1, 600.0));
    let beside = stop("[-90, 100]");
    let found = beside.report.sashes[0].findings.iter();
    let found = found.filter(|found| found.rule == "machine.horn").map(|found| found.verdict);
    assert_eq!(found.collect::<Vec<_>>(), [Verdict::Clear]);
}

// A machine with its zero 40 mm right and 60 mm up in a travel of 1200 by 700 reaches every cut, though not the sash's
// outer corner at X -57; it ends behind the sash, in the travel.
#[test]
fn what_is_cut_within_the_travel_needs_no_more_of_it() {
    let made = |zero: &str| {
        let text = format!(
            "house = \"Tern House\"\nworkshop.machine = {{ bed = [1200, 700], zero = {zero} }}\n[[sash]]\n\
             id = \"s\"\nkind = \"fixed\"\nthickness = 57\nsight = {{ width = 600, height = 500 }}\n\
             stiles = {{ width = 57 }}\nrails = {{ width = 57 }}\nrebate = {{ width = 9, depth = 17 }}\n\
             unit = {{ build_up = \"4-6-4\" }}\nmoulding = {{ shape = \"ovolo\", width = 8, depth = 10 }}\n"
        );
        job::make(&read(&text, "tern-house.toml").unwrap()).unwrap()
    };
    let inside = made("[40, 60]");
    assert_ne!(inside.report.sashes[0].answers.programs, Verdict::Stop);
    let text = file(&inside, "s/cuts/2-score.ngc");
    let last = text.lines().rev().find(|line| line.contains('Y')).unwrap();
    // 557 is the upper edge, 20 mm of room and the radius of the cutter.
    assert!(last.ends_with("Y583"), "{last}");
    assert_eq!(made("[6, 60]").report.sashes[0].answers.programs, Verdict::Stop);
}

// The clamp stands over the new wall of the right stile.
#[test]
fn a_clamp_in_the_way_of_the_machine_keeps_back_neither_order_nor_template() {
    let made =
        made("clamps = [{ name = \"edge clamp\", at = [607, 200], size = [30, 30], height = 20 }]");
    let answers = made.report.sashes[0].answers;
    assert_ne!((answers.wood, answers.order), (Verdict::Stop, Verdict::Stop));
    assert_eq!(answers.programs, Verdict::Stop);
    let words = answer(&made.report, Detail::Short);
    assert!(words.contains("there is enough wood, but the programs cannot be run"), "{words}");
    assert!(words.contains("The cutter runs into the edge clamp: move it"), "{words}");
    assert!(words.contains("  Order   1 of 624 x 524 mm"), "{words}");
    assert_eq!(file(&made, "glass-order.csv").lines().count(), 2);
    assert!(made.files.contains_key("s/template.pdf"));
    assert!(!made.files.keys().any(|name| name.contains("/cuts/")));
}

// A corner 2 mm high leans the face more than a flat cutter of 12 may stand off it: the programs are stopped, and every
// unit that the wood can take still fits.
#[test]
fn a_face_that_leans_keeps_no_unit_from_fitting() {
    let more =
        "finish = { bed = 3 }\nsurface = [[0, 0, 0], [600, 0, 0], [600, 500, 2], [0, 500, 0]]";
    let sash = &made(more).report.sashes[0];
    assert_eq!(sash.answers.programs, Verdict::Stop);
    let level = &made("finish = { bed = 3 }").report.sashes[0].choice;
    assert!(level.best.is_some() && level.thickest.is_some());
    assert_eq!((&sash.choice.best, sash.choice.thickest), (&level.best, level.thickest));
}

// Steel in the cut keeps back whatever one could cut by; the glass is right all the same.
#[test]
fn a_sprig_in_the_cut_keeps_back_template_and_programs_and_no_order() {
    let made = made("metal = [{ name = \"sprig\", at = [-4, 300] }]");
    assert!(!made.files.contains_key("s/template.pdf"));
    assert!(!made.files.keys().any(|name| name.contains("/cuts/")));
    assert_eq!(file(&made, "glass-order.csv").lines().count(), 2);
    let words = answer(&made.report, Detail::Short);
    assert!(words.contains("Neither template nor programs yet."), "{words}");
}

// A window 620 mm over the floor, in England a critical place below 800 (Approved Document K), ordered as annealed.
#[test]
fn no_order_asks_for_two_kinds_of_glass() {
    let made = job::make(&read(EXAMPLE, "samphire-cottage.toml").unwrap()).unwrap();
    let order = file(&made, "glass-order.csv");
    let line = order.lines().find(|line| line.starts_with("bedroom-lower")).unwrap();
    assert!(line.contains("every pane toughened, or laminated") && !line.contains("annealed"));
    let kitchen = order.lines().find(|line| line.starts_with("kitchen-1")).unwrap();
    assert!(kitchen.contains("annealed"));
    // What no key of the survey tells is open on every order; behind putty the seal stands in sealant as well.
    let open = |line: &&str| line.contains("\"coated face, spacer material");
    assert_eq!(order.lines().skip(1).filter(open).count(), order.lines().count() - 1);
    for sash in &made.report.sashes {
        let sealed = (sash.glazing == "putty").then_some("sealant that suits its seal");
        let all: Vec<&str> = ["coated face", "spacer material"].into_iter().chain(sealed).collect();
        assert!(sash.units.iter().all(|unit| unit.unstated == all), "{}", sash.id);
        assert_eq!(sealed.is_some(), sash.id == "hall-1");
    }
}

// The example's `kitchen-1`: the fillet at a corner of the wall is met 0.47 mm off, and the zero may be set 0.5 mm off.
#[test]
fn a_zero_that_the_unit_does_not_bear_is_no_clear_yes() {
    let made = job::make(&read(EXAMPLE, "samphire-cottage.toml").unwrap()).unwrap();
    for sash in &made.report.sashes {
        let Some(zero) = sash.proof.as_ref().and_then(|proof| proof.margins.zero.as_ref()) else {
            continue;
        };
        let ways =
            [&zero.x, &zero.y, &zero.z].into_iter().flat_map(|span| [&span.minus, &span.plus]);
        let nearest = ways.map(|way| way.by).fold(f64::INFINITY, f64::min);
        let care = sash
            .findings
            .iter()
            .any(|finding| finding.rule == "prove.zero" && finding.verdict == Verdict::Caution);
        assert_eq!(care, nearest < 0.5, "{}: {nearest}", sash.id);
    }
}

#[test]
fn a_wider_cutter_is_advised_with_its_shank() {
    let made = job::make(&read(EXAMPLE, "samphire-cottage.toml").unwrap()).unwrap();
    let changes = made.report.sashes.iter().filter_map(|sash| sash.choice.next.as_ref());
    let mut wider = changes
        .flat_map(|next| &next.changes)
        .filter(|change| change.what.to_string().contains("cutter of 16"));
    assert!(wider.all(|change| change.what == "a cutter of 16 mm on a shank of 12 at most"));
}

fn stopped(sash: &SashReport, question: Question) -> bool {
    sash.findings
        .iter()
        .any(|finding| finding.question() == question && finding.verdict == Verdict::Stop)
}

#[test]
fn wherever_it_is_written_the_answer_is_one() {
    let (ordered, kept_back, free) = (Cell::new(0), Cell::new(0), Cell::new(0));
    let any = prop_oneof![2 => machinable::house(), 1 => houses::house()];
    for_all(60, &any, |house| {
        let made = job::make(&house).unwrap();
        let words = answer(&made.report, Detail::Short);
        let order = file(&made, "glass-order.csv");
        for sash in &made.report.sashes {
            let may = !stopped(sash, Question::Wood) && !stopped(sash, Question::Order);
            let cut = may && !stopped(sash, Question::Cut);
            let count = if may { &ordered } else { &kept_back };
            count.set(count.get() + 1);
            let label = format!("{} ", sash.id);
            let lines =
                order.lines().filter(|line| line.trim_start_matches('"').starts_with(&label));
            prop_assert_eq!(lines.count(), if may { sash.units.len() } else { 0 }, "{}", sash.id);
            let own = words.split(&format!("\n{} (", sash.id)).nth(1).unwrap();
            let own = own.split("\n\n").next().unwrap();
            prop_assert_eq!(own.contains("  Order   "), may, "{}", own);
            prop_assert_eq!(own.contains("  Do not order yet: "), !may, "{}", own);
            let template = made.files.contains_key(&format!("{}/template.pdf", sash.id));
            prop_assert!(!template || cut, "{} has a template", sash.id);
            let cuts = format!("{}/cuts/", sash.id);
            let programs = made.files.keys().any(|name| name.starts_with(&cuts));
            prop_assert!(!programs || sash.verdict != Verdict::Stop, "{} has programs", sash.id);
            free.set(free.get() + i32::from(template && !programs));
            for unit in &sash.units {
                let safe = unit.safety.is_none() || !unit.make.contains("annealed");
                prop_assert!(safe, "{}: {:?}", unit.make, unit.safety);
            }
        }
        Ok(())
    });
    let count = (ordered.get(), kept_back.get(), free.get());
    assert!(ordered.get() > 5 && kept_back.get() > 5, "{count:?}");
}
