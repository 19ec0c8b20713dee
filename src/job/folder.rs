//! Writing a folder, or a single file, whole or not at all.
//!
//! The files are written to a hidden folder beside the target, which then takes the target's name in
//! one step. A list of what was written, with a fingerprint of each file, is kept in the folder: a
//! later run replaces the folder only if it holds those files unchanged and nothing else, so nothing
//! that Fillister did not write is ever overwritten.

use rayon::ThreadPoolBuilder;
use rayon::prelude::*;
use std::collections::BTreeMap;
use std::ffi::OsStr;
use std::fmt;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Name of the list of written files.
pub const LIST: &str = "written-by-fillister.txt";

/// First line of the list, by which a folder is known as ours.
const HEAD: &str =
    "Files that Fillister wrote, with their fingerprints. A changed folder is not replaced.";

/// Files written at a time. A disk forces many out together almost as fast as one.
const WRITERS: usize = 16;

/// Files of a folder: relative path with `/`, and content.
pub type Files = BTreeMap<String, Vec<u8>>;

/// Why a folder was not written.
#[derive(Debug)]
pub enum FolderError {
    /// The target exists and is not ours to replace.
    NotOurs {
        /// The target folder.
        folder: PathBuf,
        /// What is in the way.
        why: String,
    },
    /// The system refused.
    Io {
        /// The path that was being written.
        path: PathBuf,
        /// Its answer.
        error: io::Error,
    },
}

impl fmt::Display for FolderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FolderError::NotOurs { folder, why } => write!(
                f,
                "{}: {why}; it is left as it is, name another with --out",
                folder.display()
            ),
            FolderError::Io { path, error } => write!(f, "{}: {error}", path.display()),
        }
    }
}

impl std::error::Error for FolderError {}

/// Whether a folder can be written there, as far as can be seen before the work is done.
///
/// # Errors
/// As [`write()`].
pub fn can_be_written(target: &Path) -> Result<(), FolderError> {
    ours_to_replace(target).and_then(|_| named(target)).map(|_| ())
}

fn named(target: &Path) -> Result<&OsStr, FolderError> {
    target.file_name().ok_or_else(|| FolderError::NotOurs {
        folder: target.into(),
        why: "this is not a name for a new folder".into(),
    })
}

/// Writes `files` as the folder `target`.
///
/// # Errors
/// Where the target is not ours to replace, or the disk refuses; the target is then as it was.
pub fn write(target: &Path, files: &Files) -> Result<(), FolderError> {
    let old = ours_to_replace(target)?;
    let name = named(target)?;
    let beside = |suffix: &str| {
        let mut hidden = std::ffi::OsString::from(".");
        hidden.push(name);
        hidden.push(suffix);
        target.with_file_name(hidden)
    };
    let fresh = beside(".fillister-new");
    let aside = beside(".fillister-old");
    discard(&fresh)?;
    let result = fill(&fresh, files).and_then(|()| {
        discard(&aside)?;
        if old {
            at(target, fs::rename(target, &aside))?;
        }
        at(target, fs::rename(&fresh, target)).inspect_err(|_| {
            if old {
                // Put the former folder back; if even that fails it still stands beside.
                let _ = fs::rename(&aside, target);
            }
        })
    });
    if result.is_err() {
        let _ = fs::remove_dir_all(&fresh);
    }
    result?;
    discard(&aside)
}

/// Writes a file that is not there yet.
///
/// # Errors
/// Where something of that name is there already, or the disk refuses; nothing is left half written.
pub fn write_file(target: &Path, content: &[u8]) -> Result<(), FolderError> {
    let mut file = match fs::File::create_new(target) {
        Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
            let why = "something of that name exists".to_owned();
            return Err(FolderError::NotOurs { folder: target.into(), why });
        }
        other => at(target, other)?,
    };
    let written = file.write_all(content).and_then(|()| file.sync_all());
    at(target, written).inspect_err(|_| {
        // It was ours from the first byte, so nobody misses it.
        let _ = fs::remove_file(target);
    })
}

fn at<T>(path: &Path, result: io::Result<T>) -> Result<T, FolderError> {
    result.map_err(|error| FolderError::Io { path: path.into(), error })
}

fn discard(folder: &Path) -> Result<(), FolderError> {
    match fs::remove_dir_all(folder) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            Err(FolderError::Io { path: folder.into(), error })
        }
        _ => Ok(()),
    }
}

fn fill(folder: &Path, files: &Files) -> Result<(), FolderError> {
    at(folder, fs::create_dir(folder))?;
    let written = files.par_iter().map(|(name, content)| {
        put(&folder.join(name), content)?;
        Ok(format!("{:016x} {name}\n", fingerprint(content)))
    });
    let pool = ThreadPoolBuilder::new().num_threads(WRITERS).build();
    let written: Vec<Result<String, FolderError>> = match pool {
        Ok(pool) => pool.install(|| written.collect()),
        Err(_) => written.collect(),
    };
    // Of several errors the first is given, whichever thread was first.
    let lines = written.into_iter().collect::<Result<String, FolderError>>()?;
    put(&folder.join(LIST), format!("{HEAD}\n{lines}").as_bytes())
}

fn put(path: &Path, content: &[u8]) -> Result<(), FolderError> {
    if let Some(parent) = path.parent() {
        at(parent, fs::create_dir_all(parent))?;
    }
    let mut file = at(path, fs::File::create_new(path))?;
    // A full disk may only show when the data is forced out.
    at(path, file.write_all(content).and_then(|()| file.sync_all()))
}

/// Whether a folder stands there that may be replaced; an error where one may not.
fn ours_to_replace(target: &Path) -> Result<bool, FolderError> {
    let not_ours = |why: String| FolderError::NotOurs { folder: target.into(), why };
    let meta = match fs::symlink_metadata(target) {
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(false),
        other => at(target, other)?,
    };
    if !meta.is_dir() {
        return Err(not_ours("a file of that name exists".into()));
    }
    if is_empty(target)? {
        return Ok(true);
    }
    // What is not ours is not read: it may be all that somebody has.
    if fs::symlink_metadata(target.join(LIST)).is_err() {
        return Err(not_ours("the folder exists and was not made by Fillister".into()));
    }
    let mut found = Files::new();
    collect(target, "", &mut found)?;
    let list = found.remove(LIST).unwrap_or_default();
    let list = String::from_utf8_lossy(&list).into_owned();
    let mut lines = list.lines();
    if lines.next() != Some(HEAD) {
        return Err(not_ours("the folder exists and was not made by Fillister".into()));
    }
    let listed: BTreeMap<&str, &str> =
        lines.filter_map(|line| line.split_once(' ')).map(|(print, name)| (name, print)).collect();
    for (name, content) in &found {
        match listed.get(name.as_str()) {
            None => {
                return Err(not_ours(format!("it holds {name}, which Fillister did not write")));
            }
            Some(print) if *print != format!("{:016x}", fingerprint(content)) => {
                return Err(not_ours(format!("{name} was changed after Fillister wrote it")));
            }
            Some(_) => {}
        }
    }
    Ok(true)
}

fn is_empty(folder: &Path) -> Result<bool, FolderError> {
    Ok(at(folder, fs::read_dir(folder))?.next().is_none())
}

fn collect(folder: &Path, prefix: &str, found: &mut Files) -> Result<(), FolderError> {
    for entry in at(folder, fs::read_dir(folder))? {
        let entry = at(folder, entry)?;
        let path = entry.path();
        let name = format!("{prefix}{}", entry.file_name().to_string_lossy());
        let kind = at(&path, entry.file_type())?;
        if kind.is_dir() {
            collect(&path, &format!("{name}/"), found)?;
        } else if kind.is_file() {
            let content = at(&path, fs::read(&path))?;
            found.insert(name, content);
        } else {
            // A link or device is surely not ours; any content differs from what is listed.
            found.insert(name, Vec::new());
        }
    }
    Ok(())
}

/// FNV-1a, 64 bit: enough to notice a change, not meant against malice.
fn fingerprint(content: &[u8]) -> u64 {
    content.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files(text: &str) -> Files {
        [("a.txt", text), ("sub/b.txt", "b")]
            .into_iter()
            .map(|(name, text)| (name.to_string(), text.as_bytes().to_vec()))
            .collect()
    }

    #[test]
    fn a_folder_appears_whole_and_may_be_renewed() {
        let room = tempfile::tempdir().unwrap();
        let target = room.path().join("out");
        write(&target, &files("one")).unwrap();
        assert_eq!(fs::read_to_string(target.join("sub/b.txt")).unwrap(), "b");
        write(&target, &files("two")).unwrap();
        assert_eq!(fs::read_to_string(target.join("a.txt")).unwrap(), "two");
        let names: Vec<_> = fs::read_dir(room.path()).unwrap().collect();
        assert_eq!(names.len(), 1, "nothing is left beside the folder");
    }

    #[test]
    fn what_fillister_did_not_write_is_never_touched() {
        let room = tempfile::tempdir().unwrap();
        let target = room.path().join("out");
        fs::create_dir(&target).unwrap();
        fs::write(target.join("letter.txt"), "mine").unwrap();
        assert!(matches!(write(&target, &files("x")), Err(FolderError::NotOurs { .. })));
        assert_eq!(fs::read_to_string(target.join("letter.txt")).unwrap(), "mine");

        let ours = room.path().join("ours");
        write(&ours, &files("one")).unwrap();
        fs::write(ours.join("a.txt"), "edited by hand").unwrap();
        let error = write(&ours, &files("two")).unwrap_err().to_string();
        assert!(error.contains("a.txt was changed"), "{error}");
        fs::write(ours.join("a.txt"), "one").unwrap();
        fs::write(ours.join("extra.txt"), "").unwrap();
        assert!(write(&ours, &files("two")).is_err());
    }

    #[test]
    fn a_file_is_written_once() {
        let room = tempfile::tempdir().unwrap();
        let target = room.path().join("start.toml");
        write_file(&target, b"one").unwrap();
        assert!(matches!(write_file(&target, b"two"), Err(FolderError::NotOurs { .. })));
        assert_eq!(fs::read(&target).unwrap(), b"one");
        let nowhere = room.path().join("no/such/folder/start.toml");
        assert!(matches!(write_file(&nowhere, b""), Err(FolderError::Io { .. })));
    }

    #[test]
    fn an_empty_folder_is_free_and_a_file_is_not() {
        let room = tempfile::tempdir().unwrap();
        let target = room.path().join("empty");
        fs::create_dir(&target).unwrap();
        write(&target, &files("x")).unwrap();
        let file = room.path().join("file");
        fs::write(&file, "").unwrap();
        assert!(matches!(write(&file, &files("x")), Err(FolderError::NotOurs { .. })));
    }

    #[test]
    fn a_folder_that_cannot_be_made_leaves_nothing() {
        let room = tempfile::tempdir().unwrap();
        let target = room.path().join("no/such/parent/out");
        assert!(matches!(write(&target, &files("x")), Err(FolderError::Io { .. })));
        assert_eq!(fs::read_dir(room.path()).unwrap().count(), 0);
    }
}
