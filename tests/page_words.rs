//! The page in a language of its own: nothing of what it says is left in another.

use crate::page::Served;
use crate::support::bench::{Bench, SMALL};
use crate::support::invented::{latin, other_letters};
use fillister::survey;
use serde_json::Value;
use std::collections::BTreeSet;
use std::fs;

/// What a person reads of a page, or hears of it: the text between its marks, and what some of them say.
fn told(page: &str) -> String {
    const SAID: [&str; 7] = [
        "aria-label",
        "aria-valuetext",
        "alt",
        "placeholder",
        "data-words",
        "data-gone",
        "data-not-taken",
    ];
    let mut all = String::new();
    for part in page.split('<') {
        let (mark, text) = part.split_once('>').unwrap_or(("", part));
        all.extend([text, "\n"]);
        for name in SAID {
            let begins = format!(" {name}=\"");
            let said = mark.split(&begins).skip(1);
            all.extend(
                said.filter_map(|rest| rest.split('"').next()).flat_map(|said| [said, "\n"]),
            );
        }
    }
    all.replace("&quot;", "\"")
}

/// Words that may stand at a key.
fn choices(schema: &Value, found: &mut BTreeSet<String>) {
    match schema {
        Value::Object(all) => {
            let words = all.get("enum").and_then(Value::as_array).into_iter().flatten();
            found.extend(words.filter_map(Value::as_str).flat_map(latin));
            all.values().for_each(|inner| choices(inner, found));
        }
        Value::Array(all) => all.iter().for_each(|inner| choices(inner, found)),
        _ => {}
    }
}

#[test]
fn a_file_that_the_survey_names_is_what_the_page_speaks() {
    let bench = Bench::new();
    fs::write(bench.path("own.ftl"), other_letters()).unwrap();
    let survey = SMALL.replace("larder-1", "a-1").replace("Samphire Cottage", "1 2 3")
        + "screws = [{ member = \"left\", from = \"outer edge\", at = 20, length = 12, from_face = 20 }]\n\
           [workshop]\nprinter = { words_file = \"own.ftl\" }\n";
    fs::write(bench.path("house.toml"), survey).unwrap();
    let page = Served::of(&bench, "house.toml");
    // Keys of the survey, what may stand there, and what their reader says of them, are those of the file.
    let mut open = BTreeSet::new();
    choices(&survey::schema(), &mut open);
    for key in survey::keys() {
        open.extend(
            [key.path.as_str(), &key.about, key.default.unwrap_or("")].into_iter().flat_map(latin),
        );
        open.extend(key.otherwise.into_iter().flat_map(latin));
    }
    let away = page.get("/away").text();
    let files: BTreeSet<String> = away
        .split("href=\"/away/")
        .skip(1)
        .flat_map(|rest| latin(rest.split('"').next().unwrap()))
        .collect();
    open.extend(
        files
            .into_iter()
            .chain(latin("house.toml own.ftl fillister.zip http ngc G41 G18 M3 X0 Y0 Z0")),
    );
    let wrong = page.press_cut("(a) G41 X1\nG18\nM2\n");
    let pages = ["/", "/sash/1", "/workshop", "/sash/1/cut", "/away", "/nowhere", "/sash/9"];
    let pages = pages.map(|path| (path, page.get(path).text()));
    let mut lost = Vec::new();
    for (path, text) in
        pages.iter().map(|(path, text)| (*path, text)).chain([("a wrong program", &wrong)])
    {
        let said = told(text);
        assert!(text.contains("<html lang=\"en\">"), "{path}");
        assert!(said.contains(|letter| ('а'..='я').contains(&letter)), "{path}: {text}");
        let left: Vec<String> = latin(&said).difference(&open).cloned().collect();
        lost.extend((!left.is_empty()).then(|| format!("{path}: {left:?}")));
    }
    assert!(lost.is_empty(), "{}", lost.join("\n"));
}
