//! Every number and finding of a run, as plain values that can be written as JSON.
//!
//! Promised: numbers are as computed, in mm, kg, minutes; nothing is rounded here. The JSON Schema
//! comes from these types.

mod finite;
mod house;
mod measured;
mod order;
mod sash;
mod shape;

pub use finite::{NotANumber, all_finite, json};
pub use house::{CountedSize, HouseReport, SashLine};
pub use measured::{Measured, Value};
pub use order::{OrderTotal, UnitKind, UnitKinds};
pub use sash::{
    Candidate, Change, Choice, ExtentMm, FaceHeights, GapLine, HangingLine, InternalBarLine, Next,
    PassLine, ProgramLine, ProofLine, SashReport, SetUpLine, SizeMm, StageLine, StrengthLine,
    UnitLine, WindLine, WorstPane,
};

pub use shape::{ArcLine, EdgeLine, Measure, ShapeLine};

use crate::finding::{Finding, Verdict};
use crate::language::{Said, Text, in_british};
use schemars::JsonSchema;
use serde::Serialize;

/// The report of one survey.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct Report {
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
    /// One entry a sash for which a cut could be worked out, in the order of the survey.
    pub sashes: Vec<SashReport>,
    /// Sashes for which no cut could be worked out, and why; they are left out of `sashes`.
    #[serde(rename = "unworked")]
    pub cannot_be_cut: Vec<CannotBeCut>,
    /// What was not asked and stands at a default, in words; empty for a survey, which says so itself.
    pub assumed: Vec<Text>,
    /// Cautions that belong to the work, and what rules and health ask of its sashes.
    #[serde(serialize_with = "in_british")]
    #[schemars(with = "Vec<String>")]
    pub cautions: Vec<Said>,
}

/// A sash for which no cut could be worked out.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[schemars(rename = "Unworked")]
pub struct CannotBeCut {
    /// Its id.
    pub id: String,
    /// How it hangs or slides.
    pub kind: &'static str,
    /// The gravest of its findings.
    pub verdict: Verdict,
    /// What stands in the way.
    pub findings: Vec<Finding>,
}

/// The keys of cautions that go with every sheet. Each defers to local code and licensed practice.
pub const CAUTIONS: &[&str] =
    &["caution-dust", "caution-router", "caution-glass", "caution-wind", "caution-codes"];
