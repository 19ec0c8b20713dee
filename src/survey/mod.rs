//! What the joiner wrote down: read from a TOML file, checked for contradictions, and handed on as
//! plain values.

mod build_up;
mod limits;
mod values;
mod workshop;

pub use build_up::{BuildUp, BuildUpError};
pub use limits::{Limit, Limits};
pub use values::*;
pub use workshop::*;
