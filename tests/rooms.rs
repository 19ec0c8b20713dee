//! The rooms keep to their imports, and no files import one another in a ring: independence one can read
//! from the sources. What each room may import stands in the table of DEVELOPERS.md.

mod reach;
mod sources;

use reach::{files, rings, rooms};
use sources::{Modules, modules};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::OnceLock;

const TABLE: &str = include_str!("../DEVELOPERS.md");

fn house() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("src")
}

fn sources() -> &'static Modules {
    static SOURCES: OnceLock<Modules> = OnceLock::new();
    SOURCES.get_or_init(|| modules(&|file| fs::read_to_string(house().join(file)).ok()))
}

/// Each room of the table, and the rooms it may import.
fn table(text: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut found = BTreeMap::new();
    let rows =
        text.lines().skip_while(|line| !line.starts_with("| room | one idea | may import |"));
    for row in rows.skip(2).take_while(|line| line.starts_with('|')) {
        let cells: Vec<&str> = row.trim_matches('|').split('|').map(str::trim).collect();
        let [room, _, may] = cells[..] else { panic!("three cells in a row, not {row}") };
        let named = |cell: &str| -> BTreeSet<String> {
            cell.split('`').skip(1).step_by(2).map(str::to_owned).collect()
        };
        let room = named(room).pop_first().unwrap_or_else(|| panic!("no room in {row}"));
        let plain: String = may.split('`').step_by(2).collect();
        let may = match plain.trim_matches([' ', ',']) {
            "nothing" => BTreeSet::new(),
            "" => named(may),
            _ => panic!("rooms in back-ticks or `nothing`, not {may}"),
        };
        assert!(found.insert(room, may).is_none(), "a room stands twice: {row}");
    }
    assert!(!found.is_empty(), "no table of rooms");
    found
}

/// What reaches further than the table allows, or is missing from it.
fn faults(modules: &Modules, may: &BTreeMap<String, BTreeSet<String>>) -> Vec<String> {
    let found = rooms(modules);
    let mut faults = Vec::new();
    for (room, reached) in &found {
        let Some(may) = may.get(room) else {
            faults.push(format!("{room} is not in the table"));
            continue;
        };
        for (other, place) in reached.iter().filter(|(other, _)| !may.contains(*other)) {
            faults.push(format!("{room} may not import {other}: {place}"));
        }
    }
    let gone = may.keys().filter(|room| !found.contains_key(*room));
    faults.extend(gone.map(|room| format!("{room} is in the table, not in the house")));
    faults
}

#[test]
fn no_room_reaches_further_than_it_may() {
    let faults = faults(sources(), &table(TABLE));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn every_room_imports_only_rooms_before_it_in_some_order() {
    let table = table(TABLE);
    assert!(rings(&table).is_empty(), "{:?}", rings(&table));
    let others = table.values().flatten();
    let unknown: Vec<&String> = others.filter(|room| !table.contains_key(*room)).collect();
    assert!(unknown.is_empty(), "no such room: {unknown:?}");
}

#[test]
fn every_file_is_a_module() {
    fn all(folder: &Path, found: &mut BTreeSet<PathBuf>) {
        for entry in fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                all(&path, found);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                found.insert(path);
            }
        }
    }
    let mut there = BTreeSet::new();
    all(&house(), &mut there);
    let mut read: BTreeSet<PathBuf> =
        sources().values().map(|module| house().join(&module.file)).collect();
    // Built apart from the house: the program itself, and what tells it its sources.
    read.extend(["main.rs", "build.rs"].map(|file| house().join(file)));
    assert_eq!(there, read);
}

#[test]
fn the_top_level_holds_nothing_else() {
    let known = "Cargo.toml Cargo.lock README.md DEVELOPERS.md CHANGELOG.md LICENSE src tests fixtures examples target";
    let names = fs::read_dir(env!("CARGO_MANIFEST_DIR")).unwrap();
    let names = names.map(|entry| entry.unwrap().file_name().into_string().unwrap());
    let others =
        names.filter(|name| !name.starts_with('.') && !known.split(' ').any(|k| k == name));
    assert_eq!(others.collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn no_files_import_one_another_in_a_ring() {
    let rings = rings(&files(sources()));
    assert!(rings.is_empty(), "import one another in a ring: {rings:#?}");
}

/// A house of files that are written here.
fn planted(files: &[(&str, &str)]) -> Modules {
    modules(&|file| {
        files.iter().find(|(name, _)| *name == file).map(|(_, text)| (*text).to_owned())
    })
}

/// The rooms that the room `prove`, with that text, is found to reach.
fn reached(prove: &str) -> Vec<String> {
    let modules = planted(&[
        ("lib.rs", "pub mod sash; pub mod passes; pub mod survey; pub mod prove;"),
        ("sash.rs", "pub use crate::survey::Sight; pub struct Solid;"),
        ("passes/mod.rs", "pub mod plan; pub use plan::*;"),
        ("passes/plan.rs", "pub fn plan() {}"),
        ("survey.rs", "pub struct Sight;"),
        ("prove/mod.rs", prove),
        ("prove/judge.rs", "use super::super::passes::plan;"),
    ]);
    rooms(&modules)["prove"].keys().cloned().collect()
}

#[test]
fn every_way_to_reach_a_room_is_seen() {
    let planted = [
        "use crate::passes::plan;",
        "use crate::{sash::Solid, passes};",
        "use crate::{sash::{self, Solid}, passes::{plan::{plan}}};",
        "use crate::{sash as wood, passes as p};",
        "use crate::{sash::Solid as S, passes::*};",
        "use crate as whole; fn f() { whole::passes::plan() }",
        "use super::passes;",
        "use self::super::passes::plan;",
        "mod judge;",
        "fn f() { crate::passes::plan::plan() }",
        "fn f() { use crate::passes::plan as p; p() }",
        "fn f(x: Vec<crate::passes::Plan>) {}",
        "impl From<crate::passes::Plan> for u8 {}",
        "fn f() { assert_eq!(1, crate::passes::plan()) }",
        "fn f() { vec![{ use crate::{sash::Solid, passes::{plan}}; }] }",
        "macro_rules! m { () => { $crate::passes::plan() } }",
        "#[serde(with = \"crate::passes::plan\")] struct S;",
        "#[derive(crate::passes::Plan)] struct S;",
        "mod tests { use super::super::passes::plan; }",
        "#[cfg(test)] mod tests { use crate::passes::plan; }",
    ];
    for text in planted {
        let reached = reached(text);
        assert!(reached.contains(&"passes".to_owned()), "{text} reaches {reached:?}");
    }
    // A room that hands another on.
    assert_eq!(reached("use crate::sash::Sight;"), ["sash", "survey"]);
}

#[test]
fn what_only_looks_like_a_room_is_none() {
    let harmless = [
        "// use crate::passes;\n/// [`crate::passes`]\nfn f() { let s = \"crate::passes\"; }",
        "use std::passes; fn f(passes: u8) { other::passes::f(); let x = S { passes: crate::prove::X }; }",
        "mod passes { pub fn f() {} } fn f() { passes::f(); self::passes::f() }",
        "fn f() { ::passes::f() }",
    ];
    for text in harmless {
        assert_eq!(reached(text), [""; 0], "{text}");
    }
}

#[test]
fn the_table_is_held_against_the_house() {
    let head = "| room | one idea | may import |\n|---|---|---|\n";
    let may = table(&format!(
        "{head}| `sash` | wood | nothing |\n| `fit` | where | `sash`, `glass` |\n\n"
    ));
    let modules = planted(&[
        ("lib.rs", "pub mod sash; pub mod fit; pub mod page;"),
        ("sash.rs", "use crate::{fit::Fit, sash::Wood};"),
        ("fit.rs", "use crate::sash::Wood;"),
        ("page.rs", ""),
    ]);
    let faults = faults(&modules, &may);
    assert_eq!(
        faults,
        ["page is not in the table", "sash may not import fit: sash.rs: crate::fit::Fit"]
    );
    assert_eq!(may["fit"].iter().collect::<Vec<_>>(), ["glass", "sash"]);
}

#[test]
fn a_ring_is_seen_through_what_is_handed_on() {
    let files_of = |one: &str, other: &str| {
        files(&planted(&[
            ("lib.rs", "mod room;"),
            (
                "room/mod.rs",
                "mod one; mod other; pub use one::One; pub use other::{Other, of}; pub struct Own;",
            ),
            ("room/one.rs", one),
            ("room/other.rs", other),
        ]))
    };
    let ring = [BTreeSet::from(["room/one.rs", "room/other.rs"].map(str::to_owned))];
    let other = "use crate::room::One; pub struct Other(One); pub fn of() {}";
    let rings_of = |one: &str| rings(&files_of(one, other));
    assert_eq!(rings_of("use super::Other; pub struct One;"), ring);
    assert_eq!(rings_of("use super::other as o; pub struct One; fn f() { o::of() }"), ring);
    assert_eq!(rings_of("pub struct One; fn f() { crate::room::of() }"), ring);
    assert_eq!(rings_of("use super::other::*; pub struct One;"), ring);
    // The file over both may be used by both, and tests may look anywhere.
    assert!(rings_of("use super::Own; pub struct One(Own);").is_empty());
    assert!(
        rings_of("pub struct One; #[cfg(test)] mod tests { use super::super::Other; }").is_empty()
    );
}
