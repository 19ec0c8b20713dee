//! Face putty round the units, and the sprigs that hold them until it is hard.

use super::beads::fixings;
use crate::fit::{Facing, Fit, SPRIG_END, SPRIG_PITCH, facing_along, putty_volume};
use crate::geometry::{MinMax, Side};
use crate::sash::Sash;
use schemars::JsonSchema;
use serde::Serialize;

/// Face putty of a whole sash.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Putty {
    /// How much goes on, without what is struck off, ml.
    pub volume: f64,
    /// Height over the glass at the wall, mm.
    pub height: f64,
    /// On the glass, from its slope's foot to the wall, mm.
    pub width: MinMax,
    /// Between its slope and the glass, degrees.
    pub slope: MinMax,
    /// Sprigs: at most [`SPRIG_PITCH`] apart and [`SPRIG_END`] from the corners.
    pub sprigs: u32,
}

/// Putty of a sash; none where beads close its rebates.
pub(super) fn putty(sash: &Sash, fit: &Fit) -> Option<Putty> {
    let finish = &sash.measured.finish;
    if !finish.is_puttied() {
        return None;
    }
    let sides = || {
        let all = fit.units.iter().flat_map(|unit| Side::ALL.map(|side| (unit, side)));
        all.filter(|(unit, side)| unit.length_along(*side) > 0.0)
    };
    let facings = || sides().flat_map(|(unit, side)| facing_along(finish, unit, side));
    let range = |of: fn(Facing) -> f64| {
        let all = facings().map(of);
        all.map(MinMax::even).reduce(MinMax::or).unwrap_or(MinMax::even(0.0))
    };
    let sprigs = sides()
        .map(|(unit, side)| fixings(unit.length_along(side), SPRIG_PITCH, SPRIG_END).count)
        .sum();
    Some(Putty {
        volume: fit.units.iter().map(|unit| putty_volume(finish, unit)).sum::<f64>() / super::ML,
        height: finish.bead,
        width: range(|facing| facing.wall - facing.foot),
        slope: range(|facing| facing.angle()),
        sprigs,
    })
}
