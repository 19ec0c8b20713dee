//! The built command, run in a folder of its own.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

pub(crate) const EXAMPLE: &str = "examples/samphire-cottage.toml";

/// One small sash that nothing stops, and quick to make.
pub(crate) const SMALL: &str = r#"
house = "Samphire Cottage"
[[sash]]
id        = "larder-1"
kind      = "fixed"
thickness = 57
sight     = { width = 120, height = 150 }
stiles    = { width = 57 }
rails     = { width = 60 }
rebate    = { width = 9, depth = 17 }
unit      = { build_up = "4-6-4" }
"#;

pub(crate) fn fillister() -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_fillister"));
    command.current_dir(env!("CARGO_MANIFEST_DIR"));
    command
}

pub(crate) fn run(words: &[&str]) -> Output {
    fillister().args(words).output().unwrap()
}

/// Asserts the exit status, showing what was said where it differs.
pub(crate) fn ends_with(output: &Output, status: i32) {
    let said = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
    let (out, err) = (said(&output.stdout), said(&output.stderr));
    assert_eq!(output.status.code(), Some(status), "stdout:\n{out}\nstderr:\n{err}");
}

pub(crate) fn stderr(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// A folder with the small survey in it.
pub(crate) struct Bench {
    pub(crate) room: tempfile::TempDir,
}

impl Bench {
    pub(crate) fn new() -> Bench {
        let room = tempfile::tempdir().unwrap();
        fs::write(room.path().join("house.toml"), SMALL).unwrap();
        Bench { room }
    }

    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.room.path().join(name)
    }

    pub(crate) fn text(&self, name: &str) -> String {
        self.path(name).to_string_lossy().into_owned()
    }

    pub(crate) fn make(&self, out: &str) -> Output {
        run(&["make", &self.text("house.toml"), "--out", &self.text(out)])
    }

    pub(crate) fn names(&self) -> Vec<String> {
        let entries = fs::read_dir(self.room.path()).unwrap();
        let mut names: Vec<String> = entries
            .map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned())
            .collect();
        names.sort();
        names
    }
}

pub(crate) fn files(folder: &Path, prefix: &str, found: &mut BTreeMap<String, Vec<u8>>) {
    for entry in fs::read_dir(folder).unwrap() {
        let entry = entry.unwrap();
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            files(&entry.path(), &format!("{name}/"), found);
        } else {
            found.insert(name, fs::read(entry.path()).unwrap());
        }
    }
}

pub(crate) fn all_files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    files(folder, "", &mut found);
    found
}
