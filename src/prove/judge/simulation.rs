//! Walks through the programs move by move, the wood changing underfoot.

use super::aside::Low;
use super::gouge::{self, ToolPart, tool_parts};
use super::rules::{self, Extents, Name, fault_of};
use super::wide::Wide;
use crate::finding::{Basis, Quantity};
use crate::geometry::Placement;
use crate::language::{Text, text};
use crate::prove::Setup;
use crate::prove::fault::Faults;
use crate::prove::motion::{Move, Pace};
use crate::prove::proof::{Margins, Nearest, Passed};
use crate::prove::reader::Read;
use crate::prove::tolerance::RAPID_OVER;
use crate::prove::wood::{Field, PreparedSolid, Tallest};
use crate::rebate::Rebate;
use kurbo::{Point, Rect};

/// The simulation so far.
pub(super) struct Simulation<'a> {
    pub(super) setup: &'a Setup,
    pub(super) staying: Vec<PreparedSolid<'a>>,
    pub(super) obstacles: Vec<PreparedSolid<'a>>,
    /// What comes near each clamp, by its index.
    pub(super) low: Vec<(usize, Low)>,
    pub(super) tool_parts: Vec<ToolPart>,
    pub(super) field: Field,
    pub(super) faults: Faults,
    pub(super) margins: Margins,
    pub(super) passed: Vec<Passed>,
    pub(super) extents: Extents,
    /// Where the program before ended.
    pub(super) last: Option<Point>,
    /// How the sash lay for that program.
    place: Placement,
    /// Where it stopped because it was too much work.
    pub(super) stopped: Option<Stop<'a>>,
    /// Plan area of wood taller than a step that was cut of late beyond what a finishing cut takes, mm².
    deep_area: f64,
    /// How far steep moves went down into wood of late beyond what a ramp may, mm.
    plunged: f64,
    /// The bite that is wider than it may be, where there is one.
    pub(super) wide: Wide,
}

/// The program and the line where a proof became too much work; neither where the wood itself is.
type Stop<'a> = (Option<Name<'a>>, Option<usize>);

impl<'a> Simulation<'a> {
    pub(super) fn new(setup: &'a Setup, rebate: &'a Rebate, field: Field) -> Self {
        // Wood that could not be laid out stops the simulation before its first step.
        let stopped = field.effort.is_spent().then_some((None, None));
        let mut field = field;
        field.step = field_step(setup);
        Simulation {
            setup,
            staying: rebate.stay.iter().map(PreparedSolid::new).collect(),
            obstacles: setup.obstacles.iter().map(PreparedSolid::new).collect(),
            low: Vec::new(),
            tool_parts: tool_parts(setup),
            field,
            faults: Faults::default(),
            margins: Margins::default(),
            passed: Vec::new(),
            extents: Extents::default(),
            last: None,
            place: Placement::IDENTITY,
            stopped,
            deep_area: 0.0,
            plunged: 0.0,
            wide: Wide::default(),
        }
    }

    /// Runs one program, for which the sash lies at `place`, with the cutter of `setup`.
    pub(super) fn run(
        &mut self,
        program: Name<'a>,
        place: Placement,
        read: &Read,
        setup: &'a Setup,
    ) {
        if self.setup.cutter_diameter.to_bits() != setup.cutter_diameter.to_bits() {
            // Another cutter was put in meanwhile.
            (self.setup, self.tool_parts, self.last) = (setup, tool_parts(setup), None);
        }
        if self.place != place {
            // The sash was put down in another place meanwhile: where the cutter comes from is not known.
            (self.place, self.last) = (place, None);
        }
        rules::frame(read, program, self.setup, &mut self.faults);
        self.wide = Wide::default();
        for mv in &read.moves {
            if self.stopped.is_some() {
                return;
            }
            let around = mv.path.bounds();
            self.extents.add(around, place);
            rules::motion(mv, program, place, (self.setup, self.field.top), &mut self.faults);
            self.check_gouges(mv, around, program);
            self.check_obstacles(mv, program);
            self.load(mv, program);
            self.bite(mv, program);
            self.cut(mv, program);
            self.check_tool_against_wood(mv, program);
            self.dwells(mv, program);
            if self.field.effort.is_spent() {
                self.stopped = Some((Some(program), Some(mv.line)));
            }
        }
        self.passed.push(self.summary(program, read));
    }

    fn summary(&self, program: Name, read: &Read) -> Passed {
        let minutes = |mv: &Move| mv.minutes(self.setup.rapid);
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
    fn check_gouges(&mut self, mv: &Move, around: Rect, program: Name) {
        if mv.low() >= self.field.top {
            return;
        }
        let setup = self.setup;
        self.field.effort.spend(self.staying.len());
        let nearest = |distance, solid: &PreparedSolid| Nearest {
            distance,
            program: program.1.to_string(),
            line: mv.line,
            solid: solid.solid.name.clone(),
        };
        for solid in &self.staying {
            let best = self.margins.side.as_ref().map_or(f64::INFINITY, |least| least.distance);
            if let Some(distance) = gouge::clearance(mv, around, solid, setup, best) {
                self.margins.side = Some(nearest(distance, solid));
            }
            let best = self.margins.floor.as_ref().map_or(f64::INFINITY, |least| least.distance);
            if let Some(distance) = gouge::above(mv, around, solid, setup, best) {
                self.margins.floor = Some(nearest(distance, solid));
            }
            if let Some(found) = gouge::gouge(mv, around, solid, setup) {
                self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
                let advice = text!("prove-gouge", what = &solid.solid.name);
                let (depth, limit) = (Quantity::mm(found.depth), Quantity::mm(setup.tolerance));
                let mut fault = fault_of("prove.gouge", program, mv, depth, limit, advice);
                fault.at = Some([found.at.x, found.at.y, found.z]);
                fault.basis = Basis::Geometry;
                self.faults.add(fault);
            }
            if let Some((short, at)) = gouge::shank(mv, around, solid, setup) {
                self.field.effort.spend(gouge::STEPS_OF_A_PLACE);
                let needed = Quantity::mm(short + setup.cutting_length);
                let limit = Quantity::mm(setup.cutting_length);
                let advice = text!("prove-shank", what = &solid.solid.name);
                let mut fault = fault_of("prove.reach", program, mv, needed, limit, advice);
                fault.at = Some([at.x, at.y, mv.low()]);
                self.faults.add(fault);
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
        let met = self.field.sweep_move(mv, core, setup.radius());
        let plunges_on = !rapid && self.add_plunge(mv, plunges, met);
        let met = met.filter(|met| plunges_on || met.height > setup.tolerance);
        let too_deep = self.add_deep_area(mv);
        if rapid && !rules::rapid_is_high(mv, setup) && !self.comes_down_in_the_open(mv) {
            self.add_rapid_fault(mv, program, met);
        }
        if too_deep && !rapid && !plunges && met.is_none_or(|met| met.height <= field_step(setup)) {
            let (area, limit) = (self.deep_area, most_deep_area(setup));
            let square = |value| Quantity { value, unit: "mm²" };
            let advice = text!("prove-many-steps");
            let mut fault =
                fault_of("prove.step", program, mv, square(area), square(limit), advice);
            fault.at = Some([mv.path.end().x, mv.path.end().y, mv.low()]);
            self.faults.add(fault);
            self.deep_area = 0.0;
        }
        let Some(met) = met.filter(|_| !rapid) else { return };
        let deep = if plunges_on { std::mem::take(&mut self.plunged) } else { met.height };
        let height = Quantity::mm(deep.max(met.height));
        let mut add = |rule, limit, advice: Text| {
            let mut fault = fault_of(rule, program, mv, height, Quantity::mm(limit), advice);
            fault.at = Some([met.at.x, met.at.y, mv.low()]);
            self.faults.add(fault);
        };
        if met.height > setup.cutting_length + setup.tolerance {
            add("prove.reach", setup.cutting_length, text!("prove-edges"));
        }
        if plunges {
            add("prove.plunge", 0.0, text!("prove-plunge"));
        } else {
            self.margins.tallest_step = self.margins.tallest_step.max(met.height);
            if met.height > field_step(setup) {
                add("prove.step", setup.step_depth, text!("prove-step"));
            }
        }
    }

    /// Adds up how far steep moves go down into wood: each forgiven the tolerance, a plunge in moves so
    /// short would pass. Whatever of the way sideways is not itself a ramp makes up for some of it, as
    /// a ramp of that length would.
    fn add_plunge(&mut self, mv: &Move, plunges: bool, met: Option<Tallest>) -> bool {
        let ramp = self.setup.ramp_angle.to_radians().tan() * mv.path.length();
        let down = if plunges {
            met.map_or(0.0, |met| met.height)
        } else {
            (mv.from_z - mv.to_z).clamp(0.0, ramp)
        };
        self.plunged = (self.plunged + down - ramp).max(0.0);
        plunges && self.plunged > self.setup.tolerance
    }

    /// Adds up the wood taller than a step that the whole cutter took. Measured under the core alone,
    /// a deep slot would pass in moves so short that the rim of each has cut ahead of the next. A
    /// finishing cut takes no more than its width along its length, and a little more where it begins
    /// and in corners; whatever is beyond that adds up.
    fn add_deep_area(&mut self, mv: &Move) -> bool {
        let taken = std::mem::take(&mut self.field.deep);
        let finishing = self.setup.rim_width() * mv.path.length();
        self.deep_area = (self.deep_area + taken - finishing).max(0.0);
        self.deep_area > most_deep_area(self.setup)
    }

    /// Whether a rapid move goes straight down where no wood is below the cutter, to no less than [`RAPID_OVER`]
    /// above the face: openings are kept free of clamps and boards, and what is known to stand there is looked at.
    fn comes_down_in_the_open(&self, mv: &Move) -> bool {
        let low = self.field.top + RAPID_OVER - self.setup.tolerance;
        mv.is_upright()
            && !mv.arrival
            && mv.to_z >= low
            && self.field.under(&mv.path, self.setup.radius(), f64::NEG_INFINITY).is_none()
    }

    fn add_rapid_fault(&mut self, mv: &Move, program: Name, met: Option<Tallest>) {
        let fault = if let Some(met) = met {
            let advice = text!("prove-rapid-wood");
            let height = Quantity::mm(met.height);
            let limit = Quantity::mm(0.0);
            let mut fault = fault_of("prove.rapid-in-wood", program, mv, height, limit, advice);
            fault.at = Some([met.at.x, met.at.y, mv.low()]);
            fault
        } else {
            let advice = text!("prove-rapid");
            let (low, limit) = (Quantity::mm(mv.low()), Quantity::mm(self.setup.clear_height));
            fault_of("prove.rapid", program, mv, low, limit, advice)
        };
        self.faults.add(fault);
    }
}

/// Height of wood that counts as a step.
fn field_step(setup: &Setup) -> f64 {
    setup.step_depth + setup.tolerance
}

/// What a finishing cut may take at once where it begins and in corners, mm²: its width across one and
/// a half cutters.
fn most_deep_area(setup: &Setup) -> f64 {
    1.5 * setup.rim_width() * setup.cutter_diameter
}
