//! Whatever is found of a sash and of its programs, in letters of another alphabet: no Latin word is left.

use crate::support::invented::{latin, other_letters};
use crate::support::runs::for_all;
use crate::support::{houses, machinable};
use fillister::finding::Finding;
use fillister::job;
use fillister::language::{Language, Text};
use fillister::prove::Program;
use fillister::sheets::found;
use fillister::sheets::kit::Voice;
use fillister::sheets::summary::{self, WIDTH};
use fillister::survey::{self, House};
use proptest::prelude::*;
use std::cell::Cell;
use std::collections::BTreeSet;

/// Fixtures whose sashes have what the example has not.
const FIXTURES: [&str; 6] = [
    include_str!("../fixtures/survey/good/around.toml"),
    include_str!("../fixtures/survey/good/kitchen.toml"),
    include_str!("../fixtures/survey/good/on-the-bed.toml"),
    include_str!("../fixtures/survey/good/out-of-square.toml"),
    include_str!("../fixtures/survey/good/shapes.toml"),
    include_str!("../fixtures/survey/good/us-spellings.toml"),
];

/// What a house is told in.
fn voice(house: &mut House) -> Voice {
    house.workshop.printer.language = Language::of_file(other_letters().as_bytes()).unwrap();
    Voice::of(&house.workshop.printer)
}

/// Latin words in what is found of a house, but for those of sources and of the joiner; and how much was found.
fn left(house: &mut House) -> (BTreeSet<String>, usize) {
    let voice = voice(house);
    let given = house.sashes.iter().flat_map(|sash| {
        let metal = sash.metal.iter().map(|metal| metal.name.text());
        let clamps = sash.clamps.iter().map(|clamp| clamp.name.text());
        metal.chain(clamps).chain([Text::given(&sash.id)])
    });
    let mut open: BTreeSet<String> = given.flat_map(|name| latin(&name.to_string())).collect();
    // Sources, and keys of the survey.
    open.extend(latin(
        "NHBC NPR IRC Approved Document England United States opening floor walkway near",
    ));
    let report = job::check(house);
    let sashes = || report.sashes.iter();
    let tried = sashes().flat_map(|sash| sash.choice.candidates.iter());
    let none = report.cannot_be_cut.iter().flat_map(|sash| &sash.findings);
    let found: Vec<&Finding> = sashes()
        .flat_map(|sash| &sash.findings)
        .chain(tried.flat_map(|one| &one.findings))
        .chain(none)
        .collect();
    let texts = sashes().flat_map(|sash| {
        let gaps = sash.gaps.iter().map(|gap| &gap.words);
        let changes = sash.choice.next.iter().flat_map(|next| &next.changes).map(|one| &one.what);
        let safety = sash.units.iter().filter_map(|unit| unit.safety.as_ref());
        gaps.chain(changes).chain(safety).chain(&sash.sealed).chain([&sash.wind.words])
    });
    let told = texts.chain(&report.doubts).map(|text| voice.say(text));
    let told = told.chain(report.cautions.iter().map(|caution| caution.told.clone()));
    let count = found.len();
    let found = found
        .into_iter()
        .map(|finding| format!("{}: {}", voice.say(&finding.place), found::told(finding, voice)));
    let left = told.chain(found).filter_map(|words| {
        let left: Vec<String> = latin(&words).difference(&open).cloned().collect();
        (!left.is_empty()).then(|| format!("{left:?} in {words}"))
    });
    (left.collect(), count)
}

#[test]
fn nothing_that_is_found_has_a_word_of_another_language() {
    let seen = Cell::new(0);
    for text in FIXTURES {
        let mut house = survey::read(text, "house.toml").unwrap();
        let (left, found) = left(&mut house);
        assert!(left.is_empty(), "{left:#?}");
        seen.set(seen.get() + found);
    }
    for_all(12, &prop_oneof![2 => machinable::house(), 1 => houses::house()], |mut house| {
        let (left, found) = left(&mut house);
        prop_assert!(left.is_empty(), "{:#?}", left);
        seen.set(seen.get() + found);
        Ok(())
    });
    assert!(seen.get() > 500, "{}", seen.get());
}

/// Ways to spoil a program, each for another thing that the proof may have to say.
const SPOILED: [(&str, &str); 12] = [
    ("Z-", "Z-1"),
    (" F", " F9"),
    ("M3 S", "M4 S"),
    ("M3 S1", "M3 S9"),
    ("M5\n", ""),
    ("M2\n", ""),
    ("G17", "G18"),
    ("G21", "G41 G28 A5 G53 X1 X2"),
    ("G90", "(a (b) c)\nG64\nG4 X1\nO5 X1\nM98\n\u{e9}"),
    ("(- sash ", "(- sash other-"),
    ("(- cutter ", "(- cutter 1"),
    ("G1 ", "G0 "),
];

#[test]
fn no_proof_has_a_word_of_another_language() {
    let text = include_str!("../fixtures/survey/good/on-the-bed.toml");
    let mut house = survey::read(text, "house.toml").unwrap();
    let made = job::make(&house).unwrap();
    let voice = voice(&mut house);
    let programs = made.files.iter().filter(|(name, _)| name.contains("/cuts/"));
    let programs: Vec<(String, String)> = programs
        .map(|(_, text)| String::from_utf8(text.clone()).unwrap())
        .zip(1..)
        .map(|(text, number)| (format!("{number}"), text))
        .collect();
    assert!(programs.len() > 2, "{}", programs.len());
    let open = latin("on bed toggle clamp board other");
    let mut rules = BTreeSet::new();
    for (from, to) in [("", "")].into_iter().chain(SPOILED) {
        let spoiled = programs.iter().map(|(name, text)| (name, text.replacen(from, to, 40)));
        let spoiled: Vec<(&String, String)> = spoiled.collect();
        let all: Vec<Program> =
            spoiled.iter().map(|(name, text)| Program::new(name, text)).collect();
        let proof = job::prove(&house.sashes[0], &house.workshop, &all).unwrap();
        rules.extend(proof.findings().map(|finding| finding.rule));
        let words = summary::proof(&proof, (WIDTH, voice));
        let left: Vec<String> = latin(&words).difference(&open).cloned().collect();
        assert!(left.is_empty(), "{from} by {to}: {left:?} in {words}");
    }
    assert!(rules.len() > 8, "{rules:?}");
}
