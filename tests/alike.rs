//! A house whose sashes are alike is said in a few lines, and means what the long way says.

use crate::support::bench::{Bench, ends_with, run, stderr};
use fillister::survey::{House, With, read, read_with};
use serde_json::Value;
use std::fs;

/// Fourteen sashes of five kinds, each said in full but for what the defaults could always say.
const LONG: &str = include_str!("../fixtures/survey/good/fourteen-in-full.toml");

/// The same, said with profiles, likeness and counts.
const SHORT: &str = include_str!("../fixtures/survey/good/fourteen-alike.toml");

/// Lines that say something.
fn lines(text: &str) -> usize {
    let says = |line: &&str| !line.trim().is_empty() && !line.trim().starts_with('#');
    text.lines().filter(says).count()
}

#[test]
fn fourteen_sashes_in_five_kinds_are_said_in_two_fifths_of_the_lines() {
    let long = read(LONG, "long.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"));
    let short = read(SHORT, "short.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"));
    assert_eq!(long.sashes.len(), 14);
    assert_eq!(long, short);
    let (before, after) = (lines(LONG), lines(SHORT));
    println!("{before} lines before, {after} after");
    assert!(after * 5 <= before * 2, "{after} of {before}");
}

fn house(text: &str) -> House {
    read(text, "house.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

const ONE: &str = r#"
house = "Tern House"
[[sash]]
id = "a"
kind = "fixed"
thickness = 57
sight = { width = 400, height = 500 }
overall = { width = 514, height = 614 }
stiles = { width = 57 }
rails = { width = 57 }
rebate = { width = 9, depth = 17 }
unit = { build_up = "4-6-4", gas = "argon" }
metal = [{ name = "sprig", at = [-4, 60], cleared = true }]
surface = [[0, 0, 0], [400, 0, 1], [400, 500, 0], [0, 500, 1]]
[sash.member.top]
tenon = { thickness = 16, from_face = 30 }
"#;

#[test]
fn a_sash_is_like_another_but_for_what_it_says_and_what_is_each_sashs_own() {
    let more = "[[sash]]\nid = \"b\"\nlike = \"a\"\nsight = { width = 402 }\nunit = { gas = \"krypton\" }\n\
                [sash.member.top]\nwidth = 60\n";
    let both = house(&format!("{ONE}{more}"));
    let [a, b] = both.sashes.as_slice() else { panic!("two sashes") };
    assert_eq!([b.sight.width, b.sight.height], [402.0, 500.0]);
    assert_eq!([b.members.top.width, b.members.bottom.width], [60.0, 57.0]);
    assert_eq!(b.members.top.tenon, a.members.top.tenon);
    assert_eq!(b.unit.build_up, a.unit.build_up);
    assert_ne!(b.unit.make, a.unit.make);
    // Nails and a twist are where they were found; the overall size would not be true.
    assert!(b.metal.is_empty() && b.surface.is_empty() && !a.metal.is_empty());
    // Order makes no difference, and likeness reaches on.
    let third = "[[sash]]\nid = \"c\"\nlike = \"b\"\n";
    let (head, sash) = ONE.split_at(ONE.find("[[sash]]").unwrap());
    let other = house(&format!("{head}{third}{more}{sash}"));
    let mut c = other.sashes[0].clone();
    c.id = "b".into();
    assert_eq!((&c, &other.sashes[1]), (b, b));
}

#[test]
fn a_profile_stands_between_the_sash_and_what_is_usual() {
    let of = |sash: &str, profile: &str, usual: &str| {
        let text = ONE.replace("rebate = { width = 9, depth = 17 }\n", sash);
        house(&format!("{text}[profile.old]\n{profile}[defaults]\n{usual}")).sashes[0].clone()
    };
    let depth = |sash: &fillister::survey::Sash| match sash.members.left.old {
        fillister::survey::OldGlazing::Rebate { depth, .. } => depth,
        fillister::survey::OldGlazing::Groove { .. } => 0.0,
    };
    let (own, profile, usual) = (
        "rebate = { width = 9, depth = 15 }\n",
        "rebate = { width = 9, depth = 16 }\n",
        "rebate = { width = 9, depth = 17 }\n",
    );
    let by = "profile = \"old\"\n";
    assert_eq!(depth(&of(&format!("{own}{by}"), profile, usual)), 15.0);
    assert_eq!(depth(&of(by, profile, usual)), 16.0);
    assert_eq!(depth(&of("", profile, usual)), 17.0);
    assert_eq!(depth(&of(by, "groove = { from_face = 15, width = 5, depth = 8 }\n", usual)), 0.0);
}

#[test]
fn each_of_many_has_its_own_id_labels_and_folder() {
    let bench = Bench::new();
    let many = ONE.replace("id = \"a\"", "id = \"hall\"\ncount = 3");
    let flat = many.lines().filter(|line| !line.starts_with("surface")).collect::<Vec<_>>();
    fs::write(bench.path("house.toml"), flat.join("\n")).unwrap();
    ends_with(&bench.make("out"), 0);
    let order = fs::read_to_string(bench.path("out/glass-order.csv")).unwrap();
    for id in ["hall-1", "hall-2", "hall-3"] {
        assert!(order.contains(&format!("{id} whole sash")), "{order}");
        let program =
            fs::read_to_string(bench.path(&format!("out/{id}/cuts/2-score.ngc"))).unwrap();
        assert!(program.contains(id), "{program}");
    }
}

#[test]
fn what_cannot_be_is_told_where_it_stands() {
    for (more, told) in [
        (
            "[[sash]]\nid = \"b\"\nlike = \"aa\"\n",
            "sash[2].like: found \"aa\", expected the id of another sash",
        ),
        (
            "[[sash]]\nid = \"b\"\nlike = \"c\"\n[[sash]]\nid = \"c\"\nlike = \"b\"\n",
            "expected a sash that is not like this one in turn",
        ),
        (
            "[[sash]]\nid = \"b\"\nlike = \"b\"\n",
            "expected a sash that is not like this one in turn",
        ),
        (
            "[[sash]]\nid = \"b\"\nlike = \"a\"\nprofile = \"odd\"\n",
            "expected no profile: this survey has none",
        ),
        (
            "[[sash]]\nid = \"b\"\nlike = \"a\"\nprofile = \"od\"\n[profile.odd]\n",
            "did you mean `odd`?",
        ),
        (
            "[[sash]]\nid = \"b\"\nlike = \"a\"\ncount = 0\n",
            "expected a whole number from 1 to 1000",
        ),
        (
            "[[sash]]\nid = \"b\"\nlike = \"a\"\ncount = 2\n[[sash]]\nid = \"b-2\"\nlike = \"a\"\n",
            "expected an id that no other sash bears",
        ),
        ("[profile.odd]\nthicknes = 5\n", "profile.odd.thicknes"),
        ("workshop_file = \"w.toml\"\n", "workshop_file"),
    ] {
        let text = if more.starts_with("workshop") {
            format!("{more}{ONE}")
        } else {
            format!("{ONE}{more}")
        };
        let mistakes = read(&text, "house.toml").unwrap_err().to_string();
        assert!(mistakes.contains(told), "{more}: {mistakes}");
    }
}

#[test]
fn settings_of_the_workshop_are_shared_and_their_mistakes_are_their_files() {
    let shared = |text: &'static str| move |_: &str| -> Result<Vec<u8>, String> { Ok(text.into()) };
    let read_both = |survey: &str, open: &dyn Fn(&str) -> Result<Vec<u8>, String>| {
        read_with(survey.as_bytes(), "house.toml", &With { shows: None, open })
    };
    let named = format!("workshop_file = \"shop.toml\"{ONE}");
    let own = format!(
        "{named}[workshop]\ncutter = {{ flutes = 3 }}\n[workshop.limits]\nfront_stop = 6\n"
    );
    let file =
        shared("cutter = { diameter = 10 }\nlimits = { front_stop = 5, front_caution = 9 }\n");
    let house = read_both(&own, &file).unwrap_or_else(|mistakes| panic!("{mistakes}"));
    assert_eq!((house.workshop.cutter.diameter, house.workshop.cutter.flutes), (10.0, 3));
    let limits = &house.workshop.limits;
    assert_eq!((limits.front_stop.value, limits.front_caution.value), (6.0, 9.0));
    let spoilt =
        read_both(&named, &shared("\ncutter = { diametr = 10 }\n")).unwrap_err().to_string();
    assert!(spoilt.starts_with("shop.toml:2:12: cutter.diametr:"), "{spoilt}");
    let lost = read_both(&named, &|_| Err("shop.toml: there is no such file".into())).unwrap_err();
    assert!(lost.to_string().contains("there is no such file"), "{lost}");
}

#[test]
fn several_surveys_are_checked_and_made_in_one_call() {
    let bench = Bench::new();
    let two = fs::read_to_string(bench.path("house.toml")).unwrap().replace("larder", "cellar");
    fs::write(bench.path("other.toml"), two).unwrap();
    let surveys = [bench.text("house.toml"), bench.text("other.toml")];
    let check = run(&["check", &surveys[0], &surveys[1]]);
    ends_with(&check, 0);
    let told = String::from_utf8(check.stdout).unwrap();
    assert!(told.contains("larder-1") && told.contains("cellar-1"), "{told}");
    let out = bench.text("street");
    let make = run(&["make", &surveys[0], &surveys[1], "--out", &out, "--json"]);
    ends_with(&make, 0);
    let reports: Value = serde_json::from_slice(&make.stdout).unwrap();
    assert_eq!(reports.as_array().map(Vec::len), Some(2));
    for path in ["street/house/larder-1/report.json", "street/other/cellar-1/report.json"] {
        assert!(bench.path(path).exists(), "{path}");
    }
    // A mistake in any keeps all from being made.
    fs::write(bench.path("other.toml"), "house = 1").unwrap();
    let spoilt = run(&["make", &surveys[0], &surveys[1], "--out", &bench.text("anew")]);
    ends_with(&spoilt, 2);
    assert!(!bench.path("anew/house").exists(), "{}", stderr(&spoilt));
    let same = run(&["make", &surveys[0], &surveys[0], "--out", &bench.text("anew")]);
    ends_with(&same, 2);
    assert!(stderr(&same).contains("two surveys would be written to"), "{}", stderr(&same));
}
