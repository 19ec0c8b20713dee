//! The face of a cupped or twisted sash, from the heights that were measured, at the bench or by touch at
//! the machine.

use super::Sash;
use crate::geometry::{Fitted, Surface};

impl Sash {
    /// The surface of the face and how far each measured height lies from it; flat where none was
    /// measured.
    pub fn warp(&self) -> Fitted {
        let points: Vec<_> = self.surface.iter().map(|height| (height.at, height.z)).collect();
        Surface::fit(&points).unwrap_or(Fitted { surface: Surface::FLAT, residuals: Vec::new() })
    }
}
