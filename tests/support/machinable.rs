//! Random small sashes that no setting stops: limits are opened wide, metal is drawn, no screw is in
//! the way, and the cutter is long enough. What stops one of these is geometry alone.

use super::chance::Deck;
use super::houses::{DECK, deck, draw_sash_within, draw_workshop};
use fillister::glass;
use fillister::survey::{House, Limit, Limits, Moulding, Workshop};
use proptest::prelude::*;

/// A house of one machinable sash.
pub(crate) fn house() -> impl Strategy<Value = House> {
    deck(DECK + 100).prop_map(|deck| draw(&mut Deck::new(deck)))
}

fn draw(deck: &mut Deck) -> House {
    let mut workshop = draw_workshop(deck);
    let mut sash = draw_sash_within(deck, 1, (50.0, 260.0));
    open_limits(&mut workshop);
    for metal in &mut sash.metal {
        metal.cleared = true;
    }
    sash.screws.clear();
    if let Some(hinges) = &mut sash.around.hinges {
        hinges.cleared = true;
    }
    workshop.cutter.diameter = deck.between(3.0, 20.0);
    // Very fine tolerances and steps cost the proof much time and show nothing new.
    workshop.cutting.tolerance = deck.between(0.03, 0.15);
    workshop.cutting.side_step = deck.between(0.3, 0.95);
    workshop.cutting.step_depth = deck.between(1.5, 8.0);
    workshop.cutting.widen_step = deck.between(1.0, 5.0);
    let finish = sash.finish;
    let depth = finish.bed + glass::thickest(&sash.unit) + finish.bead - finish.proud;
    if deck.chance(0.5) {
        workshop.cutter.cutting_length = workshop.cutter.cutting_length.max(depth);
    } else {
        workshop.cutter.shank_diameter = workshop.cutter.diameter - 1.0;
    }
    let members = &mut sash.members;
    for member in [&mut members.left, &mut members.right, &mut members.bottom, &mut members.top] {
        thicken(&mut member.thickness, &member.moulding, depth.max(member.old.depth()));
    }
    for bar in &mut sash.bars {
        thicken(&mut bar.thickness, &bar.moulding, depth.max(bar.rebate_depth));
    }
    House { name: "Samphire Cottage".into(), workshop, sashes: vec![sash], doubts: Vec::new() }
}

/// Leaves wood between the deepest platform and the moulding.
fn thicken(thickness: &mut f64, moulding: &Moulding, platform: f64) {
    let moulded = match moulding {
        Moulding::Square => 0.0,
        Moulding::Chamfer { depth, .. }
        | Moulding::Ovolo { depth, .. }
        | Moulding::Ogee { depth, .. } => *depth,
        Moulding::Traced(points) => points.iter().map(|point| point.y).fold(0.0, f64::max),
    };
    *thickness = thickness.max(platform + moulded + 0.5);
}

/// No limit stops anything but what cannot be.
fn open_limits(workshop: &mut Workshop) {
    for &name in Limits::NAMES {
        let open = match name {
            "shows_stop" | "proud_stop" => 1000.0,
            _ => 0.0,
        };
        if name.ends_with("_stop") {
            *workshop.limits.by_name(name).unwrap() = Limit::set(open);
        }
    }
}
