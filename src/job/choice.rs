//! Which units a sash can take, which is the warmest, and what stops the next.
//!
//! Every candidate is judged by all rules. One that the wood or the fit stops is judged no further: no
//! later rule can free it, and its passes and programs would never be run. The programs of one that
//! fits are planned and judged; only `make` proves them, for the unit that the survey asks for.

use super::cannot_be_cut::cannot_be_cut;
use super::change::next;
use super::error::WorkError;
use super::trial::{Trial, Views, candidate, stops};
use super::work::Work;
use crate::finding::{Finding, Verdict};
use crate::fit;
use crate::glass::{self, CANDIDATES, Properties};
use crate::report::{Candidate, Choice};
use crate::survey::{self, BuildUp, Offered, Unit, Workshop, thickness_tolerance};
use crate::warmth::{self, Losses};
use rayon::prelude::*;
use std::cmp::Ordering;

/// Thickness is tried in steps of this, mm.
const STEP: f64 = 0.1;

/// Thinnest and thickest unit tried, in steps.
const TRIED: (u32, u32) = (60, 600);

/// The unit that the survey asks for as a candidate, from what was worked out for it.
fn surveyed(work: &Work) -> Candidate {
    let stopped = work.wood_findings().any(stops);
    let findings: Vec<&Finding> = if stopped {
        work.wood_findings().chain(&work.unit_findings).collect()
    } else {
        work.wood_findings().chain(work.other_findings()).collect()
    };
    let warmth = work.building.warmth.as_ref();
    let found =
        candidate((&work.sash, &work.fit, &work.timber), findings.into_iter().cloned(), warmth);
    Candidate { surveyed: true, ..found }
}

/// How much is worked out of each unit that fits.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Known {
    /// What an answer tells.
    Answer,
    /// And how cold the edge of its glass gets, which takes a section of its own.
    Edge,
}

/// Tries every unit of the lists in the sash of `work`, ranks them, and finds the thickest unit of any make-up.
pub(super) fn choose(
    views: &Views,
    work: &Work,
    workshop: &Workshop,
    asked: Known,
) -> Result<Choice, WorkError> {
    let measured = &work.sash.measured;
    let own = work.building.warmth.as_ref();
    let known = own.zip(warmth::Choice::of(&work.sash));
    let losses = known.map_or(Losses::Tables, |(warmth, choice)| warmth.losses(&choice));
    let edge = |trial: &Trial<'_>, found: Candidate| {
        let fits = asked == Known::Edge && found.verdict != Verdict::Stop;
        let own = own.filter(|_| fits);
        let edge_dry_down_to =
            own.and_then(|own| warmth::edge_dry_down_to(&trial.sash, &trial.fit, own));
        Candidate { edge_dry_down_to, ..found }
    };
    let others = others(measured, workshop).into_par_iter().map(|sash| {
        let trial = Trial::new(views, &sash, workshop).map_err(WorkError::from);
        let found = trial.and_then(|trial| Ok(edge(&trial, trial.candidate(&losses)?)));
        // A cover of its own may not go round here: that stops the unit, and not the sash.
        let found = found.unwrap_or_else(|error| stopped(&sash, &error));
        (sash, found)
    });
    let mut tried = vec![(measured.clone(), surveyed(work))];
    tried.par_extend(others);
    tried.sort_by(|(_, a), (_, b)| rank(a, b));
    let next = next(views, &tried, workshop);
    let fits = |candidate: &&Candidate| candidate.verdict != Verdict::Stop;
    let candidates: Vec<Candidate> = tried.into_iter().map(|(_, candidate)| candidate).collect();
    let thickest_listed = candidates
        .iter()
        .filter(fits)
        .max_by(|a, b| a.thickness.total_cmp(&b.thickness))
        .map(|found| found.build_up.clone());
    let best = candidates.iter().find(fits).filter(|found| found.whole_u.is_some()).cloned();
    let best = best.map(|found| format!("{}, {}", found.build_up, found.make));
    let (thickest, stopped_by) = thickest(views, measured, workshop)?;
    Ok(Choice { candidates, best, next, thickest_listed, thickest, stopped_by })
}

/// A unit for which no cut could be worked out, and why.
fn stopped(measured: &survey::Sash, error: &WorkError) -> Candidate {
    let unit = &measured.unit;
    Candidate {
        build_up: unit.build_up.to_string(),
        make: Properties::of(&unit.make).words(),
        surveyed: false,
        thickness: unit.build_up.thickness(),
        rebate_depth: fit::rebate_depth(measured),
        glass_u: None,
        whole_u: None,
        table_u: None,
        saved: None,
        edge_dry_down_to: None,
        verdict: Verdict::Stop,
        left: None,
        weight: None,
        findings: cannot_be_cut(measured, error).findings,
    }
}

/// The units of the lists, but for the one that the survey asks for.
fn others(measured: &survey::Sash, workshop: &Workshop) -> Vec<survey::Sash> {
    let usual = CANDIDATES.iter().filter(|_| workshop.candidates.usual);
    let usual = usual.filter_map(glass::Candidate::offered);
    let mut all: Vec<survey::Sash> = Vec::new();
    for offered in workshop.candidates.units.iter().cloned().chain(usual) {
        let sash = with(measured, &offered);
        // What is listed twice is tried once.
        if ![measured].into_iter().chain(&all).any(|known| known.unit == sash.unit) {
            all.push(sash);
        }
    }
    all
}

/// `measured` with a unit of that make. What the offer leaves open is as in the survey, but for the
/// thickness that it may come over, which goes with its build-up.
fn with(measured: &survey::Sash, offered: &Offered) -> survey::Sash {
    let own = &measured.unit;
    let usual = thickness_tolerance(&offered.build_up, &offered.make);
    let cover = offered.cover.unwrap_or(own.cover);
    let mut tried = measured.clone();
    tried.unit = Unit {
        build_up: offered.build_up.clone(),
        make: offered.make,
        cover,
        spacer_height: offered.spacer_height.unwrap_or(own.spacer_height),
        over: offered.over.unwrap_or(usual),
        ..own.clone()
    };
    tried
}

/// Those that fit first, the warmest sash first, the thinner of equals.
fn rank(a: &Candidate, b: &Candidate) -> Ordering {
    let stopped = |one: &Candidate| one.verdict == Verdict::Stop;
    let u = |one: &Candidate| one.whole_u.unwrap_or(f64::INFINITY);
    let ways = stopped(a).cmp(&stopped(b)).then(u(a).total_cmp(&u(b)));
    ways.then(a.thickness.total_cmp(&b.thickness)).then(a.make.cmp(&b.make))
}

/// Halves the range of thickness: a thicker unit never leaves more wood, so what stops one stops
/// every thicker one.
fn thickest(
    views: &Views,
    measured: &survey::Sash,
    workshop: &Workshop,
) -> Result<(Option<f64>, Option<Finding>), WorkError> {
    let thickness = |steps: u32| f64::from(steps) * STEP;
    let trial = |steps: u32| bare(views, measured, workshop, thickness(steps));
    let (mut fits, mut stopped) = TRIED;
    if let Some(finding) = trial(fits)?.first_stop() {
        return Ok((None, Some(finding)));
    }
    if !trial(stopped)?.is_stopped() {
        return Ok((Some(thickness(stopped)), None));
    }
    while stopped - fits > 1 {
        let middle = u32::midpoint(fits, stopped);
        if trial(middle)?.is_stopped() {
            stopped = middle;
        } else {
            fits = middle;
        }
    }
    Ok((Some(thickness(fits)), trial(stopped)?.first_stop()))
}

/// A unit of which only the thickness is known, mm.
fn bare<'a>(
    views: &Views,
    measured: &survey::Sash,
    workshop: &'a Workshop,
    thickness: f64,
) -> Result<Trial<'a>, WorkError> {
    let unit = Unit { build_up: BuildUp::Bare(thickness), ..measured.unit.clone() };
    Ok(Trial::new(views, &survey::Sash { unit, ..measured.clone() }, workshop)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn example() -> survey::House {
        let text = include_str!("../../examples/samphire-cottage.toml");
        survey::read(text, "samphire-cottage.toml").unwrap()
    }

    // Halving rests on this: what stops a unit stops every thicker one. And the cheapest rules first say no
    // other than all rules in the order of the rooms.
    #[test]
    fn what_stops_a_unit_stops_every_thicker_one() {
        let house = example();
        for measured in &house.sashes {
            let views = Views::shared();
            let mut stopped = false;
            for steps in (TRIED.0..=TRIED.1).step_by(4) {
                let thickness = f64::from(steps) * STEP;
                let trial = bare(&views, measured, &house.workshop, thickness).unwrap();
                let is_stopped = trial.is_stopped();
                assert_eq!(is_stopped, trial.first_stop().is_some(), "{}", measured.id);
                assert!(is_stopped || !stopped, "{} at {thickness} mm", measured.id);
                stopped = is_stopped;
            }
        }
    }

    #[test]
    fn the_thickest_fits_and_a_tenth_more_is_stopped_by_what_is_named() {
        let house = example();
        let mut found = 0;
        for measured in &house.sashes {
            let views = Views::apart();
            let (fits, why) = thickest(&views, measured, &house.workshop).unwrap();
            let Some(fits) = fits else { continue };
            let at = |thickness| bare(&views, measured, &house.workshop, thickness).unwrap();
            assert!(!at(fits).is_stopped(), "{}", measured.id);
            assert_eq!(at(fits + STEP).first_stop(), why, "{}", measured.id);
            found += 1;
        }
        assert!(found > 5, "{found}");
    }
}
