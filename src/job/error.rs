//! Why a sash could not be worked out: a defect of Fillister, not of the survey.

use crate::geometry::{OutlineError, ShapeError};
use crate::number::NotFinite;
use crate::report::NotANumber;

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

one_of! { WorkError: Shape(ShapeError), Number(NotFinite), Report(NotANumber) }

impl From<OutlineError> for WorkError {
    fn from(error: OutlineError) -> Self {
        WorkError::Shape(error.into())
    }
}
