//! One sash through the rooms, up to its programs.

use super::beyond::Beyond;
use crate::finding::{Finding, Verdict, gravest};
use crate::fit::{self, Fit};
use crate::geometry::ShapeError;
use crate::glass;
use crate::hand;
use crate::machine::{self, Programs};
use crate::materials::{self, Materials};
use crate::passes::{self, Plan};
use crate::rebate::{self, Rebate};
use crate::sash::Sash;
use crate::survey::{self, Workshop};
use crate::timber::{self, Timber};

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
    pub beyond: Beyond,
}

impl Work {
    /// Takes one sash through the rooms.
    ///
    /// # Errors
    /// Where a solid of the sash has no area; a survey that was read without a mistake has none such.
    pub fn new(measured: &survey::Sash, workshop: &Workshop) -> Result<Work, ShapeError> {
        let sash = Sash::new(measured)?;
        let fit = fit::fit(&sash, workshop)?;
        let rebate = rebate::divide(&sash, &fit, workshop.cutter.radius())?;
        let timber = timber::judge(&sash, &fit, &workshop.limits);
        let plan = passes::plan(&sash, &fit, &rebate, workshop)?;
        let materials = materials::materials(&sash, &fit, &plan, workshop)?;
        let programs = machine::programs(&sash, &fit, &plan, workshop);
        let hand_findings = hand::judge(&sash, &fit, workshop)?;
        let unit_findings = glass::judge(&measured.unit);
        let beyond = Beyond::new(&sash, &fit, &rebate, &timber, workshop);
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
            beyond,
        })
    }

    /// Every finding, the gravest first, in the order of the rooms within a verdict.
    pub fn findings(&self) -> Vec<Finding> {
        let rooms = [
            &self.timber.findings,
            &self.fit.findings,
            &self.plan.findings,
            &self.programs.findings,
            &self.hand_findings,
            &self.unit_findings,
        ];
        let rooms = rooms.into_iter().flatten().chain(self.beyond.findings());
        let mut all: Vec<Finding> = rooms.cloned().collect();
        all.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
        all
    }

    /// The gravest verdict of all findings.
    pub fn verdict(&self) -> Verdict {
        gravest(&self.findings())
    }
}

/// What a unit asks of the wood: as far as a stop allows.
#[derive(Debug, Clone)]
pub(super) struct Cut {
    pub(super) fit: Fit,
    pub(super) timber: Timber,
    /// None where wood or fit stop the work already.
    pub(super) planned: Option<Planned>,
}

/// A cut that wood and fit allow, planned.
#[derive(Debug, Clone)]
pub(super) struct Planned {
    pub(super) rebate: Rebate,
    findings: Vec<Finding>,
}

impl Cut {
    pub(super) fn new(sash: &Sash, workshop: &Workshop) -> Result<Cut, ShapeError> {
        let fit = fit::fit(sash, workshop)?;
        let timber = timber::judge(sash, &fit, &workshop.limits);
        let judged = timber.findings.iter().chain(&fit.findings);
        if gravest(judged) == Verdict::Stop {
            return Ok(Cut { fit, timber, planned: None });
        }
        let rebate = rebate::divide(sash, &fit, workshop.cutter.radius())?;
        let plan = passes::plan(sash, &fit, &rebate, workshop)?;
        let mut findings = plan.findings.clone();
        findings.extend(machine::judge(
            sash,
            &fit,
            &plan,
            workshop,
            &mut machine::Paths::default(),
        ));
        findings.extend(hand::judge(sash, &fit, workshop)?);
        Ok(Cut { fit, timber, planned: Some(Planned { rebate, findings }) })
    }

    /// Judgements in the order of the rooms.
    pub(super) fn findings(&self) -> impl Iterator<Item = &Finding> {
        let planned = self.planned.iter().flat_map(|planned| &planned.findings);
        self.timber.findings.iter().chain(&self.fit.findings).chain(planned)
    }
}
