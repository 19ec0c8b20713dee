//! Why outlines could not be worked with, whatever was tried.

use super::{ClipError, OffsetError, OutlineError};
use std::fmt;

/// Any error of this room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShapeError {
    /// Edges do not make an outline.
    Outline(OutlineError),
    /// An outline cannot be moved that far.
    Offset(OffsetError),
    /// Regions cannot be combined without doubt.
    Clip(ClipError),
}

impl fmt::Display for ShapeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ShapeError::Outline(error) => error.fmt(f),
            ShapeError::Offset(error) => error.fmt(f),
            ShapeError::Clip(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for ShapeError {}

impl From<OutlineError> for ShapeError {
    fn from(error: OutlineError) -> Self {
        ShapeError::Outline(error)
    }
}

impl From<OffsetError> for ShapeError {
    fn from(error: OffsetError) -> Self {
        ShapeError::Offset(error)
    }
}

impl From<ClipError> for ShapeError {
    fn from(error: ClipError) -> Self {
        ShapeError::Clip(error)
    }
}
