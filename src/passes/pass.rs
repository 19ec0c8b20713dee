//! The values of a pass.

use crate::finding::Finding;
use crate::geometry::{MOVED, MinMax, Outline, PerSide, Sided};
use crate::sash::{Light, PlacedBar};
use schemars::JsonSchema;
use serde::{Serialize, Serializer};
use std::fmt;

/// A stage of the work; a machine has a program for each, or one that stops between them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// A shallow cut along the new wall.
    Score,
    /// Webs of bars down to the old platform.
    LowerBars,
    /// Wider, down to the old platform.
    Widen,
    /// Down to the new platform.
    Deepen,
    /// The last shaving off the walls.
    Finish,
    /// Corners, with a thinner cutter.
    CleanCorners,
    /// Corners, by chisel.
    Corners,
}

impl Stage {
    /// The stage in the words of the work, as file names carry it.
    pub fn slug(self) -> &'static str {
        match self {
            Stage::Score => "score",
            Stage::LowerBars => "lower-bars",
            Stage::Widen => "widen",
            Stage::Deepen => "deepen",
            Stage::Finish => "finish",
            Stage::CleanCorners => "corners",
            Stage::Corners => "chisel",
        }
    }

    /// What a part of a program does; what cuts no stage runs in the air.
    pub fn named(stage: Option<Stage>) -> &'static str {
        stage.map_or("air run", Stage::words)
    }

    /// What is done in it.
    pub fn words(self) -> &'static str {
        match self {
            Stage::Score => "score the new wall",
            Stage::LowerBars => "lower the bars",
            Stage::Widen => "widen",
            Stage::Deepen => "deepen",
            Stage::Finish => "finish the walls",
            Stage::CleanCorners => "clean the corners",
            Stage::Corners => "chisel the corners",
        }
    }
}

impl fmt::Display for Stage {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.words())
    }
}

/// All round a pocket, from one width to another at one depth.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Ring {
    /// Index of the unit, and so of the pocket.
    pub unit: usize,
    /// Daylight that the pocket serves.
    #[serde(skip)]
    pub sight: Sided,
    /// The walls after the pass.
    #[serde(skip)]
    pub wall: Sided,
    /// Sight edge to where wood begins on each side, mm.
    pub from: PerSide<MinMax>,
    /// Sight edge to where the cut ends, mm.
    pub to: PerSide<MinMax>,
    /// The walls to the wood that is furthest from them, mm: the whole width to cut.
    pub widest: f64,
}

impl Ring {
    /// Whether a light is one of those that the pocket lies behind: the only one, or one of several before one
    /// unit.
    pub fn serves(&self, light: &Light) -> bool {
        let sight = self.sight.outline();
        let mut middles = light.outline.edges().map(|(edge, _)| edge.at(0.5));
        middles.all(|at| sight.contains(at) || sight.distance_to(at) <= MOVED)
    }

    /// Takes no more than `width` mm along the walls.
    pub(super) fn narrow(&mut self, width: f64) {
        self.from = PerSide::from_fn(|side| {
            let (from, to) = (self.from.get(side), self.to.get(side));
            MinMax { least: from.least.max(to.least - width), most: from.most.max(to.most - width) }
        });
        self.widest = self.widest.min(width);
    }
}

fn index_of<S: Serializer>(bar: &PlacedBar, to: S) -> Result<S::Ok, S::Error> {
    bar.index.serialize(to)
}

/// Along a bar.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Strip {
    /// The bar; written as its index in the survey.
    #[serde(serialize_with = "index_of")]
    #[schemars(with = "usize")]
    pub bar: PlacedBar,
    /// Width that goes, mm: of the bar's web, or of the whole bar.
    pub width: f64,
    /// The walls that the cutter's rim may reach at the bar's ends.
    #[serde(skip)]
    pub reach: Outline,
}

/// What a pass takes.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Cut {
    /// All round a pocket.
    Ring(Ring),
    /// Along a bar.
    Strip(Strip),
    /// In the corners of a pocket, with a thinner cutter.
    Clean {
        /// The pocket.
        ring: Ring,
        /// X and Y of the sharp corners, mm.
        at: Vec<[f64; 2]>,
        /// Radius of the fillets that are there, mm.
        from: f64,
        /// Radius of the fillets that are left, mm.
        to: f64,
    },
    /// In the corners of a pocket, by chisel.
    Corners {
        /// Index of the unit.
        unit: usize,
        /// X and Y of the sharp corners, mm.
        at: Vec<[f64; 2]>,
        /// Radius of the fillets to take away, mm.
        radius: f64,
    },
}

/// Wood left after a pass, at its least, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct TimberLeft {
    /// Between the new floor and the moulding.
    pub under: f64,
    /// Between the new wall and the member's outer edge; none for bars.
    pub beside: Option<f64>,
}

/// One cut to one depth.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Pass {
    /// The stage it belongs to.
    pub stage: Stage,
    /// Where, in words: `whole sash`, `light 2`, `upright bar 1`.
    pub place: String,
    /// What it takes.
    #[serde(rename = "bite")]
    pub cut: Cut,
    /// Glazing face to the floor before, mm.
    pub from_depth: f64,
    /// Glazing face to the floor after: the depth stop, mm.
    pub to_depth: f64,
    /// What is left after it.
    pub left: TimberLeft,
}

impl fmt::Display for Pass {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {} to {:.2} mm deep", self.place, self.stage, self.to_depth)
    }
}

/// All passes of a sash, in order.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Plan {
    /// The passes.
    pub passes: Vec<Pass>,
    /// Judgements of the cutter.
    pub findings: Vec<Finding>,
}
