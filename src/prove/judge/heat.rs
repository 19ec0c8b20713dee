//! Heat: chips so thin that the cutter rubs, and a cutter that turns on the spot in wood.

use super::load::{Widest, per_cutting_edge, thinning};
use super::rules::{Name, fault_of};
use super::simulation::Simulation;
use crate::finding::{Basis, Quantity, Verdict};
use crate::geometry::Edge;
use crate::language::text;
use crate::prove::motion::{Move, Spindle};
use crate::prove::tolerance::FEED_ROUNDING;

/// Share of the least chip under which the cutter burns the wood, and itself, for sure (common practice, no
/// source); between the two it wants care.
const BURNS: f64 = 0.2;

/// Longest that the cutter may turn on the spot in wood, s (common practice, no source): a scorch mark takes
/// about as long.
const LONGEST: f64 = 1.0;

impl Simulation<'_> {
    /// Judges a feed move whose chips, `per_edge` mm a cutting edge, are thinner than they should be, and that
    /// meets wood as wide as `widest`. The chip of a narrow cut, such as the finishing one, is thinner still.
    pub(super) fn rubs(&mut self, mv: &Move, program: Name, per_edge: f64, widest: Widest) {
        let setup = self.setup;
        let Spindle::Clockwise(speed) = mv.spindle else { return };
        if widest.width <= setup.tolerance || speed < setup.spindle[0] {
            return;
        }
        let chip = per_edge * thinning(widest.width / setup.cutter_diameter);
        let burns = chip * FEED_ROUNDING < BURNS * setup.least_chip;
        let needed = (setup.least_chip * speed * f64::from(setup.flutes)).ceil();
        let (verdict, limit, advice) = if burns {
            let advice = text!("prove-burns", needed = format!("{needed:.0}"));
            (Verdict::Stop, BURNS * setup.least_chip, advice)
        } else {
            let advice = text!("prove-hot", needed = format!("{needed:.0}"));
            (Verdict::Caution, setup.least_chip, advice)
        };
        let [measured, limit] = [if burns { chip } else { per_edge }, limit].map(per_cutting_edge);
        let mut fault = fault_of("prove.heat", program, mv, measured, limit, advice);
        fault.at = Some([widest.at.x, widest.at.y, mv.low()]);
        fault.basis = Basis::CommonPractice;
        (fault.verdict, fault.kind) = (verdict, usize::from(burns));
        self.faults.add(fault);
    }

    /// Judges how long the cutter then turns on the spot, if wood stands beside or under it.
    pub(super) fn dwells(&mut self, mv: &Move, program: Name) {
        if mv.dwell <= LONGEST || mv.to_z >= self.field.top {
            return;
        }
        let (at, setup) = (mv.path.end(), self.setup);
        let reach = setup.radius() + setup.tolerance;
        let touched = self.field.under(&Edge::line(at, at), reach, mv.to_z - setup.tolerance);
        if touched.is_none() {
            return;
        }
        let seconds = |value| Quantity { value, unit: "s" };
        let advice = text!("prove-dwells");
        let limit = seconds(LONGEST);
        let mut fault = fault_of("prove.heat", program, mv, seconds(mv.dwell), limit, advice);
        fault.basis = Basis::CommonPractice;
        fault.kind = 2;
        self.faults.add(fault);
    }
}
