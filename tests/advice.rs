//! Advice that names a value, followed: the reader takes the value, and the finding is gone.

use crate::support::chance::Deck;
use crate::support::houses::{self, DECK, deck};
use crate::support::runs::for_all;
use crate::support::shapes;
use crate::support::writer::{self, Lengths};
use fillister::finding::{Finding, Verdict};
use fillister::job::Work;
use fillister::survey::{self, BuildUp, Cutter, House, Sash, Workshop};
use proptest::prelude::*;
use std::cell::RefCell;
use std::collections::BTreeMap;

/// The number that stands right behind `before` in a text.
fn behind(text: &str, before: &str) -> Option<f64> {
    let rest = text.split_once(before)?.1;
    let digits = rest.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(rest.len());
    rest.get(..digits)?.trim_end_matches('.').parse().ok()
}

/// The number before `after` in a text.
fn before(text: &str, after: &str) -> Option<f64> {
    text.split_once(after)?.0.rsplit(' ').next()?.parse().ok()
}

/// A cutter of that diameter, its shank as thick at the most.
fn thinner(cutter: &mut Cutter, most: f64) {
    cutter.diameter = most;
    cutter.shank_diameter = cutter.shank_diameter.min(most);
}

/// What the finding advises, done to the sash; none where it names no value.
fn followed(finding: &Finding, sash: &Sash, workshop: &Workshop) -> Vec<(Sash, Workshop)> {
    let advice = &finding.advised().to_lowercase();
    let mut ways = Vec::new();
    let mut way = |change: &dyn Fn(&mut Sash, &mut Workshop)| {
        let (mut sash, mut workshop) = (sash.clone(), workshop.clone());
        change(&mut sash, &mut workshop);
        ways.push((sash, workshop));
    };
    match finding.rule {
        "fit.spacer-shows" => {
            if let Some(height) = behind(advice, "setting blocks ") {
                way(&|sash, _| sash.block_height = height);
            }
            if let Some(cover) = behind(advice, "order with ") {
                way(&|sash, _| sash.unit.cover = cover);
            }
            if let Some(lower) = before(advice, " mm lower") {
                let height = behind(advice, "on setting blocks ").unwrap_or(sash.block_height);
                way(&|sash, _| {
                    sash.unit.spacer_height -= lower;
                    sash.block_height = height;
                });
            }
        }
        "fit.blocks" => {
            if let Some(height) = behind(advice, "setting blocks at least ") {
                way(&|sash, _| {
                    sash.block_height = height;
                    sash.clearance.bottom = sash.clearance.bottom.max(height);
                });
            }
        }
        "fit.corner" | "machine.entry" | "machine.shape" => {
            let most = behind(advice, "a cutter of at most ");
            if let Some(most) = most.or_else(|| behind(advice, "a cutter of ")) {
                way(&|_, workshop| {
                    thinner(&mut workshop.cutter, most);
                    // One for the corners that is no thinner any more has no work left.
                    workshop.machine.corner_cutter.take_if(|cutter| cutter.diameter >= most);
                });
            }
            if let Some(most) = behind(advice, "use one of at most ") {
                way(&|_, workshop| {
                    workshop.machine.corner_cutter.iter_mut().for_each(|own| thinner(own, most));
                });
            }
        }
        "passes.cutter-length" => {
            if let Some(long) = behind(advice, "whose edges are at least ") {
                way(&|_, workshop| workshop.cutter.cutting_length = long);
            }
        }
        "timber.front" | "timber.bar" | "timber.tenon" => {
            if let Some(lower) = behind(advice, "a bead ").or_else(|| behind(advice, "face putty "))
            {
                way(&|sash, _| sash.finish.bead -= lower);
            }
            if let Some(proud) = behind(advice, "one that stands ") {
                way(&|sash, _| sash.finish.proud += proud);
            }
            if let Some(thinner) = behind(advice, "a unit ") {
                let thickness = sash.unit.build_up.thickness() - thinner;
                way(&|sash, _| {
                    // As much may come thicker as before: what a bare thickness is taken for may be more.
                    sash.unit.build_up = BuildUp::Bare(thickness);
                });
            }
        }
        "passes.finish" => {
            if let Some(most) = behind(advice, "leave at most ") {
                way(&|_, workshop| workshop.cutting.finish_allowance = most);
            }
        }
        "hand.reach" => {
            if let Some(least) = behind(advice, "stand at least ") {
                way(&|_, workshop| {
                    if let Some(holder) = &mut workshop.cutter.holder {
                        holder.stick_out = least;
                    }
                });
            }
        }
        "timber.screw" => {
            if let Some(longest) = behind(advice, "a screw of at most ") {
                way(&|sash, _| {
                    for screw in &mut sash.screws {
                        if finding.place.to_string().ends_with(&format!("at {:.0} mm", screw.at)) {
                            screw.length = longest;
                        }
                    }
                });
            }
        }
        _ => {}
    }
    ways
}

/// Whether the reader takes the sash as it was written down.
fn is_taken(sash: &Sash, workshop: &Workshop) -> bool {
    let house = House {
        name: "Tern House".into(),
        workshop: workshop.clone(),
        sashes: vec![sash.clone()],
        doubts: Vec::new(),
    };
    survey::read(&writer::write(&house, Lengths::Millimetres), "followed").is_ok()
}

fn same_place(a: &Finding, b: &Finding) -> bool {
    a.rule == b.rule && a.place == b.place
}

#[test]
fn advice_with_a_value_is_taken_by_the_reader_and_lifts_the_finding() {
    let counted: RefCell<BTreeMap<&str, usize>> = RefCell::default();
    let sashes = (houses::house(), deck(DECK)).prop_map(|(mut house, deck)| {
        let deck = &mut Deck::new(deck);
        if deck.chance(0.2) {
            shapes::reshape(&mut house.sashes[0], deck);
        }
        house
    });
    for_all(40, &sashes, |house| {
        for sash in &house.sashes {
            let Ok(work) = Work::new(sash, &house.workshop) else { continue };
            if !is_taken(sash, &house.workshop) {
                continue;
            }
            for finding in work.findings().iter().filter(|f| f.verdict != Verdict::Clear) {
                for (changed, workshop) in followed(finding, sash, &house.workshop) {
                    *counted.borrow_mut().entry(finding.rule).or_default() += 1;
                    prop_assert!(is_taken(&changed, &workshop), "not taken: {finding:?}");
                    let again = Work::new(&changed, &workshop);
                    prop_assert!(again.is_ok(), "cannot be worked: {finding:?}");
                    let found = again.unwrap().findings();
                    let still = found.iter().find(|other| same_place(finding, other));
                    // A caution may be left where a stop was, but no breach of the bound that was named.
                    let milder = |still: &Finding| {
                        finding.rule == "timber.screw" && still.limit.value > finding.limit.value
                    };
                    let lifted =
                        still.is_none_or(|still| still.verdict < finding.verdict || milder(still));
                    prop_assert!(lifted, "followed, and still there:\n{finding:?}\n{still:?}");
                }
            }
        }
        Ok(())
    });
    let counted = counted.into_inner();
    eprintln!("advice followed: {counted:?}");
    for rule in
        ["fit.spacer-shows", "fit.corner", "passes.cutter-length", "timber.front", "timber.screw"]
    {
        assert!(counted.get(rule).is_some_and(|count| *count > 0), "{rule}: {counted:?}");
    }
}
