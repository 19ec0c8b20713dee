//! The report of one sash.

use super::ShapeLine;
use crate::finding::{Finding, Verdict};
use crate::geometry::PerSide;
use crate::hand::Setting;
use crate::passes::Pass;
use crate::prove::{Chisel, Margins, Volumes};
use crate::timber::Timber;
use schemars::JsonSchema;
use serde::Serialize;

/// Width and height, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct SizeMm {
    /// Along X.
    pub width: f64,
    /// Along Y.
    pub height: f64,
}

impl From<kurbo::Size> for SizeMm {
    fn from(size: kurbo::Size) -> Self {
        SizeMm { width: size.width, height: size.height }
    }
}

/// A length on each side of a unit, mm.
pub type Gaps = PerSide<f64>;

/// One unit to order and where it sits.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct UnitLine {
    /// The light it serves.
    pub light: String,
    /// Daylight; not the size to order.
    pub sight: SizeMm,
    /// Size to order; of a shaped unit, of the rectangle around it.
    pub order: SizeMm,
    /// The shape to order; none for a rectangle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shape: Option<ShapeLine>,
    /// Panes and cavities, or a bare thickness.
    pub build_up: String,
    /// Nominal thickness, mm.
    pub thickness: f64,
    /// Thickness at its most, mm.
    pub thickest: f64,
    /// Weight, kg; unknown for a bare thickness.
    pub weight: Option<f64>,
    /// Height of spacer and seal, mm.
    pub spacer_height: f64,
    /// Edge tape on each edge, mm.
    pub tape: f64,
    /// Internal bars.
    pub internal_bars: Vec<InternalBarLine>,
    /// Sight edge to the new wall, mm.
    pub rebate_width: Gaps,
    /// Unit edge to the new wall, mm.
    pub clearance: Gaps,
    /// How far the unit reaches behind the sight edge, mm.
    pub cover: Gaps,
    /// Length of each of the two setting blocks at the quarter points, mm.
    pub block_length: f64,
}

/// An internal bar of a unit, as ordered.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct InternalBarLine {
    /// `upright` or `cross`.
    pub runs: &'static str,
    /// Centre line from the unit's left edge (upright) or bottom edge (cross), mm.
    pub from_edge: f64,
    /// Width, mm.
    pub width: f64,
}

/// A pass with its settings for the hand router.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct PassLine {
    /// What is cut and what is left.
    #[serde(flatten)]
    pub pass: Pass,
    /// Depth stop and guides.
    pub setting: Setting,
}

/// A machine program that was written.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ProgramLine {
    /// File name in the sash's folder `cuts`.
    pub name: String,
    /// Estimated time, minutes.
    pub minutes: f64,
    /// Number of lines.
    pub lines: usize,
}

/// What the proof of the programs says.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct ProofLine {
    /// Whether the programs may be run.
    pub proven: bool,
    /// How exactly the cut was held against the plan, mm.
    pub tolerance: f64,
    /// How far from failure the cut is.
    pub margins: Margins,
    /// How much wood goes, mm³.
    pub volumes: Volumes,
    /// Corners that the cutter leaves round.
    pub corners: Vec<Chisel>,
}

/// One make-up, tried.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Candidate {
    /// Panes and cavity.
    pub build_up: String,
    /// Nominal thickness, mm.
    pub thickness: f64,
    /// The gravest verdict.
    pub verdict: Verdict,
    /// Weight of all its units, kg.
    pub weight: Option<f64>,
    /// Findings that are not clear, gravest first.
    pub findings: Vec<Finding>,
}

/// Which units the sash can take.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Choice {
    /// Each make-up of the list, thinnest first.
    pub candidates: Vec<Candidate>,
    /// The thickest make-up of the list that nothing stops.
    pub thickest_listed: Option<String>,
    /// The thickest unit of any make-up that nothing stops, mm, to 0.1 mm; none where even the
    /// thinnest is stopped.
    pub thickest: Option<f64>,
    /// What stops a unit 0.1 mm thicker than that; none where nothing does up to the limit tried.
    pub stopped_by: Option<Finding>,
}

/// Everything about one sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SashReport {
    /// Its id.
    pub id: String,
    /// How it hangs or slides.
    pub kind: &'static str,
    /// The gravest verdict of its findings.
    pub verdict: Verdict,
    /// `one-unit` or `unit-per-light`.
    pub bars_as: &'static str,
    /// Depth of the new rebate, mm.
    pub rebate_depth: f64,
    /// Wood that goes, cm³.
    pub wood_removed: f64,
    /// Units, one a line.
    pub units: Vec<UnitLine>,
    /// Wood left, member by member.
    pub timber: Timber,
    /// Every judgement, gravest first.
    pub findings: Vec<Finding>,
    /// Which units it can take.
    pub choice: Choice,
    /// Passes in order.
    pub passes: Vec<PassLine>,
    /// Programs; none where a finding stops them, and none from `check`.
    pub programs: Vec<ProgramLine>,
    /// The proof of the programs; none where a finding stops them, and none from `check`.
    pub proof: Option<ProofLine>,
}
