//! What is answered to the questions that a sash is asked: every sentence about wood, order and cutting comes from
//! the one judgement of the report.

use crate::finding::{Answers, Finding, Question, Verdict};
use crate::report::SashReport;

/// The answer in a few words.
pub(super) fn answer(answers: Answers) -> &'static str {
    let Answers { wood, order, cut, programs } = answers;
    match wood.max(order).max(cut).max(programs) {
        Verdict::Clear => "yes, there is enough wood",
        Verdict::Caution => "yes, with care",
        Verdict::Stop if wood == Verdict::Stop => "no, too little wood would be left",
        Verdict::Stop if order == Verdict::Stop => "no, not this unit; the wood itself is enough",
        Verdict::Stop if cut == Verdict::Stop => {
            "there is enough wood, but it cannot be cut as things stand"
        }
        Verdict::Stop => {
            "there is enough wood, but the programs cannot be run as the machine is set up"
        }
    }
}

/// How the line of a unit begins.
pub(super) fn ordering(answers: Answers) -> &'static str {
    if answers.may_be_ordered() { "Order" } else { "Do not order yet" }
}

/// Where the unit may be ordered and something still keeps it from being cut: what would free it.
pub(super) fn frees(report: &SashReport) -> Option<String> {
    let answers = report.answers;
    let (question, words) = if !answers.may_be_ordered() {
        return None;
    } else if answers.cut == Verdict::Stop {
        (Question::Cut, "Neither template nor programs yet")
    } else if answers.programs == Verdict::Stop {
        (Question::Programs, "No programs yet; the template is there")
    } else {
        return None;
    };
    let stops =
        |finding: &&Finding| finding.question() == question && finding.verdict == Verdict::Stop;
    let Finding { place, advice, .. } = report.findings.iter().find(stops)?;
    Some(format!("{words}. {place}: {advice}"))
}
