//! The lists of what was written: by them a folder is known as ours, and whatever in it is not.
//!
//! A list stands in the folder itself and, for each part of it, in the part's own folder: names from there on, each
//! with a fingerprint. The list of the folder holds the fingerprints of those of its parts. A folder that holds one
//! list for all, as former versions wrote it, is read as well.

use super::{FolderError, at};
use rayon::prelude::*;
use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::Path;

/// Name of the list of written files.
pub const LIST: &str = "written-by-fillister.txt";

/// Name of the folder in each part that is the joiner's: for photographs and notes.
pub const OWN: &str = "own";

/// First line of a list, by which a folder is known as ours.
const HEAD: &str =
    "Files that Fillister wrote, with their fingerprints. A changed folder is not replaced.";

/// How the line begins that tells what a part was made from.
const FROM: &str = "made from ";

/// Bytes read at a time.
const PIECE: usize = 1 << 16;

/// Longest list that is read, bytes: many times what a street takes.
const MOST_BYTES: u64 = 1 << 28;

/// FNV-1a, 64 bit, and the length: enough to notice a change, not meant against malice.
#[derive(Debug, Clone, Copy)]
pub(super) struct Fingerprint {
    hash: u64,
    length: u64,
}

impl Fingerprint {
    const EMPTY: Fingerprint = Fingerprint { hash: 0xcbf2_9ce4_8422_2325, length: 0 };

    fn add(&mut self, bytes: &[u8]) {
        self.hash = bytes.iter().fold(self.hash, |hash, byte| {
            (hash ^ u64::from(*byte)).wrapping_mul(0x0000_0100_0000_01b3)
        });
        self.length += bytes.len() as u64;
    }

    pub(super) fn of(bytes: &[u8]) -> Fingerprint {
        let mut all = Fingerprint::EMPTY;
        all.add(bytes);
        all
    }

    /// Of a file, read piece by piece.
    fn of_file(path: &Path) -> io::Result<Fingerprint> {
        let (mut file, mut piece) = (File::open(path)?, vec![0; PIECE]);
        let mut all = Fingerprint::EMPTY;
        loop {
            match file.read(&mut piece)? {
                0 => return Ok(all),
                read => all.add(piece.get(..read).unwrap_or_default()),
            }
        }
    }

    pub(super) fn words(self) -> String {
        format!("{:016x}-{}", self.hash, self.length)
    }

    /// Whether `words`, of this version or a former one without the length, are those of this fingerprint.
    fn is(self, words: &str) -> bool {
        match words.split_once('-') {
            Some(_) => self.words() == words,
            None => format!("{:016x}", self.hash) == words,
        }
    }
}

/// Something that is written, and its fingerprint at the end.
pub(super) struct Printed<W> {
    inner: W,
    print: Fingerprint,
}

impl<W: Write> Printed<W> {
    pub(super) fn new(inner: W) -> Self {
        Printed { inner, print: Fingerprint::EMPTY }
    }

    pub(super) fn done(self) -> (W, Fingerprint) {
        (self.inner, self.print)
    }
}

impl<W: Write> Write for Printed<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.inner.write(bytes)?;
        self.print.add(bytes.get(..written).unwrap_or_default());
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.inner.flush()
    }
}

/// A list.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct List {
    /// What the part was made from.
    pub from: Option<String>,
    /// Fingerprints by name.
    pub files: BTreeMap<String, String>,
}

impl List {
    pub(super) fn text(&self) -> String {
        let from = self.from.iter().map(|from| format!("{FROM}{from}\n"));
        let files = self.files.iter().map(|(name, print)| format!("{print} {name}\n"));
        std::iter::once(format!("{HEAD}\n")).chain(from).chain(files).collect()
    }

    /// The list in `folder`; none where there is no list, or it is none of ours.
    pub(super) fn in_folder(folder: &Path) -> Option<(List, Fingerprint)> {
        let mut text = Vec::new();
        let file = File::open(folder.join(LIST)).ok()?;
        file.take(MOST_BYTES).read_to_end(&mut text).ok()?;
        let print = Fingerprint::of(&text);
        let text = String::from_utf8(text).ok()?;
        let mut lines = text.lines().peekable();
        if lines.next() != Some(HEAD) {
            return None;
        }
        let from = lines.next_if(|line| line.starts_with(FROM));
        let from = from.and_then(|line| line.strip_prefix(FROM)).map(str::to_owned);
        let files = lines.filter_map(|line| line.split_once(' '));
        let files = files.map(|(print, name)| (name.to_owned(), print.to_owned())).collect();
        Some((List { from, files }, print))
    }

    /// Whether every file of the list is there, unchanged.
    pub(super) fn is_whole(&self, folder: &Path) -> bool {
        self.files.iter().all(|(name, print)| {
            Fingerprint::of_file(&folder.join(name)).is_ok_and(|found| found.is(print))
        })
    }
}

/// One file of a folder that is ours.
type Ours = (String, String);

/// What is in a folder that Fillister wrote: its files by their lists, and nothing else.
#[derive(Debug, Default)]
pub(super) struct Inventory {
    /// Names from the folder on, each with its fingerprint; no lists.
    files: Vec<Ours>,
    /// Names of the lists of its parts.
    lists: BTreeSet<String>,
    /// Names of the folders in it, each before those within.
    folders: Vec<String>,
    /// Names of what a system left in it for its own use.
    by_systems: Vec<String>,
}

/// Files that systems put into a folder that is looked at in a window, and make again at the next look.
const BY_SYSTEMS: [&str; 4] = [".DS_Store", ".directory", "Thumbs.db", "desktop.ini"];

fn is_by_a_system(entry: &fs::DirEntry) -> bool {
    entry.file_type().is_ok_and(|kind| kind.is_file())
        && entry.file_name().to_str().is_some_and(|name| BY_SYSTEMS.contains(&name))
}

/// Why a folder is not ours to replace, in words.
pub(super) type Why = String;

const NOT_MADE: &str = "the folder exists and was not made by Fillister";

/// Everything in `folder`, if all of it is ours; names only, so that what is not ours is not read: it may be all that
/// somebody has. Stops at the first that is not.
pub(super) fn inventory(folder: &Path) -> Result<Result<Inventory, Why>, FolderError> {
    let Some((list, _)) = List::in_folder(folder) else {
        let mut found = Inventory::default();
        for entry in at(folder, fs::read_dir(folder))? {
            let entry = at(folder, entry)?;
            if !is_by_a_system(&entry) {
                return Ok(Err(NOT_MADE.to_owned()));
            }
            found.by_systems.push(entry.file_name().to_string_lossy().into_owned());
        }
        return Ok(Ok(found));
    };
    let mut found = Inventory::default();
    let why = walk(folder, "", &list, &mut found)?;
    Ok(why.map_or(Ok(found), Err))
}

/// Adds what is in the folder `prefix` to `found`; `list` is that which its names stand in.
fn walk(
    folder: &Path,
    prefix: &str,
    list: &List,
    found: &mut Inventory,
) -> Result<Option<Why>, FolderError> {
    let here = folder.join(prefix);
    for entry in at(&here, fs::read_dir(&here))? {
        let entry = at(&here, entry)?;
        let own = entry.file_name().to_string_lossy().into_owned();
        let name = format!("{prefix}{own}");
        let kind = at(&entry.path(), entry.file_type())?;
        let foreign = Some(format!("it holds {name}, which Fillister did not write"));
        let in_part = prefix.matches('/').count() == 1;
        if is_by_a_system(&entry) {
            found.by_systems.push(name);
            continue;
        }
        if own == LIST || own == OWN && in_part {
            continue;
        }
        if kind.is_dir() {
            let inside = format!("{name}/");
            let of_part = list.files.get(&format!("{inside}{LIST}"));
            let why = match (of_part, List::in_folder(&entry.path())) {
                (Some(print), Some((part, found_print))) => {
                    if !found_print.is(print) {
                        return Ok(Some(format!("{name}/{LIST} was changed")));
                    }
                    found.lists.insert(format!("{inside}{LIST}"));
                    found.folders.push(name.clone());
                    let files = part.files.into_iter();
                    let files = files.map(|(file, print)| (format!("{inside}{file}"), print));
                    let part = List { from: None, files: files.collect() };
                    walk(folder, &inside, &part, found)?
                }
                // One list for all, a folder in a part, or one that only holds what is the joiner's.
                _ if is_listed(list, &inside) || prefix.is_empty() && only_own(&entry.path())? => {
                    found.folders.push(name.clone());
                    walk(folder, &inside, list, found)?
                }
                _ => foreign,
            };
            if why.is_some() {
                return Ok(why);
            }
        } else {
            // A link or device is surely not ours.
            let print = list.files.get(&name).filter(|_| kind.is_file());
            let Some(print) = print else { return Ok(foreign) };
            found.files.push((name, print.clone()));
        }
    }
    Ok(None)
}

/// Whether a name of the list begins so.
fn is_listed(list: &List, prefix: &str) -> bool {
    let after = list.files.range(prefix.to_owned()..).next();
    after.is_some_and(|(name, _)| name.starts_with(prefix))
}

/// Whether a folder holds the joiner's own and nothing else, as that of a sash does that the survey no longer has.
fn only_own(folder: &Path) -> Result<bool, FolderError> {
    let mut entries = 0;
    for entry in at(folder, fs::read_dir(folder))? {
        let entry = at(folder, entry)?;
        if entry.file_name() == OWN {
            entries += 1;
        } else if !is_by_a_system(&entry) {
            return Ok(false);
        }
    }
    Ok(entries > 0)
}

impl Inventory {
    /// What was changed since it was written. A file that has `elsewhere`, under the same name, the very same
    /// content on the disk is not lost, whatever it holds.
    pub(super) fn changed(
        &self,
        folder: &Path,
        elsewhere: Option<&Path>,
    ) -> Result<Option<Why>, FolderError> {
        let changed = self.files.par_iter().map(|(name, print)| {
            let path = folder.join(name);
            if elsewhere.is_some_and(|other| super::system::is_same(&path, &other.join(name))) {
                return Ok(None);
            }
            let length = at(&path, fs::metadata(&path))?.len();
            let other_length =
                print.split_once('-').is_some_and(|(_, own)| own != length.to_string());
            let why = || format!("{name} was changed after Fillister wrote it");
            // A file that has become long is not read for it.
            if other_length {
                return Ok(Some(why()));
            }
            let found = at(&path, Fingerprint::of_file(&path))?;
            Ok((!found.is(print)).then(why))
        });
        let first = changed.find_first(|changed| !matches!(changed, Ok(None)));
        first.unwrap_or(Ok(None))
    }

    /// Takes away every file and folder of it, and `folder` itself; whatever else is there stays.
    pub(super) fn remove(&self, folder: &Path) -> Result<(), FolderError> {
        let gone = |path: &Path, result: io::Result<()>| match result {
            Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(()),
            other => at(path, other),
        };
        let file = |name: &String| {
            let path = folder.join(name);
            gone(&path, fs::remove_file(&path))
        };
        self.files.par_iter().try_for_each(|(name, _)| file(name))?;
        self.by_systems.iter().try_for_each(&file)?;
        // Lists go last, and innermost folders first, so that what is left after a kill is still known.
        for name in self.folders.iter().rev() {
            // Of the joiner's own only an empty folder goes.
            let _ = fs::remove_dir(folder.join(name).join(OWN));
            let list = format!("{name}/{LIST}");
            if self.lists.contains(&list) {
                file(&list)?;
            }
            let path = folder.join(name);
            gone(&path, fs::remove_dir(&path))?;
        }
        file(&LIST.to_owned())?;
        gone(folder, fs::remove_dir(folder))
    }

    /// What is the joiner's own in `folder`, by name from there on; empty folders are nobody's.
    pub(super) fn owned(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).into_iter().flatten().flatten();
        let parts = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
        let is_there = |own: &String| {
            let path = folder.join(own);
            let empty = fs::read_dir(&path).is_ok_and(|mut entries| entries.next().is_none());
            path.symlink_metadata().is_ok() && !empty
        };
        let mut owned: Vec<String> =
            parts.map(|part| format!("{part}/{OWN}")).filter(is_there).collect();
        owned.sort();
        owned
    }
}
