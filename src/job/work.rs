//! One sash through the rooms, up to its programs.

use super::building::BuildingChecks;
use super::error::WorkError;
use super::trial::{Cut, Trial, Views};
use crate::finding::{Finding, Verdict, gravest, gravest_first};
use crate::fit::Fit;
use crate::glass;
use crate::machine::Programs;
use crate::materials::{self, Materials};
use crate::passes::Plan;
use crate::rebate::Rebate;
use crate::sash::Sash;
use crate::survey::{self, Workshop};
use crate::timber::Timber;
use crate::warmth::{self, Losses, Sections};

/// A sash and everything worked out for it.
#[derive(Debug, Clone)]
pub struct Work {
    /// The sash in place.
    pub sash: Sash,
    /// Where its units sit.
    pub fit: Fit,
    /// Its wood, divided.
    pub rebate: Rebate,
    /// What is left.
    pub timber: Timber,
    /// The passes.
    pub plan: Plan,
    /// What it wants besides glass.
    pub materials: Materials,
    /// The programs, not yet proven.
    pub programs: Programs,
    /// What a router in the hand can do.
    pub hand_findings: Vec<Finding>,
    /// What is unusual about the unit.
    pub unit_findings: Vec<Finding>,
    /// Warmth, strength, weight, gaps, duty.
    pub building: BuildingChecks,
}

impl Work {
    /// Takes one sash through the rooms.
    ///
    /// # Errors
    /// As [`WorkError`] tells.
    pub fn new(measured: &survey::Sash, workshop: &Workshop) -> Result<Work, WorkError> {
        Work::within(&Views::shared(), measured, workshop)
    }

    /// The same, with what is seen from above kept for trials of other units.
    pub(super) fn within(
        views: &Views,
        measured: &survey::Sash,
        workshop: &Workshop,
    ) -> Result<Work, WorkError> {
        Work::losing(views, measured, workshop, |sash, fit, choice| {
            let enough = warmth::least_factor(&measured.around.weather.room);
            Sections::of(sash, fit, choice, enough).map_or(Losses::Tables, Losses::Sections)
        })
    }

    /// The same, with the heat that is lost at its edge told by `losses`.
    pub(super) fn losing(
        views: &Views,
        measured: &survey::Sash,
        workshop: &Workshop,
        losses: impl FnOnce(&Sash, &Fit, &warmth::Choice) -> Losses,
    ) -> Result<Work, WorkError> {
        let trial = Trial::new(views, measured, workshop)?;
        let Cut { rebate, plan } = trial.cut()?;
        let timber = trial.timber();
        let materials = materials::materials(&trial.sash, &trial.fit, &plan, workshop)?;
        let programs = trial.programs(&plan)?;
        let hand_findings = trial.hand_findings()?;
        let unit_findings = glass::judge(&measured.unit);
        let Trial { sash, fit, .. } = trial;
        let losses = |choice: &_| losses(&sash, &fit, choice);
        let building = BuildingChecks::new(&sash, &fit, &rebate, &timber, workshop, losses);
        Ok(Work {
            sash,
            fit,
            rebate,
            timber,
            plan,
            materials,
            programs,
            hand_findings,
            unit_findings,
            building,
        })
    }

    /// Every finding, the gravest first, in the order of the rooms within a verdict.
    pub fn findings(&self) -> Vec<Finding> {
        let mut all: Vec<Finding> =
            self.wood_findings().chain(self.other_findings()).cloned().collect();
        gravest_first(&mut all);
        all
    }

    /// What timber and fit find.
    pub(super) fn wood_findings(&self) -> impl Iterator<Item = &Finding> {
        self.timber.findings.iter().chain(&self.fit.findings)
    }

    /// What all other rooms find.
    pub(super) fn other_findings(&self) -> impl Iterator<Item = &Finding> {
        let rooms = [
            &self.plan.findings,
            &self.programs.findings,
            &self.hand_findings,
            &self.unit_findings,
        ];
        rooms.into_iter().flatten().chain(self.building.findings())
    }

    /// The gravest verdict of all findings.
    pub fn verdict(&self) -> Verdict {
        gravest(self.wood_findings().chain(self.other_findings()))
    }
}
