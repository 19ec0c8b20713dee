//! The DXF pen: outlines, arcs and text for other drawing programs, in millimetres.
//!
//! The `dxf` crate writes the entities. Everything around them it writes wrongly for a 2000 file
//! (tables without handles, no blocks, no root dictionary, extents at zero, time stamps, polylines
//! left out of R12), so only its entities are taken over, and a small frame is laid here that is
//! right. Closed outlines are polylines with bulges; dimensions and hatches are plain lines and text.
//!
//! Promised: every stroke, outline and text of the scene is in the file, or there is an error; no
//! time stamps; handles unique, owners stated; extents set. Not promised: background tints, which
//! carry no meaning of their own, and the face that a reader shows text in.

mod content;
mod frame;
mod pairs;
mod texts;

use super::{Scene, SceneError};
use pairs::Record;
use std::fmt;

/// Which form of DXF.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Form {
    /// AC1015, of the year 2000: layer names as they are, units declared.
    R2000,
    /// AC1009, release 12, for old readers: layer names in capitals with underscores; the form has
    /// no word for units, so a comment says millimetres.
    R12,
}

/// Why no DXF was written.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DxfError {
    /// The scene itself cannot be drawn.
    Scene(SceneError),
    /// The `dxf` crate failed, or wrote something that is not a DXF file.
    Crate(String),
    /// The `dxf` crate wrote another number of entities than it was given.
    Lost {
        /// Entities handed over.
        given: usize,
        /// Entities that came out.
        written: usize,
    },
}

impl fmt::Display for DxfError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DxfError::Scene(error) => error.fmt(f),
            DxfError::Crate(error) => write!(f, "the DXF could not be written: {error}"),
            DxfError::Lost { given, written } => {
                write!(f, "the DXF would hold {written} of {given} entities")
            }
        }
    }
}

impl std::error::Error for DxfError {}

impl From<SceneError> for DxfError {
    fn from(error: SceneError) -> Self {
        DxfError::Scene(error)
    }
}

/// Writes `scene` as one DXF file, ASCII with line ends as DOS has them.
///
/// # Errors
/// As [`Scene::check`]; also where the entities do not come out as they went in.
pub fn write(scene: &Scene, form: Form) -> Result<String, DxfError> {
    scene.check()?;
    let entities = content::entities(scene, form)?;
    let file = match form {
        Form::R2000 => frame::r2000(scene, entities),
        Form::R12 => frame::r12(scene, entities),
    };
    Ok(pairs::to_text(&file))
}

/// The name that `layer` has in a file of this form.
fn layer_name(layer: &super::Layer, form: Form) -> String {
    match form {
        Form::R2000 => layer.name.to_string(),
        Form::R12 => layer.name.to_ascii_uppercase().replace(' ', "_"),
    }
}

/// Records of entities, each whole: a polyline of R12 is followed by its vertices and its end.
type Entities = Vec<Record>;
