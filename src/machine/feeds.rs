//! Feed and spindle speed from chip load, within the machine's limits.

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::language::text;
use crate::survey::Workshop;

/// Least chip that still cuts rather than rubs, mm a cutting edge: in hardwood, as an open book on small machines
/// has it (second hand; 0.1 in softwood).
const LEAST_CHIP: f64 = 0.05;

/// Spindle speed, 1/min, and feeds, mm/min.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Feeds {
    /// Spindle speed.
    pub speed: f64,
    /// In the plane.
    pub cut: f64,
    /// Straight down, in the open.
    pub down: f64,
}

impl Feeds {
    /// Feed is spindle speed × cutting edges × chip load. Where the machine cannot feed that fast, the
    /// spindle is turned down instead, as far as it goes.
    pub fn new(workshop: &Workshop) -> Feeds {
        let machine = &workshop.machine;
        let chips = f64::from(workshop.cutter.flutes) * workshop.cutting.chip_load;
        let slowest = machine.spindle_slowest.min(machine.spindle);
        let speed = (machine.max_feed / chips).clamp(slowest, machine.spindle);
        // Whole turns: a controller may not read fractions.
        let speed = speed.floor().max(1.0);
        let cut = (speed * chips).min(machine.max_feed);
        Feeds { speed, cut, down: machine.max_plunge.min(cut) }
    }

    /// What each cutting edge takes in a turn, mm.
    pub(super) fn chip(&self, workshop: &Workshop) -> f64 {
        self.cut / (self.speed * f64::from(workshop.cutter.flutes))
    }

    /// Whether the chip is thick enough at the feed the machine allows.
    pub(super) fn judge(&self, workshop: &Workshop) -> Finding {
        let edges = f64::from(workshop.cutter.flutes);
        Finding::at_least(
            "machine.chip-load",
            "cutter",
            Quantity { value: self.chip(workshop), unit: "mm a cutting edge" },
            Bounds::caution(Bound::common_practice(LEAST_CHIP)),
            |verdict, bound| match verdict {
                Verdict::Clear => text!("machine-cuts"),
                _ => text!("machine-chips", slowest = format!("{:.0}", self.cut / (edges * bound))),
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
        let feeds = Feeds::new(&workshop);
        assert_relative_eq!(feeds.cut, 3600.0);
        assert_relative_eq!(feeds.speed, 18_000.0);
    }

    #[test]
    fn a_slow_machine_turns_its_spindle_down() {
        let mut workshop = Workshop::default();
        workshop.machine.max_feed = 1800.0;
        let feeds = Feeds::new(&workshop);
        assert_relative_eq!(feeds.speed, 9000.0);
        assert_relative_eq!(feeds.cut, 1800.0);
        assert_eq!(feeds.judge(&workshop).verdict, Verdict::Clear);
    }

    #[test]
    fn a_spindle_that_cannot_slow_down_burns() {
        let mut workshop = Workshop::default();
        workshop.machine.max_feed = 1500.0;
        workshop.machine.spindle_slowest = 18_000.0;
        let finding = Feeds::new(&workshop).judge(&workshop);
        assert_eq!(finding.verdict, Verdict::Caution);
        assert!(finding.advised().contains("15000 1/min"), "{}", finding.advised());
    }
}
