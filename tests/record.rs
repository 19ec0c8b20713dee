//! What was ordered, cut and glazed is written down beside the survey, and no answer forgets it; what changed since the
//! last run is told; two surveys are held against each other.

use crate::support::bench::{Bench, EXAMPLE, SMALL, ends_with, run, stderr};
use crate::support::runs::cases;
use fillister::finding::Verdict;
use fillister::job::folder::{Folder, Stopper};
use fillister::job::{check_against, make_in};
use fillister::report::Report;
use fillister::survey::{Record, read, read_record};
use serde_json::Value;
use std::fs;

fn told(output: &std::process::Output) -> String {
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The order of the small sash: a daylight of 120 by 150 and a cover of 12 all round.
const ORDERED: &str = "[[sash]]\nid = \"larder-1\"\n\
                       ordered = [{ on = \"12 May\", width = 144, height = 174, build_up = \"4-6-4\" }]\n";

#[test]
fn a_change_that_touches_what_was_ordered_is_a_stop() {
    let bench = Bench::new();
    ends_with(&bench.make("out"), 0);
    fs::write(bench.path("done.toml"), ORDERED).unwrap();
    let same = bench.make("out");
    ends_with(&same, 0);
    assert!(bench.path("out/larder-1/cuts").exists());
    // What is done now counts among what the sash was made from.
    assert!(told(&same).contains("Since the last run larder-1:"), "{}", told(&same));
    assert!(!told(&bench.make("out")).contains("Since the last run"));

    fs::write(bench.path("house.toml"), SMALL.replace("width = 120", "width = 122")).unwrap();
    let other = bench.make("out");
    ends_with(&other, 1);
    let said = told(&other);
    let since =
        "Since the last run larder-1: sight 2 mm wider (122); order 146 x 174 instead of 144 x 174";
    assert!(said.contains(since), "{said}");
    assert!(
        said.contains(
            "Order 146 x 174 instead of 144 x 174: the order of 12 May is no longer right"
        ),
        "{said}"
    );
    assert!(
        !bench.path("out/larder-1/cuts").exists(),
        "a program for another unit than was ordered"
    );
    assert!(!fs::read_to_string(bench.path("out/glass-order.csv")).unwrap().contains("larder-1"));
    // On site and in full alike.
    let check = run(&["check", &bench.text("house.toml"), "--sash", "larder-1"]);
    ends_with(&check, 1);
    assert!(told(&check).contains("the order of 12 May is no longer right"), "{}", told(&check));
    assert_eq!(fs::read_to_string(bench.path("done.toml")).unwrap(), ORDERED);
}

#[test]
fn a_record_is_begun_with_every_unit_that_may_be_ordered() {
    let bench = Bench::new();
    fs::copy(EXAMPLE, bench.path("house.toml")).unwrap();
    let (survey, file) = (bench.text("house.toml"), bench.text("done.toml"));
    ends_with(&run(&["done", &survey, "--on", "12 \"May\"", "--out", &file]), 0);
    let text = fs::read_to_string(&file).unwrap();
    let record = read_record(text.as_bytes(), "done.toml").unwrap_or_else(|why| panic!("{why}"));
    let order = run(&["check", &survey, "--json"]);
    // The one that cannot take its unit is not in it; every other order is right as it stands.
    ends_with(&order, 1);
    let report: Value = serde_json::from_slice(&order.stdout).unwrap();
    let sashes = report["sashes"].as_array().unwrap();
    assert_eq!(record.sashes.len() + 1, sashes.len());
    for done in &record.sashes {
        let sash = sashes.iter().find(|sash| sash["id"] == done.id.as_str()).unwrap();
        assert_eq!(done.ordered.len(), sash["units"].as_array().unwrap().len());
        assert!(done.ordered.iter().all(|unit| unit.on == "12 \"May\""));
        let of_order = |finding: &&Value| finding["rule"] == "done.order";
        let findings: Vec<&Value> =
            sash["findings"].as_array().unwrap().iter().filter(of_order).collect();
        assert_eq!(findings.len(), done.ordered.len());
        assert!(findings.iter().all(|finding| finding["verdict"] == "clear"), "{findings:?}");
    }
    ends_with(&run(&["done", &survey, "--on", "12 May", "--out", &file]), 2);
    assert_eq!(fs::read_to_string(&file).unwrap(), text);
}

#[test]
fn another_make_up_or_a_sash_that_is_gone_is_told() {
    let bench = Bench::new();
    fs::write(bench.path("done.toml"), ORDERED).unwrap();
    fs::write(bench.path("house.toml"), SMALL.replace("4-6-4", "4-8-4")).unwrap();
    let check = run(&["check", &bench.text("house.toml")]);
    ends_with(&check, 1);
    let wanted = "4-8-4 is asked for instead of 4-6-4: the order of 12 May is no longer right";
    assert!(told(&check).contains(wanted), "{}", told(&check));
    fs::write(bench.path("house.toml"), SMALL.replace("larder-1", "cellar-1")).unwrap();
    let check = run(&["check", &bench.text("house.toml")]);
    ends_with(&check, 1);
    let wanted = "larder-1 was ordered on 12 May, and this survey has no such sash";
    assert!(told(&check).contains(wanted), "{}", told(&check));
    // What is said to be of another house concerns this one not.
    let elsewhere = ORDERED.replace("id =", "house = \"Other Cottage\"\nid =");
    fs::write(bench.path("done.toml"), elsewhere).unwrap();
    ends_with(&run(&["check", &bench.text("house.toml")]), 0);
}

#[test]
fn mistakes_in_what_is_done_are_told_where_they_stand() {
    let bench = Bench::new();
    for (text, wanted) in [
        ("[[sash]]\nid = \"larder-1\"\norderd = []\n", "done.toml:3:1: sash[1].orderd"),
        ("[[sash]]\nid = \"larder-1\"\n[[sash]]\nid = \"larder-1\"\n", "expected each sash once"),
        (
            "[[sash]]\nid = \"larder-1\"\nordered = [{ width = 144, height = 174 }]\n",
            "sash[1].ordered[1].on: missing",
        ),
    ] {
        fs::write(bench.path("done.toml"), text).unwrap();
        let check = run(&["check", &bench.text("house.toml")]);
        ends_with(&check, 2);
        assert!(stderr(&check).contains(wanted), "{}", stderr(&check));
    }
}

fn checked(survey: &str, record: &str) -> Report {
    let house = read(survey, "house.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"));
    let record = read_record(record.as_bytes(), "done.toml").unwrap_or_else(|why| panic!("{why}"));
    check_against(&house, &record)
}

/// Verdict and words of a rule of the first sash.
fn finding(report: &Report, rule: &str) -> Option<(Verdict, String)> {
    let found = report.sashes[0].findings.iter().find(|finding| finding.rule == rule);
    found.map(|finding| (finding.verdict, finding.advised().clone()))
}

// Wall to wall as planned: 144 and 2 on either side; 174, 2 over it and 4 under it. Deep: a bed of 2, a unit of 14 that
// may come 1 thicker, a bead of 10.
#[test]
fn measures_after_the_cut_say_whether_the_unit_goes_in_and_on_which_blocks() {
    let as_cut = |cut: &str, more: &str| {
        checked(SMALL, &format!("{ORDERED}cut = {{ on = \"20 May\"{cut} }}\n{more}"))
    };
    let of = |cut: &str, more: &str, rule: &str| finding(&as_cut(cut, more), rule);
    assert_eq!(of("", "", "done.depth"), None);
    let clear = |found: Option<(Verdict, String)>| assert_eq!(found.unwrap().0, Verdict::Clear);
    clear(of(", depth = 27", "", "done.depth"));
    clear(of(", width = 148", "", "done.opening"));
    clear(of(", height = 180", "", "done.blocks"));
    let (verdict, words) = of(", depth = 25", "", "done.depth").unwrap();
    assert!(
        verdict == Verdict::Caution && words.contains("8 mm are left for the bead instead of 10"),
        "{words}"
    );
    let (verdict, words) = of(", depth = 16", "", "done.depth").unwrap();
    assert!(
        verdict == Verdict::Stop && words.contains("cut deeper, or order a thinner unit"),
        "{words}"
    );
    let (verdict, words) = of(", height = 181.5", "", "done.blocks").unwrap();
    assert!(
        verdict == Verdict::Caution
            && words.contains("blocks 5.5 mm high instead of 4: 1.5 thicker"),
        "{words}"
    );
    let (verdict, words) = of(", width = 143", "", "done.opening").unwrap();
    assert!(
        verdict == Verdict::Stop && words.contains("it does not go in; widen the rebate by 5 mm"),
        "{words}"
    );
    // The unit that came counts, not the one that was ordered.
    let came = "delivered = [{ width = 146, height = 176, thickness = 16 }]\n";
    let (verdict, words) = of(", width = 148", came, "done.opening").unwrap();
    assert!(
        verdict == Verdict::Caution && words.contains("2 mm are left on both sides"),
        "{words}"
    );
    let (_, words) = of(", height = 180", came, "done.blocks").unwrap();
    assert!(words.contains("blocks 2 mm high instead of 4: 2 thinner"), "{words}");
    let (_, words) = of(", depth = 26", came, "done.depth").unwrap();
    assert!(words.contains("8 mm are left for the bead"), "{words}");
}

/// A daylight that changes, what is written down of it, and a folder that is made now and then.
#[test]
fn through_a_long_history_nothing_that_was_written_down_is_forgotten() {
    let steps = cases(60) as usize;
    let bench = Bench::new();
    let mut bytes = Vec::new();
    let mut state = 0x9e37_79b9_u32;
    while bytes.len() < 8 * (6 * steps + 8) {
        // A linear congruence: any spread will do.
        state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        bytes.extend(state.to_le_bytes());
    }
    let mut words =
        bytes.chunks_exact(8).map(|eight| u64::from_le_bytes(eight.try_into().unwrap()));
    let mut draw = move |below: u64| (words.next().unwrap() >> 11) % below;
    let (mut width, mut record) = (120_u64, String::new());
    // What is known to be written down: the size that was ordered.
    let (mut ordered, mut cut) = (None::<u64>, false);
    let (mut stops, mut fine) = (0, 0);
    for step in 0..steps {
        match draw(8) {
            0..=2 => width = 118 + draw(5),
            3 if ordered.is_none() => {
                ordered = Some(width + 24);
                record = format!(
                    "[[sash]]\nid = \"larder-1\"\nordered = [{{ on = \"step {step}\", width = {}, height = 174 }}]\n",
                    width + 24
                );
            }
            4 if ordered.is_some() && !cut => {
                cut = true;
                let wide = width + 28;
                let cut = format!("cut = {{ on = \"step {step}\", depth = 27, width = {wide} }}\n");
                record.push_str(&cut);
            }
            // Once in a while the job is done and the next begins.
            5 if cut && draw(4) == 0 => {
                (ordered, cut) = (None, false);
                record.clear();
            }
            _ => {}
        }
        let survey = SMALL.replace("width = 120", &format!("width = {width}"));
        let house = read(&survey, "house.toml").unwrap();
        let record = if record.is_empty() {
            Record::default()
        } else {
            read_record(record.as_bytes(), "done.toml").unwrap()
        };
        let report = check_against(&house, &record);
        let stopped =
            finding(&report, "done.order").is_some_and(|(verdict, _)| verdict == Verdict::Stop);
        let wrong = ordered.is_some_and(|ordered| ordered != width + 24);
        assert_eq!(stopped, wrong, "step {step}: {width}, ordered {ordered:?}");
        assert_eq!(report.verdict == Verdict::Stop, wrong || hindered(&report), "step {step}");
        stops += usize::from(wrong);
        fine += usize::from(ordered.is_some() && !wrong);
        if draw(10) == 0 {
            let folder = Folder::claim(&bench.path("out"), &Stopper::default()).unwrap();
            let made = make_in(folder, &house, &record, &|_| ()).unwrap();
            assert_eq!(made.report.verdict, report.verdict, "step {step}");
            let programs = bench.path("out/larder-1/cuts").exists();
            assert_eq!(programs, report.verdict != Verdict::Stop, "step {step}");
        }
    }
    println!("{steps} steps: {stops} orders no longer right, {fine} right");
    assert!(stops > steps / 20 && fine > steps / 20, "{stops} {fine}");
}

/// Whether anything but the order is a stop, such as walls that were cut for another unit.
fn hindered(report: &Report) -> bool {
    let mut findings = report.sashes[0].findings.iter();
    findings.any(|finding| finding.rule != "done.order" && finding.verdict == Verdict::Stop)
}

#[test]
fn two_surveys_are_held_against_each_other_as_text_and_as_a_sheet() {
    let bench = Bench::new();
    let thick = fs::read_to_string(EXAMPLE).unwrap().replacen(
        "build_up = \"4-6-4\"",
        "build_up = \"4-8-4\"",
        1,
    );
    fs::write(bench.path("thick.toml"), thick).unwrap();
    let sheet = bench.text("compare.html");
    let output = run(&["compare", EXAMPLE, &bench.text("thick.toml"), "--out", &sheet]);
    ends_with(&output, 0);
    let said = String::from_utf8(output.stdout).unwrap();
    let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        flat.contains("kitchen-1: unit 4-8-4 instead of 4-6-4; rebate 29 deep instead of 27"),
        "{said}"
    );
    // 57 - 29 - 10 mm of moulding: 18 mm are left instead of 20.
    assert!(
        flat.contains("A 20 mm of wood under the glass") && flat.contains("B 18 mm of wood"),
        "{said}"
    );
    assert!(said.lines().all(|line| line.chars().count() <= 80), "{said}");
    // What is to be minded in both is not told: parlour-1 has less wood in B, and the same tenons in both.
    let parlour = flat.split("parlour-1:").nth(1).unwrap().split("landing-1:").next().unwrap();
    assert!(parlour.contains("B All round: 5 mm of wood would be left"), "{parlour}");
    assert!(!parlour.contains("tenon"), "{parlour}");
    let page = fs::read_to_string(&sheet).unwrap();
    assert!(page.contains("<h2>kitchen-1</h2>") && page.contains("20 mm of wood under the glass"));
    let same = run(&["compare", EXAMPLE, EXAMPLE]);
    ends_with(&same, 0);
    assert!(told(&same).contains("nothing that is told differs"), "{}", told(&same));
    // A sash that only one has.
    let fewer = SMALL.replace("larder-1", "cellar-1");
    fs::write(bench.path("other.toml"), fewer).unwrap();
    let other = run(&["compare", &bench.text("house.toml"), &bench.text("other.toml")]);
    assert!(told(&other).contains("larder-1: only in A cellar-1: only in B"), "{}", told(&other));
}
