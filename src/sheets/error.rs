//! Why a sheet could not be composed.

use crate::geometry::OutlineError;
use crate::number::NotFinite;

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

one_of! { SheetError: Outline(OutlineError), Number(NotFinite), Csv(csv::Error) }
