//! An outline traced in a drawing program and saved as a text DXF file.
//!
//! Read: LINE, ARC, CIRCLE, LWPOLYLINE and POLYLINE with bulges, in the unit that $INSUNITS names
//! (DXF reference, header variables). Promised: exactly one closed outline of all that is drawn, its
//! edges joined where their ends nearly meet; or an error that names the line of the file,
//! the entity and the place. Not promised: splines, blocks, or drawings in space; they are refused, and
//! nothing that was drawn is left out in silence.

mod closed;
mod entities;
mod text;

use crate::geometry::{ArchError, Sided};
use std::fmt;

/// Largest drawing, bytes: a hundred times what the outline of a sash takes.
pub const MOST_BYTES: usize = 1 << 22;

/// Most edges of an outline: more than a joiner would trace.
pub const MOST_EDGES: usize = 200;

/// Coordinates and radii beyond this are no window's, mm: ten kilometres.
const FARTHEST: f64 = 1e7;

/// What to read, where the file leaves a choice.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Reading {
    /// Only this layer; otherwise everything, which must then lie on one layer.
    pub layer: Option<String>,
    /// Millimetres in a drawing unit where the file names none; it may not name another.
    pub unit: Option<f64>,
}

/// What is wrong with the file.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// Bytes that are no text.
    Binary,
    /// More than [`MOST_BYTES`].
    TooLong,
    /// A group code was expected instead of this.
    NotDxf(String),
    /// A number was expected instead of this.
    NotANumber(String),
    /// The file does not say in which unit it is drawn.
    NoUnit,
    /// A unit ($INSUNITS) that outlines are not drawn in.
    Unit(i64),
    /// The file names a unit of this many mm, and another was said.
    OtherUnit(f64),
    /// An entity of a kind that cannot be read.
    Unknown(String),
    /// An entity lacks the value with this group code.
    Missing(String, i32),
    /// An entity has two values with this group code.
    Twice(String, i32),
    /// An entity that the library does not read as it is written.
    Lost(String),
    /// The library reads nothing at all, and why.
    Unread(String),
    /// An entity that is tilted, mirrored or not level.
    NotFlat(String),
    /// A radius that is not positive.
    Radius(f64),
    /// Entities on two layers: the first layer, the line of its entity, the other layer.
    Layers(String, usize, String),
    /// Nothing is drawn on the layer asked for; the layers that something is drawn on.
    NoLayer(String, Vec<String>),
    /// A line or arc that reaches too far away for any window.
    TooFar,
    /// Nothing is drawn.
    Nothing,
    /// More edges than [`MOST_EDGES`].
    TooMany(usize),
    /// An end at (x, y), mm, that meets no other; the distance to the nearest other end.
    OpenEnd(f64, f64, f64),
    /// More than two ends meet at (x, y), mm: a branch, or an edge drawn twice.
    Branch(f64, f64),
    /// A second closed outline; the line where the first begins.
    Second(usize),
    /// Two edges cross or touch; the line of the other entity.
    Crosses(usize),
    /// The edges enclose no area.
    NoArea(ArchError),
}

/// A fault and the line of the file, from 1.
#[derive(Debug, Clone, PartialEq)]
pub struct TraceError {
    /// Line of the file where the entity or value stands.
    pub line: usize,
    /// What is wrong there.
    pub fault: Fault,
}

impl TraceError {
    fn at(line: usize, fault: Fault) -> TraceError {
        TraceError { line, fault }
    }
}

impl fmt::Display for TraceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: ", self.line)?;
        match &self.fault {
            Fault::Binary => write!(f, "this is not a text file; save the drawing as text DXF"),
            Fault::TooLong => {
                write!(f, "the file has more than {MOST_BYTES} bytes; save the outline on its own")
            }
            Fault::NotDxf(found) => write!(f, "a DXF group code was expected, not {found:?}"),
            Fault::NotANumber(found) => write!(f, "a number was expected, not {found:?}"),
            Fault::NoUnit => write!(
                f,
                "the drawing names no unit; set it to millimetres ($INSUNITS 4) or say which it is with `drawn_in`"
            ),
            Fault::Unit(code) => {
                write!(f, "drawing unit {code} is not one of mm, cm, dm, m, inches or feet")
            }
            Fault::OtherUnit(unit) => {
                write!(f, "the file says itself that its unit is {unit} mm")
            }
            Fault::Unknown(name) => {
                write!(f, "{name} cannot be read; draw the outline with lines, arcs and polylines")
            }
            Fault::Missing(name, code) => write!(f, "{name} lacks group {code}"),
            Fault::Twice(name, code) => write!(f, "{name} has group {code} twice"),
            Fault::Lost(name) => {
                write!(f, "{name} is not read as it is written; draw it again with lines and arcs")
            }
            Fault::Unread(why) => write!(f, "this is no drawing that can be read: {why}"),
            Fault::NotFlat(name) => write!(f, "{name} does not lie flat in the drawing plane"),
            Fault::Radius(radius) => write!(f, "a radius must be positive: {radius}"),
            Fault::Layers(a, line, b) => {
                write!(
                    f,
                    "on layer {b:?}, but line {line} is on layer {a:?}; say which with `layer`"
                )
            }
            Fault::TooMany(count) => {
                write!(f, "{count} edges are drawn; an outline has at most {MOST_EDGES}")
            }
            Fault::NoLayer(asked, layers) if layers.is_empty() => {
                write!(f, "nothing is drawn, on layer {asked:?} or any other")
            }
            Fault::NoLayer(asked, layers) => {
                let layers = layers.join("\", \"");
                write!(f, "nothing is drawn on layer {asked:?}; there is \"{layers}\"")
            }
            Fault::TooFar => write!(f, "this reaches further away than any window does"),
            Fault::Nothing => write!(f, "no line or arc is drawn"),
            Fault::OpenEnd(x, y, gap) if gap.is_finite() => {
                write!(f, "an open end at ({x:.3}, {y:.3}); the nearest is {gap:.3} mm away")
            }
            Fault::OpenEnd(x, y, _) => write!(f, "an open end at ({x:.3}, {y:.3})"),
            Fault::Branch(x, y) => write!(
                f,
                "more than two ends meet at ({x:.3}, {y:.3}): a branch, or an edge drawn twice"
            ),
            Fault::Second(line) => {
                write!(f, "a second outline begins here; the first begins at line {line}")
            }
            Fault::Crosses(line) => write!(f, "crosses or touches what begins at line {line}"),
            Fault::NoArea(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for TraceError {}

/// Reads the one outline of a text DXF file, in mm, its edges each with the side that they look to.
///
/// # Errors
/// Names the line of the file and what is wrong there.
pub fn traced(file: &[u8], reading: &Reading) -> Result<Sided, TraceError> {
    if file.len() > MOST_BYTES {
        return Err(TraceError::at(1, Fault::TooLong));
    }
    if file.contains(&0) {
        return Err(TraceError::at(1, Fault::Binary));
    }
    if file.trim_ascii().is_empty() {
        return Err(TraceError::at(1, Fault::Nothing));
    }
    // Names of layers may be in another alphabet; all else is plain.
    let text = String::from_utf8_lossy(file);
    let pairs = text::pairs(&text)?;
    let drawn = entities::edges(&pairs, reading)?;
    if drawn.len() > MOST_EDGES {
        return Err(TraceError::at(1, Fault::TooMany(drawn.len())));
    }
    closed::outline(&drawn)
}

#[cfg(test)]
mod tests;
