//! One scene of lines, arcs, text and dimensions in millimetres, and the pens that write it down.
//!
//! Promised: every pen draws every item of the scene or refuse it with an error; equal scenes give
//! equal bytes; lengths are true. Not promised: that texts do not cover each other (whoever composes
//! a scene sees to that, with [`Scene::covered_texts`]), and the face that another machine shows text in.
//!
//! A dimension and a hatch come down to plain lines and text before a pen sees them
//! ([`Scene::marks`]), so that all pens draw the same.

mod dimension;
pub mod dxf;
mod flatten;
pub mod font;
mod hatch;
mod layer;
pub mod paper;
pub mod pdf;
mod scene;
pub mod svg;
mod text;

pub use dimension::{Dimension, Figures, ValueAt, is_clear, settled};
pub use flatten::outline_along;
pub use hatch::Hatch;
pub use layer::{Colour, Layer, LineKind, LineWidth};
pub use paper::{Document, Page, Placed};
pub use scene::{HATCH_WIDTH, Item, Mark, Scene, SceneError};
pub use text::{Across, Text, Up, width};
