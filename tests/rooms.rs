//! The rooms keep to their imports: independence one can read from the sources.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

/// Each room, and the rooms it may import. As in DEVELOPERS.md.
const MAY: &[(&str, &[&str])] = &[
    ("geometry", &[]),
    ("finding", &[]),
    ("input", &[]),
    ("survey", &["geometry", "finding", "input"]),
    ("sash", &["geometry", "survey", "finding"]),
    ("glass", &["geometry", "survey", "finding"]),
    ("fit", &["geometry", "survey", "finding", "sash", "glass"]),
    ("rebate", &["geometry", "survey", "finding", "sash", "glass", "fit"]),
    ("timber", &["geometry", "survey", "finding", "sash", "glass", "fit", "rebate"]),
    ("warmth", &["geometry", "survey", "finding", "sash", "glass"]),
    ("hanging", &["geometry", "survey", "finding", "sash", "glass", "fit", "rebate"]),
    ("movement", &["geometry", "survey", "finding", "sash", "glass", "fit"]),
    ("duty", &["geometry", "survey", "finding", "sash", "glass", "fit"]),
    ("passes", &["geometry", "survey", "finding", "sash", "fit", "rebate"]),
    ("hand", &["geometry", "survey", "finding", "sash", "fit", "rebate", "passes"]),
    ("machine", &["geometry", "survey", "finding", "sash", "fit", "rebate", "passes"]),
    ("prove", &["geometry", "finding", "sash", "rebate"]),
    ("drawing", &["geometry"]),
    (
        "report",
        &[
            "geometry", "finding", "timber", "passes", "hand", "prove", "fit", "glass", "warmth",
            "hanging", "movement",
        ],
    ),
    (
        "sheets",
        &[
            "geometry", "finding", "survey", "sash", "glass", "fit", "rebate", "timber", "passes",
            "hand", "prove", "report", "drawing", "warmth", "hanging", "movement",
        ],
    ),
];

fn sources(path: &Path, found: &mut Vec<String>) {
    if !path.exists() {
        return;
    }
    if path.is_dir() {
        for entry in fs::read_dir(path).unwrap() {
            sources(&entry.unwrap().path(), found);
        }
    } else if path.extension().is_some_and(|ending| ending == "rs") {
        found.push(fs::read_to_string(path).unwrap());
    }
}

/// Rooms named after `crate::`, tests included: a test that reaches further hides a dependence too.
fn imported(text: &str, own_tests_may_reach: bool) -> BTreeSet<String> {
    let code = if own_tests_may_reach { text.split("#[cfg(test)]").next().unwrap() } else { text };
    let code = code.lines().filter(|line| !line.trim_start().starts_with("//"));
    let code: String = code.collect::<Vec<_>>().join("\n");
    let mut found = BTreeSet::new();
    for rest in code.split("crate::").skip(1) {
        let names = if let Some(list) = rest.strip_prefix('{') {
            list.split('}').next().unwrap().split(',').map(str::trim).collect()
        } else {
            vec![rest]
        };
        for name in names {
            let word: String =
                name.chars().take_while(|c| c.is_ascii_lowercase() || *c == '_').collect();
            found.insert(word);
        }
    }
    found
}

#[test]
fn no_room_reaches_further_than_it_may() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    for (room, may) in MAY {
        let mut texts = Vec::new();
        sources(&root.join(room), &mut texts);
        sources(&root.join(format!("{room}.rs")), &mut texts);
        assert!(!texts.is_empty(), "the room {room} has no source");
        for text in texts {
            // Only the prover's tests are bound as well: its independence is the point of it.
            for word in imported(&text, *room != "prove") {
                let known = MAY.iter().any(|(other, _)| *other == word)
                    || ["job", "cli", "page"].contains(&word.as_str());
                assert!(
                    !known || word == *room || may.contains(&word.as_str()),
                    "{room} may not import {word}"
                );
            }
        }
    }
}

#[test]
fn the_reader_of_imports_sees_what_it_should() {
    let text = "use crate::geometry::Edge;\nuse crate::{survey, sash::Sash};\n// crate::cli\n";
    let found: Vec<String> = imported(text, true).into_iter().collect();
    assert_eq!(found, ["geometry", "sash", "survey"]);
}
