//! One unit in one sash, judged as far as is asked.
//!
//! What of the sash is seen from above is worked out once and shared by every unit, bed and bead that look the
//! same from there: seats, walls, the wood along them, templates and cutter paths. Thickness, gas and depth
//! come in late. Promised: sharing changes no answer.

use super::building::{BuildingChecks, warm};
use super::error::WorkError;
use crate::finding::{Finding, Question, Verdict, gravest, gravest_first};
use crate::fit::{self, Fit, UnitFit};
use crate::geometry::ShapeError;
use crate::glass::{self, Properties};
use crate::hand;
use crate::machine;
use crate::passes::{self, Layout, Plan};
use crate::rebate::{Divided, Rebate};
use crate::report::Candidate;
use crate::sash::Sash;
use crate::survey::{self, BuildUp, Cutter, Finish, Make, Workshop};
use crate::timber::{self, Timber, Uncut};
use crate::warmth::{Losses, Warmth};
use std::sync::{Arc, OnceLock, PoisonError, RwLock};

/// A sash with its units as seen from above.
#[derive(Debug)]
pub(super) struct View {
    /// What it was worked out from.
    from: (survey::Sash, Cutter),
    sash: Sash,
    uncut: Arc<Uncut>,
    units: Vec<UnitFit>,
    /// Worked out once a unit is not stopped by fit or timber.
    walls: OnceLock<Result<Walls, ShapeError>>,
}

/// The walls of its units, and what follows from them.
#[derive(Debug)]
pub(super) struct Walls {
    divided: Divided,
    layout: Layout,
    guides: Vec<Finding>,
    paths: machine::Paths,
}

impl View {
    /// Of a sash whose wood may be known already.
    fn new(
        seen: survey::Sash,
        cutter: Cutter,
        uncut: Option<Arc<Uncut>>,
    ) -> Result<View, ShapeError> {
        let sash = Sash::new(&seen)?;
        let units = fit::seats(&sash)?;
        let uncut = uncut.unwrap_or_else(|| Arc::new(Uncut::new(&sash)));
        Ok(View { from: (seen, cutter), sash, uncut, units, walls: OnceLock::new() })
    }

    fn walls(&self, workshop: &Workshop) -> Result<&Walls, ShapeError> {
        let walls = self.walls.get_or_init(|| {
            let thinner = workshop.corner_cutter().map(Cutter::radius);
            let radius = workshop.cutter.radius();
            let divided = Divided::new(&self.sash, &self.units, radius, thinner)?;
            // Wood as deep as there is any.
            let inside = divided.inside(f64::INFINITY);
            let layout = Layout::new(&self.sash, &self.units, &inside, workshop)?;
            let guides = hand::guides(&self.sash, &self.units, workshop)?;
            Ok(Walls { divided, layout, guides, paths: machine::Paths::default() })
        });
        walls.as_ref().map_err(|error| *error)
    }
}

/// `measured` without what is not seen from above.
fn from_above(measured: &survey::Sash) -> survey::Sash {
    let mut seen = measured.clone();
    seen.finish = Finish { bed: 0.0, bead: 0.0, proud: 0.0, ..seen.finish };
    seen.unit.build_up = BuildUp::Bare(0.0);
    seen.unit.make = Make::default();
    (seen.unit.over, seen.unit.spacer_height) = (0.0, 0.0);
    seen
}

/// The views of one sash that are known, in one workshop but for the cutter.
#[derive(Debug)]
pub(super) struct Views {
    known: Option<RwLock<Vec<Arc<View>>>>,
}

impl Views {
    /// None is known yet.
    pub(super) fn shared() -> Views {
        Views { known: Some(RwLock::default()) }
    }

    /// Every unit has a view of its own.
    pub(super) fn apart() -> Views {
        Views { known: None }
    }

    fn of(&self, measured: &survey::Sash, cutter: &Cutter) -> Result<Arc<View>, ShapeError> {
        // How long a cutter is and what holds it is not seen from above.
        let cutter = Cutter { cutting_length: 0.0, holder: None, ..cutter.clone() };
        let from = (from_above(measured), cutter);
        let Some(known) = &self.known else {
            return Ok(Arc::new(View::new(from.0, from.1, None)?));
        };
        let found = known.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(view) = found.iter().find(|view| view.from == from) {
            return Ok(Arc::clone(view));
        }
        let same_wood = |view: &&Arc<View>| {
            view.from.0.members == from.0.members && view.from.0.bars == from.0.bars
        };
        let uncut = found.iter().find(same_wood).map(|view| Arc::clone(&view.uncut));
        drop(found);
        let view = Arc::new(View::new(from.0, from.1, uncut)?);
        // Another thread may have worked out the same meanwhile: either serves.
        known.write().unwrap_or_else(PoisonError::into_inner).push(Arc::clone(&view));
        Ok(view)
    }
}

/// A unit in its sash.
#[derive(Debug)]
pub(super) struct Trial<'a> {
    view: Arc<View>,
    workshop: &'a Workshop,
    pub sash: Sash,
    pub fit: Fit,
}

/// The cut that a unit asks for.
#[derive(Debug)]
pub(super) struct Cut {
    pub rebate: Rebate,
    pub plan: Plan,
}

impl<'a> Trial<'a> {
    /// Seats the unit that `measured` asks for.
    ///
    /// # Errors
    /// Where the daylight or the rebate cannot run round.
    pub(super) fn new(
        views: &Views,
        measured: &survey::Sash,
        workshop: &'a Workshop,
    ) -> Result<Trial<'a>, ShapeError> {
        let view = views.of(measured, &workshop.cutter)?;
        let sash = Sash { measured: measured.clone(), ..view.sash.clone() };
        let fit = fit::fit_seated(&sash, view.units.clone(), workshop);
        Ok(Trial { view, workshop, sash, fit })
    }

    /// What is left of the wood.
    pub(super) fn timber(&self) -> Timber {
        timber::judge_cut(&self.view.uncut, &self.sash, &self.fit, &self.workshop.limits)
    }

    /// Divides the wood and plans the passes.
    pub(super) fn cut(&self) -> Result<Cut, ShapeError> {
        let walls = self.view.walls(self.workshop)?;
        let (pockets, layout) = (walls.divided.pockets(), &walls.layout);
        let plan = passes::plan_laid_out(layout, &self.fit, pockets, self.workshop);
        Ok(Cut { rebate: walls.divided.cut(self.fit.depth), plan })
    }

    /// The programs of a plan.
    pub(super) fn programs(&self, plan: &Plan) -> Result<machine::Programs, ShapeError> {
        let paths = &self.view.walls(self.workshop)?.paths;
        Ok(machine::programs_along(&self.sash, &self.fit, plan, self.workshop, paths))
    }

    /// What a machine cannot do of a plan.
    pub(super) fn machine_findings(&self, plan: &Plan) -> Result<Vec<Finding>, ShapeError> {
        let paths = &self.view.walls(self.workshop)?.paths;
        Ok(machine::judge(&self.sash, &self.fit, plan, self.workshop, paths))
    }

    /// What a router in the hand can do.
    pub(super) fn hand_findings(&self) -> Result<Vec<Finding>, WorkError> {
        let guides = &self.view.walls(self.workshop)?.guides;
        Ok(hand::judge(guides, &self.sash, &self.fit, self.workshop)?)
    }

    /// Judges the unit by all rules; one that the wood or the fit stops is judged no further. Its warmth is
    /// worked out with `losses`: to reckon every section for every unit would take too long.
    pub(super) fn candidate(&self, losses: &Losses) -> Result<Candidate, WorkError> {
        let Trial { sash, fit, workshop, .. } = self;
        let timber = self.timber();
        let mut findings = timber.findings.clone();
        findings.extend(fit.findings.iter().cloned());
        let of_unit = glass::judge(&sash.measured.unit);
        // Of a stopped cut there is no rebate to weigh.
        if findings.iter().any(stops) {
            findings.extend(of_unit);
            let warmth = warm(sash, |_| losses.clone());
            return Ok(candidate((sash, fit, &timber), findings, warmth.as_ref()));
        }
        let Cut { rebate, plan } = self.cut()?;
        findings.extend(self.machine_findings(&plan).map(|found| [plan.findings, found].concat())?);
        findings.extend(self.hand_findings()?);
        findings.extend(of_unit);
        let building =
            BuildingChecks::new(sash, fit, &rebate, &timber, workshop, |_| losses.clone());
        findings.extend(building.findings().cloned());
        Ok(candidate((sash, fit, &timber), findings, building.warmth.as_ref()))
    }

    /// The first stop, in the order of the rooms; the hand asks for care only.
    pub(super) fn first_stop(&self) -> Option<Finding> {
        let of_wood = self.timber().findings.into_iter().chain(self.fit.findings.iter().cloned());
        of_wood.chain(passes::judge(self.fit.depth, self.workshop)).find(stops)
    }

    /// Whether there is a first stop. The rules that cost least are asked first.
    pub(super) fn is_stopped(&self) -> bool {
        self.fit.findings.iter().any(stops)
            || passes::judge(self.fit.depth, self.workshop).iter().any(stops)
            || self.timber().findings.iter().any(stops)
    }
}

/// A unit judged: what was found, the gravest first, without what is clear.
pub(super) fn candidate(
    (sash, fit, timber): (&Sash, &Fit, &Timber),
    findings: impl IntoIterator<Item = Finding>,
    warmth: Option<&Warmth>,
) -> Candidate {
    let open = findings.into_iter().filter(|finding| finding.verdict != Verdict::Clear);
    let mut findings: Vec<Finding> = open.collect();
    gravest_first(&mut findings);
    let unit = &sash.measured.unit;
    let weights = fit.units.iter().map(|fit| glass::weight(&unit.build_up, fit.glass_area()));
    Candidate {
        build_up: unit.build_up.to_string(),
        make: Properties::of(&unit.make).words(),
        surveyed: false,
        thickness: unit.build_up.thickness(),
        rebate_depth: fit.depth,
        verdict: gravest(findings.iter().filter(|one| one.question() != Question::Programs)),
        glass_u: warmth.map(|warmth| warmth.after.glass_u),
        whole_u: warmth.map(|warmth| warmth.after.whole_u),
        table_u: warmth.map(|warmth| warmth.by_tables),
        saved: warmth.and_then(|warmth| warmth.saved),
        edge_dry_down_to: warmth.and_then(|warmth| warmth.after.edge.as_ref()?.dry_down_to),
        left: timber.least_left().map(|(_, least)| least.wood.max(0.0)),
        weight: weights.sum(),
        findings,
    }
}

/// Whether a finding keeps a unit from going in. How the machine is set up does not.
pub(super) fn stops(finding: &Finding) -> bool {
    finding.verdict == Verdict::Stop && finding.question() != Question::Programs
}
