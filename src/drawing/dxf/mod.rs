//! The DXF pen: outlines, arcs and text for other drawing programs, in millimetres.
//!
//! AC1015, the form of the year 2000, which names units and layers as they are. The `dxf` crate writes tables
//! without handles, no blocks and no root dictionary, extents at zero and time stamps, so the little that a
//! drawing needs is written here; the tests read it back with that crate and with ezdxf. Closed outlines are
//! polylines with bulges; dimensions and hatches are plain lines and text.
//!
//! Promised: every stroke, outline and text of the scene is in the file, or there is an error; no time
//! stamps; handles unique, owners stated; extents set. Not promised: background tints, which carry no
//! meaning of their own, and the face that a reader shows text in.

mod entities;
mod frame;

use super::{Scene, SceneError};
use crate::number::{NotFinite, decimal};
use std::borrow::Cow;
use std::fmt::Write;

/// Writes `scene` as one DXF file, ASCII with line ends as DOS has them.
///
/// # Errors
/// As [`Scene::check`].
pub fn write(scene: &Scene) -> Result<String, SceneError> {
    scene.check()?;
    Ok(to_text(&frame::file(scene))?)
}

/// What a group code stands before.
#[derive(Debug, Clone, PartialEq)]
enum Value {
    Text(Cow<'static, str>),
    Whole(usize),
    /// With so many decimals at most.
    Real(f64, u8),
}

/// What begins with a pair of code 0: its name and the pairs up to the next.
#[derive(Debug, Clone, PartialEq)]
struct Record {
    name: &'static str,
    pairs: Vec<(u16, Value)>,
}

impl Record {
    fn new(name: &'static str) -> Record {
        Record { name, pairs: Vec::new() }
    }

    fn with(mut self, code: u16, value: Value) -> Record {
        self.pairs.push((code, value));
        self
    }

    /// Adds a word, a name or a handle.
    fn text(self, code: u16, value: impl Into<Cow<'static, str>>) -> Record {
        self.with(code, Value::Text(value.into()))
    }

    /// Adds a whole number.
    fn whole(self, code: u16, value: impl Into<usize>) -> Record {
        self.with(code, Value::Whole(value.into()))
    }

    /// Adds a real number.
    fn real(self, code: u16, value: f64) -> Record {
        self.with(code, Value::Real(value, 10))
    }

    /// Adds X, Y and Z = 0 under `code`, `code` + 10 and `code` + 20.
    fn point(self, code: u16, at: kurbo::Point) -> Record {
        self.flat(code, at.x, at.y).real(code + 20, 0.0)
    }

    /// Adds X and Y under `code` and `code` + 10.
    fn flat(self, code: u16, x: f64, y: f64) -> Record {
        self.real(code, x).real(code + 10, y)
    }
}

/// The records as a whole file.
fn to_text(records: &[Record]) -> Result<String, NotFinite> {
    let mut out = String::new();
    // Writing to a String cannot fail.
    for record in records {
        let _ = write!(out, "  0\r\n{}\r\n", record.name);
        for (code, value) in &record.pairs {
            let _ = write!(out, "{code:>3}\r\n");
            let start = out.len();
            let _ = match value {
                Value::Text(text) => write!(out, "{text}"),
                Value::Whole(whole) => write!(out, "{whole}"),
                Value::Real(real, places) => write!(out, "{}", decimal(*real, *places)?),
            };
            // A decimal point tells careful readers that the value is real.
            let pointed = out.get(start..).is_some_and(|written| written.contains('.'));
            if matches!(value, Value::Real(..)) && !pointed {
                out.push_str(".0");
            }
            out.push_str("\r\n");
        }
    }
    Ok(out)
}
