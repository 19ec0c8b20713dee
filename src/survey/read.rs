//! From text to a house, or to every mistake in it.

use super::file::FileTable;
use super::resolve;
use super::values::{BuildUp, House};
use crate::input::{self, DeclaredKey, Diagnostics, FileKind};

/// Largest survey, bytes. A street of ten thousand sashes takes about a quarter of it.
pub const MOST_BYTES: usize = 1 << 24;

/// A survey, beside its tables.
const SURVEY: FileKind =
    FileKind { noun: "survey", most_bytes: MOST_BYTES, default_of, cure, name_part };

/// What a sash leaves out may stand under `[defaults]`.
fn default_of(key: &str) -> Option<String> {
    key.split_once("].").map(|(_, rest)| format!("defaults.{rest}"))
}

/// What joiners write that the survey has another place for, or none.
fn cure(key: &str, written: &str) -> Option<String> {
    let last = key.rsplit('.').next().unwrap_or_default();
    match (last, written) {
        ("horns" | "horn", _) => Some(
            "say past which rail both stiles run on: write horns = { bottom = 60 }, or top = 60, of a sash that slides"
                .to_owned(),
        ),
        ("unit", written) if written.parse::<BuildUp>().is_ok() => {
            Some(format!("write unit = {{ build_up = \"{written}\" }}"))
        }
        _ => None,
    }
}

/// A key says which sash it belongs to, and often which member or bar.
fn name_part<'p>(key: &str, part: &'p str) -> &'p str {
    if key.contains(".member.") || key.contains(".bars[") {
        ""
    } else if key.starts_with("sash[") {
        part.split_once(": ").map_or("", |(_, part)| part)
    } else {
        part
    }
}

/// What a survey is read with, besides its text.
pub struct With<'o> {
    /// Where its names are to be printed, which letters can be: one for which this says no is a mistake.
    pub shows: Option<fn(char) -> bool>,
    /// The bytes of a file that the survey names, from its own folder on with forward slashes; or why
    /// they cannot be had.
    pub open: &'o dyn Fn(&str) -> Result<Vec<u8>, String>,
}

/// A survey that is all there is.
const ALONE: With<'static> = With {
    shows: None,
    open: &|file| Err(format!("{file} is not opened where a survey is read from its text alone")),
};

/// Reads a survey. `name` is the file's name for the diagnostics; the disk is never touched, so a
/// drawing that the survey names is a mistake here: see [`read_with`].
///
/// # Errors
/// Every mistake in the text at once: see [`Diagnostics`].
pub fn read(text: &str, name: &str) -> Result<House, Diagnostics> {
    read_text(text, name, &ALONE)
}

/// Reads a survey from the bytes of a file.
///
/// # Errors
/// As [`read`]; and where the bytes are not UTF-8, one diagnostic at the first that is not.
pub fn read_bytes(bytes: &[u8], name: &str) -> Result<House, Diagnostics> {
    read_with(bytes, name, &ALONE)
}

/// Reads a survey from the bytes of a file, and the drawings that it names.
///
/// # Errors
/// As [`read_bytes`]; and where a drawing cannot be opened, or is not one closed outline.
pub fn read_with(bytes: &[u8], name: &str, with: &With<'_>) -> Result<House, Diagnostics> {
    read_text(input::utf8(bytes, name, &SURVEY)?, name, with)
}

fn read_text(text: &str, name: &str, with: &With<'_>) -> Result<House, Diagnostics> {
    let mut elsewhere = None;
    let read = input::read::<FileTable, House>(text, name, &SURVEY, with.shows, |file, reader| {
        resolve::house(file, with.open, &mut elsewhere, reader)
    });
    match (read, elsewhere) {
        (Err(own), Some(other)) => Err(own.and(other)),
        (Ok(_), Some(other)) => Err(other),
        (read, None) => read,
    }
}

/// The JSON Schema (2020-12) of a survey as JSON writes the same tables.
pub fn schema() -> serde_json::Value {
    input::schema::<FileTable>("Fillister survey")
}

/// Every key of a survey that takes a value, in the order of the file's tables, so that a form or a first
/// draft can be held against them and none is forgotten. Other spellings of a key are left out.
pub fn keys() -> Vec<DeclaredKey> {
    input::keys::<FileTable>()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::values::Limits;

    #[test]
    fn the_list_goes_into_every_table_and_list() {
        let all = keys();
        let one = |path: &str| all.iter().find(|key| key.path == path).unwrap();
        assert!(one("house").needed && one("sash[].rebate.width").needed);
        assert!(!one("sash[].sight.width").needed, "a round sash has none");
        assert_eq!(one("sash[].unit.cover").default, Some("12"));
        assert_eq!(one("sash[].bars[].rebate.depth").about, "Glazing face to platform.");
        assert!(one("sash[].moulding.points").default.is_none());
        let limits = all.iter().filter(|key| key.path.starts_with("workshop.limits."));
        assert_eq!(limits.count(), Limits::NAMES.len());
        assert!(!all.iter().any(|key| key.path == "sash" || key.path == "sash[].sight"));
    }
}
