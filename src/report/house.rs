//! The report of a house in short: its sashes, a few figures each.

use super::{OrderTotal, Report, SashReport, SizeMm, UnitLine};
use crate::finding::{Answers, Verdict};
use crate::language::{Said, Text, in_british};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A house in short; what is known of a sash stands in `report.json` in the folder of that sash.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct HouseReport {
    /// Version of the program.
    pub fillister: &'static str,
    /// Name of the house.
    pub house: String,
    /// The gravest verdict of all sashes.
    pub verdict: Verdict,
    /// Measures that can be true but are more often a slip, each with what was likely meant: to be settled
    /// before anything else is done.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default)]
    pub doubts: Vec<Text>,
    /// One entry a sash; those for which no cut could be worked out come last.
    pub sashes: Vec<SashLine>,
    /// What the units come to that may be ordered.
    pub order: OrderTotal,
    /// What was not asked and stands at a default, in words; empty for a survey, which says so itself.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default)]
    pub assumed: Vec<Text>,
    /// Cautions that belong to the work, and what rules and health ask of its sashes.
    #[serde(serialize_with = "in_british")]
    #[schemars(with = "Vec<String>")]
    pub cautions: Vec<Said>,
}

impl HouseReport {
    /// In short what `report` says, whose sashes are `lines`.
    pub fn of(report: &Report, lines: Vec<SashLine>) -> HouseReport {
        HouseReport {
            fillister: report.fillister,
            house: report.house.clone(),
            verdict: report.verdict,
            doubts: report.doubts.clone(),
            sashes: lines,
            order: report.sashes.iter().map(SashReport::order).sum(),
            assumed: report.assumed.clone(),
            cautions: report.cautions.clone(),
        }
    }
}

/// A sash in the report of its house.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct SashLine {
    /// Its id.
    pub id: String,
    /// How it hangs or slides.
    pub kind: String,
    /// The gravest verdict of its findings.
    pub verdict: Verdict,
    /// The verdict on each question; none where no cut could be worked out.
    pub answers: Option<Answers>,
    /// Panes and cavities of its units.
    pub unit: Option<String>,
    /// Sizes of its units, and how many of each.
    pub sizes: Vec<CountedSize>,
    /// The least wood left under the glass, mm.
    pub left: Option<f64>,
    /// Time at the machine, minutes; none without programs.
    pub minutes: Option<f64>,
    /// What it gains in weight, kg.
    pub gain: Option<f64>,
    /// U of the sash before and after, W/(m²K).
    pub whole_u: Option<[f64; 2]>,
    /// Heat that a year saves, kWh; none without degree hours.
    pub saved: Option<f64>,
    /// What is to be minded first.
    pub mind: Option<String>,
}

impl SashLine {
    /// Whether glass is ordered for it.
    pub fn may_be_ordered(&self) -> bool {
        self.answers.is_some_and(Answers::may_be_ordered)
    }
}

/// A size to order, and how many are of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct CountedSize {
    /// How many.
    pub count: usize,
    /// Size to order; of a shaped unit, of the rectangle around it.
    #[serde(flatten)]
    pub size: SizeMm,
}

impl CountedSize {
    /// Sizes of units, those that are equal together, in order.
    pub fn of(units: &[UnitLine]) -> Vec<CountedSize> {
        let mut all: Vec<CountedSize> = Vec::new();
        for unit in units {
            match all.iter_mut().find(|known| known.size == unit.order) {
                Some(known) => known.count += 1,
                None => all.push(CountedSize { count: 1, size: unit.order }),
            }
        }
        all
    }
}
