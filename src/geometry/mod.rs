//! Plane geometry of lines and circular arcs, on top of `kurbo`. No word of the trade lives here.
//!
//! Promised: outlines are closed, anticlockwise and free of zero-length edges; distances are exact
//! up to rounding. Regions combine (`intersection`, `difference`, `union`) to an answer whose areas add up or to an
//! error. Not promised: that an outline does not cross itself; ask
//! [`Outline::crosses_itself`].

mod arches;
mod chain;
mod clip;
mod crossing;
mod deepest;
mod depth;
mod distance;
mod edge;
pub mod enclosing;
mod fillet;
mod fit_arcs;
mod gaps;
mod inset;
mod least_squares;
mod merge;
mod offset;
mod outline;
mod overlay;
mod placement;
mod prepared;
pub mod quadrilateral;
mod shape_error;
mod sharpest;
mod sided;
mod sides;
mod stretch;
mod strip;
mod support;
mod surface;
mod tolerance;
mod within;

pub use arches::{ArchError, Head, Height, Pointed, arched, circle, free, raked};
pub use clip::ClipError;
pub use distance::distance_between;
pub use edge::{Arc, Edge};
pub use fillet::fillet;
pub use fit_arcs::{FitError, fit_arcs, fit_beziers, fit_ellipse};
pub use offset::{Join, OffsetError};
pub use outline::{Outline, OutlineError, Region};
pub use placement::Placement;
pub use shape_error::ShapeError;
pub use sided::{Sided, side_of};
pub use sides::{PerSide, Side};
pub use surface::{Fitted, Surface};
pub use tolerance::{COINCIDENT, FIT_WITHIN, MOVED, REWORKED, SMALLEST, THINNEST};
