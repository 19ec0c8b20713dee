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
    flow.heading(match by {
        By::Hand => "Order of work by hand",
        By::Machine => "Order of work with the machine",
    });
    for (index, step) in steps(subject, by).iter().enumerate() {
        flow.entry(&format!("{}.", index + 1), step);
    }
}

/// Bracing, waiting times and what is tried in scrap are common practice, no source.
fn steps(subject: &Subject<'_>, by: By) -> Vec<String> {
    let mut steps: Vec<String> = [
        "Check the units on delivery: size, thickness, coated face, edges. Cut no wood before they are there.",
        "Take the sash out. Note which way up and which hand it was, and weigh it.",
        "Have old putty and paint tested. Take out glass and putty; keep good old glass.",
        "Draw sprigs, pins and nails, go along the wood with a magnet, and mark what stays.",
        "Look at joints and wood, prick with an awl. Glue and pin open joints. Measure again what these sheets ask for.",
    ]
    .map(str::to_owned)
    .to_vec();
    steps.extend(match by {
        By::Hand => cut_by_hand(subject),
        By::Machine => cut_by_machine(),
    });
    steps.extend(glazed(subject).map(str::to_owned));
    steps.push(hung(subject.sash.measured.kind).to_owned());
    steps
}

fn cut_by_hand(subject: &Subject<'_>) -> Vec<String> {
    let measured = &subject.sash.measured;
    let guide = if subject.materials.by_bush { "template" } else { "straightedges" };
    let mut steps = vec![
        format!(
            "Lay the sash face up on a flat board, square by its diagonals; brace it, put up the boards, fix the {guide}."
        ),
        "Set the depth stop, and cut the first and the last pass in scrap.".to_owned(),
        "Score the new wall, so that the grain cannot tear past it.".to_owned(),
    ];
    // Bars between units are rebated along with the frame.
    if measured.bars_as == BarsAs::OneUnit && !measured.bars.is_empty() {
        steps.push(
            "Lower the bars in front of the unit, with boards in the lights on both sides of them."
                .to_owned(),
        );
    }
    steps.extend(
        [
            "Widen in steps at the old depth. Take the boards out and try the unit, or a board of its size; put them back.",
            "Deepen in steps to the new platform. Look at the wood after each pass.",
            "Chisel the corners that are listed, and clean the platform.",
        ]
        .map(str::to_owned),
    );
    steps
}

fn cut_by_machine() -> Vec<String> {
    [
        "Lay the sash face up, square by its diagonals, and hold it down as drawn. No board in the openings.",
        "Run the programs in scrap first, as told below.",
        "Set zero as told below. Run the air run and watch it.",
        "Run the programs in their order, and look at the wood after each. Try the unit before you go deeper.",
        "Chisel the corners that are listed, and clean the platform.",
    ]
    .map(str::to_owned)
    .to_vec()
}

/// Coats and waiting times; the maker of the paint says what holds for it.
fn glazed(subject: &Subject<'_>) -> [&'static str; 3] {
    if subject.materials.putty.is_some() {
        [
            "Prime all fresh wood twice, 12 hours apart, corners too: dry wood would draw the oil out of the putty.",
            "Bed the unit on its blocks, fill the gap, drive the sprigs. Let the sealant set overnight at the least.",
            "Put on the face putty and leave the sash flat for a week at the soonest, until the putty has a skin. Then \
             undercoat and top coat, 2 mm onto the glass.",
        ]
    } else {
        [
            "Prime all fresh wood twice, 12 hours apart, corners and backs of beads too. Sand, undercoat, sand fine.",
            "Set the unit on its blocks and the beads in their order; clamp overnight where bonded; let the sealant set.",
            "Top coat, 2 mm over the sealant onto the glass.",
        ]
    }
}

fn hung(kind: Kind) -> &'static str {
    match kind {
        Kind::SlidingUpper | Kind::SlidingLower => {
            "Weigh the sash again, match the weights to it, hang it, and see that it stays where it is let go."
        }
        Kind::SideHung | Kind::TopHung => {
            "Weigh the sash again, hang it on hinges that bear it, and see that it swings clear and shuts."
        }
        Kind::Fixed => "Weigh the sash again, and fix it with its gaps even all round.",
    }
}
