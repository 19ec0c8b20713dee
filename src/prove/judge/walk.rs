//! Walks through the programs move by move, the wood changing underfoot.

use super::bodies::{Body, bodies};
use super::gouge;
use super::rules::{self, Extents, Name, charge};
use crate::finding::{Basis, Quantity};
use crate::geometry::Placement;
use crate::prove::Setup;
use crate::prove::docket::Docket;
use crate::prove::motion::{Move, Pace, piece};
use crate::prove::proof::{Margins, Nearest, Passed};
use crate::prove::reader::Read;
use crate::prove::wood::{Field, Keep, Met, Sweep};
use crate::rebate::Rebate;
use kurbo::{Point, Rect};

/// The walk so far.
pub(super) struct Walk<'a> {
    pub(super) setup: &'a Setup,
    pub(super) keeps: Vec<Keep<'a>>,
    pub(super) obstacles: Vec<Keep<'a>>,
    pub(super) bodies: Vec<Body>,
    pub(super) field: Field,
    pub(super) docket: Docket,
    pub(super) margins: Margins,
    passed: Vec<Passed>,
    extents: Extents,
    /// Where the program before ended.
    pub(super) last: Option<Point>,
    /// How the sash lay for that program.
    place: Placement,
    stopped: Option<Stop<'a>>,
    /// Plan area of wood taller than a step that was cut of late beyond what a finishing cut takes, mm².
    heap: f64,
    /// How far steep moves went down into wood of late beyond what a ramp may, mm.
    sunk: f64,
}

/// The program and the line where a proof became too much work; neither where the wood itself is.
type Stop<'a> = (Option<Name<'a>>, Option<usize>);

/// What is known at its end.
pub(super) struct Outcome<'a> {
    pub field: Field,
    pub docket: Docket,
    pub margins: Margins,
    pub passed: Vec<Passed>,
    pub extents: Extents,
    /// Where the walk stopped because it was too much work.
    pub stopped: Option<Stop<'a>>,
}

impl<'a> Walk<'a> {
    pub(super) fn new(setup: &'a Setup, rebate: &'a Rebate, field: Field, docket: Docket) -> Self {
        // Wood that could not be laid out stops the walk before its first step.
        let stopped = field.effort.is_spent().then_some((None, None));
        let mut field = field;
        field.step = field_step(setup);
        Walk {
            setup,
            keeps: rebate.stay.iter().map(Keep::new).collect(),
            obstacles: setup.obstacles.iter().map(Keep::new).collect(),
            bodies: bodies(setup),
            field,
            docket,
            margins: Margins::default(),
            passed: Vec::new(),
            extents: Extents::default(),
            last: None,
            place: Placement::HERE,
            stopped,
            heap: 0.0,
            sunk: 0.0,
        }
    }

    pub(super) fn finish(self) -> Outcome<'a> {
        let Walk { field, docket, margins, passed, extents, stopped, .. } = self;
        Outcome { field, docket, margins, passed, extents, stopped }
    }

    /// Runs one program, for which the sash lies at `place`.
    pub(super) fn run(&mut self, program: Name<'a>, place: Placement, read: &Read) {
        if self.place != place {
            // The sash was put down in another place meanwhile: where the cutter comes from is not known.
            (self.place, self.last) = (place, None);
        }
        rules::frame(read, program, self.setup, &mut self.docket);
        for mv in &read.moves {
            if self.stopped.is_some() {
                return;
            }
            let around = mv.path.bounds();
            self.extents.add(around, place);
            rules::motion(mv, program, place, self.setup, &mut self.docket);
            self.hold_against_keeps(mv, around, program);
            self.keep_clear(mv, program);
            self.load(mv, program);
            self.cut(mv, program);
            self.hold_bodies_up(mv, program);
            if self.field.effort.is_spent() {
                self.stopped = Some((Some(program), Some(mv.line)));
            }
        }
        self.passed.push(self.summary(program, read));
    }

    fn summary(&self, program: Name, read: &Read) -> Passed {
        let minutes = |mv: &Move| match mv.pace {
            Pace::Rapid => mv.length() / self.setup.rapid,
            Pace::Feed(feed) if feed > 0.0 => mv.length() / feed,
            Pace::Feed(_) => 0.0,
        };
        let fed = read.moves.iter().filter(|mv| mv.pace != Pace::Rapid);
        Passed {
            name: program.1.to_string(),
            lines: read.lines,
            moves: read.moves.len(),
            minutes: read.moves.iter().map(minutes).sum::<f64>() + read.waiting / 60.0,
            cut_length: fed.map(Move::length).sum(),
            lowest: read.moves.iter().map(Move::low).fold(self.setup.clear_height, f64::min),
        }
    }

    /// Gouges, margins and the shank.
    fn hold_against_keeps(&mut self, mv: &Move, around: Rect, program: Name) {
        if mv.low() >= self.field.top {
            return;
        }
        let setup = self.setup;
        self.field.effort.spend(self.keeps.len());
        let nearest = |distance, keep: &Keep| Nearest {
            distance,
            program: program.1.to_string(),
            line: mv.line,
            solid: keep.solid.name.clone(),
        };
        for keep in &self.keeps {
            let best = self.margins.side.as_ref().map_or(f64::INFINITY, |least| least.distance);
            if let Some(distance) = gouge::clearance(mv, around, keep, setup, best) {
                self.margins.side = Some(nearest(distance, keep));
            }
            let best = self.margins.floor.as_ref().map_or(f64::INFINITY, |least| least.distance);
            if let Some(distance) = gouge::above(mv, around, keep, setup, best) {
                self.margins.floor = Some(nearest(distance, keep));
            }
            if let Some(bite) = gouge::bite(mv, around, keep, setup) {
                self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
                let advice = format!("The cutter takes wood that must stay: {}.", keep.solid.name);
                let (depth, limit) = (Quantity::mm(bite.depth), Quantity::mm(setup.tolerance));
                let mut charge = charge("prove.gouge", program, mv, depth, limit, &advice);
                charge.at = Some([bite.at.x, bite.at.y, bite.z]);
                charge.basis = Basis::Geometry;
                self.docket.add(charge);
            }
            if let Some((short, at)) = gouge::shank(mv, around, keep, setup) {
                self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
                let needed = Quantity::mm(short + setup.cutting_length);
                let limit = Quantity::mm(setup.cutting_length);
                let advice = format!("The shank rubs on {}: use a longer cutter.", keep.solid.name);
                let mut charge = charge("prove.reach", program, mv, needed, limit, &advice);
                charge.at = Some([at.x, at.y, mv.low()]);
                self.docket.add(charge);
            }
        }
    }

    /// Cuts the wood and judges what the move met.
    fn cut(&mut self, mv: &Move, program: Name) {
        let setup = self.setup;
        let plunges = mv.fall() > setup.ramp_angle;
        let rapid = mv.pace == Pace::Rapid;
        let core =
            if rapid || plunges { setup.radius() - setup.tolerance } else { setup.core_radius() };
        let met = self.sweep(mv, core);
        let sinks = !rapid && self.sink(mv, plunges, met);
        let met = met.filter(|met| sinks || met.height > setup.tolerance);
        let heaped = self.heap_up(mv);
        if rapid && !rules::rapid_is_high(mv, setup) {
            self.charge_rapid(mv, program, met);
        }
        if heaped && !rapid && !plunges && met.is_none_or(|met| met.height <= field_step(setup)) {
            let (area, limit) = (self.heap, most_heap(setup));
            let square = |value| Quantity { value, unit: "mm²" };
            let advice = "Too deep for one cut, taken in many short moves: take it in more steps.";
            let mut charge = charge("prove.step", program, mv, square(area), square(limit), advice);
            charge.at = Some([mv.path.end().x, mv.path.end().y, mv.low()]);
            self.docket.add(charge);
            self.heap = 0.0;
        }
        let Some(met) = met.filter(|_| !rapid) else { return };
        let deep = if sinks { std::mem::take(&mut self.sunk) } else { met.height };
        let height = Quantity::mm(deep.max(met.height));
        let mut add = |rule, limit, advice: &str| {
            let mut charge = charge(rule, program, mv, height, Quantity::mm(limit), advice);
            charge.at = Some([met.at.x, met.at.y, mv.low()]);
            self.docket.add(charge);
        };
        if met.height > setup.cutting_length + setup.tolerance {
            add(
                "prove.reach",
                setup.cutting_length,
                "The cutting edges are too short for this cut.",
            );
        }
        if plunges {
            add(
                "prove.plunge",
                0.0,
                "Straight down into wood: enter from the open side or on a ramp.",
            );
        } else {
            self.margins.tallest_step = self.margins.tallest_step.max(met.height);
            if met.height > field_step(setup) {
                add(
                    "prove.step",
                    setup.step_depth,
                    "Too deep for one cut: take it in more steps, in order.",
                );
            }
        }
    }

    /// Adds up how far steep moves go down into wood: each forgiven the tolerance, a plunge in moves so
    /// short would pass. Whatever of the way sideways is not itself a ramp makes up for some of it, as
    /// a ramp of that length would.
    fn sink(&mut self, mv: &Move, plunges: bool, met: Option<Met>) -> bool {
        let ramp = self.setup.ramp_angle.to_radians().tan() * mv.path.length();
        let down = if plunges {
            met.map_or(0.0, |met| met.height)
        } else {
            (mv.from_z - mv.to_z).clamp(0.0, ramp)
        };
        self.sunk = (self.sunk + down - ramp).max(0.0);
        plunges && self.sunk > self.setup.tolerance
    }

    /// Adds up the wood taller than a step that the whole cutter took. Measured under the core alone,
    /// a deep slot would pass in moves so short that the rim of each has cut ahead of the next. A
    /// finishing cut takes no more than its width along its length, and a little more where it begins
    /// and in corners; whatever is beyond that heaps up.
    fn heap_up(&mut self, mv: &Move) -> bool {
        let taken = std::mem::take(&mut self.field.deep);
        let finishing = self.setup.rim_width() * mv.path.length();
        self.heap = (self.heap + taken - finishing).max(0.0);
        self.heap > most_heap(self.setup)
    }

    fn charge_rapid(&mut self, mv: &Move, program: Name, met: Option<Met>) {
        let charge = if let Some(met) = met {
            let advice = "A rapid move through wood: raise the cutter first.";
            let height = Quantity::mm(met.height);
            let limit = Quantity::mm(0.0);
            let mut charge = charge("prove.rapid-in-wood", program, mv, height, limit, advice);
            charge.at = Some([met.at.x, met.at.y, mv.low()]);
            charge
        } else {
            let advice = "A rapid move below the clear height: raise it, or make it a feed move.";
            let (low, limit) = (Quantity::mm(mv.low()), Quantity::mm(self.setup.clear_height));
            charge("prove.rapid", program, mv, low, limit, advice)
        };
        self.docket.add(charge);
    }

    /// Sweeps the part of the move that is below the top of the wood.
    fn sweep(&mut self, mv: &Move, core: f64) -> Option<Met> {
        let core = core - mv.slack;
        let radius = self.setup.radius() - mv.slack;
        if mv.is_upright() {
            // Rising, it only leaves where it already is.
            let falls = mv.to_z < mv.from_z || mv.arrival;
            let (from_z, to_z) = (mv.low(), mv.low());
            let met = self.field.sweep(&Sweep { path: mv.path, core, radius, from_z, to_z });
            return met.filter(|_| falls);
        }
        let (t0, t1) = mv.below(self.field.top)?;
        let (path, from_z, to_z) = (piece(&mv.path, t0, t1), mv.z_at(t0), mv.z_at(t1));
        self.field.sweep(&Sweep { path, core, radius, from_z, to_z })
    }
}

/// Height of wood that counts as a step.
fn field_step(setup: &Setup) -> f64 {
    setup.step_depth + setup.tolerance
}

/// What a finishing cut may take at once where it begins and in corners, mm²: its width across one and
/// a half cutters.
fn most_heap(setup: &Setup) -> f64 {
    1.5 * setup.rim_width() * setup.cutter_diameter
}
