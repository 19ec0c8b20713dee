//! What a sash is told, in sentences, for whoever lays them out.

use super::answer::{frees, keys};
use super::building_checks;
use super::summary::sash::{headline, minds};
use crate::report::SashReport;

/// The sentences on one sash, question by question.
#[derive(Debug, Clone, PartialEq)]
pub struct Told {
    /// The answer.
    pub headline: String,
    /// Where something else than wood or order is in the way: what would free it.
    pub frees: Option<String>,
    /// What to order, to cut and what is left, each after the word for it; empty where the word is that before.
    pub keys: Vec<(&'static str, String)>,
    /// Warmth, glass, weight and gaps in a line each.
    pub checks: Vec<(&'static str, String)>,
    /// What to mind, most dangerous first.
    pub minds: Vec<String>,
}

impl Told {
    /// Of a sash.
    pub fn of(sash: &SashReport) -> Told {
        let checks = building_checks::all(sash).into_iter();
        Told {
            headline: headline(sash),
            frees: frees(sash),
            keys: keys(sash, usize::MAX),
            checks: checks.filter_map(|check| Some((check.name, check.brief?))).collect(),
            minds: minds(&sash.findings).into_iter().map(|(_, words)| words).collect(),
        }
    }
}
