//! Why a sheet could not be composed.

use crate::geometry::OutlineError;
use crate::number::NotFinite;
use std::fmt;

/// Why a sheet could not be composed: a defect of Fillister, not of the survey.
#[derive(Debug)]
pub enum SheetError {
    /// Edges that make no outline.
    Outline(OutlineError),
    /// A number that cannot be written.
    Number(NotFinite),
    /// Writing to memory failed.
    Csv(csv::Error),
}

impl fmt::Display for SheetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SheetError::Outline(error) => error.fmt(f),
            SheetError::Number(error) => error.fmt(f),
            SheetError::Csv(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for SheetError {}

impl From<OutlineError> for SheetError {
    fn from(error: OutlineError) -> Self {
        SheetError::Outline(error)
    }
}

impl From<NotFinite> for SheetError {
    fn from(error: NotFinite) -> Self {
        SheetError::Number(error)
    }
}

impl From<csv::Error> for SheetError {
    fn from(error: csv::Error) -> Self {
        SheetError::Csv(error)
    }
}
