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
    pub keys: Vec<(String, String)>,
    /// Warmth, glass, weight and gaps in a line each.
    pub checks: Vec<(String, String)>,
    /// What to mind, most dangerous first.
    pub minds: Vec<String>,
}

impl Told {
    /// Of a sash, as `voice` says it.
    pub fn of(sash: &SashReport, voice: Voice) -> Told {
        let said = |words: String| voice.said(&words);
        let checks = building_checks::all(sash, voice).into_iter();
        let keys = keys(sash, usize::MAX, voice).into_iter();
        let minds = minds(&sash.findings, voice).into_iter();
        Told {
            headline: said(headline(sash, voice)),
            frees: frees(sash, voice).map(said),
            keys: keys.map(|(key, words)| (key, said(words))).collect(),
            checks: checks
                .filter_map(|check| Some((voice.word(check.of.key()), said(check.brief?))))
                .collect(),
            minds: minds.map(|(_, words)| said(words)).collect(),
        }
    }
}
