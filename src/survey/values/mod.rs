//! The values of a survey, read and found free of contradiction.

mod around;
mod bars;
mod cords;
mod done;
mod doubt;
mod limits;
mod members;
mod pane;
mod sash;
mod timber;
mod unit;
mod wind;
mod workshop;

pub use around::*;
pub use bars::*;
pub use cords::{CordGroove, Cords};
pub use done::*;
pub use doubt::{Doubt, Slip};
pub use limits::*;
pub use members::*;
pub use pane::*;
pub use sash::*;
pub use timber::*;
pub use unit::*;
pub use wind::{Site, Terrain, Wind};
pub use workshop::*;
