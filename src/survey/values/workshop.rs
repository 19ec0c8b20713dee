//! What the workshop cuts with, and how. Every value has a default: that of its key in the survey.

use super::limits::Limits;
use super::unit::{BuildUp, Make};
use crate::geometry::COINCIDENT;
use crate::language::Language;
use kurbo::Size;

/// The workshop's tools, habits and limits.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Workshop {
    /// The flat-ended router cutter.
    pub cutter: Cutter,
    /// The hand router.
    pub router: Router,
    /// The three-axis machine.
    pub machine: Machine,
    /// What templates and sheets are printed on.
    pub printer: Printer,
    /// How the wood is cut.
    pub cutting: Cutting,
    /// How far rule and router may be out, and what the timber goes through.
    pub allowances: Allowances,
    /// The units to try each sash with.
    pub candidates: Candidates,
    /// Limits of the judgements.
    pub limits: Limits,
}

impl Workshop {
    /// Widest bite sideways, mm.
    pub fn lane(&self) -> f64 {
        self.cutting.side_step * self.cutter.diameter
    }

    /// The cutter that goes into the corners, where there is one that is thinner.
    pub fn corner_cutter(&self) -> Option<&Cutter> {
        let cutter = self.machine.corner_cutter.as_ref();
        cutter.filter(|cutter| cutter.diameter < self.cutter.diameter)
    }

    /// The same workshop with the cutter for the corners put in, where there is one.
    #[must_use]
    pub fn in_the_corners(&self) -> Workshop {
        let cutter = self.machine.corner_cutter.as_ref().unwrap_or(&self.cutter).clone();
        Workshop { cutter, ..self.clone() }
    }
}

/// What the end of a cutter is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CutterKind {
    /// Flat.
    Flat,
    /// Flat with rounded edges.
    BullNosed,
    /// Half a ball.
    BallNosed,
    /// With a bearing that runs along the wood.
    Bearing,
}

/// A flat-ended cutter.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutter {
    /// Diameter, mm.
    pub diameter: f64,
    /// Number of cutting edges.
    pub flutes: u32,
    /// Length of the cutting edges, mm.
    pub cutting_length: f64,
    /// Diameter of the shank above the cutting edges, mm.
    pub shank_diameter: f64,
    /// What holds it, where that is known.
    pub holder: Option<Holder>,
}

/// The nut or nose of a spindle.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Holder {
    /// Its largest diameter, mm.
    pub diameter: f64,
    /// How far the cutter stands out of it, to the tip, mm.
    pub stick_out: f64,
}

impl Cutter {
    /// Half the diameter, mm.
    pub fn radius(&self) -> f64 {
        self.diameter / 2.0
    }

    /// Whether its shank is thinner than its edges by more than a cut may be off, so that it clears the wall.
    pub fn is_slim(&self, tolerance: f64) -> bool {
        self.shank_diameter < self.diameter - 2.0 * tolerance
    }
}

/// A hand router.
#[derive(Debug, Clone, PartialEq)]
pub struct Router {
    /// Diameter of the round base, mm.
    pub base_diameter: f64,
    /// Outer diameter of the guide bush, mm.
    pub guide_bush: f64,
    /// What guides it along the walls.
    pub guided_by: GuidedBy,
    /// Thickness of the plate that templates are cut from, mm.
    pub plate: f64,
    /// A ball bearing under the tip of a cutter, where one shall be judged.
    pub bearing: Option<Bearing>,
}

/// A ball bearing under the tip of a cutter, which runs along upright wood below the cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bearing {
    /// Outer diameter, mm.
    pub diameter: f64,
    /// Height of upright wood that it runs on, mm.
    pub height: f64,
}

/// What guides a hand router along the walls.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GuidedBy {
    /// A template, followed with a guide bush.
    Bush,
    /// A straightedge, followed with the base.
    Straightedge,
}

/// How the stages of the work are put into programs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ProgramsAs {
    /// Each in a program of its own.
    Stage,
    /// All in one, with a stop between two; in several set-ups one for each of them.
    One,
}

/// A three-axis machine.
#[derive(Debug, Clone, PartialEq)]
pub struct Machine {
    /// Travel in X and Y, mm.
    pub bed: [f64; 2],
    /// Height above the glazing face at which rapid moves run, mm; where it is not set it follows the clamps.
    pub clear_height: Option<f64>,
    /// Largest feed in the plane, mm/min.
    pub max_feed: f64,
    /// Largest feed straight down, mm/min.
    pub max_plunge: f64,
    /// Speed of rapid moves, mm/min; for the estimate of time only.
    pub rapid: f64,
    /// Fastest spindle speed, 1/min.
    pub spindle: f64,
    /// Slowest spindle speed, 1/min.
    pub spindle_slowest: f64,
    /// How long a program waits for the spindle to come to speed, s.
    pub spindle_wait: f64,
    /// Whether every stage has a program of its own.
    pub programs: ProgramsAs,
    /// A thinner cutter for the corners; none where they are left to the chisel.
    pub corner_cutter: Option<Cutter>,
    /// Where the sash's zero lies in the travel, from its lower left corner, mm; where that is known.
    pub zero: Option<[f64; 2]>,
    /// Thickness of a spoil board under the sash that the cutter may run into, mm; 0 for none.
    pub spoil_board: f64,
    /// How far a sash may reach past the travel.
    pub overhang: Overhang,
}

impl Machine {
    /// Whether a sash of that size lies within the travel.
    pub fn takes(&self, outer: Size) -> bool {
        let [width, height] = self.bed;
        outer.width <= width + COINCIDENT && outer.height <= height + COINCIDENT
    }
}

/// Room beside a machine's travel, mm: none where a sash may reach as far as it likes.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Overhang {
    /// On the side of small X.
    pub left: Option<f64>,
    /// On the side of large X.
    pub right: Option<f64>,
    /// On the side of small Y.
    pub front: Option<f64>,
    /// On the side of large Y.
    pub back: Option<f64>,
}

/// What a page is printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    A4,
    /// 297 by 420 mm (ISO 216).
    A3,
    /// 8 1/2 by 11 in.
    Letter,
    /// Off a roll, as long as the drawing.
    Roll,
}

/// How much of a template goes onto paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TemplateAs {
    /// Corners and whatever else is not straight; straight sides run on between them.
    Corners,
    /// Every line from end to end.
    Whole,
}

/// Whose words sheets use for the parts of a window.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spelling {
    /// Rebate, glazing bar.
    British,
    /// Rabbet, muntin.
    American,
}

/// A printer, as far as templates need to know it, and how its sheets are worded.
#[derive(Debug, Clone, PartialEq)]
pub struct Printer {
    /// The paper.
    pub paper: Paper,
    /// Width of the roll, mm, where the paper comes off one.
    pub roll_width: f64,
    /// Edge of the paper that the printer leaves white, mm.
    pub margin: f64,
    /// How far neighbouring tiles of a template show the same, mm.
    pub overlap: f64,
    /// How much of a template is printed.
    pub template: TemplateAs,
    /// Whether inches stand beside millimetres.
    pub inches: bool,
    /// In whose words sheets speak.
    pub language: &'static Language,
}

/// Which way the cutter runs along the wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// Against the cutter's rotation (conventional): the usual way for old brittle timber.
    Against,
    /// With the cutter's rotation (climb).
    With,
}

/// How the wood is cut.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// Deepest step of a pass, mm.
    pub step_depth: f64,
    /// Deepest step of the first two cuts while widening, mm: old painted fibre splinters.
    pub widen_step: f64,
    /// Widest bite sideways, as a share of the cutter's diameter, 0 to 1.
    pub side_step: f64,
    /// Depth of the scoring cut, mm; 0 for none.
    pub score_depth: f64,
    /// Wood left on the walls for the finishing cut, mm; 0 for none.
    pub finish_allowance: f64,
    /// Chip load, mm a cutting edge and turn.
    pub chip_load: f64,
    /// Which way the cutter runs.
    pub direction: Direction,
    /// How exactly the cut must match the plan, mm.
    pub tolerance: f64,
    /// How far off the zero may be set in X, Y or Z, mm: the wood must bear as much.
    pub zero_error: f64,
}

impl Cutting {
    /// Deepest step of any pass, mm, the first cuts in old paint among them.
    pub fn deepest_step(&self) -> f64 {
        self.step_depth.max(self.widen_step)
    }
}

/// What may deviate, and what the window goes through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowances {
    /// Measuring, rule or tape, mm. Common practice.
    pub measuring: f64,
    /// The wall's and the platform's place, mm. Common practice: by hand; a machine does better.
    pub cutting: f64,
    /// Moisture of the timber when it is cut, per cent. Common practice: a dry workshop.
    pub moisture_now: f64,
    /// The dampest it will be, per cent.
    pub moisture_most: f64,
    /// Glass when it is measured, °C.
    pub glass_now: f64,
    /// Glass in the sun, °C. Common practice.
    pub glass_hot: f64,
}

/// A unit that can be ordered. What it leaves open is as in the sash that it is tried with.
#[derive(Debug, Clone, PartialEq)]
pub struct Offered {
    /// Panes and cavities.
    pub build_up: BuildUp,
    /// Gas, coat, spacer and glass.
    pub make: Make,
    /// How far it must reach behind the sight edge, mm.
    pub cover: Option<f64>,
    /// Height of spacer and seal, mm.
    pub spacer_height: Option<f64>,
    /// By how much it may come thicker, mm. Default by EN 1279-1 and build-up.
    pub over: Option<f64>,
}

/// The units to try each sash with.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidates {
    /// Whether the built-in list is tried.
    pub usual: bool,
    /// Units tried besides, or instead.
    pub units: Vec<Offered>,
}

#[cfg(test)]
mod tests {
    use super::*;

    // 10 1/8 in of daylight and twice 2 in of stile are a hair more than 14 1/8 in, once each is in millimetres.
    #[test]
    fn a_sash_as_large_as_the_travel_lies_within_it_in_inches_too() {
        let [sight, stile, travel] = [10.125, 2.0, 14.125].map(|inches| inches * 254.0 / 10.0);
        let machine = Machine { bed: [travel; 2], ..Machine::default() };
        let outer = Size::new((sight + stile) - (0.0 - stile), 300.0);
        assert!(outer.width > travel && machine.takes(outer));
        assert!(!machine.takes(Size::new(travel + 0.01, 300.0)));
    }
}
