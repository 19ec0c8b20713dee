//! From the hidden folder to the folder under its name, and what a killed run left put right.

use super::list::{Inventory, LIST, inventory};
use super::{Folder, FolderError, Journal, UNFINISHED, at, system, write};
use std::fs;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::PoisonError;

impl Folder {
    /// Gives the new folder its name; what is to be told of it.
    ///
    /// # Errors
    /// Where a file could not be written, where the target was changed meanwhile, or where the system refuses; the
    /// target is then as it was.
    pub fn finish(mut self) -> Result<Vec<String>, FolderError> {
        self.settle()?;
        let stopper = self.stopper.clone();
        let _at_disk = stopper.at_disk();
        self.sweep()?;
        let list = self.list.lock().unwrap_or_else(PoisonError::into_inner).text();
        let path = self.fresh.join(LIST);
        // What a killed run left of it.
        let _ = fs::remove_file(&path);
        write::put(&path, list.as_bytes())?;
        let mark = self.fresh.join(UNFINISHED);
        at(&mark, fs::remove_file(&mark))?;
        let former = self.change_names()?;
        // From here on the target is whole, and what is left beside it is the former folder.
        self.stopper.litter().fresh = None;
        if let Some(former) = former
            && let Err(error) = self.retire(&former)
        {
            // The lock stays, and tells the next run.
            self.stopper.litter().lock = None;
            self.remarks
                .push(format!("The former folder stays beside it until the next run ({error})"));
        }
        Ok(std::mem::take(&mut self.remarks))
    }

    /// Takes parts away that the new folder does not have, which a killed run left in it.
    fn sweep(&mut self) -> Result<(), FolderError> {
        let parts = self.parts.get_mut().unwrap_or_else(PoisonError::into_inner);
        for entry in at(&self.fresh, fs::read_dir(&self.fresh))? {
            let entry = at(&self.fresh, entry)?;
            let name = entry.file_name().to_string_lossy().into_owned();
            if at(&self.fresh, entry.file_type())?.is_dir() && !parts.contains(&name) {
                at(&entry.path(), fs::remove_dir_all(entry.path()))?;
            }
        }
        Ok(())
    }

    /// The new folder takes the name of the target; where the former one stands then.
    fn change_names(&mut self) -> Result<Option<PathBuf>, FolderError> {
        let (fresh, target) = (self.fresh.clone(), self.target.clone());
        let is_there = fs::symlink_metadata(&target).is_ok();
        if self.former.is_none() || !is_there {
            // Whatever has come there meanwhile is not replaced, unless it is an empty folder.
            let result = fs::rename(&fresh, &target);
            return match result {
                Err(_) if fs::symlink_metadata(&target).is_ok() => Err(FolderError::NotOurs {
                    folder: target,
                    why: "something of that name was put there meanwhile".to_owned(),
                }),
                other => at(&target, other).map(|()| None),
            };
        }
        if at(&target, system::exchange(&fresh, &target))? {
            self.set_aside(&fresh, || system::exchange(&fresh, &target).map(|_| ()))?;
            return Ok(Some(fresh));
        }
        let aside = self.fresh_name()?;
        self.note("former", &aside)?;
        at(&target, fs::rename(&target, &aside))?;
        at(&target, fs::rename(&fresh, &target)).inspect_err(|_| {
            // If even that fails the next run finds it by the lock.
            let _ = fs::rename(&aside, &target);
        })?;
        self.set_aside(&aside, || {
            fs::rename(&target, &fresh)?;
            fs::rename(&aside, &target)
        })?;
        Ok(Some(aside))
    }

    /// The former folder, now under a hidden name, must still be what it was when it was claimed; else `back` puts
    /// it back.
    fn set_aside(
        &mut self,
        former: &Path,
        back: impl Fn() -> io::Result<()>,
    ) -> Result<(), FolderError> {
        let found = inventory(former).and_then(|found| match found {
            Ok(found) => {
                let changed = found.changed(former, Some(&self.target))?;
                Ok(changed.map_or(Ok(found), Err))
            }
            Err(why) => Ok(Err(why)),
        });
        match found {
            Ok(Ok(found)) => {
                self.former = Some(found);
                Ok(())
            }
            Ok(Err(why)) => {
                at(&self.target, back())?;
                let why = format!("while it was being made anew, {why}");
                Err(FolderError::NotOurs { folder: self.target.clone(), why })
            }
            Err(error) => {
                at(&self.target, back())?;
                Err(error)
            }
        }
    }

    /// Takes away what was written of the former folder, and hands on what is the joiner's.
    fn retire(&mut self, former: &Path) -> Result<(), FolderError> {
        let found = self.former.take().unwrap_or_default();
        hand_on(former, &self.target)?;
        let removed = found.remove(former);
        if fs::symlink_metadata(former).is_ok() {
            self.remarks.push(keep(former, &self.target)?);
            return Ok(());
        }
        removed
    }
}

/// Moves the joiner's own from the former folder into that which took its name.
fn hand_on(former: &Path, target: &Path) -> Result<(), FolderError> {
    for own in Inventory::owned(former) {
        let (from, to) = (former.join(&own), target.join(&own));
        if let Some(part) = to.parent() {
            at(part, fs::create_dir_all(part))?;
        }
        // An empty folder was made ready for it.
        let _ = fs::remove_dir(&to);
        if fs::symlink_metadata(&to).is_err() {
            at(&to, fs::rename(&from, &to))?;
        }
    }
    Ok(())
}

/// What is left of a former folder gets a name that shows; what to tell of it.
fn keep(former: &Path, target: &Path) -> Result<String, FolderError> {
    let name = target.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut names =
        (1_usize..).map(|number| target.with_file_name(format!("{name}-kept-{number}")));
    let free = names.find(|name| fs::symlink_metadata(name).is_err());
    let free = free.unwrap_or_else(|| former.to_owned());
    at(&free, fs::rename(former, &free))?;
    Ok(format!(
        "What was put into {} while it was written is kept in {}",
        target.display(),
        free.display()
    ))
}

/// Puts right what a killed run left beside `target`. What it had begun, if there is anything to go on from.
pub(super) fn heal(
    target: &Path,
    journal: &Journal,
    remarks: &mut Vec<String>,
) -> Result<Option<PathBuf>, FolderError> {
    let there = |what: &str| {
        let mut paths: Vec<&PathBuf> =
            journal.iter().filter(|(of, _)| of == what).map(|(_, path)| path).collect();
        paths.dedup();
        paths.retain(|path| fs::symlink_metadata(path).is_ok_and(|meta| meta.is_dir()));
        paths
    };
    for aside in there("former") {
        if fs::symlink_metadata(target).is_err() {
            at(target, fs::rename(aside, target))?;
            remarks.push(format!(
                "{} was put back where a run that was killed had moved it",
                target.display()
            ));
        } else {
            settle(aside, target, remarks)?;
        }
    }
    let mut begun = None;
    for fresh in there("new") {
        let mark = fresh.join(UNFINISHED);
        if mark.is_file() {
            begun = Some(fresh.clone());
        } else if fs::symlink_metadata(target).is_err()
            && fresh.join(LIST).is_file()
            && inventory(fresh)?.is_ok()
        {
            // It was whole, and had only to be named; one without its list was never begun.
            at(target, fs::rename(fresh, target))?;
        } else {
            settle(fresh, target, remarks)?;
        }
    }
    Ok(begun)
}

/// Hands on and takes away a folder that a killed run left whole: the former one, or a new one that never got its
/// name.
fn settle(left: &Path, target: &Path, remarks: &mut Vec<String>) -> Result<(), FolderError> {
    if fs::remove_dir(left).is_ok() {
        return Ok(());
    }
    if target.is_dir() {
        hand_on(left, target)?;
    }
    let found = inventory(left)?;
    let unchanged = match &found {
        Ok(found) => {
            found.changed(left, Some(target))?.is_none() && Inventory::owned(left).is_empty()
        }
        Err(_) => false,
    };
    match found {
        Ok(found) if unchanged => found.remove(left)?,
        _ => {}
    }
    if fs::symlink_metadata(left).is_ok() {
        remarks.push(keep(left, target)?);
    }
    Ok(())
}
