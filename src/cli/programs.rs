//! The programs that `prove` is given: which files, and in which order.

use std::path::{Path, PathBuf};

/// Ending of a program's name.
const ENDING: &str = "ngc";

/// The files named, and in place of a folder the programs in it, in the order of their numbers.
pub(super) fn files(named: &[PathBuf]) -> Result<Vec<PathBuf>, String> {
    let mut files = Vec::new();
    for path in named {
        if path.is_dir() {
            files.extend(in_folder(path)?);
        } else {
            files.push(path.clone());
        }
    }
    Ok(files)
}

fn in_folder(folder: &Path) -> Result<Vec<PathBuf>, String> {
    let told = |error: std::io::Error| format!("{}: {error}", folder.display());
    let mut found = Vec::new();
    for entry in std::fs::read_dir(folder).map_err(told)? {
        let path = entry.map_err(told)?.path();
        if path.extension().is_some_and(|ending| ending == ENDING) {
            found.push(path);
        }
    }
    if found.is_empty() {
        let cuts = folder.join("cuts");
        let hint = if cuts.is_dir() {
            format!(": did you mean {}?", cuts.display())
        } else {
            String::new()
        };
        return Err(format!(
            "{}: no program (.{ENDING}) is in this folder{hint}",
            folder.display()
        ));
    }
    // Their names begin with their numbers.
    found.sort_by_key(|path| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let end = name.find(|c: char| !c.is_ascii_digit()).unwrap_or(name.len());
        let number: Option<u64> = name.get(..end).and_then(|digits| digits.parse().ok());
        (number.unwrap_or(u64::MAX), name)
    });
    Ok(found)
}

/// Refuses a file that moves nothing.
pub(super) fn is_one(name: &str, text: &str) -> Result<(), String> {
    let moves = |line: &str| {
        line.split(['(', ';'])
            .next()
            .is_some_and(|words| words.contains(['X', 'Y', 'Z', 'x', 'y', 'z']))
    };
    if text.lines().any(moves) {
        Ok(())
    } else {
        Err(format!("{name}: there is no movement in this file"))
    }
}
