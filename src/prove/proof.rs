//! What the proof says.

use super::Setup;
use super::fault::{Fault, Faults};
use crate::finding::{Finding, Verdict};
use crate::language::Text;
use schemars::JsonSchema;
use serde::Serialize;

/// A fillet that the cutter leaves in an inside corner.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Chisel {
    /// The light, or lights, of the pocket.
    pub light: String,
    /// X and Y of the sharp corner, mm.
    pub at: [f64; 2],
    /// Whether it must be cut out for the unit to go in.
    pub needed: bool,
    /// Area that the programs left there, mm², measured.
    pub area: f64,
    /// Area that this cutter must leave there, mm²: R²(1 − π/4) in a square corner.
    pub expected_area: f64,
    /// From the sharp corner to the nearest place cut at full depth, mm, measured; absent where
    /// nothing was cut at full depth.
    pub diagonal: Option<f64>,
    /// The same as it must be: R(√2 − 1) in a square corner.
    pub expected_diagonal: f64,
}

/// Whether a unit goes into the wood that the programs leave.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Fits {
    /// The light, or lights, it serves.
    pub light: String,
    /// Whether it goes in, with the gap that it needs on every side.
    pub goes_in: bool,
    /// From the face down to where its platform must be, mm: bed, unit at its thickest and bead or putty, less
    /// what may stand proud.
    pub needed: f64,
    /// From the face down to the highest wood that the programs leave under it, mm; absent where they cut
    /// none there.
    pub found: Option<f64>,
}

/// A least distance and where it is.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Nearest {
    /// Distance, mm.
    pub distance: f64,
    /// The program.
    pub program: String,
    /// Its line.
    pub line: usize,
    /// Name of the solid.
    pub solid: Text,
}

/// The least wood that is left in a part between the cut and its room-side surface.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WoodLeft {
    /// The member or bar.
    pub part: String,
    /// What is left, square to the face, mm.
    pub wood: f64,
    /// X and Y of the place, mm.
    pub at: [f64; 2],
    /// Z of the wood's surface there, mm.
    pub z: f64,
    /// Least that is wanted, mm.
    pub least: f64,
    /// The lowest that the cutter came in this part, Z in mm.
    pub lowest: f64,
}

/// How far the programs could be moved one way, in mm or degrees; 50 mm and 5° are as far as is
/// tried.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Direction {
    /// Until the first of all limits is reached.
    pub by: f64,
    /// Which; none where nothing limits it that far.
    pub limited_by: Option<Text>,
    /// Until the wood is harmed: less of it is left than is wanted, or a clamp is hit. The unit is
    /// left out of account.
    pub wood: f64,
    /// By what.
    pub wood_limited_by: Option<Text>,
}

/// How far the programs could be moved either way.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Span {
    /// Towards smaller X or Y, deeper, or clockwise.
    pub minus: Direction,
    /// Towards larger X or Y, higher, or anticlockwise.
    pub plus: Direction,
}

/// How far off the zero may be set while nothing else is: the wood that must be left is left, and
/// the unit still goes in where it is planned.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ZeroError {
    /// Along X, mm.
    pub x: Span,
    /// Along Y, mm.
    pub y: Span,
    /// Along Z, mm.
    pub z: Span,
    /// Turned about the zero, degrees.
    pub turn: Span,
    /// How far an edge of the cut then runs out over its longer side, mm, turned one way and the other.
    pub runs_out: [f64; 2],
    /// That longer side, mm.
    pub length: f64,
}

/// How far from failure the cut is.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema)]
pub struct Margins {
    /// Least distance sideways between the cutter's rim and wood that must stay; zero along the
    /// finished wall, negative within the tolerance.
    pub side: Option<Nearest>,
    /// Least height of the tip above wood that must stay under the cutter; zero on the platform.
    pub floor: Option<Nearest>,
    /// Tallest wood that any feed move met, mm.
    pub tallest_step: f64,
    /// Least distance sideways between the tool and a clamp or metal.
    pub obstacle: Option<Nearest>,
    /// Least height at which the tool passes over a clamp or metal.
    pub over_obstacle: Option<Nearest>,
    /// The least wood left in each part that was cut, where the surfaces are known.
    pub wood: Vec<WoodLeft>,
    /// How far off the zero may be set, where something is known that limits it.
    pub zero: Option<ZeroError>,
}

impl Margins {
    /// The place of least wood in the whole sash.
    pub fn least_wood(&self) -> Option<&WoodLeft> {
        self.wood.iter().min_by(|a, b| a.wood.total_cmp(&b.wood))
    }

    /// Everything that names a line of a program.
    pub(super) fn nearest_mut(&mut self) -> impl Iterator<Item = &mut Nearest> {
        let Margins { side, floor, obstacle, over_obstacle, .. } = self;
        [side, floor, obstacle, over_obstacle].into_iter().flatten()
    }
}

/// Volumes, mm³.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, JsonSchema)]
pub struct Volumes {
    /// Wood that must go, before any cut.
    pub must_go: f64,
    /// Cut away of it.
    pub gone: f64,
    /// Cut away of the wood that may go.
    pub may_gone: f64,
    /// Cut away of the wood that must stay: rounding and what the tolerance allows, if proven.
    pub stay_gone: f64,
}

/// What one program does.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Passed {
    /// Its name.
    pub name: String,
    /// Its lines.
    pub lines: usize,
    /// Its moves.
    pub moves: usize,
    /// Estimated minutes, without acceleration.
    pub minutes: f64,
    /// Length of its feed moves, mm.
    pub cut_length: f64,
    /// Least Z, mm.
    pub lowest: f64,
}

/// A band along X for a picture of the depths.
#[derive(Debug, Clone, PartialEq)]
pub struct Strip {
    /// Least Y, mm.
    pub y0: f64,
    /// Greatest Y, mm.
    pub y1: f64,
    /// X from, X to, Z of the surface; places without wood are left out.
    pub spans: Vec<(f64, f64, f64)>,
}

/// Heights of the wood after the last program.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct DepthMap {
    /// Bands upwards.
    pub strips: Vec<Strip>,
}

/// The outcome.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Proof {
    /// Everything wrong, by program, rule and line. Empty for a proven cut.
    pub faults: Vec<Fault>,
    /// What wants care and is no reason not to run the programs.
    pub cautions: Vec<Fault>,
    /// What was taken for granted, since neither survey nor program says it, or the program alone does.
    pub assumed: Vec<Text>,
    /// Whether the programs could be read, and so were swept through the wood.
    pub swept: bool,
    /// Corners that a chisel must finish, and those where the fillet may stay.
    pub chisel: Vec<Chisel>,
    /// Whether each unit that was ordered goes in.
    pub fits: Vec<Fits>,
    /// How far from failure.
    pub margins: Margins,
    /// How much wood.
    pub volumes: Volumes,
    /// Each program.
    pub programs: Vec<Passed>,
    /// How exactly the cut was held against the plan, mm.
    pub tolerance: f64,
    /// Greatest displacement of a boundary in the search for wood left over, mm.
    pub row_bound: f64,
    /// Rows that the wood was searched on.
    pub rows: usize,
    /// Heights after the last program, for a picture.
    #[serde(skip)]
    pub map: DepthMap,
}

impl Proof {
    /// The proof of programs that could not be judged.
    pub(super) fn unswept(faults: Faults, setup: &Setup) -> Proof {
        let (faults, cautions) = faults.faults();
        Proof {
            faults,
            cautions,
            tolerance: setup.tolerance,
            row_bound: setup.pitch() / 2.0,
            ..Proof::default()
        }
    }

    /// Whether the programs may be run.
    pub fn is_proven(&self) -> bool {
        self.swept && self.faults.is_empty()
    }

    /// [`Verdict::Stop`] unless the cut is proven; then [`Verdict::Caution`] where something wants care.
    pub fn verdict(&self) -> Verdict {
        match self.is_proven() {
            false => Verdict::Stop,
            true if self.cautions.is_empty() => Verdict::Clear,
            true => Verdict::Caution,
        }
    }

    /// The findings alone, stops before cautions.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.faults.iter().chain(&self.cautions).map(|fault| &fault.finding)
    }

    /// Estimated minutes of all programs.
    pub fn minutes(&self) -> f64 {
        self.programs.iter().map(|program| program.minutes).sum()
    }
}
