//! How wide the cutter bites sideways: what pushes it aside goes with the width of the wood that it meets.

use super::rules::{Name, fault_of};
use super::simulation::Simulation;
use super::wide::{Bite, Wide, most_area, most_width};
use crate::finding::{Basis, Quantity, Verdict};
use crate::geometry::{COINCIDENT, Edge};
use crate::language::text;
use crate::prove::motion::{Move, Pace};
use crate::prove::tolerance::{WIDE_SPOT, WIDE_STRETCH};
use crate::prove::wood::{Slice, Station};

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
        if self.is_shallow(mv) {
            self.wide.pass(length);
            self.wide.seen = self.wide.way + radius;
            self.wide.ahead.clear();
            return;
        }
        let (from, to) = (before + setup.cutter_diameter, self.wide.way - setup.cutter_diameter);
        let mut inner = None;
        // Where the way is asked, and before which of these how much of it is passed by.
        let (mut ways, mut passed) = (Vec::new(), None);
        while self.wide.seen < self.wide.way + radius {
            let way = self.wide.seen;
            if way >= from && way < to && *inner.get_or_insert_with(|| self.is_narrow_within(mv)) {
                passed = Some((ways.len(), to - way));
                self.wide.seen = to;
                continue;
            }
            self.wide.seen += every;
            ways.push(way);
        }
        let asked: Vec<Station> = ways
            .iter()
            .map(|way| self.station(mv, (way - before) / length, way - self.wide.way))
            .collect();
        let mut longest = 0.0_f64;
        let bites = self.bites(&asked);
        for (index, (way, bite)) in ways.iter().zip(bites).enumerate() {
            if let Some((_, by)) = passed.filter(|(at, _)| *at == index) {
                self.wide.pass(by);
            }
            if *way > self.wide.way {
                self.wide.ahead.push_back((*way, bite));
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

    /// The bites at these places. What reaches no further under the rim than the cut may be off makes none too wide: a lane
    /// that lies a hair beside that of the layer before shaves so much of all that stands there (a chosen bound, no source).
    fn bites(&self, stations: &[Station]) -> Vec<Bite> {
        let setup = self.setup;
        let slices = self.field.across(stations, setup.radius()).into_iter().zip(stations);
        let bites = slices.map(|(slice, station)| {
            let bite = Bite { slice, at: station.at };
            let hair = bite.is_too_wide(setup).then(|| self.without_hair(*station)).flatten();
            let slice = hair.filter(|hair| hair.area < slice.area).unwrap_or(slice);
            Bite { slice, ..bite }
        });
        bites.collect()
    }

    /// What stands across the path but for the hair at either rim, as if that were as tall as the rest.
    fn without_hair(&self, station: Station) -> Option<Slice> {
        let hair = self.setup.tolerance;
        let slice = self.field.across(&[station], self.setup.radius() - hair).pop()?;
        let share = 1.0 + 2.0 * hair / slice.width;
        Some(Slice { width: share * slice.width, area: share * slice.area })
    }

    /// The place at that share of a path, or so far straight on beyond its end. What stands no higher above the tip than
    /// the cut may be off is no wood: a finishing cut over a floor that is not flat meets such a film all over.
    fn station(&self, mv: &Move, share: f64, beyond: f64) -> Station {
        let Station { at, along, z } = Station::of(mv, share.min(1.0));
        Station { at: at + beyond.max(0.0) * along, along, z: z + self.setup.tolerance }
    }

    /// Whether no bite of the move can be wider than one may be, or takes too much for that.
    fn is_shallow(&self, mv: &Move) -> bool {
        let setup = self.setup;
        most_width(setup) >= setup.cutter_diameter
            || (self.field.top - mv.low()) * setup.cutter_diameter <= most_area(setup)
    }

    /// Whether a long move has no bite that is too wide further than a cutter from its ends, but for spots that are
    /// none to speak of: found row by row where that is quick, or else at places a cutter apart.
    fn is_narrow_within(&self, mv: &Move) -> bool {
        let (setup, length) = (self.setup, mv.path.length());
        let share = setup.cutter_diameter / length;
        let count = (length / setup.cutter_diameter - 2.0).ceil();
        if count < 2.0 {
            return false;
        }
        let (from, to) = (mv.path.at(share), mv.path.at(1.0 - share));
        let level = matches!(mv.path, Edge::Line(_)) && (to - from).y.abs() <= COINCIDENT;
        if level && self.field.is_narrow((from, to), setup.radius(), mv.low(), most_width(setup)) {
            return true;
        }
        let mut index = 0.0;
        while index <= count {
            let at = share + (1.0 - 2.0 * share) * index / count;
            let station = self.station(mv, at, 0.0);
            if self.bites(&[station]).iter().any(|bite| bite.is_too_wide(setup)) {
                return false;
            }
            index += 1.0;
        }
        true
    }

    fn add_wide_fault(&mut self, mv: &Move, program: Name, longest: f64) {
        let (Bite { slice, at }, setup) = (self.wide.widest, self.setup);
        let (width, depth) = (slice.width, slice.area / slice.width + setup.tolerance);
        let advice = text!(
            "prove-bite",
            width = format!("{width:.1}"),
            depth = format!("{depth:.1}"),
            along = format!("{longest:.0}"),
            most = format!("{:.1}", setup.widest_bite),
            deepest = format!("{:.1}", most_area(setup) / width)
        );
        let long = longest > WIDE_STRETCH * setup.cutter_diameter;
        let (width, limit) = (Quantity::mm(width), Quantity::mm(setup.widest_bite));
        let mut fault = fault_of("prove.bite", program, mv, width, limit, advice);
        fault.at = Some([at.x, at.y, mv.low()]);
        fault.basis = Basis::CommonPractice;
        (fault.verdict, fault.kind) =
            (if long { Verdict::Stop } else { Verdict::Caution }, usize::from(long));
        self.faults.add(fault);
    }
}
