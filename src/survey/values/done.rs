//! What is done at the sashes of a house.

use super::BuildUp;
use kurbo::Size;

/// The light of a sash that has one unit.
pub const WHOLE_SASH: &str = "whole sash";

/// What is done at one sash.
#[derive(Debug, Clone, PartialEq)]
pub struct Done {
    /// Its id in the survey.
    pub id: String,
    /// The name of its house; none where only one survey stands beside.
    pub house: Option<String>,
    /// Units that were ordered.
    pub ordered: Vec<OrderedUnit>,
    /// That it was cut.
    pub cut: Option<AsCut>,
    /// Units that came.
    pub delivered: Vec<DeliveredUnit>,
    /// The day it was glazed.
    pub glazed: Option<String>,
}

/// A unit as it was ordered.
#[derive(Debug, Clone, PartialEq)]
pub struct OrderedUnit {
    /// The light it is for.
    pub light: String,
    /// The day.
    pub on: String,
    /// As ordered, mm.
    pub size: Size,
    /// Panes and cavities, if they were written down.
    pub build_up: Option<BuildUp>,
}

/// A rebate as it was cut.
#[derive(Debug, Clone, PartialEq)]
pub struct AsCut {
    /// The day.
    pub on: String,
    /// Glazing face to platform, mm.
    pub depth: Option<f64>,
    /// Wall to wall across, mm.
    pub width: Option<f64>,
    /// Wall to wall up, mm.
    pub height: Option<f64>,
}

/// A unit as it came.
#[derive(Debug, Clone, PartialEq)]
pub struct DeliveredUnit {
    /// The light it is for.
    pub light: String,
    /// Width, mm.
    pub width: Option<f64>,
    /// Height, mm.
    pub height: Option<f64>,
    /// Thickness, mm.
    pub thickness: Option<f64>,
}

/// What is done at a house, sash by sash.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Record {
    /// One entry a sash at which something is done.
    pub sashes: Vec<Done>,
}

impl Record {
    /// What of it is done at the house of that name.
    #[must_use]
    pub fn at(mut self, house: &str) -> Record {
        self.sashes.retain(|done| done.house.as_ref().is_none_or(|own| own == house));
        self
    }

    /// What is done at the sash of that id.
    pub fn of(&self, id: &str) -> Option<&Done> {
        self.sashes.iter().find(|done| done.id == id)
    }
}
