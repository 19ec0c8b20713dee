//! The unit that was ordered, laid into what the programs leave: a rebate that was planned too small is cut as
//! planned, and refused all the same.
//!
//! The mistakes are planted in the survey that the planner is given; the proof is told what the true survey
//! asks for. So nothing of the planner has to be altered.

use crate::shaped;
use crate::support::runs::{for_all, told};
use crate::support::{chance::Deck, houses, machinable, shapes};
use fillister::geometry::PerSide;
use fillister::job::{Work, setup};
use fillister::prove::{Program, Proof, Setup, prove};
use fillister::survey::{self, House, Sash, Workshop};
use proptest::prelude::*;
use std::cell::Cell;

const HOUSE: &str = include_str!("../examples/samphire-cottage.toml");

/// What was planned for one survey, held against what another one orders; none where no program is made.
fn proof(planned: &Sash, meant: &Sash, workshop: &Workshop) -> Option<(Work, Work, Proof)> {
    let [planned, meant] = [planned, meant].map(|sash| Work::new(sash, workshop).ok());
    let (planned, meant) = (planned?, meant?);
    let programs = &planned.programs.programs;
    if programs.is_empty() {
        return None;
    }
    let units = setup(&meant, workshop).unwrap().units;
    let setup = Setup { units, ..setup(&planned, workshop).unwrap() };
    let texts: Vec<String> = programs.iter().map(|program| program.text().unwrap()).collect();
    let named = programs.iter().zip(&texts);
    let listed =
        named.map(|(own, text)| Program { place: own.place, ..Program::new(&own.name, text) });
    let proof = prove(&listed.collect::<Vec<_>>(), &planned.rebate, &setup);
    Some((planned, meant, proof))
}

fn houses() -> [House; 2] {
    [survey::read(HOUSE, "samphire-cottage.toml").unwrap(), shaped::house()]
}

/// Bed and unit and bead, one on the other, are what is cut: a planner that leaves the bed out makes every
/// rebate so much too shallow.
#[test]
fn a_rebate_without_its_bed_is_refused_in_every_sash() {
    let mut seen = 0;
    for house in houses() {
        for meant in &house.sashes {
            let mut planned = meant.clone();
            planned.finish.bed = 0.0;
            let Some((.., proof)) = proof(&planned, meant, &house.workshop) else { continue };
            seen += 1;
            let found = proof.faults.iter().find(|fault| fault.finding.rule == "prove.fits");
            let found =
                &found.unwrap_or_else(|| panic!("{}: {:?}", meant.id, told(&proof))).finding;
            let short = found.limit.value - found.measured.value;
            let tolerance = house.workshop.cutting.tolerance;
            assert!((short - meant.finish.bed).abs() <= tolerance, "{}: {found:?}", meant.id);
            assert!(proof.fits.iter().all(|fits| !fits.goes_in), "{}", meant.id);
        }
    }
    assert!(seen >= 14, "{seen} sashes");
}

/// Clearances of side and bottom taken for each other: the unit on its blocks has no gap at the top.
#[test]
fn clearances_taken_for_each_other_are_refused() {
    let (mut seen, mut narrow) = (0, 0);
    for house in houses() {
        for meant in &house.sashes {
            let mut planned = meant.clone();
            let PerSide { left, bottom, .. } = meant.clearance;
            planned.clearance =
                PerSide { left: bottom, right: bottom, bottom: left, ..meant.clearance };
            let Some((made, right, proof)) = proof(&planned, meant, &house.workshop) else {
                continue;
            };
            seen += 1;
            // Beside a wide old rebate, and round a circle, nothing is lost: the wall lies out far enough.
            let walls = made.fit.units.iter().zip(&right.fit.units);
            let lost = walls.map(|(a, b)| a.wall().y0 - b.wall().y0).fold(0.0, f64::max);
            let found = proof.faults.iter().any(|fault| fault.finding.rule == "prove.fits");
            assert_eq!(found, lost > 0.1, "{}: {lost} {:?}", meant.id, told(&proof));
            narrow += u32::from(found);
        }
    }
    assert!(seen >= 14 && narrow >= 10, "{narrow} of {seen}");
}

/// As planned every unit goes in, with the depth that the survey adds up to; a bed of 1 mm less is seen.
#[test]
fn what_was_planned_right_goes_in_whatever_its_outline() {
    let [sound, shallow] = [(); 2].map(|()| Cell::new(0_u32));
    let house = (machinable::house(), houses::deck(houses::DECK)).prop_map(|(mut house, deck)| {
        let mut deck = Deck::new(deck);
        if deck.chance(0.6) {
            shapes::reshape(&mut house.sashes[0], &mut deck);
        }
        house
    });
    for_all(24, &house, |house| {
        let meant = &house.sashes[0];
        let Some((.., right)) = proof(meant, meant, &house.workshop) else { return Ok(()) };
        if !right.swept {
            return Ok(());
        }
        let goes_in = right.fits.iter().all(|fits| fits.goes_in);
        prop_assert!(goes_in, "{:?}", told(&right));
        sound.set(sound.get() + 1);
        let mut planned = meant.clone();
        planned.finish.bed -= 1.0;
        if planned.finish.bed < 0.0 {
            return Ok(());
        }
        let Some((.., wrong)) = proof(&planned, meant, &house.workshop) else { return Ok(()) };
        prop_assert!(
            !wrong.swept || wrong.fits.iter().all(|fits| !fits.goes_in),
            "{:?}",
            wrong.fits
        );
        shallow.set(shallow.get() + 1);
        Ok(())
    });
    assert!(sound.get() >= 8 && shallow.get() >= 4, "{sound:?} {shallow:?}");
}
