//! Plane geometry of lines and circular arcs, on top of `kurbo`. No word of the trade lives here.
//!
//! Promised: outlines are closed, anticlockwise and free of zero-length edges; distances are exact
//! up to rounding. Regions combine (`intersection`, `difference`, `union`) to an answer whose areas add up or to an
//! error. Not promised: that an outline does not cross itself; ask
//! [`Outline::crosses_itself`].

mod arches;
mod clip;
mod crossings;
mod depth;
mod edge;
pub mod enclosing;
mod even;
mod fit_arcs;
mod least_squares;
mod offset;
mod outline;
mod overlay;
mod placement;
mod prepared;
pub mod quadrilateral;
mod sided;
mod stretch;
mod surface;
mod tolerance;

pub use arches::{ArchError, Head, Height, Pointed, arched, circle, free, raked};
pub use clip::ClipError;
pub use crossings::distance_between;
pub use edge::{Arc, Edge, backwards};
pub use even::Even;
pub use fit_arcs::{FitError, fit_arcs, fit_ellipse};
pub use offset::{Join, OffsetError, fillet};
pub use outline::{Outline, OutlineError, Region, corners};
pub use placement::Placement;
pub use sided::{MinMax, PerSide, Side, Sided, side_of};
pub use surface::{Fitted, Surface};
pub use tolerance::{
    COINCIDENT, CORNER, FIT_WITHIN, MOVED, REWORKED, ROUNDING, SMALLEST, THINNEST,
};

/// Why outlines could not be worked with, whatever was tried.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ShapeError {
    /// Edges do not make an outline.
    Outline(OutlineError),
    /// An outline cannot be moved that far.
    Offset(OffsetError),
    /// Regions cannot be combined without doubt.
    Clip(ClipError),
}

one_of! { ShapeError: Outline(OutlineError), Offset(OffsetError), Clip(ClipError) }
