//! The answer in plain text: the house first, then each sash; for a terminal.

mod full;
pub(super) mod house;
pub(super) mod sash;

use super::found;
use super::kit::{Voice, fixed, tell};
use super::lines::Lines;
use super::margins;
use crate::finding::Finding;
use crate::language::Text;
use crate::prove::Proof;
use crate::report::{CannotBeCut, HouseReport, Report, SashReport};

pub use super::lines::WIDTH;
pub use house::{in_short, line, line_of_none};

/// How much is said of each sash.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Detail {
    /// At most twenty lines: what to order, to cut and to mind.
    Short,
    /// Everything, with every unit that was tried.
    Full,
    /// At the window, before there is a file: whether, and which units.
    OnSite,
}

/// Which units each sash can take and why not the others, in plain text; British, and in millimetres alone.
pub fn answer(report: &Report, detail: Detail) -> String {
    let house = in_short(report);
    let plain = (WIDTH, Voice::plain());
    let sashes = report.sashes.iter().map(|sash| of_sash(sash, detail, plain));
    let none = report.cannot_be_cut.iter().map(|none| of_none(none, plain));
    let sashes: String = sashes.chain(none).collect();
    head(&house, plain) + &sashes + &foot(&house, detail, plain)
}

/// What is said before the sashes: the house as a whole, in lines of so many columns.
pub fn head(house: &HouseReport, (width, voice): (usize, Voice)) -> String {
    let mut out = Lines::new(width, voice);
    house::head(&mut out, house);
    out.text
}

/// What is said of a sash.
pub fn of_sash(sash: &SashReport, detail: Detail, (width, voice): (usize, Voice)) -> String {
    let mut out = Lines::new(width, voice);
    out.gap();
    sash::block(&mut out, sash, detail);
    if detail == Detail::Full {
        full::details(&mut out, sash);
    }
    out.text
}

/// What is said of a sash for which no cut could be worked out.
pub fn of_none(sash: &CannotBeCut, (width, voice): (usize, Voice)) -> String {
    let mut out = Lines::new(width, voice);
    out.gap();
    out.line(&tell!(voice, "none-answer", sash = sash.id, kind = voice.named(sash.kind)));
    for (_, mind) in sash::minds(&sash.findings, voice) {
        out.wrapped("  ", "  ", &mind);
    }
    out.text
}

/// What is other than in the run before.
pub fn since_last_run(changes: &[Text], (width, voice): (usize, Voice)) -> String {
    let mut out = Lines::new(width, voice);
    if !changes.is_empty() {
        out.gap();
        out.line(&voice.word("summary-since"));
    }
    for change in changes {
        out.wrapped("  ", "    ", &voice.say(change));
    }
    out.text
}

/// What is said after the sashes.
pub fn foot(house: &HouseReport, detail: Detail, (width, voice): (usize, Voice)) -> String {
    let mut out = Lines::new(width, voice);
    out.gap();
    if detail == Detail::OnSite {
        out.wrapped("", "", &tell!(voice, "summary-to-be-sure", first = voice.word("ask-first")));
        return out.text;
    }
    out.line(&voice.word("workshop-cautions"));
    for caution in &house.cautions {
        out.wrapped("- ", "  ", &caution.told);
    }
    out.text
}

/// The outcome of a proof, in plain text.
pub fn proof(proof: &Proof, (width, voice): (usize, Voice)) -> String {
    let mut out = Lines::new(width, voice);
    for program in &proof.programs {
        out.line(&voice.said(&tell!(
            voice,
            "proof-program",
            name = program.name,
            lines = program.lines,
            moves = program.moves,
            minutes = format!("{:.0}", program.minutes),
            depth = format!("{:.2}", -program.lowest)
        )));
    }
    let beside = |key: &str| format!("{:<8}", voice.word(key));
    for taken in &proof.assumed {
        out.wrapped(&beside("proof-taken"), "        ", &voice.say(taken));
    }
    for fault in proof.faults.iter().chain(&proof.cautions) {
        let Finding { place, verdict, measured, .. } = &fault.finding;
        let advice = found::advice(&fault.finding, voice);
        let more = match fault.count {
            0 | 1 => String::new(),
            count => tell!(voice, "proof-such", count),
        };
        // A word is no figure.
        let figures = if measured.unit.is_empty() {
            String::new()
        } else {
            let [measured, limit] = fault.finding.figures().map(|figure| voice.named(&figure));
            tell!(voice, "proof-limit", measured, limit)
        };
        let told = [figures, more].into_iter().filter(|part| !part.is_empty());
        let told = told.collect::<Vec<_>>().join("; ");
        let told = if told.is_empty() { told } else { format!(" ({told})") };
        let text = format!("{}: {}{told}", voice.say(place), advice);
        out.wrapped(&format!("{:<8}", voice.named(&verdict.to_string())), "        ", &text);
    }
    for corner in proof.chisel.iter().filter(|corner| corner.needed) {
        let [x, y] = corner.at.map(|at| fixed(at, 1));
        let words = tell!(
            voice,
            "proof-corner",
            light = voice.named(&corner.light),
            x,
            y,
            diagonal = format!("{:.1}", corner.expected_diagonal)
        );
        out.wrapped(&beside("proof-chisel"), "        ", &words);
    }
    for sentence in margins::sentences(&proof.margins, voice) {
        out.wrapped(&beside("proof-margin"), "        ", &sentence);
    }
    out.line(&voice.word(match (proof.is_proven(), proof.swept) {
        (true, _) => "proof-proven",
        (false, true) => "proof-not-proven",
        (false, false) => "proof-not-tried",
    }));
    out.text
}
