//! Any fields with any text, parts added and taken out as the page does it: what comes out is TOML, and gives a house or
//! mistakes.

#![no_main]

use fillister::page::{Change, changed};
use fillister::survey;
use libfuzzer_sys::fuzz_target;

const SURVEY: &str = "# Kept.\nhouse = \"Mill\"\n[defaults]\nrabbet = { width = 9, depth = 17 } # old\n[[sash]]\n\
    id = \"one\"\nkind = \"fixed\"\nthickness = 57 # mm\nsight = { width = 540, height = 900 }\n\
    stiles = { width = 57 }\nrails = { top = 57, bottom = 74 }\nunit = { build_up = \"4-6-4\" }\n\
    muntins = [{ center = 270, width = 22 }]\n";

// A line is `key=what is typed`, `+list` or `-part`.
fuzz_target!(|text: &str| {
    let changes = text.split('\n').filter_map(|line| match line.as_bytes().first()? {
        b'+' => Some(Change::Add(&line[1..])),
        b'-' => Some(Change::TakeOut(&line[1..])),
        _ => line.split_once('=').map(|(key, typed)| Change::Type(key, typed)),
    });
    let changes: Vec<Change> = changes.collect();
    if let Some(text) = changed(SURVEY, &changes) {
        assert!(text.starts_with("# Kept."), "{text}");
        if let Err(mistakes) = survey::read(&text, "form.toml") {
            let told = mistakes.to_string();
            assert!(!told.is_empty());
            text.parse::<toml::Table>().expect("what the page writes is TOML");
        }
    }
});
