//! Writing a folder, or a single file, whole or not at all.
//!
//! A folder is claimed before any work is done: a lock beside it keeps two runs apart, and what can be seen to stand
//! in the way is told at once. Files go to a hidden folder beside the target as they are made, part by part; at the
//! end both change names in one step. Where the system has no such step the former folder stands aside for a moment,
//! and whoever comes next puts things right. Lists of what was written are kept in the folder: a later run replaces
//! it only if it holds those files unchanged and nothing else but a folder `own` in each part, which is the
//! joiner's and goes along.
//!
//! Promised: nothing that Fillister did not write is overwritten or taken away, not even what was put there while it
//! worked; a run that is killed, at whatever moment, leaves the former folder or the new one under its name, or both
//! beside it for the next run to put right, and finished parts for it to go on from. Not promised: that a file which
//! another program holds open keeps what that program writes into it after the change of names.

mod claim;
mod error;
mod list;
mod litter;
mod swap;
mod system;
mod write;

pub use error::FolderError;
pub use list::{LIST, OWN};
pub use litter::Stopper;
pub use write::{Files, write_file};

use list::{Inventory, List};
use std::collections::BTreeSet;
use std::fs::File;
use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use write::Writers;

/// Name of a file in a hidden folder that is not whole yet.
const UNFINISHED: &str = "unfinished.txt";

/// The names that a lock tells: what they are of, and the path.
type Journal = Vec<(String, PathBuf)>;

/// A folder that this run alone may write.
///
/// Dropped before [`Folder::finish`] it leaves the target as it was, and nothing beside it.
#[derive(Debug)]
pub struct Folder {
    target: PathBuf,
    stopper: Stopper,
    /// What stood there before; none where nothing did.
    former: Option<Inventory>,
    /// Where the new one grows; named once it is begun.
    fresh: PathBuf,
    /// Threads that force files out.
    writers: Option<Writers>,
    /// Lines of the list of the new folder.
    list: Arc<Mutex<List>>,
    /// Parts that are in the new folder.
    parts: Mutex<BTreeSet<String>>,
    /// What the user is to be told.
    remarks: Vec<String>,
    lock: File,
}

fn at<T>(path: &Path, result: io::Result<T>) -> Result<T, FolderError> {
    result.map_err(|error| FolderError::Io { path: path.into(), error })
}

#[cfg(test)]
mod tests;
