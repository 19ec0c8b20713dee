//! How much wood a move takes a minute, and how thick a chip each cutting edge takes of it.

use super::rules::{Name, fault_of};
use super::simulation::Simulation;
use crate::finding::{Basis, Quantity};
use crate::geometry::{COINCIDENT, Edge};
use crate::language::{Text, text};
use crate::prove::motion::{Move, Pace, Spindle};
use crate::prove::tolerance::FEED_ROUNDING;
use crate::prove::wood::{Slice, Station};
use kurbo::Point;

/// The widest and the largest slice found along a move.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Widest {
    pub width: f64,
    pub area: f64,
    pub at: Point,
}

impl Widest {
    fn add(&mut self, slice: Slice, at: Point) {
        self.width = self.width.max(slice.width);
        if slice.area > self.area {
            (self.area, self.at) = (slice.area, at);
        }
    }
}

impl Simulation<'_> {
    /// Judges, before the cut, the wood that stands across the path: its section times the feed is
    /// the wood removed a minute, and its width tells how thick the chips are.
    ///
    /// The path is asked at places one cutter's diameter apart: what is wide for a shorter stretch
    /// than that is over in a moment. The pocket ahead of the axis in a corner counts as little.
    pub(super) fn load(&mut self, mv: &Move, program: Name) {
        let Pace::Feed(feed) = mv.pace else { return };
        let Spindle::Clockwise(speed) = mv.spindle else { return };
        // Feeds, speeds and plunges have rules of their own.
        if feed <= 0.0 || speed <= 0.0 || mv.is_upright() || mv.fall() > self.setup.ramp_angle {
            return;
        }
        let setup = self.setup;
        let per_edge = feed / (speed * f64::from(setup.flutes));
        let fine = per_edge * FEED_ROUNDING < setup.least_chip;
        let coarse = per_edge > setup.most_chip * FEED_ROUNDING && speed >= setup.spindle[0];
        let most_area = setup.most_removal() / feed * FEED_ROUNDING;
        if !coarse && !fine && self.surely_light(mv, most_area) {
            return;
        }
        if fine {
            // A short touch burns as well: looked at more closely.
            self.rubs(mv, program, per_edge, self.widest(mv, setup.cutter_diameter / 8.0));
        }
        let widest = self.widest(mv, setup.cutter_diameter);
        if widest.area > most_area {
            let slower = whole(setup.most_removal() / widest.area);
            let advice = text!("prove-load", slower = format!("{slower:.0}"));
            let values = [widest.area * feed, setup.most_removal()].map(per_minute);
            self.add_load_fault(("prove.load", values, advice), program, mv, widest.at);
        }
        let chip = per_edge * thinning(widest.width / setup.cutter_diameter);
        if coarse && chip > setup.most_chip * FEED_ROUNDING {
            let slower = whole(feed * setup.most_chip / chip);
            let advice = text!("prove-chip", slower = format!("{slower:.0}"));
            let values = [chip, setup.most_chip].map(per_cutting_edge);
            self.add_load_fault(("prove.chip", values, advice), program, mv, widest.at);
        }
    }

    fn add_load_fault(
        &mut self,
        (rule, [measured, limit], advice): (&'static str, [Quantity; 2], Text),
        program: Name,
        mv: &Move,
        at: Point,
    ) {
        let mut fault = fault_of(rule, program, mv, measured, limit, advice);
        fault.at = Some([at.x, at.y, mv.low()]);
        fault.basis = Basis::CommonPractice;
        self.faults.add(fault);
    }

    /// Whether no slice of the move can exceed `most` mm²: found without looking place by place.
    fn surely_light(&self, mv: &Move, most: f64) -> bool {
        let setup = self.setup;
        if (self.field.top - mv.low()) * setup.cutter_diameter <= most {
            return true;
        }
        let (from, to) = (mv.path.start(), mv.path.end());
        let level = matches!(mv.path, Edge::Line(_)) && (to - from).y.abs() <= COINCIDENT;
        level && self.field.is_light((from, to), setup.radius(), mv.low(), most)
    }

    /// What stands across the path, asked at places `step` mm apart.
    fn widest(&self, mv: &Move, step: f64) -> Widest {
        let setup = self.setup;
        let count = (mv.path.length() / step).ceil().max(1.0);
        let mut stations = Vec::new();
        let mut index = 0.0;
        while index < count {
            stations.push(Station::of(mv, (index + 0.5) / count));
            index += 1.0;
        }
        let mut widest = Widest::default();
        for (station, slice) in stations.iter().zip(self.field.across(&stations, setup.radius())) {
            widest.add(slice, station.at);
        }
        widest
    }
}

/// Wood removed a minute, of mm³.
fn per_minute(value: f64) -> Quantity {
    Quantity { value: value * 1e-3, unit: "cm³/min" }
}

/// A chip, mm.
pub(super) fn per_cutting_edge(value: f64) -> Quantity {
    Quantity { value, unit: "mm a cutting edge" }
}

/// Down to a whole number, as an F word is given.
fn whole(feed: f64) -> f64 {
    (feed * FEED_ROUNDING).floor()
}

/// Thickest chip as a share of the feed a cutting edge, for a cut `share` of the cutter wide: the
/// edge meets the side of a narrow cut at an angle, so that 2√(s(1 − s)) is left; from half the
/// cutter on it is the whole (closed form, chip geometry of a round cutter).
pub(super) fn thinning(share: f64) -> f64 {
    if share >= 0.5 { 1.0 } else { 2.0 * (share.max(0.0) * (1.0 - share)).sqrt() }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // The chip is feed × sin φ where cos φ = 1 − 2s: s = ½ − ½ cos φ.
    #[test]
    fn narrow_cuts_have_thin_chips() {
        for degrees in [10.0_f64, 30.0, 60.0, 90.0] {
            let share = 0.5 - 0.5 * degrees.to_radians().cos();
            assert_relative_eq!(thinning(share), degrees.to_radians().sin(), epsilon = 1e-12);
        }
        assert_eq!(thinning(0.9), 1.0);
        assert_eq!(thinning(0.0), 0.0);
    }
}
