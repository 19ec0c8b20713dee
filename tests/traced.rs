//! A daylight that was traced in a drawing program gives what the same daylight typed in gives.

use fillister::geometry::Edge;
use fillister::job::folder::Files;
use fillister::job::{self, relative_files};
use fillister::survey::traced::MOST_BYTES;
use fillister::survey::{House, With, read, read_with};
use std::fs;
use std::path::Path;

// Both drawings were written by ezdxf: one polyline with a bulge; lines and an arc far from zero,
// out of order, in a file that knows no unit.
fn traced() -> House {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/survey/good/traced.toml");
    let with = With { shows: None, open: &relative_files(&path) };
    read_with(&fs::read(&path).unwrap(), "traced.toml", &with).unwrap()
}

/// What is made of the one sash, under the same name.
fn made(house: &House, id: &str) -> Files {
    let sash = house.sashes.iter().find(|sash| sash.id == id).unwrap().clone();
    let sash = fillister::survey::Sash { id: "a".to_owned(), ..sash };
    let house = House { sashes: vec![sash], ..house.clone() };
    job::make(&house).unwrap().files
}

/// Every number of a text, and the words between.
fn numbers(text: &str) -> (Vec<f64>, String) {
    let mut words = String::new();
    let mut found = Vec::new();
    for piece in text.split_inclusive(|c: char| !(c.is_ascii_digit() || ".-".contains(c))) {
        let end = piece.trim_end_matches(|c: char| !(c.is_ascii_digit() || ".-".contains(c)));
        match end.parse() {
            Ok(number) => found.push(number),
            Err(_) => words += end,
        }
        words += &piece[end.len()..];
    }
    (found, words)
}

#[test]
fn a_traced_outline_is_the_outline_typed_in() {
    let house = traced();
    let [typed, others @ ..] = &house.sashes[..] else { panic!("no sash") };
    let typed = typed.outline.as_ref().unwrap();
    assert_eq!(others.len(), 2);
    for other in others {
        let other = other.outline.as_ref().unwrap();
        assert!((typed.outline().area() - other.outline().area()).abs() < 1e-6);
        let nearest = |at: kurbo::Point| {
            let away = typed.edges().map(|(edge, _)| (edge.start() - at).hypot());
            away.fold(f64::INFINITY, f64::min)
        };
        assert_eq!(other.edges().count(), 6);
        assert!(other.edges().all(|(edge, _)| nearest(edge.start()) < 1e-6));
        let arcs = other.edges().filter(|(edge, _)| matches!(edge, Edge::Arc(_)));
        assert_eq!(arcs.count(), 1);
    }
}

/// Whether both files say the same, numbers within a unit of the last digit that a program has.
fn alike(name: &str, ours: &Files, theirs: &Files) -> usize {
    let [(ours, words), (theirs, others)] =
        [ours, theirs].map(|files| numbers(std::str::from_utf8(&files[name]).unwrap()));
    assert!(words == others, "{name}: other words");
    assert_eq!(ours.len(), theirs.len(), "{name}");
    let away = ours.iter().zip(&theirs).map(|(a, b)| (a - b).abs());
    let furthest = away.fold(0.0_f64, f64::max);
    assert!(furthest < 0.000_11, "{name}: {furthest}");
    ours.len()
}

#[test]
fn it_gives_the_same_plan() {
    let house = traced();
    let typed = made(&house, "typed");
    assert!(typed.contains_key("a/cuts/1-air-run.ngc"), "{:?}", typed.keys());
    for other in ["polyline", "parts"] {
        let other = made(&house, other);
        assert!(other.keys().eq(typed.keys()));
        let programs = typed.keys().filter(|name| name.starts_with("a/cuts/"));
        let texts = ["glass-order.csv", "cutting-list.csv", "summary.txt"];
        let compared: usize =
            programs.map(String::as_str).chain(texts).map(|name| alike(name, &typed, &other)).sum();
        assert!(compared > 800, "{compared} numbers were compared");
    }
}

#[test]
fn a_survey_read_from_its_text_alone_says_that_nothing_is_opened() {
    let text = fs::read_to_string(
        Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/survey/good/traced.toml"),
    )
    .unwrap();
    let mistakes = read(&text, "traced.toml").unwrap_err();
    let keys: Vec<&str> = mistakes.iter().map(|mistake| mistake.key.as_str()).collect();
    assert_eq!(keys, ["sash[2].sight.traced", "sash[3].sight.traced"]);
    assert!(mistakes.to_string().contains("polyline.dxf is not opened"), "{mistakes}");
}

#[test]
fn no_more_of_a_file_is_read_than_a_drawing_may_have() {
    let room = tempfile::tempdir().unwrap();
    let survey = room.path().join("house.toml");
    fs::write(room.path().join("long.dxf"), vec![b'0'; MOST_BYTES + 9]).unwrap();
    let open = relative_files(&survey);
    assert_eq!(open("long.dxf").unwrap().len(), MOST_BYTES + 1);
    let least = include_str!("../fixtures/survey/good/least.toml");
    let text = least.replace("{ width = 400, height = 500 }", "{ traced = \"long.dxf\" }");
    let mistakes = read_with(text.as_bytes(), "house.toml", &With { shows: None, open: &open });
    let mistakes = mistakes.unwrap_err().to_string();
    assert!(
        mistakes.contains("long.dxf, line 1: the file has more than 4194304 bytes"),
        "{mistakes}"
    );
}
