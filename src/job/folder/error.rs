//! Why a folder was not written.

use std::fmt;
use std::io;
use std::path::PathBuf;

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
    /// Another run is writing it.
    Busy {
        /// The target folder.
        folder: PathBuf,
    },
    /// The disk has too little room.
    NoRoom {
        /// The target folder.
        folder: PathBuf,
        /// What it takes at the least, bytes.
        takes: u64,
        /// What is left, bytes.
        left: u64,
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
            FolderError::Busy { folder } => {
                write!(
                    f,
                    "{}: another run is writing this folder; wait until it is done",
                    folder.display()
                )
            }
            FolderError::NoRoom { folder, takes, left } => write!(
                f,
                "{}: the disk has {} MB left, and this folder takes {} MB at the least; nothing was written",
                folder.display(),
                left >> 20,
                (takes >> 20) + 1,
            ),
            FolderError::Io { path, error } => write!(f, "{}: {error}", path.display()),
        }
    }
}

impl std::error::Error for FolderError {}
