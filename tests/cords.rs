//! The cord groove in a stile: asked for, judged, drawn, and never taken for wood.

use crate::paper;
use fillister::finding::{Finding, Verdict};
use fillister::job;
use fillister::survey;

/// A sliding sash with stiles of that width and a cover of that width, and a line of its own.
fn made(stiles: f64, cover: f64, line: &str) -> job::Made {
    let text = format!(
        "house = \"Cord House\"\n[[sash]]\nid = \"upper\"\nkind = \"sliding-upper\"\nthickness = 45\n\
         sight = {{ width = 620, height = 830 }}\nstiles = {{ width = {stiles} }}\n\
         rails = {{ top = 60, bottom = 60 }}\nrebate = {{ width = 9, depth = 17 }}\n\
         unit = {{ build_up = \"4-6-4\", cover = {cover} }}\n{line}\n"
    );
    let house = survey::read(&text, "cords.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"));
    job::make(&house).unwrap()
}

const GROOVE: &str = "cord_groove = { depth = 12.7, length = 480 }";

fn beside(made: &job::Made) -> &Finding {
    let mut all = made.report.sashes[0].findings.iter();
    all.find(|finding| finding.rule == "timber.beside" && finding.place == "left stile").unwrap()
}

// By hand: a stile of 40 less a rebate of 12 + 2 keeps 26, and 13.3 beside half an inch of groove, where 15 are the least.
#[test]
fn the_wood_beside_the_groove_is_judged() {
    let cut = made(40.0, 12.0, GROOVE);
    let finding = beside(&cut);
    assert!((finding.measured.value - 13.3).abs() < 1e-9, "{finding:?}");
    assert_eq!(finding.verdict, Verdict::Stop);
    assert_eq!(
        finding.advised(),
        "1.7 mm less cover or clearance on this side would leave 15.0 mm at the cord groove."
    );
    // Followed, it lifts the stop.
    assert_eq!(beside(&made(40.0, 12.0 - 1.7, GROOVE)).verdict, Verdict::Caution);
    assert_eq!(beside(&made(40.0, 12.0, "cord_groove = { depth = 0 }")).verdict, Verdict::Clear);
    let unit = &cut.report.sashes[0].units[0];
    let left = unit.beside.left.unwrap();
    assert!((left.least - 13.3).abs() < 1e-9 && (left.most - 26.0).abs() < 1e-9, "{left:?}");
}

#[test]
fn a_groove_that_is_not_stated_is_asked_for() {
    let asks = |line: &str| {
        made(52.0, 12.0, line).report.cautions.iter().any(|c| c.told.contains("cord_groove"))
    };
    assert!(asks(""));
    assert!(!asks(GROOVE) && !asks("cord_groove = { depth = 0 }"));
}

// A stile of 52 keeps 38 - 12.7 = 25.3 beside the groove, in the section and in the table of the sheet.
#[test]
fn the_groove_is_drawn_in_section_and_elevation() {
    let cut = made(52.0, 12.0, GROOVE);
    let section = "upper/section-left-and-right-stile.svg";
    let svg = String::from_utf8(cut.files[section].clone()).unwrap();
    assert!(svg.contains("cord groove") && svg.contains("25.3"), "{svg}");
    let pages = paper::pages(&cut.files["upper/workshop.pdf"]);
    let drawn = pages.iter().flat_map(|page| page.on("cord groove")).count();
    assert_eq!(drawn, 2);
    for page in &pages {
        assert_eq!(page.troubles(), Vec::<String>::new());
    }
    let words: Vec<&str> =
        pages.iter().flat_map(|page| page.words.iter().map(|word| word.text.as_str())).collect();
    assert!(words.join(" ").contains("25.3 to 38"), "{words:?}");
    let without = made(52.0, 12.0, "cord_groove = { depth = 0 }");
    let svg = String::from_utf8(without.files[section].clone());
    assert!(!svg.unwrap().contains("cord groove"));
}
