//! Above what rapid moves run.

use crate::sash::Sash;
use crate::survey::Workshop;

/// How far rapid moves run above whatever stands highest, mm. Two university workshops ask for as much over the work
/// (second hand).
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
