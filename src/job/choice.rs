//! Which units a sash can take, and what stops the next.

use super::work::Work;
use crate::finding::{Finding, Verdict};
use crate::geometry::ShapeError;
use crate::glass::{self, CANDIDATES};
use crate::report::{Candidate, Choice};
use crate::survey::{self, BuildUp, Workshop};

/// Thickness is told to this step, mm.
const STEP: f64 = 0.1;

/// Thinnest and thickest unit tried, in steps.
const TRIED: (u32, u32) = (60, 600);

/// Tries every make-up of the list, and finds the thickest unit of any make-up.
pub(super) fn choose(measured: &survey::Sash, workshop: &Workshop) -> Result<Choice, ShapeError> {
    let candidates: Vec<Candidate> = CANDIDATES
        .iter()
        .filter_map(|candidate| candidate.build_up.parse().ok())
        .map(|build_up: BuildUp| candidate(measured, workshop, &build_up))
        .collect::<Result<_, _>>()?;
    let fits = |candidate: &&Candidate| candidate.verdict != Verdict::Stop;
    let thickest_listed = candidates.iter().rfind(fits).map(|found| found.build_up.clone());
    let (thickest, stopped_by) = thickest(measured, workshop)?;
    Ok(Choice { candidates, thickest_listed, thickest, stopped_by })
}

fn with(measured: &survey::Sash, build_up: BuildUp) -> survey::Sash {
    let mut tried = measured.clone();
    tried.unit.build_up = build_up;
    tried
}

fn candidate(
    measured: &survey::Sash,
    workshop: &Workshop,
    build_up: &BuildUp,
) -> Result<Candidate, ShapeError> {
    let work = Work::new(&with(measured, build_up.clone()), workshop)?;
    let weights = work.fit.units.iter().map(|unit| glass::weight_of(build_up, unit.glass_area()));
    let mut findings = work.findings();
    findings.retain(|finding| finding.verdict != Verdict::Clear);
    Ok(Candidate {
        build_up: build_up.to_string(),
        thickness: build_up.thickness(),
        verdict: work.verdict(),
        weight: weights.sum(),
        findings,
    })
}

/// The first stop of a unit that is so many steps thick.
fn stop(
    measured: &survey::Sash,
    workshop: &Workshop,
    steps: u32,
) -> Result<Option<Finding>, ShapeError> {
    let build_up = BuildUp::Bare(f64::from(steps) * STEP);
    let work = Work::new(&with(measured, build_up), workshop)?;
    Ok(work.findings().into_iter().find(|finding| finding.verdict == Verdict::Stop))
}

/// Halves the range of thickness: a thicker unit never leaves more wood, so what stops one stops
/// every thicker one.
fn thickest(
    measured: &survey::Sash,
    workshop: &Workshop,
) -> Result<(Option<f64>, Option<Finding>), ShapeError> {
    let (mut fits, mut stopped) = TRIED;
    if let Some(finding) = stop(measured, workshop, fits)? {
        return Ok((None, Some(finding)));
    }
    let Some(mut why) = stop(measured, workshop, stopped)? else {
        return Ok((Some(f64::from(stopped) * STEP), None));
    };
    while stopped - fits > 1 {
        let middle = u32::midpoint(fits, stopped);
        match stop(measured, workshop, middle)? {
            Some(finding) => (stopped, why) = (middle, finding),
            None => fits = middle,
        }
    }
    Ok((Some(f64::from(fits) * STEP), Some(why)))
}
