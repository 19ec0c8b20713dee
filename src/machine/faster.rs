//! What would shorten the programs: a faster feed, where published chip loads bear it.

use super::route::Route;
use super::{Feeds, Program, is_cleaning};
use crate::survey::Workshop;
use schemars::JsonSchema;
use serde::Serialize;
use std::f64::consts::PI;

/// Chip loads of published charts for solid wood: diameter of the cutter, least and greatest, mm a cutting edge. The
/// least is a maker's for two edges at 18 000 1/min (0.0031, 0.0056 and 0.0077 in), at 1/8 in the least of a chart for
/// hardwood; the greatest is that chart's for softwood. The charts differ by two to three times (all second hand).
const CHARTS: [(f64, [f64; 2]); 4] =
    [(3.175, [0.08, 0.15]), (6.35, [0.079, 0.33]), (9.525, [0.142, 0.51]), (12.7, [0.196, 0.58])];

/// Fastest rim of a router's cutter, m/s (second hand: about 12 000 ft/min at the top).
const RIM: f64 = 61.0;

/// How much faster a feed is looked at: more than this asks for another machine (common practice, no source).
const TIMES: f64 = 2.0;

/// How much thicker than now chips become: where they are about as thick as the charts begin, a joiner has chosen.
const THICKER: f64 = 1.25;

/// A saving that is worth a sentence, minutes.
const WORTH: f64 = 5.0;

/// A faster feed and what it saves.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Faster {
    /// The feed of the programs, mm/min.
    pub feed: f64,
    /// The faster one, mm/min: `max_feed` with that chip load.
    pub faster: f64,
    /// The chip load to ask for with it, mm a cutting edge.
    pub chip_load: f64,
    /// Chip loads of published charts for such a cutter, from the least to the greatest, mm a cutting edge.
    pub charts: [f64; 2],
    /// What it saves, minutes.
    pub minutes: f64,
}

/// A feed of twice as much with chips no thicker than the least of the charts, if that saves some minutes.
pub fn faster(programs: &[Program], workshop: &Workshop) -> Option<Faster> {
    let charts = charts(workshop.cutter.diameter);
    let own = Feeds::new(workshop);
    let mut quicker = workshop.clone();
    let chip_load = (charts[0] * 100.0).floor() / 100.0;
    quicker.cutting.chip_load = workshop.cutting.chip_load.max(chip_load);
    quicker.machine.max_feed = TIMES * workshop.machine.max_feed;
    let new = Feeds::new(&quicker);
    let rim = PI * workshop.cutter.diameter * new.speed / 60e3;
    let parts =
        || programs.iter().flat_map(|program| &program.parts).filter(|part| !is_cleaning(part));
    let minutes = |feeds: &Feeds| -> f64 {
        let of = |route: &Route| route.minutes(feeds, workshop.machine.rapid);
        parts().map(|part| of(&part.route)).sum()
    };
    let saved = minutes(&own) - minutes(&new);
    let borne = quicker.cutting.chip_load <= charts[0] && rim <= RIM;
    let thin = quicker.cutting.chip_load >= THICKER * own.chip(workshop);
    (borne && thin && saved >= WORTH).then_some(Faster {
        feed: own.cut,
        faster: new.cut,
        chip_load: quicker.cutting.chip_load,
        charts,
        minutes: saved,
    })
}

/// The charts between their diameters, and as at the nearest beyond them.
fn charts(diameter: f64) -> [f64; 2] {
    let [mut before, others @ ..] = CHARTS;
    for after in others {
        if diameter <= after.0 {
            let share = ((diameter - before.0) / (after.0 - before.0)).max(0.0);
            let ([a0, a1], [b0, b1]) = (before.1, after.1);
            return [a0 + (b0 - a0) * share, a1 + (b1 - a1) * share];
        }
        before = after;
    }
    before.1
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Half way between 3/8 and 1/2 in the least is (0.142 + 0.196)/2; beyond the charts it is their last.
    #[test]
    fn charts_run_straight_between_their_diameters() {
        let [least, greatest] = charts(11.1125);
        assert_relative_eq!(least, 0.169, epsilon = 1e-12);
        assert_relative_eq!(greatest, 0.545, epsilon = 1e-12);
        assert_eq!(charts(20.0), [0.196, 0.58]);
        assert_eq!(charts(2.0), [0.08, 0.15]);
    }
}
