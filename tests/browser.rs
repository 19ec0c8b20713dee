//! The page in a real browser, driven by `tests/browser/page.mjs` with libraries that `.ci/run` installs (playwright-core,
//! axe-core, Debian's Chromium); left out by hand where they are not there.

use crate::page::{Served, same_as_made};
use crate::support::bench::{Bench, ends_with};
use std::fs;
use std::path::Path;
use std::process::Command;

/// Where the libraries of the browser are installed.
const LIBRARIES: &str = "target/browser";

fn newcomer(way: &str) {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let libraries = here.join(LIBRARIES);
    if !libraries.join("node_modules/playwright-core").exists() {
        assert!(std::env::var("CI").is_err(), "CI has no browser to test with");
        eprintln!("left out: npm install --prefix {LIBRARIES} playwright-core axe-core");
        return;
    }
    let bench = Bench::new();
    fs::remove_file(bench.path("house.toml")).unwrap();
    let page = Served::of(&bench, "house.toml");
    let output = Command::new("node")
        .arg(here.join("tests/browser/page.mjs"))
        .args([&format!("http://{}/", page.host), "fixtures/page/three-lights.txt"])
        .args([bench.room.path().to_str().unwrap(), way])
        .current_dir(here)
        .env("FILLISTER_BROWSER", &libraries)
        .output()
        .unwrap();
    println!("{}", String::from_utf8_lossy(&output.stdout));
    ends_with(&output, 0);
    ends_with(&bench.make("out"), 0);
    same_as_made(&bench.path("out"), fs::read(bench.path("taken.zip")).unwrap());
}

#[test]
fn a_newcomer_gets_a_no_picks_a_thinner_unit_and_takes_everything_away() {
    newcomer("pointer");
}

#[test]
fn the_same_by_keyboard_alone() {
    newcomer("keyboard");
}

#[test]
fn the_same_by_touch_on_a_phone() {
    newcomer("touch");
}
