//! Above what rapid moves run, and where no clamp may stand.

use crate::fit::Fit;
use crate::geometry::{Join, Outline};
use crate::sash::Sash;
use crate::survey::Workshop;

/// How far rapid moves run above whatever stands highest, and the zone without clamps reaches beyond the machine's
/// widest part, mm. Two university workshops ask for as much over the work (second hand).
const OVER: f64 = 5.0;

/// Clamps are taken to stand as high above the face where none is told, mm. Common practice, no source.
const USUAL_CLAMP: f64 = 25.0;

/// Z of rapid moves over the glazing face, mm: as the survey sets it, or else above every clamp and all metal.
pub fn clear_height(sash: &Sash, workshop: &Workshop) -> f64 {
    workshop.machine.clear_height.unwrap_or_else(|| {
        let own = &sash.measured;
        let clamps = own.clamps.iter().map(|clamp| clamp.height).reduce(f64::max);
        let metal = sash.metal.iter().chain(&sash.screws).map(|solid| solid.top);
        metal.fold(clamps.unwrap_or(USUAL_CLAMP).max(0.0), f64::max) + OVER
    })
}

/// Where no clamp may stand, one outline round each unit in the sash's frame: the new wall, as far outwards as the shank
/// or the nut of the spindle reaches beyond the cutter, and a margin. Boards below the platform may lie there.
pub fn clamp_free_zone(sash_fit: &Fit, workshop: &Workshop) -> Vec<Outline> {
    let cutter = &workshop.cutter;
    let holder = cutter.holder.map_or(0.0, |holder| holder.diameter);
    let beyond = (cutter.shank_diameter.max(holder) / 2.0 - cutter.radius()).max(0.0) + OVER;
    let walls = sash_fit.units.iter().map(|unit| unit.outlines.wall.outline());
    walls.map(|wall| wall.offset(beyond, Join::Round).unwrap_or_else(|_| wall.clone())).collect()
}
