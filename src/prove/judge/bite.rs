//! How wide the cutter bites sideways: what pushes it aside goes with the width of the wood that it meets.

use super::rules::{Name, fault_of};
use super::simulation::Simulation;
use super::wide::{Bite, Wide, most_area, most_width};
use crate::finding::{Basis, Quantity, Verdict};
use crate::geometry::{COINCIDENT, Edge};
use crate::prove::motion::{Move, Pace};
use crate::prove::tolerance::{WIDE_SPOT, WIDE_STRETCH};

impl Simulation<'_> {
    /// Judges, before the cut, the wood that stands across the path: wider than a bite may be, it must be so much
    /// shallower that it is no more than a bite as deep as a step (common practice: what pushes a cutter aside goes
    /// with the section of the wood that it meets). Where it is more for longer than [`WIDE_SPOT`], in however short
    /// moves, the cutter is pushed aside.
    ///
    /// The way is asked a quarter of the cutter at a time, and as far ahead of the axis as the rim reaches, which cuts
    /// what stands across it before it comes. Beyond the end of a move that is straight on, and counts if the axis
    /// then comes by. The pocket ahead of the axis in a corner is over within less than a cutter, and not seen.
    pub(super) fn bite(&mut self, mv: &Move, program: Name) {
        let (setup, length) = (self.setup, mv.path.length());
        let (radius, every) = (setup.radius(), setup.radius() / 2.0);
        if mv.pace == Pace::Rapid {
            self.wide =
                Wide { widest: self.wide.widest, length: self.wide.length, ..Wide::default() };
        }
        if mv.pace == Pace::Rapid || mv.is_upright() {
            return;
        }
        let before = self.wide.way;
        self.wide.way += length;
        let mut longest = 0.0_f64;
        if self.surely_narrow(mv) {
            // What was seen ahead may still count.
            if self.wide.ahead.is_empty() {
                self.wide.length = (self.wide.length - length).max(0.0);
            }
            self.wide.seen = self.wide.seen.max(self.wide.way + radius);
        }
        while self.wide.seen < self.wide.way + radius {
            let way = self.wide.seen;
            self.wide.seen += every;
            let share = (way - before) / length;
            let on = mv.path.direction(share.min(1.0));
            let beyond = (way - self.wide.way).max(0.0);
            let (at, z) = (mv.path.at(share.min(1.0)) + beyond * on, mv.z_at(share.min(1.0)));
            let bite = Bite { slice: self.field.across(at, on, radius, z), at };
            if beyond > 0.0 {
                self.wide.ahead.push_back((way, bite));
            } else {
                self.wide.add(bite, every, setup);
                longest = longest.max(self.wide.length);
            }
        }
        while let Some((_, bite)) =
            self.wide.ahead.front().filter(|(way, _)| *way <= self.wide.way).copied()
        {
            self.wide.ahead.pop_front();
            if mv.path.distance_to(bite.at) <= every / 2.0 {
                self.wide.add(bite, every, setup);
                longest = longest.max(self.wide.length);
            }
        }
        if longest > WIDE_SPOT * setup.cutter_diameter {
            self.add_wide_fault(mv, program, longest);
        }
    }

    fn add_wide_fault(&mut self, mv: &Move, program: Name, longest: f64) {
        let (Bite { slice, at }, setup) = (self.wide.widest, self.setup);
        let (width, depth) = (slice.width, slice.area / slice.width);
        let advice = format!(
            "Too wide a bite: {width:.1} mm sideways and {depth:.1} mm deep, along {longest:.0} mm, where {:.1} mm is the \
             most (side_step). Move over by less at a time, take first what stands beside it, or go no deeper than \
             {:.1} mm at a time there.",
            setup.widest_bite,
            most_area(setup) / width
        );
        let long = longest > WIDE_STRETCH * setup.cutter_diameter;
        let (width, limit) = (Quantity::mm(width), Quantity::mm(setup.widest_bite));
        let mut fault = fault_of("prove.bite", program, mv, width, limit, &advice);
        fault.at = Some([at.x, at.y, mv.low()]);
        fault.basis = Basis::CommonPractice;
        (fault.verdict, fault.kind) =
            (if long { Verdict::Stop } else { Verdict::Caution }, usize::from(long));
        self.faults.add(fault);
    }

    /// Whether no bite of the move, or straight on from it, can be too wide: found without looking place by place.
    fn surely_narrow(&self, mv: &Move) -> bool {
        let (setup, low) = (self.setup, mv.low());
        if (self.field.top - low) * setup.cutter_diameter <= most_area(setup)
            || most_width(setup) >= setup.cutter_diameter
        {
            return true;
        }
        let (from, radius) = (mv.path.start(), setup.radius());
        let to = mv.path.end() + radius * mv.path.direction(1.0);
        let level = matches!(mv.path, Edge::Line(_)) && (to - from).y.abs() <= COINCIDENT;
        level && self.field.is_narrow((from, to), radius, low, most_width(setup))
    }
}
