//! What the programs run on: cutter, machine and limits, as plain values.

use super::Reserve;
use crate::geometry::Surface;
use crate::sash::Solid;
use kurbo::Rect;

/// What holds the cutter: the nut or nose of the spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Holder {
    /// Its largest diameter, mm.
    pub diameter: f64,
    /// From the cutter's tip up to it, mm.
    pub stick_out: f64,
}

/// Cutter, machine and limits. Lengths in mm, feeds in mm/min, speeds in 1/min, angles in degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Diameter of the flat-ended cutter.
    pub cutter_diameter: f64,
    /// Length of its cutting edges.
    pub cutting_length: f64,
    /// Diameter of its shank.
    pub shank_diameter: f64,
    /// How many cutting edges it has.
    pub flutes: u32,
    /// What holds it, where that is known.
    pub holder: Option<Holder>,
    /// Travel of the machine in X and Y.
    pub travel: [f64; 2],
    /// Where the cutter's axis can go, in the sash's frame, where that is known.
    pub bed_area: Option<Rect>,
    /// Z at or above which rapid moves may run.
    pub clear_height: f64,
    /// Largest feed along the path.
    pub max_feed: f64,
    /// Largest downward share of the feed.
    pub max_plunge: f64,
    /// Speed of rapid moves; for the estimate of time only.
    pub rapid: f64,
    /// Slowest and fastest spindle speed.
    pub spindle: [f64; 2],
    /// Thickest chip a cutting edge may take.
    pub most_chip: f64,
    /// Deepest wood a move may meet.
    pub step_depth: f64,
    /// Widest bite sideways that counts as a finishing cut, whose depth is not limited; 0 for none.
    pub skim: f64,
    /// Steepest ramp down into wood; steeper is a plunge.
    pub ramp_angle: f64,
    /// How exactly the cut must match the plan.
    pub tolerance: f64,
    /// How far the glazing face lies above the Z of a flat sash.
    pub surface: Surface,
    /// Clamps, boards and metal: nothing may run into them. Only their tops matter, not how far
    /// down they reach.
    pub obstacles: Vec<Solid>,
    /// What the margins are measured against; without it only clearances are.
    pub reserve: Reserve,
}

impl Default for Setup {
    fn default() -> Self {
        Setup {
            cutter_diameter: 12.0,
            cutting_length: 38.0,
            shank_diameter: 12.0,
            flutes: 2,
            holder: None,
            travel: [1200.0, 1200.0],
            bed_area: None,
            clear_height: 8.0,
            max_feed: 1500.0,
            max_plunge: 400.0,
            rapid: 3000.0,
            spindle: [1000.0, 24_000.0],
            // Small machines in wood: 0.05 to 0.2 mm a cutting edge (from memory, not seen).
            most_chip: 0.2,
            step_depth: 4.0,
            skim: 0.5,
            ramp_angle: 5.0,
            tolerance: 0.05,
            surface: Surface::FLAT,
            obstacles: Vec::new(),
            reserve: Reserve::default(),
        }
    }
}

impl Setup {
    /// Half the cutter's diameter, mm.
    pub fn radius(&self) -> f64 {
        self.cutter_diameter / 2.0
    }

    /// Pitch of the rows where boundaries are not upright, mm: the tolerance, but at most 0.05 mm
    /// as the promise of the room says, and not so fine that memory grows without bound.
    pub fn pitch(&self) -> f64 {
        self.tolerance.clamp(0.01, 0.05)
    }

    /// Radius of the core of the cutter that must not meet deeper wood than a step. The rim outside
    /// it may take a finishing cut: `skim` along a wall is `√2 skim` across an inside corner.
    pub(super) fn core_radius(&self) -> f64 {
        (self.radius() - self.rim_width()).max(0.0)
    }

    /// Width of the rim outside the core.
    pub(super) fn rim_width(&self) -> f64 {
        std::f64::consts::SQRT_2 * self.skim + self.tolerance
    }

    /// Most wood that a feed move may take a minute, mm³: a slot as wide as the cutter and as deep as
    /// a step, at the largest feed. A wider or deeper cut must go that much slower (common practice:
    /// what the cutter, the spindle and the clamps bear goes with the wood removed a minute).
    pub(super) fn most_removal(&self) -> f64 {
        self.cutter_diameter * (self.step_depth + self.tolerance) * self.max_feed
    }

    /// Refuses values that would make every judgement meaningless.
    pub(super) fn check(&self) -> Result<(), &'static str> {
        let positive = [
            (self.cutter_diameter, "the cutter's diameter must be above zero"),
            (self.cutting_length, "the cutting length must be above zero"),
            (self.shank_diameter, "the shank's diameter must be above zero"),
            (self.travel[0], "the machine's travel in X must be above zero"),
            (self.travel[1], "the machine's travel in Y must be above zero"),
            (self.clear_height, "the clear height must be above zero"),
            (self.max_feed, "the largest feed must be above zero"),
            (self.max_plunge, "the largest plunging feed must be above zero"),
            (self.rapid, "the speed of rapid moves must be above zero"),
            (self.spindle[0], "the slowest spindle speed must be above zero"),
            (self.spindle[1], "the fastest spindle speed must be above zero"),
            (f64::from(self.flutes), "the cutter needs a cutting edge"),
            (self.most_chip, "the thickest chip must be above zero"),
            (self.step_depth, "the step depth must be above zero"),
            (self.ramp_angle, "the ramp angle must be above zero"),
            (self.tolerance, "the tolerance must be above zero"),
        ];
        for (value, wrong) in positive {
            if !(value.is_finite() && value > 0.0) {
                return Err(wrong);
            }
        }
        if !(self.skim.is_finite() && self.skim >= 0.0) {
            return Err("the finishing cut must be zero or more");
        }
        if let Some(holder) = self.holder
            && !(holder.diameter.is_finite()
                && holder.diameter > 0.0
                && holder.stick_out.is_finite()
                && holder.stick_out >= self.cutting_length)
        {
            return Err("the holder must lie above the cutting edges");
        }
        if self.core_radius() <= 0.0 {
            return Err("the finishing cut and the tolerance must be smaller than the cutter");
        }
        if self.tolerance >= self.clear_height {
            return Err("the tolerance must be smaller than the clear height");
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_defaults_are_sound_and_nonsense_is_not() {
        assert_eq!(Setup::default().check(), Ok(()));
        for wrong in [f64::NAN, f64::INFINITY, 0.0, -1.0] {
            assert!(Setup { cutter_diameter: wrong, ..Setup::default() }.check().is_err());
            assert!(Setup { tolerance: wrong, ..Setup::default() }.check().is_err());
        }
        assert!(Setup { skim: 6.0, ..Setup::default() }.check().is_err());
    }
}
