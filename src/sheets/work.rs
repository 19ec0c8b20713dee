//! The order of work, whole for the router in the hand and whole for the machine.

use super::Subject;
use super::kit::Flow;
use crate::survey::{BarsAs, Kind};

/// What cuts the wood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum By {
    /// A router in the hand.
    Hand,
    /// A machine that runs the programs.
    Machine,
}

/// Says the steps under a heading.
pub(super) fn order(flow: &mut Flow, subject: &Subject<'_>, by: By) {
    let voice = flow.voice();
    flow.heading(&voice.word(match by {
        By::Hand => "step-heading-hand",
        By::Machine => "step-heading-machine",
    }));
    for (index, step) in steps(subject, by).into_iter().enumerate() {
        flow.entry(&format!("{}.", index + 1), &voice.word(step));
    }
}

/// Bracing, waiting times and what is tried in scrap are common practice, no source.
fn steps(subject: &Subject<'_>, by: By) -> Vec<&'static str> {
    let mut steps =
        vec!["step-check-units", "step-take-out", "step-strip", "step-metal", "step-joints"];
    steps.extend(match by {
        By::Hand => cut_by_hand(subject),
        By::Machine => {
            vec![
                "step-lay",
                "step-programs-in-scrap",
                "step-air-run",
                "step-programs",
                "step-chisel",
            ]
        }
    });
    // Coats and waiting times; the maker of the paint says what holds for it.
    steps.extend(match subject.materials.putty {
        Some(_) => ["step-prime-for-putty", "step-bed", "step-putty"],
        None => ["step-prime", "step-beads", "step-top-coat"],
    });
    steps.push(match subject.sash.measured.kind {
        Kind::SlidingUpper | Kind::SlidingLower => "step-hang-sliding",
        Kind::SideHung | Kind::TopHung => "step-hang",
        Kind::Fixed => "step-fix",
    });
    steps
}

fn cut_by_hand(subject: &Subject<'_>) -> Vec<&'static str> {
    let measured = &subject.sash.measured;
    let by_bush = subject.materials.by_bush;
    let lay = if by_bush { "step-lay-with-template" } else { "step-lay-with-straightedges" };
    let mut steps = vec![lay, "step-try-in-scrap", "step-score"];
    // Bars between units are rebated along with the frame.
    if measured.bars_as == BarsAs::OneUnit && !measured.bars.is_empty() {
        steps.push("step-lower-bars");
    }
    steps.extend(["step-widen", "step-deepen", "step-chisel"]);
    steps
}
