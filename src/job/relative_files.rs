//! Files that a survey names, opened beside it.
//!
//! Promised: no more is read of a file than a drawing may have, and nothing is written. Not promised: that
//! a file stays the same between two runs.

use crate::survey::traced::MOST_BYTES;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Read};
use std::path::{Path, PathBuf};

/// A way to open files by their names from the folder of `survey` on, with forward slashes.
///
/// The bytes end one past [`MOST_BYTES`], by which a reader knows that the file is too long. An error
/// names the file and says why.
pub fn relative_files(survey: &Path) -> impl Fn(&str) -> Result<Vec<u8>, String> {
    let folder: PathBuf = survey.parent().map(Path::to_path_buf).unwrap_or_default();
    move |name| {
        let path = folder.join(name);
        let because = |why: &str| format!("{name}: {why}");
        let io = |error: io::Error| match error.kind() {
            ErrorKind::NotFound => because("there is no such file"),
            _ => because(&error.to_string()),
        };
        // Opening what is no file, such as a pipe, might wait for ever.
        if !fs::metadata(&path).map_err(io)?.is_file() {
            return Err(because("this is not a file"));
        }
        read_some(&path, MOST_BYTES).map_err(io)
    }
}

/// The file, or of one longer than `most` so much that it is known to be.
///
/// # Errors
/// Where the system refuses.
pub fn read_some(path: &Path, most: usize) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    let most = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    File::open(path)?.take(most).read_to_end(&mut bytes)?;
    Ok(bytes)
}
