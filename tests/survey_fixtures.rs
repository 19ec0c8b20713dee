//! Surveys with one matter each, and the diagnostics they must give, word for word.
//!
//! Beside each `bad/*.toml` stands a `.txt` with what a joiner is told. To renew them run with
//! `FILLISTER_RENEW=1`: the files are written and the run fails, so that nobody renews by accident.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::float_cmp,
    reason = "a test may stop at the first surprise"
)]

use fillister::survey::{BuildUp, Moulding, OldGlazing, read, read_bytes};
use std::fs;
use std::path::{Path, PathBuf};

fn surveys(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let mut found: Vec<PathBuf> = fs::read_dir(&folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|extension| extension == "toml"))
        .collect();
    found.sort();
    assert!(!found.is_empty(), "no surveys in {}", folder.display());
    found
}

fn name(path: &Path) -> String {
    path.file_name().unwrap().to_string_lossy().into_owned()
}

#[test]
fn every_bad_survey_tells_what_it_should() {
    let renew = std::env::var_os("FILLISTER_RENEW").is_some();
    let mut wrong = Vec::new();
    for path in surveys("fixtures/survey/bad") {
        let told = match read_bytes(&fs::read(&path).unwrap(), &name(&path)) {
            Ok(_) => panic!("{} was taken for a good survey", path.display()),
            Err(diagnostics) => format!("{diagnostics}\n"),
        };
        let beside = path.with_extension("txt");
        if renew {
            fs::write(&beside, told).unwrap();
        } else {
            let expected = fs::read_to_string(&beside).unwrap_or_default();
            if told != expected {
                wrong.push(format!("{}\n--- expected\n{expected}--- told\n{told}", name(&path)));
            }
        }
    }
    assert!(!renew, "the expected diagnostics were renewed: read them, then run again");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_good_survey_and_example_reads() {
    for path in surveys("fixtures/survey/good").into_iter().chain(surveys("examples")) {
        if let Err(told) = read_bytes(&fs::read(&path).unwrap(), &name(&path)) {
            panic!("{told}");
        }
    }
}

#[test]
fn line_ends_and_marks_make_no_difference() {
    let house = |file: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/survey/good").join(file);
        read_bytes(&fs::read(path).unwrap(), file).unwrap()
    };
    let least = house("least.toml");
    assert_eq!(house("carriage-returns.toml"), least);
    assert_eq!(house("byte-order-mark.toml"), least);
}

#[test]
fn the_least_survey_takes_the_documented_defaults() {
    let house = read(include_str!("../fixtures/survey/good/least.toml"), "least").unwrap();
    let sash = &house.sashes[0];
    assert_eq!(house.workshop, fillister::survey::Workshop::default());
    assert_eq!(sash.timber.name, "unknown-softwood");
    let gaps = &sash.clearance;
    assert_eq!([gaps.left, gaps.right, gaps.top, gaps.bottom], [2.0, 2.0, 2.0, 4.0]);
    assert_eq!(sash.block_height, 4.0);
    let unit = &sash.unit;
    assert_eq!([unit.cover, unit.spacer_height, unit.internal_bar], [12.0; 3]);
    // EN 1279-1:2018 (P): two float panes ±1.0 mm.
    assert_eq!([unit.over, unit.tape, unit.order_step], [1.0, 0.0, 1.0]);
    assert_eq!([sash.finish.bed, sash.finish.bead, sash.finish.proud], [2.0, 10.0, 0.0]);
    // EN 12210 (P): P1 of class 2.
    assert_eq!(sash.wind, 800.0);
    assert_eq!(sash.members.top.moulding, Moulding::Square);
}

#[test]
fn defaults_fill_what_a_sash_leaves_out() {
    let house = read(include_str!("../fixtures/survey/good/defaults.toml"), "defaults").unwrap();
    let [a, b] = house.sashes.as_slice() else { panic!("two sashes") };
    assert_eq!(a.members.bottom.old, OldGlazing::Rebate { width: 9.0, depth: 17.0 });
    assert_eq!(a.bars[0].moulding, Moulding::Chamfer { width: 11.0, depth: 6.0 });
    // A groove in the sash outweighs a rebate in the defaults; tables fill key by key.
    assert_eq!(b.members.top.old.width(), 9.0);
    assert!(matches!(&b.unit.build_up, BuildUp::Panes { panes, .. } if panes.len() == 3));
    assert_eq!(b.unit.cover, 10.0);
    // EN 1279-1:2018 (P): three panes, all float, ±1.4 mm.
    assert_eq!(b.unit.over, 1.4);
    assert_eq!([b.clearance.left, b.clearance.right, b.clearance.bottom], [3.0, 2.0, 5.0]);
}

#[test]
fn us_spellings_are_understood_and_never_told() {
    let text = include_str!("../fixtures/survey/good/us-spellings.toml");
    let sash = &read(text, "us").unwrap().sashes[0];
    assert_eq!(sash.bars[0].centre, 200.0);
    assert_eq!(sash.bars[0].moulding, Moulding::Ogee { width: 9.0, depth: 9.0 });
    let told = read(&text.replace("width = 9, depth = 17", "width = 90"), "us").unwrap_err();
    let keys: Vec<&str> = told.iter().map(|one| one.key.as_str()).collect();
    assert!(keys.contains(&"sash[1].rebate.depth") && keys.contains(&"sash[1].rebate.width"));
}

#[test]
fn what_stands_on_the_bed_is_read() {
    let house = read(include_str!("../fixtures/survey/good/on-the-bed.toml"), "bed").unwrap();
    let holder = house.workshop.cutter.holder.unwrap();
    assert_eq!((holder.diameter, holder.stick_out), (41.275, 52.0));
    assert_eq!(house.workshop.machine.zero, Some([120.0, 150.0]));
    assert_eq!(house.workshop.cutting.zero_error, 0.8);
    let [clamp, board] = &house.sashes[0].clamps[..] else { panic!("two clamps") };
    assert_eq!((clamp.name.as_str(), clamp.height), ("toggle clamp", 25.0));
    assert_eq!(clamp.place(), kurbo::Rect::new(-60.0, 200.0, -40.0, 230.0));
    assert_eq!(board.height, -30.0);
}
