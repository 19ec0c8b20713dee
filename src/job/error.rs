//! Why a sash could not be worked out: a defect of Fillister, not of the survey.

use crate::geometry::{OutlineError, ShapeError};
use crate::number::NotFinite;
use crate::report::NotANumber;
use std::fmt;

/// Why a sash could not be worked out or proven.
#[derive(Debug, Clone, PartialEq)]
pub enum WorkError {
    /// A solid without area; a survey that was read without a mistake has none such.
    Shape(ShapeError),
    /// A number that cannot be written.
    Number(NotFinite),
    /// A number of the report that is none.
    Report(NotANumber),
}

impl fmt::Display for WorkError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            WorkError::Shape(error) => error.fmt(f),
            WorkError::Number(error) => error.fmt(f),
            WorkError::Report(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for WorkError {}

impl From<ShapeError> for WorkError {
    fn from(error: ShapeError) -> Self {
        WorkError::Shape(error)
    }
}

impl From<OutlineError> for WorkError {
    fn from(error: OutlineError) -> Self {
        WorkError::Shape(error.into())
    }
}

impl From<NotFinite> for WorkError {
    fn from(error: NotFinite) -> Self {
        WorkError::Number(error)
    }
}

impl From<NotANumber> for WorkError {
    fn from(error: NotANumber) -> Self {
        WorkError::Report(error)
    }
}
