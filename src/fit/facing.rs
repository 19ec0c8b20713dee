//! What closes the rebate over a unit, cut across: a splayed bead, or face putty at its own slope.

use crate::geometry::{MinMax, Side};
use crate::survey::Finish;

use super::UnitFit;

/// A bead's splay with the glass, degrees. Common practice, no source.
const SPLAY: f64 = 60.0;

/// A bead is at least so wide at its top, mm: room for pins. Common practice, no source.
const LEAST_TOP: f64 = 3.0;

/// Face putty ends so far behind the sight edge, mm: paint goes so far over it onto the glass (Building Conservation
/// Directory 2020, p. 12).
pub const PAINT: f64 = 2.0;

/// Sprigs that hold a unit until its putty is hard are at most this far apart, mm (window association, second hand).
pub const SPRIG_PITCH: f64 = 150.0;

/// The first sprig is at most this far from a corner, mm: as a bead's pins.
pub const SPRIG_END: f64 = 50.0;

/// The slope of a bead or of face putty, mm: from the glass up to the face, both from the sight edge inwards.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Facing {
    /// Where it begins on the glass.
    pub foot: f64,
    /// Where it ends at the top.
    pub shoulder: f64,
    /// Where the wall is.
    pub wall: f64,
    /// Height over the glass.
    pub height: f64,
}

impl Facing {
    /// In a rebate whose wall lies `wall` mm behind the sight edge.
    pub fn new(finish: &Finish, wall: f64) -> Facing {
        let height = finish.bead;
        let [foot, shoulder] = if finish.is_puttied() {
            [PAINT.min(wall), wall]
        } else {
            let run = height / SPLAY.to_radians().tan();
            [0.0, run.min(wall - LEAST_TOP).max(0.0)]
        };
        Facing { foot, shoulder, wall, height }
    }

    /// Between the slope and the glass, degrees.
    pub fn angle(&self) -> f64 {
        self.height.atan2(self.shoulder - self.foot).to_degrees()
    }

    /// Its section, mm².
    pub fn area(&self) -> f64 {
        self.height * (self.wall - f64::midpoint(self.foot, self.shoulder))
    }
}

/// Face putty along one side of a unit: width of its section where it is narrowest and widest.
pub fn facing_along(finish: &Finish, unit: &UnitFit, side: Side) -> [Facing; 2] {
    let MinMax { least, most } = *unit.rebate_width.get(side);
    [least, most].map(|wall| Facing::new(finish, wall))
}

/// Face putty round a unit, mm³, along every side; corners are counted with neither.
pub fn putty_volume(finish: &Finish, unit: &UnitFit) -> f64 {
    let along = |side: Side| {
        let [narrow, wide] = facing_along(finish, unit, side);
        unit.length_along(side) * f64::midpoint(narrow.area(), wide.area())
    };
    if finish.is_puttied() { Side::ALL.into_iter().map(along).sum() } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::{HeldBy, WaterOut};
    use approx::assert_relative_eq;

    fn finish(held_by: HeldBy, bead: f64) -> Finish {
        Finish { bed: 2.0, bead, proud: 0.0, held_by, water: Some(WaterOut::Bedded) }
    }

    // By hand: 12 mm of slope and 12 of height make half a right angle over half a square; a bead of 10 at 60 degrees
    // runs 10/√3 = 5.77 and keeps 14 − 5.77 at its top.
    #[test]
    fn putty_slopes_to_the_paint_line_and_a_bead_is_splayed() {
        let putty = Facing::new(&finish(HeldBy::Putty, 12.0), 14.0);
        assert_relative_eq!(putty.angle(), 45.0, epsilon = 1e-9);
        assert_relative_eq!(putty.area(), 72.0, epsilon = 1e-9);
        let bead = Facing::new(&finish(HeldBy::Beads, 10.0), 14.0);
        assert_relative_eq!(bead.angle(), 60.0, epsilon = 1e-9);
        assert_relative_eq!(bead.shoulder, 10.0 / 3.0_f64.sqrt(), epsilon = 1e-9);
        assert_relative_eq!(bead.area(), 140.0 - 50.0 / 3.0_f64.sqrt(), epsilon = 1e-9);
        // A narrow and high one is steeper, and keeps its top.
        let narrow = Facing::new(&finish(HeldBy::Beads, 14.0), 8.0);
        assert_relative_eq!(narrow.wall - narrow.shoulder, 3.0, epsilon = 1e-9);
        assert!(narrow.angle() > 60.0);
        let none = Facing::new(&finish(HeldBy::Putty, 10.0), 1.0);
        assert_relative_eq!(none.area(), 0.0, epsilon = 1e-9);
    }
}
