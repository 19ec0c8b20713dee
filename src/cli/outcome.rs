//! How a run ends, and why it ends early.

use crate::finding::Verdict;
use crate::job::MakeError;
use crate::job::folder::FolderError;
use crate::survey::Diagnostics;
use std::fmt::Display;

/// How a run ended; the number is the exit status.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// All clear or caution.
    Fine = 0,
    /// Something is a stop.
    Stopped = 1,
    /// The survey or the call was wrong.
    WrongInput = 2,
    /// The output could not be written.
    NotWritten = 3,
}

/// Why a run ended early.
pub(super) enum Failure {
    Survey(Diagnostics),
    Input(String),
    Output(String),
}

impl From<FolderError> for Failure {
    fn from(error: FolderError) -> Self {
        match error {
            FolderError::NotOurs { .. } => Failure::Input(error.to_string()),
            FolderError::Busy { .. } | FolderError::NoRoom { .. } | FolderError::Io { .. } => {
                Failure::Output(error.to_string())
            }
        }
    }
}

impl From<MakeError> for Failure {
    fn from(error: MakeError) -> Self {
        match error {
            MakeError::Folder(error) => error.into(),
            MakeError::Report(_) => {
                Failure::Output(format!("the report could not be written: {error}"))
            }
        }
    }
}

impl From<Diagnostics> for Failure {
    fn from(found: Diagnostics) -> Self {
        Failure::Survey(found)
    }
}

/// Fillister could not finish what a sound survey asked for.
pub(super) fn defect(error: impl Display) -> Failure {
    Failure::Output(error.to_string())
}

pub(super) fn worst(verdicts: impl IntoIterator<Item = Verdict>) -> Status {
    let stopped = verdicts.into_iter().any(|verdict| verdict == Verdict::Stop);
    if stopped { Status::Stopped } else { Status::Fine }
}
