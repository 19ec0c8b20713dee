//! What a sash is told, in sentences, for whoever lays them out.

use super::answer::{frees, keys};
use super::building_checks;
use super::kit::Voice;
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
    /// Of a sash, as `voice` says it.
    pub fn of(sash: &SashReport, voice: Voice) -> Told {
        let said = |words: String| voice.said(&words);
        let checks = building_checks::all(sash).into_iter();
        Told {
            headline: said(headline(sash)),
            frees: frees(sash).map(said),
            keys: keys(sash, usize::MAX)
                .into_iter()
                .map(|(key, words)| (key, said(words)))
                .collect(),
            checks: checks.filter_map(|check| Some((check.name, said(check.brief?)))).collect(),
            minds: minds(&sash.findings).into_iter().map(|(_, words)| said(words)).collect(),
        }
    }
}
