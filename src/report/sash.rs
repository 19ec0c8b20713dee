//! The report of one sash.

use super::{Measured, ShapeLine};
use crate::finding::{Answers, Finding, Verdict, gravest, gravest_first};
use crate::geometry::{MinMax, PerSide, Placement};
use crate::glass::strength::Strength;
use crate::hand::Setting;
use crate::hand::bearing::Faces;
use crate::hanging::{Counterweights, Hung, Weights};
use crate::language::Text;
use crate::machine::{Faster, Touch};
use crate::materials::Materials;
use crate::movement::Taker;
use crate::passes::{Cut, Pass, Stage};
use crate::prove::{Chisel, Margins, Volumes};
use crate::timber::Timber;
use crate::warmth::Warmth;
use kurbo::Rect;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::borrow::Cow;

/// Width and height, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
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

/// One unit to order and where it sits.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
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
    /// Each pane and cavity from the outside in, as far as the survey tells.
    pub layers: Vec<String>,
    /// Gas, coat, spacer and glass as reckoned.
    pub make: String,
    /// What of that the survey does not state, and is to be asked.
    pub unstated: Vec<Cow<'static, str>>,
    /// Where a judgement asks for glass that breaks safely.
    pub safety: Option<Text>,
    /// Nominal thickness, mm.
    pub thickness: f64,
    /// Thickness at its most, mm.
    pub thickest: f64,
    /// Area of the glass to order, m².
    pub area: f64,
    /// Weight, kg; unknown for a bare thickness.
    pub weight: Option<f64>,
    /// Height of spacer and seal, mm.
    pub spacer_height: f64,
    /// Edge tape on each edge, mm.
    pub tape: f64,
    /// Internal bars.
    pub internal_bars: Vec<InternalBarLine>,
    /// Sight edge to the new wall, mm.
    pub rebate_width: PerSide<MinMax>,
    /// Unit edge to the new wall, mm.
    pub clearance: PerSide<MinMax>,
    /// How far the unit reaches behind the sight edge, mm.
    pub cover: PerSide<MinMax>,
    /// New wall to the outer edge of the member beside it, mm; none beside a bar.
    pub beside: PerSide<Option<MinMax>>,
    /// How far the unit lies turned in the sash, degrees anticlockwise.
    pub turned: f64,
    /// Length of each of the two setting blocks at the quarter points, mm.
    pub block_length: f64,
}

/// An internal bar of a unit, as ordered.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct InternalBarLine {
    /// `upright` or `cross`.
    pub runs: Cow<'static, str>,
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
    /// What it does; between two stages it stops.
    pub stages: Vec<StageLine>,
    /// Number of lines.
    pub lines: usize,
}

impl ProgramLine {
    /// Estimated time of all its stages, minutes.
    pub fn minutes(&self) -> f64 {
        self.stages.iter().map(|stage| stage.minutes).sum()
    }
}

/// A stage of a machine program.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct StageLine {
    /// The stage it cuts; none for the air run.
    pub stage: Option<Stage>,
    /// Estimated time, minutes.
    pub minutes: f64,
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

/// One unit, tried.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Candidate {
    /// Panes and cavity.
    pub build_up: String,
    /// Gas, coat, spacer and glass as reckoned.
    pub make: String,
    /// Whether it is the one that the survey asks for.
    pub surveyed: bool,
    /// Nominal thickness, mm.
    pub thickness: f64,
    /// Depth of the rebate that it wants, mm.
    pub rebate_depth: f64,
    /// Ug, W/(m²K); unknown for a bare thickness.
    pub glass_u: Option<f64>,
    /// Uw of the sash with it, W/(m²K); unknown for a bare thickness.
    pub whole_u: Option<f64>,
    /// The same by the tables of the trade alone.
    pub table_u: Option<f64>,
    /// Heat that a year saves, kWh; none without degree hours.
    pub saved: Option<f64>,
    /// The edge of its glass stays dry down to this temperature outdoors, °C; of units that fit, and of the surveyed one
    /// alone from `check`.
    pub edge_dry_down_to: Option<f64>,
    /// The gravest verdict.
    pub verdict: Verdict,
    /// Least wood that it leaves under the new platform, mm.
    pub left: Option<f64>,
    /// Weight of all its units, kg.
    pub weight: Option<f64>,
    /// Findings that are not clear, gravest first.
    pub findings: Vec<Finding>,
}

/// A unit that does not fit, and what would let it in.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Next {
    /// Panes and cavity.
    pub build_up: String,
    /// Gas, coat, spacer and glass.
    pub make: String,
    /// Uw of the sash with it, W/(m²K).
    pub whole_u: Option<f64>,
    /// Any one of these is enough.
    pub changes: Vec<Change>,
}

/// A change that lets a unit in.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Change {
    /// In words, as small as it may be.
    pub what: Text,
    /// The gravest verdict of the sash judged anew with it.
    pub verdict: Verdict,
}

/// Weights of a sash and what carries them.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct HangingLine {
    /// Timber, glass and beads.
    pub weights: Weights,
    /// The whole sash as it is, kg; unknown where the old glass was not measured.
    pub before: Option<f64>,
    /// The whole sash with its units, kg.
    pub after: f64,
    /// What it gains, kg; unknown where the old glass was not measured.
    pub gain: Option<f64>,
    /// Counterweights of a sliding sash whose box was measured.
    pub counterweights: Option<Counterweights>,
    /// Hinges of a hung sash that were measured.
    pub hung: Option<Hung>,
}

/// What one unit bears.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct StrengthLine {
    /// The light it serves.
    pub light: String,
    /// Its cases.
    pub strength: Strength,
}

/// Wind on a sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WindLine {
    /// Pressure, Pa.
    pub pressure: f64,
    /// The pressure, and whether it is assumed, stated, or reckoned from the site.
    pub words: Text,
}

/// What the worst pane of a sash bears in one case.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct WorstPane {
    /// The case: `wind`.
    pub case: String,
    /// Its stress as a share of what it may be.
    pub share: f64,
}

/// Heights of a face that is not flat, mm above the plane that the sash is laid by.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct FaceHeights {
    /// Lowest place.
    pub lowest: f64,
    /// Highest place.
    pub highest: f64,
    /// From one to the other.
    pub range: f64,
}

/// A rectangle on the machine, counted from its X0 Y0, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct ExtentMm {
    /// X of its left side.
    pub left: f64,
    /// Y of its lower side.
    pub bottom: f64,
    /// X of its right side.
    pub right: f64,
    /// Y of its upper side.
    pub top: f64,
}

impl From<Rect> for ExtentMm {
    fn from(rect: Rect) -> Self {
        ExtentMm { left: rect.x0, bottom: rect.y0, right: rect.x1, top: rect.y1 }
    }
}

impl From<ExtentMm> for Rect {
    fn from(extent: ExtentMm) -> Self {
        Rect::new(extent.left, extent.bottom, extent.right, extent.top)
    }
}

/// Where a sash larger than the machine's travel lies in one set-up.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct SetUpLine {
    /// From 1, in the order of the work.
    pub number: usize,
    /// Whether it lies turned by 180 degrees.
    pub turned: bool,
    /// Bounds of the sash.
    pub sash: ExtentMm,
    /// What the cutter's centre reaches.
    pub reach: ExtentMm,
    /// Edge stops that the sash is laid against: two under it, one beside it.
    pub stops: Vec<ExtentMm>,
    /// How far it is moved on from the set-up before, to the right and up, mm; none for the first, and where it
    /// is turned.
    pub moved: Option<[f64; 2]>,
    /// How it lies as seen from the machine's X0 Y0.
    #[serde(skip)]
    pub place: Placement,
}

/// One gap of a unit.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct GapLine {
    /// The light and which gap: `whole sash, across`.
    pub place: String,
    /// As drawn, mm.
    pub gap: f64,
    /// What must be left of it, mm.
    pub wanted: f64,
    /// Chance that enough of it is left when the unit is put in, 0 to 1.
    pub chance: f64,
    /// What is left in use, of sizes as drawn, once damp and sun take their most, mm.
    pub in_use: f64,
    /// What makes most of the doubt.
    pub largest: Option<&'static str>,
    /// The chance, and what would make it surer, in words.
    pub words: Text,
    /// The chance alone.
    #[serde(skip)]
    pub likely: Text,
    /// Everything that may take from it.
    pub takers: Vec<Taker>,
}

/// Which units the sash can take.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Choice {
    /// Each unit of the lists: those that fit first, the warmest sash first.
    pub candidates: Vec<Candidate>,
    /// The warmest that fits.
    pub best: Option<String>,
    /// The nearest warmer one that one change would let in.
    pub next: Option<Next>,
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
    /// The verdict on each question: wood, order, cutting, programs.
    pub answers: Answers,
    /// What the survey says of it, by name.
    pub measured: Vec<Measured>,
    /// `one-unit` or `unit-per-light`.
    pub bars_as: &'static str,
    /// What closes the rebate: `beads` or `putty`.
    pub glazing: &'static str,
    /// How water is kept from the edge seal: `drained` or `bedded`; none where the survey does not say.
    pub drainage: Option<&'static str>,
    /// From end to end of its stiles, horns and all, mm; none without horns.
    pub height_over_horns: Option<f64>,
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
    /// Heat and water, before and after; none for a bare thickness.
    pub warmth: Option<Warmth>,
    /// What each unit bears; none for a bare thickness.
    pub strength: Vec<StrengthLine>,
    /// The wind that glass and timber are judged by.
    pub wind: WindLine,
    /// At which height its units are sealed, in words; none where heights are not stated, and the steps of the source
    /// are reckoned.
    pub sealed: Option<Text>,
    /// In each case the pane that comes nearest to what it may bear.
    pub worst_panes: Vec<WorstPane>,
    /// Weights and what carries them; none for a bare thickness.
    pub hanging: Option<HangingLine>,
    /// Gaps once everything deviates.
    pub gaps: Vec<GapLine>,
    /// What rules and health ask of this sash, as far as no measure judges it, and what published sizes it is under.
    pub duties: Vec<Text>,
    /// What is cut to size besides the units, and sealant; none for a sash that is not to be cut.
    pub materials: Option<Materials>,
    /// How far the tip must stand below the router's base for the deepest pass, mm.
    pub reach: f64,
    /// Of a face that is not flat.
    pub face: Option<FaceHeights>,
    /// How far behind the wood it runs on the bearing of the survey keeps the cutter, mm; none without one.
    pub bearing_width: Option<f64>,
    /// Wood that a bearing could run on, light by light, side by side; none for a sash that is not to be cut.
    pub bearing_faces: Vec<Faces>,
    /// Passes in order.
    pub passes: Vec<PassLine>,
    /// Set-ups of a sash larger than the machine's travel; none for one that lies within it or is not to be cut.
    pub set_ups: Vec<SetUpLine>,
    /// What is set and kept clear at a machine; none for a sash that is not to be cut.
    pub touch: Option<Touch>,
    /// Programs; none where a finding stops them, and none from `check`.
    pub programs: Vec<ProgramLine>,
    /// A faster feed that published chip loads bear; none where it saves next to nothing or there are no programs.
    pub faster: Option<Faster>,
    /// The proof of the programs; none where a finding stops them, and none from `check`.
    pub proof: Option<ProofLine>,
}

impl ProofLine {
    /// How far off the zero may be before it is the unit that meets the wood, and not the cutter what must stay, mm;
    /// none where the wood comes first.
    pub fn zero_before_unit(&self) -> Option<f64> {
        let zero = self.margins.zero.as_ref()?;
        let ways = [&zero.x, &zero.y].into_iter().flat_map(|span| [&span.minus, &span.plus]);
        let nearest = ways.min_by(|a, b| a.by.total_cmp(&b.by)).filter(|way| way.by < way.wood)?;
        Some(nearest.by)
    }
}

/// Every side over all of them.
fn over_all(mut all: impl Iterator<Item = PerSide<MinMax>>) -> Option<PerSide<MinMax>> {
    let first = all.next()?;
    Some(all.fold(first, |a, b| PerSide::from_fn(|side| a.get(side).or(*b.get(side)))))
}

impl SashReport {
    /// Sight edge to the new wall over all units, mm.
    pub fn rebate_widths(&self) -> Option<PerSide<MinMax>> {
        over_all(self.units.iter().map(|unit| unit.rebate_width))
    }

    /// Sight edge to the wall after the passes of a stage, over all units, mm; none where it follows no wall.
    pub fn widths_after(&self, stage: Stage) -> Option<PerSide<MinMax>> {
        over_all(self.passes.iter().filter_map(|line| match &line.pass.cut {
            Cut::Ring(ring) if line.pass.stage == stage => Some(ring.to),
            _ => None,
        }))
    }

    /// How deep the passes of a stage go, mm.
    pub fn depth_after(&self, stage: Stage) -> Option<f64> {
        let passes = self.passes.iter().map(|line| &line.pass);
        passes.filter(|pass| pass.stage == stage).map(|pass| pass.to_depth).reduce(f64::max)
    }

    /// Time at the machine, minutes; none without programs.
    pub fn minutes(&self) -> Option<f64> {
        (!self.programs.is_empty()).then(|| self.programs.iter().map(ProgramLine::minutes).sum())
    }

    /// Takes further findings in.
    pub(crate) fn tell(&mut self, more: Vec<Finding>) {
        self.findings.extend(more);
        gravest_first(&mut self.findings);
        self.verdict = gravest(&self.findings);
        self.answers = Answers::of(&self.findings);
    }
}
