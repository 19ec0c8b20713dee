//! Which units a sash can take, which is the warmest, and what stops the next.
//!
//! Every candidate is judged by all rules. One that the wood or the fit stops is judged no further: no
//! later rule can free it, and its passes and programs would never be run. The programs of one that
//! fits are planned and judged; only `make` proves them, for the unit that the survey asks for.

use super::beyond::{Beyond, warm};
use super::change::next;
use super::work::Cut;
use crate::finding::{Finding, Verdict, gravest};
use crate::geometry::ShapeError;
use crate::glass::{self, CANDIDATES, Properties};
use crate::report::{Candidate, Choice};
use crate::sash::Sash;
use crate::survey::{self, BuildUp, Offered, Unit, Workshop, thickness_tolerance};
use std::cmp::Ordering;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Thickness is told to this step, mm.
const STEP: f64 = 0.1;

/// Thinnest and thickest unit tried, in steps.
const TRIED: (u32, u32) = (60, 600);

/// Judges units in one sash, and remembers the cuts: units that are alike but for gas, coat and glass
/// ask for the same.
pub(super) struct Trial<'a> {
    workshop: &'a Workshop,
    cuts: BTreeMap<[u64; 6], Rc<Cut>>,
}

impl<'a> Trial<'a> {
    pub(super) fn new(workshop: &'a Workshop) -> Trial<'a> {
        Trial { workshop, cuts: BTreeMap::new() }
    }

    /// Everything of a unit that the wood feels.
    fn cut(&mut self, sash: &Sash) -> Result<Rc<Cut>, ShapeError> {
        let unit = &sash.measured.unit;
        let shaped = if unit.shape == survey::UnitShape::Shaped { 1.0 } else { 0.0 };
        let key = [
            glass::thickest(unit),
            unit.cover,
            unit.spacer_height,
            unit.tape,
            unit.internal_bar,
            shaped,
        ]
        .map(f64::to_bits);
        if let Some(known) = self.cuts.get(&key) {
            return Ok(Rc::clone(known));
        }
        let cut = Rc::new(Cut::new(sash, self.workshop)?);
        self.cuts.insert(key, Rc::clone(&cut));
        Ok(cut)
    }

    /// The first stop of `measured` with its own unit.
    pub(super) fn stop(&mut self, measured: &survey::Sash) -> Result<Option<Finding>, ShapeError> {
        let sash = Sash::new(measured)?;
        let stops = |found: &&Finding| found.verdict == Verdict::Stop;
        Ok(self.cut(&sash)?.findings().find(stops).cloned())
    }

    /// Judges `measured` with its own unit.
    pub(super) fn judge(&mut self, measured: &survey::Sash) -> Result<Candidate, ShapeError> {
        let sash = Sash::new(measured)?;
        let cut = self.cut(&sash)?;
        let unit = &measured.unit;
        let mut findings: Vec<Finding> = cut.findings().cloned().collect();
        findings.extend(glass::judge(unit));
        // Of a stopped cut there is no rebate to weigh.
        if let Some(planned) = &cut.planned {
            let beyond = Beyond::new(&sash, &cut.fit, &planned.rebate, &cut.timber, self.workshop);
            findings.extend(beyond.findings().cloned());
        }
        findings.retain(|finding| finding.verdict != Verdict::Clear);
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
        let warmth = warm(&sash);
        let weights =
            cut.fit.units.iter().map(|fit| glass::weight_of(&unit.build_up, fit.glass_area()));
        Ok(Candidate {
            build_up: unit.build_up.to_string(),
            make: Properties::of(&unit.make).words(),
            surveyed: false,
            thickness: unit.build_up.thickness(),
            rebate_depth: cut.fit.depth,
            verdict: gravest(&findings),
            glass_u: warmth.as_ref().map(|warmth| warmth.after.glass_u),
            whole_u: warmth.as_ref().map(|warmth| warmth.after.whole_u),
            saved: warmth.as_ref().and_then(|warmth| warmth.saved),
            weight: weights.sum(),
            findings,
        })
    }
}

/// Tries every unit of the lists, ranks them, and finds the thickest unit of any make-up.
pub(super) fn choose(measured: &survey::Sash, workshop: &Workshop) -> Result<Choice, ShapeError> {
    let mut trial = Trial::new(workshop);
    let mut tried: Vec<(survey::Sash, Candidate)> = Vec::new();
    for (surveyed, sash) in units(measured, workshop) {
        let candidate = Candidate { surveyed, ..trial.judge(&sash)? };
        tried.push((sash, candidate));
    }
    tried.sort_by(|(_, a), (_, b)| rank(a, b));
    let next = next(&tried, workshop)?;
    let fits = |candidate: &&Candidate| candidate.verdict != Verdict::Stop;
    let candidates: Vec<Candidate> = tried.into_iter().map(|(_, candidate)| candidate).collect();
    let thickest_listed = candidates
        .iter()
        .filter(fits)
        .max_by(|a, b| a.thickness.total_cmp(&b.thickness))
        .map(|found| found.build_up.clone());
    let best = candidates.iter().find(fits).filter(|found| found.whole_u.is_some()).cloned();
    let best = best.map(|found| format!("{}, {}", found.build_up, found.make));
    let (thickest, stopped_by) = thickest(measured, &mut trial)?;
    Ok(Choice { candidates, best, next, thickest_listed, thickest, stopped_by })
}

/// The unit that the survey asks for, then those of the lists; the first says whether it is that one.
fn units(measured: &survey::Sash, workshop: &Workshop) -> Vec<(bool, survey::Sash)> {
    let usual = CANDIDATES.iter().filter(|_| workshop.candidates.usual);
    let usual = usual.filter_map(glass::Candidate::offered);
    let offered = workshop.candidates.units.iter().cloned().chain(usual);
    let mut all = vec![(true, measured.clone())];
    for offered in offered {
        let sash = with(measured, &offered);
        // What is listed twice is tried once.
        if !all.iter().any(|(_, known)| known.unit == sash.unit) {
            all.push((false, sash));
        }
    }
    all
}

/// `measured` with a unit of that make. What the offer leaves open is as in the survey, but for the
/// thickness that it may come over, which goes with its build-up.
fn with(measured: &survey::Sash, offered: &Offered) -> survey::Sash {
    let own = &measured.unit;
    let usual = thickness_tolerance(&offered.build_up, &offered.make).over;
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
    measured: &survey::Sash,
    trial: &mut Trial<'_>,
) -> Result<(Option<f64>, Option<Finding>), ShapeError> {
    let mut stop = |steps: u32| {
        let mut tried = measured.clone();
        tried.unit.build_up = BuildUp::Bare(f64::from(steps) * STEP);
        trial.stop(&tried)
    };
    let (mut fits, mut stopped) = TRIED;
    if let Some(finding) = stop(fits)? {
        return Ok((None, Some(finding)));
    }
    let Some(mut why) = stop(stopped)? else {
        return Ok((Some(f64::from(stopped) * STEP), None));
    };
    while stopped - fits > 1 {
        let middle = u32::midpoint(fits, stopped);
        match stop(middle)? {
            Some(finding) => (stopped, why) = (middle, finding),
            None => fits = middle,
        }
    }
    Ok((Some(f64::from(fits) * STEP), Some(why)))
}
