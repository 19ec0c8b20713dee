//! Where the unit sits and the size to order.
//!
//! Promised: sizes, covers and clearances follow from sight size, cover, clearance and blocks alone.
//! Not promised: that the wood allows it; `timber` judges that.

mod blocks;
pub mod corner;
mod crooked;
mod drains;
mod facing;
mod judge;
mod measures;
mod plan;
mod published;
mod seat;
mod support;
mod warp;

pub use blocks::{block_length, blocks};
pub use drains::{Drains, SLOT, drains};
pub use facing::{Facing, PAINT, SPRIG_END, SPRIG_PITCH, facing_along, putty_volume};
pub use plan::{Fit, InternalBar, Outlines, UnitFit};
pub use published::under_published;
pub use seat::{rebate_depth, rebate_width, seats, wall_growth};
pub use support::{Block, Duty, support};

use crate::geometry::ShapeError;
use crate::sash::Sash;
use crate::survey::Workshop;

/// Works out where every unit of the sash sits, and judges it.
///
/// # Errors
/// Where the rebate or the unit cannot run round a daylight's outline; none for rectangles.
pub fn fit(sash: &Sash, workshop: &Workshop) -> Result<Fit, ShapeError> {
    Ok(fit_seated(sash, seats(sash)?, workshop))
}

/// The fit of units whose seats are known: thickness, bed and bead of `sash` may differ from those that they
/// were seated with, nothing else.
pub fn fit_seated(sash: &Sash, units: Vec<UnitFit>, workshop: &Workshop) -> Fit {
    let depth = rebate_depth(&sash.measured);
    let mut fit = Fit { units, depth, findings: Vec::new() };
    let thinner = workshop.corner_cutter();
    let cutter = (thinner.unwrap_or(&workshop.cutter).radius(), thinner.is_some());
    fit.findings = judge::judge(sash, &fit, &workshop.limits, cutter);
    fit
}
