//! Claiming a folder before anything is done for it.

use super::list::inventory;
use super::litter::Stopper;
use super::write::Writers;
use super::{Folder, FolderError, Journal, UNFINISHED, at, swap, system};
use std::ffi::OsString;
use std::fs::{self, File, TryLockError};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};

/// First line of the lock, by which it is known as ours.
const HEAD: &str = "Fillister writes the folder beside this file, or was stopped while it did: let it run again to tidy up.";

/// Names tried for a new hidden folder.
const MOST_NAMES: usize = 1000;

/// Longest lock that is read, bytes.
const MOST_LOCK: u64 = 1 << 16;

impl Folder {
    /// Claims `target`: locks it, puts right what a killed run left, and makes sure that whatever stands there is
    /// ours to replace.
    ///
    /// # Errors
    /// Where it may not be written, or cannot be; everything is then as it was.
    pub fn claim(target: &Path, stopper: &Stopper) -> Result<Folder, FolderError> {
        let not_ours =
            |why: &str| FolderError::NotOurs { folder: target.into(), why: why.to_owned() };
        if target.file_name().is_none() {
            return Err(not_ours("this is not a name for a new folder"));
        }
        match fs::symlink_metadata(target) {
            Err(error) if error.kind() == io::ErrorKind::NotFound => {}
            Err(error) => return Err(FolderError::Io { path: target.into(), error }),
            Ok(meta) if meta.is_symlink() => {
                let to = fs::read_link(target).unwrap_or_default();
                return Err(not_ours(&format!(
                    "this is a link to {}, and a link is not replaced: give the folder itself, or a new name in it",
                    to.display()
                )));
            }
            Ok(meta) if !meta.is_dir() => return Err(not_ours("a file of that name exists")),
            Ok(_) if system::is_mounted(target) => {
                return Err(not_ours(
                    "a disk is mounted at this folder, which cannot be replaced: give a new name in it",
                ));
            }
            // What is not ours is told even where nothing may be written beside it.
            Ok(_) => {
                inventory(target)?.map_err(|why| not_ours(&why))?;
            }
        }
        let (lock, journal) = lock(target, stopper)?;
        let mut folder = Folder {
            target: target.into(),
            stopper: stopper.clone(),
            former: None,
            fresh: PathBuf::new(),
            writers: None,
            list: Arc::default(),
            parts: Mutex::default(),
            remarks: Vec::new(),
            lock,
        };
        let begun = {
            let _at_disk = stopper.at_disk();
            swap::heal(target, &journal, &mut folder.remarks)
        };
        if let Some(begun) = begun? {
            folder.set_fresh(begun);
        }
        if fs::symlink_metadata(target).is_ok() {
            let former = inventory(target)?.map_err(|why| not_ours(&why))?;
            if let Some(why) = former.changed(target, None)? {
                return Err(not_ours(&why));
            }
            folder.former = Some(former);
        }
        Ok(folder)
    }

    /// Makes ready for writing about so many bytes at the least.
    ///
    /// # Errors
    /// Where there is too little room on the disk, or the hidden folder cannot be made.
    pub fn begin(&mut self, takes: u64) -> Result<(), FolderError> {
        let stopper = self.stopper.clone();
        let _at_disk = stopper.at_disk();
        let parent = parent(&self.target);
        if let Some(left) = system::room(parent).filter(|left| *left < takes) {
            return Err(FolderError::NoRoom { folder: self.target.clone(), takes, left });
        }
        let begun = self.stopper.litter().fresh.clone();
        let fresh = match begun {
            Some(begun) => begun,
            None => self.new_folder()?,
        };
        self.writers = Some(Writers::new(&self.stopper, &self.list));
        self.fresh = fresh;
        Ok(())
    }

    fn new_folder(&mut self) -> Result<PathBuf, FolderError> {
        let fresh = self.fresh_name()?;
        self.note("new", &fresh)?;
        at(&fresh, fs::create_dir(&fresh))?;
        self.set_fresh(fresh.clone());
        let mark = fresh.join(UNFINISHED);
        at(&mark, fs::write(&mark, format!("{HEAD}\n")))?;
        Ok(fresh)
    }

    fn set_fresh(&self, fresh: PathBuf) {
        self.stopper.litter().fresh = Some(fresh);
    }

    /// A hidden name beside the target that nothing bears.
    pub(super) fn fresh_name(&self) -> Result<PathBuf, FolderError> {
        let names = (1..=MOST_NAMES).map(|number| hidden(&self.target, number));
        let free = names.into_iter().find(|name| fs::symlink_metadata(name).is_err());
        let taken = || io::Error::other("every hidden name beside it is taken");
        free.ok_or_else(|| FolderError::Io { path: self.target.clone(), error: taken() })
    }

    /// Notes a name in the lock before anything bears it, so that the next run knows it for ours.
    pub(super) fn note(&mut self, what: &str, path: &Path) -> Result<(), FolderError> {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let written = writeln!(self.lock, "{what} {name}").and_then(|()| self.lock.sync_all());
        at(path, written)
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        // Threads still at work would write on into what is taken away.
        self.writers = None;
        let _at_disk = self.stopper.at_disk();
        self.stopper.litter().clear();
    }
}

/// The folder in which a path stands.
pub(super) fn parent(target: &Path) -> &Path {
    match target.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    }
}

fn beside(target: &Path, ending: &str) -> PathBuf {
    let mut name = OsString::from(".");
    name.push(target.file_name().unwrap_or_default());
    name.push(ending);
    target.with_file_name(name)
}

/// The hidden name of that number beside a target.
pub(super) fn hidden(target: &Path, number: usize) -> PathBuf {
    beside(target, &format!(".fillister-{number}"))
}

/// Locks `target`; what an earlier run wrote into the lock, should it have been killed.
fn lock(target: &Path, stopper: &Stopper) -> Result<(File, Journal), FolderError> {
    let path = beside(target, ".fillister-lock");
    loop {
        let _at_disk = stopper.at_disk();
        let opened = File::options().read(true).append(true).create(true).open(&path);
        let mut file = at(parent(target), opened)?;
        match file.try_lock() {
            Err(TryLockError::WouldBlock) => {
                return Err(FolderError::Busy { folder: target.into() });
            }
            Err(TryLockError::Error(error)) => return Err(FolderError::Io { path, error }),
            Ok(()) => {}
        }
        // Whoever held it may have taken it away in between: then this is a lock that nobody else can see.
        if !system::still_named(&file, &path) {
            continue;
        }
        let mut text = String::new();
        let read = (&file).take(MOST_LOCK).read_to_string(&mut text);
        if read.is_err() || !(text.is_empty() || text.starts_with(HEAD)) {
            let why = "a file of that name is in the way".to_owned();
            return Err(FolderError::NotOurs { folder: path, why });
        }
        stopper.litter().lock = Some(path.clone());
        if text.is_empty() {
            at(&path, writeln!(file, "{HEAD}"))?;
        }
        let names: Journal = text
            .lines()
            .filter_map(|line| line.split_once(' '))
            .filter_map(|(what, name)| {
                let known = (1..=MOST_NAMES).map(|number| hidden(target, number));
                let path =
                    known.into_iter().find(|path| path.file_name().is_some_and(|own| own == name));
                Some((what.to_owned(), path?))
            })
            .collect();
        return Ok((file, names));
    }
}
