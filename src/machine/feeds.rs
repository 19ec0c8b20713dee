//! Feed from chip load, within the machine's limits.

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::survey::Workshop;

/// Least chip that still cuts rather than rubs, mm a cutting edge. Small machines in wood: 0.05 to
/// 0.2 mm (from memory, not seen).
const LEAST_CHIP: f64 = 0.05;

/// Feeds of a cutter on a machine, mm/min.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Feeds {
    /// In the plane.
    pub cut: f64,
    /// Straight down, in the open.
    pub down: f64,
}

impl Feeds {
    /// Spindle speed × cutting edges × chip load, at most what the machine can do.
    pub fn new(workshop: &Workshop) -> Feeds {
        let wanted = workshop.machine.spindle
            * f64::from(workshop.cutter.flutes)
            * workshop.cutting.chip_load;
        let cut = wanted.min(workshop.machine.max_feed);
        Feeds { cut, down: workshop.machine.max_plunge.min(cut) }
    }

    /// Whether the chip is thick enough at the feed the machine allows.
    pub(super) fn judge(&self, workshop: &Workshop) -> Finding {
        let edges = f64::from(workshop.cutter.flutes);
        let chip = self.cut / (workshop.machine.spindle * edges);
        let slower = self.cut / (edges * workshop.cutting.chip_load.max(LEAST_CHIP));
        Finding::at_least(
            "machine.chip-load",
            "cutter",
            Quantity { value: chip, unit: "mm a cutting edge" },
            Bounds::caution(Bound::common_practice(LEAST_CHIP)),
            |verdict, _| match verdict {
                Verdict::Clear => "The cutter cuts rather than rubs.".into(),
                _ => format!(
                    "Turn the spindle down to about {slower:.0} 1/min, so that the cutter does not burn."
                ),
            },
        )
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Closed form: 18000 × 2 × 0.1 = 3600 mm/min.
    #[test]
    fn feed_is_speed_times_edges_times_chip() {
        let mut workshop = Workshop::default();
        workshop.machine.max_feed = 10_000.0;
        assert_relative_eq!(Feeds::new(&workshop).cut, 3600.0);
        workshop.machine.max_feed = 1500.0;
        assert_relative_eq!(Feeds::new(&workshop).cut, 1500.0);
    }

    #[test]
    fn a_slow_machine_with_a_fast_spindle_burns() {
        let finding = Feeds::new(&Workshop::default()).judge(&Workshop::default());
        assert_eq!(finding.verdict, Verdict::Caution);
        assert!(finding.advice.contains("7500 1/min"), "{}", finding.advice);
    }
}
