//! Margins of whole sashes: measured by the proof of the very text, told in the report and in each
//! program's head, and agreeing with what `timber` works out by another way.

use approx::assert_relative_eq;
use fillister::finding::{Finding, Verdict};
use fillister::job::{self, Made};
use fillister::prove::Program;
use fillister::report::SashReport;
use fillister::sheets::kit::Voice;
use fillister::sheets::summary::{Detail, answer};
use fillister::survey::{House, read};

const EXAMPLE: &str = include_str!("../examples/samphire-cottage.toml");

fn example() -> House {
    read(EXAMPLE, "samphire-cottage.toml").unwrap()
}

/// The example's `parlour-1` alone, with `more` in its tables and in the workshop's.
fn parlour(workshop: &str, sash: &str) -> House {
    let text = format!(
        "house = \"Tern House\"\n[workshop]\n{workshop}\n[[sash]]\nid = \"parlour-1\"\n\
         kind = \"side-hung\"\nthickness = 45\nsight = {{ width = 540, height = 900 }}\n\
         stiles = {{ width = 52 }}\nrails = {{ top = 52, bottom = 74 }}\n\
         rebate = {{ width = 9, depth = 17 }}\nunit = {{ build_up = \"4-6-4\" }}\n\
         moulding = {{ shape = \"ovolo\", width = 12, depth = 11 }}\n{sash}\n"
    );
    read(&text, "parlour").unwrap()
}

fn rules(sash: &SashReport, verdict: Verdict) -> Vec<&'static str> {
    let mut rules: Vec<_> =
        sash.findings.iter().filter(|f| f.verdict == verdict).map(|f| f.rule).collect();
    rules.sort_unstable();
    rules.dedup();
    rules
}

/// Names and texts of a sash's programs, in order.
fn programs(made: &Made, id: &str) -> Vec<(String, String)> {
    let folder = format!("{id}/cuts/");
    let files = made.files.iter().filter_map(|(name, content)| {
        Some((name.strip_prefix(&folder)?.to_owned(), String::from_utf8(content.clone()).unwrap()))
    });
    files.collect()
}

// `timber` measures its own cross sections; the proof measures what the programs leave.
#[test]
fn the_least_wood_of_the_proof_is_that_of_the_timber() {
    let made = job::make(&example()).unwrap();
    let mut compared = 0;
    for sash in &made.report.sashes {
        let Some(proof) = &sash.proof else { continue };
        let members = sash.timber.members.iter().map(|(_, m)| (&m.name, &m.under_platform));
        let bars = sash.timber.bars.iter().map(|bar| (&bar.name, &bar.under_platform));
        for (name, least) in members.chain(bars) {
            let Some(least) = least else { continue };
            let of_proof = proof.margins.wood.iter().find(|left| left.part == *name).unwrap();
            assert_relative_eq!(of_proof.wood, least.wood, epsilon = 0.002);
            compared += 1;
        }
    }
    assert!(compared > 20, "{compared}");
}

#[test]
fn the_head_of_each_program_tells_what_the_proof_of_that_text_says() {
    let house = example();
    let made = job::make(&house).unwrap();
    for (measured, sash) in house.sashes.iter().zip(&made.report.sashes) {
        let texts = programs(&made, &sash.id);
        assert_eq!(texts.is_empty(), sash.verdict == Verdict::Stop, "{}", sash.id);
        let Some(proof) = &sash.proof else { continue };
        let again: Vec<Program> =
            texts.iter().map(|(name, text)| Program::new(name, text)).collect();
        let again = job::prove(measured, &house.workshop, &again).unwrap();
        assert!(again.is_proven());
        assert_eq!(again.margins, proof.margins);
        let least = again.margins.least_wood().unwrap();
        for (name, text) in &texts {
            let told = format!("(- proven - least wood {:.1} mm - {} - ", least.wood, least.part);
            assert!(text.contains(&told), "{name} does not hold {told}\n{text}");
            assert!(text.contains("(- zero may be off X -"), "{text}");
            assert!(text.is_ascii() && text.lines().all(|line| line.len() <= 70), "{name}");
        }
        let json = &made.files[&format!("{}/proof.json", sash.id)];
        let json: serde_json::Value = serde_json::from_slice(json).unwrap();
        let bed = json["margins"]["zero"]["z"]["plus"]["by"].as_f64().unwrap();
        assert_relative_eq!(bed, 2.0, epsilon = 1e-9);
    }
    let short = String::from_utf8(made.files["summary.txt"].clone()).unwrap();
    assert!(short.contains("  Zero    set X within 0."), "{short}");
    let summary = answer(&made.report, Detail::Full);
    assert!(
        summary.contains("Least wood between cut and moulding 7.0 mm: left stile"),
        "{summary}"
    );
    assert!(
        summary
            .contains("Zero may be off by X -0.4 to +0.4 mm, Y -0.4 to +2.4 mm, Z -2.0 to +2.0 mm")
    );
}

#[test]
fn the_picture_of_a_proof_shows_every_part_where_least_is_left() {
    let house = example();
    let made = job::make(&house).unwrap();
    for (measured, sash) in house.sashes.iter().zip(&made.report.sashes) {
        let picture = made.files.get(&format!("{}/proof.svg", sash.id));
        assert_eq!(picture.is_some(), sash.proof.is_some());
        let (Some(proof), Some(picture)) = (&sash.proof, picture) else { continue };
        assert!(picture.len() < 500_000, "{}: {} bytes", sash.id, picture.len());
        let picture = String::from_utf8(picture.clone()).unwrap();
        for (index, left) in proof.margins.wood.iter().enumerate() {
            // A curved part has sections of its own; the map says so.
            let curved = ["hall-fanlight", "stairs-1"].contains(&sash.id.as_str())
                && left.part == "top rail";
            let title = format!(">{} {}, at ", index + 1, left.part);
            assert_eq!(picture.contains(&title), !curved, "{}: {title}", sash.id);
            assert!(!curved || picture.contains("for curved parts see their own sections"));
        }
        for words in ["under 5 mm", "5 to 8 mm", "8 to 12 mm", "12 to 20 mm", "20 mm and more"] {
            assert!(picture.contains(words));
        }
        let work = job::Work::new(measured, &house.workshop).unwrap();
        let proof = job::prove_work(&work, &house.workshop).unwrap();
        let reserve = job::reserve(&work, &house.workshop.limits);
        let scene = fillister::sheets::remaining_wood(
            &work.sash,
            &work.rebate,
            &reserve,
            &proof,
            Voice::plain(),
        )
        .unwrap();
        assert_eq!(scene.covered_texts(), [], "{}", sash.id);
    }
}

#[test]
fn a_clamp_in_the_way_stops_the_programs() {
    let clamp = |x: f64| {
        format!(
            "clamps = [{{ name = \"hold-down\", at = [{x}, 300], size = [30, 20], height = 6 }}]"
        )
    };
    // The wall lies 14 mm left of the sight edge.
    let hit = job::make(&parlour("", &clamp(-43.9))).unwrap();
    let sash = &hit.report.sashes[0];
    assert_eq!(rules(sash, Verdict::Stop), ["prove.obstacle"]);
    assert!(programs(&hit, "parlour-1").is_empty());
    let near = job::make(&parlour("", &clamp(-45.0))).unwrap();
    let sash = &near.report.sashes[0];
    assert_ne!(sash.verdict, Verdict::Stop);
    let nearest = sash.proof.as_ref().unwrap().margins.obstacle.clone().unwrap();
    assert_relative_eq!(nearest.distance, 1.0, epsilon = 1e-6);
    assert_eq!(nearest.solid, "hold-down");
    // It stands nearer than the stile's edge would be.
    let zero = near.report.sashes[0].proof.as_ref().unwrap().margins.zero.clone().unwrap();
    assert_relative_eq!(zero.x.minus.wood, 1.0, epsilon = 1e-6);
    assert_eq!(*zero.x.minus.wood_limited_by.as_ref().unwrap(), "hold-down");
}

// What is said to move it does so, wherever it stands; by hand, a clamp 0.1 mm too near goes 1 mm to the left.
#[test]
fn a_clamp_in_the_way_is_told_where_it_is_not() {
    let places = [(-43.9, 300.0), (-20.0, 100.0), (60.0, -30.0), (545.0, 400.0), (100.0, 905.0)];
    for (index, (x, y)) in places.into_iter().enumerate() {
        let made = |x: f64, y: f64| {
            let at = format!("at = [{x}, {y}], size = [30, 20], height = 6");
            job::make(&parlour("", &format!("clamps = [{{ name = \"hold-down\", {at} }}]")))
                .unwrap()
        };
        let hit = made(x, y);
        let findings = &hit.report.sashes[0].findings;
        let told = findings.iter().find(|finding| finding.rule == "prove.obstacle").unwrap();
        let advice = told.advised();
        let (_, rest) = advice.split_once("Moved ").unwrap_or_else(|| panic!("{told:?}"));
        let (by, rest) = rest.split_once(" mm ").unwrap();
        let by: f64 = by.parse().unwrap();
        let [left, right, down, up] =
            ["to the left", "to the right", "down", "up"].map(|way| rest.starts_with(way));
        assert!(index > 0 || (left && by == 1.0), "{told:?}");
        let along = |back: bool, on: bool| f64::from(i32::from(on) - i32::from(back)) * by;
        let moved = made(x + along(left, right), y + along(down, up));
        assert_eq!(rules(&moved.report.sashes[0], Verdict::Stop), Vec::<&str>::new(), "{told:?}");
    }
}

#[test]
fn metal_that_was_not_drawn_stops_programs_that_would_hit_it() {
    let house = parlour("", "");
    let made = job::make(&house).unwrap();
    let texts = programs(&made, "parlour-1");
    let texts: Vec<Program> = texts.iter().map(|(name, text)| Program::new(name, text)).collect();
    let with = |metal: &str| {
        let house =
            parlour("", &format!("metal = [{{ name = \"sprig\", at = [-4, 310], {metal} }}]"));
        job::prove(&house.sashes[0], &house.workshop, &texts).unwrap()
    };
    let hit = with("from_face = 20");
    assert!(hit.faults.iter().all(|fault| fault.finding.rule == "prove.obstacle"));
    assert!(!hit.faults.is_empty() && hit.faults[0].finding.advised().contains("sprig"));
    assert!(with("from_face = 20, cleared = true").is_proven());
    assert!(with("from_face = 28").is_proven());
}

#[test]
fn the_place_of_the_zero_decides_whether_the_bed_is_left() {
    // The walls lie 14 mm left of the zero and 16 mm below it, 554 mm right and 914 above; the cutter's axis stays 6 mm
    // inside them.
    let made = |zero: &str| {
        let machine = format!("machine = {{ bed = [700, 1100], zero = {zero} }}");
        let made = job::make(&parlour(&machine, "")).unwrap();
        rules(&made.report.sashes[0], Verdict::Stop)
    };
    assert_eq!(made("[8, 10]"), Vec::<&str>::new());
    assert_eq!(made("[6, 10]"), ["prove.bed"]);
    assert_eq!(made("[8, 8]"), ["prove.bed"]);
    assert_eq!(made("[154, 10]"), ["prove.bed"]);
    assert_eq!(made("[152, 192]"), Vec::<&str>::new());
    assert_eq!(made("[8, 194]"), ["prove.bed"]);
}

#[test]
fn a_holder_that_is_too_low_stops_the_programs() {
    let made = |stick_out: f64| {
        let cutter = format!(
            "cutter = {{ cutting_length = 22, shank_diameter = 8, holder = {{ diameter = 42, stick_out = {stick_out} }} }}"
        );
        let made = job::make(&parlour(&cutter, "")).unwrap();
        rules(&made.report.sashes[0], Verdict::Stop)
    };
    assert_eq!(made(26.0), ["prove.holder"]);
    assert_eq!(made(27.0), Vec::<&str>::new());
}

#[test]
fn a_zero_that_must_be_set_with_more_care_is_told() {
    // 7 mm of wood where 5 are wanted: 2 mm to spare.
    let made =
        |off: f64| job::make(&parlour(&format!("cutting = {{ zero_error = {off} }}"), "")).unwrap();
    let careful = made(2.1);
    let sash = &careful.report.sashes[0];
    assert_eq!(rules(sash, Verdict::Caution), ["prove.zero", "timber.front", "timber.joint"]);
    let of_zero = |f: &&Finding| f.rule == "prove.zero" && f.place == "zero in Z";
    let finding = sash.findings.iter().find(of_zero).unwrap();
    assert_relative_eq!(finding.measured.value, 2.0, epsilon = 0.002);
    assert!(finding.advised().contains("wood before the moulding"), "{}", finding.advised());
    let easy = made(0.4);
    assert_eq!(rules(&easy.report.sashes[0], Verdict::Caution), ["timber.front", "timber.joint"]);
    // In X and Y the wood bears more, and the unit meets a round corner first.
    let sideways = made(0.5);
    let sash = &sideways.report.sashes[0];
    let care =
        sash.findings.iter().filter(|f| f.rule == "prove.zero" && f.verdict == Verdict::Caution);
    let care: Vec<_> = care.collect();
    assert_eq!(care.len(), 2);
    assert!(care.iter().all(|f| f.advised().contains("round corner") && f.measured.value < 0.5));
}
