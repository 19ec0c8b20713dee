//! Cutter paths and their RS-274 text, one program a stage or one for all of them, for a three-axis machine whose zero is the
//! sash's frame of reference: X and Y at the lower left corner of the sight rectangle, Z on the
//! glazing face.
//!
//! Promised: rapid moves only at clear height, and straight down to just above the face over an open light; the cutter comes down only over an open light and
//! enters the wood sideways; lines of at most 70 characters; four decimals, arcs with I and J; every mode that a
//! program leans on is stated at its head; only G0 G1 G2 G3 G4 G17 G21 G40 G49 G80 G90 G91.1 G94, M0 M2 M3 M5, F and S. Over a face that is not flat lines become ramps and
//! arcs helices, whose Z departs from the face by at most an eighth of the tolerance. Not promised: that the text is right; `prove`
//! reads it back and judges.

mod across;
mod bend;
mod clean;
mod comment;
mod faster;
mod feeds;
mod height;
mod order;
mod place;
mod ring;
mod route;
mod sides;
mod split;
mod stages;
mod stops;
mod strip;
mod text;
mod touch;
mod windows;

pub use faster::{Faster, faster};
pub use feeds::Feeds;
pub use height::clear_height;
pub use place::SetUp;
pub use stops::stops;
pub use touch::Touch;

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict, down_to_tenth, up_to_tenth};
use crate::fit::Fit;
use crate::geometry::Placement;
use crate::language::text;
use crate::number::NotFinite;
use crate::passes::{Cut, Pass, Plan, Stage};
use crate::sash::{Horn, Sash};
use crate::survey::{Clamp, Machine, ProgramsAs, Workshop};
use kurbo::Point;
use route::{Path, Route};
use split::Whole;
use stages::{Job, Routes};
use std::borrow::Cow;
use std::sync::{Arc, PoisonError, RwLock};

/// A machine program.
#[derive(Debug, Clone, PartialEq)]
pub struct Program {
    /// File name: `4-widen.ngc`.
    pub name: String,
    /// What it does, stage after stage; between two it stops, so that the joiner looks.
    pub parts: Vec<Part>,
    /// How the sash lies for it: at its own zero, unless it is cut in several set-ups.
    pub place: Placement,
    remarks: Result<Vec<String>, NotFinite>,
    feeds: Feeds,
    /// For the spindle, s.
    wait: f64,
}

/// One stage of a program.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The stage it cuts; none for the air run.
    pub stage: Option<Stage>,
    /// Estimated time, minutes: lengths over feeds, no allowance for acceleration.
    pub minutes: f64,
    route: Route,
}

impl Program {
    /// RS-274 text, ASCII, lines ended by a line feed.
    ///
    /// # Errors
    /// Where a number in it is not finite.
    pub fn text(&self) -> Result<String, NotFinite> {
        text::write(self)
    }

    /// Adds remarks to its head, in front of the first line that does something.
    pub fn add_remarks(&mut self, remarks: Vec<String>) {
        if let Ok(own) = &mut self.remarks {
            own.extend(remarks);
        }
    }
}

/// The programs of a sash.
#[derive(Debug, Clone, PartialEq)]
pub struct Programs {
    /// In the order they are run; empty where a finding stops them.
    pub programs: Vec<Program>,
    /// The places of a sash larger than the travel, in order; empty for one that lies within it.
    pub set_ups: Vec<SetUp>,
    /// Judgements of bed, chip load and entries.
    pub findings: Vec<Finding>,
}

impl Programs {
    /// Every program with its text.
    ///
    /// # Errors
    /// As [`Program::text`].
    pub fn written(&self) -> Result<Vec<(&Program, String)>, NotFinite> {
        self.programs.iter().map(|program| Ok((program, program.text()?))).collect()
    }
}

/// Makes every program of a plan.
///
/// A sash larger than the machine's travel is cut in several set-ups, one after the other, each by
/// programs of its own.
pub fn programs(sash: &Sash, fit: &Fit, plan: &Plan, workshop: &Workshop) -> Programs {
    programs_along(sash, fit, plan, workshop, &Paths::default())
}

/// As [`programs`]; paths that are known already are not made again.
pub fn programs_along(
    sash: &Sash,
    fit: &Fit,
    plan: &Plan,
    workshop: &Workshop,
    paths: &Paths,
) -> Programs {
    let job = Job { sash, fit, plan, workshop };
    let wait = workshop.machine.spindle_wait;
    let routes = job.routes(paths);
    let findings = findings(&routes, &job);
    let set_ups: Vec<SetUp> = routes.places.iter().filter_map(|(set_up, _)| *set_up).collect();
    let mut programs = Vec::new();
    if findings.iter().all(|finding| finding.verdict != Verdict::Stop) {
        for (set_up, stages) in routes.places {
            let parts = stages.into_iter().map(|(stage, route)| {
                // Where the face lies is known in the sash's frame.
                let route = bend::bend(route, sash, workshop);
                let route =
                    set_up.map_or_else(|| route.clone(), |set_up| route.placed(&set_up.place));
                let spindle = if stage.is_some() { wait } else { 0.0 };
                let feeds = Feeds::new(&with_cutter_for(stage, workshop));
                let minutes = route.minutes(&feeds, workshop.machine.rapid) + spindle / 60.0;
                Part { stage, minutes, route }
            });
            for parts in in_programs(parts.collect(), &workshop.machine) {
                let name = file_name(programs.len() + 1, set_up, &parts);
                let of_all = set_up.map(|set_up| (set_up, set_ups.len()));
                let stage = parts.last().and_then(|part| part.stage);
                let workshop = &with_cutter_for(stage, workshop);
                let remarks = text::remarks(&Job { workshop, ..job }, &parts, of_all);
                let feeds = Feeds::new(workshop);
                let place = set_up.map_or(Placement::IDENTITY, |set_up| set_up.place);
                programs.push(Program { name, parts, place, remarks, feeds, wait });
            }
        }
    }
    Programs { programs, set_ups, findings }
}

/// The workshop with the cutter put in that a stage is cut with.
fn with_cutter_for(stage: Option<Stage>, workshop: &Workshop) -> Cow<'_, Workshop> {
    match stage {
        Some(Stage::CleanCorners) => Cow::Owned(workshop.in_the_corners()),
        _ => Cow::Borrowed(workshop),
    }
}

/// The judgements alone that [`programs`] comes with; paths that are known already are not made again.
pub fn judge(
    sash: &Sash,
    fit: &Fit,
    plan: &Plan,
    workshop: &Workshop,
    paths: &Paths,
) -> Vec<Finding> {
    let job = Job { sash, fit, plan, workshop };
    findings(&job.judged(paths), &job)
}

/// Clamps and stops of the survey that stand where a horn is: `machine.horn`.
fn on_horns(sash: &Sash) -> Vec<Finding> {
    let horns = sash.horns();
    let on = |clamp: &Clamp| {
        let shared = |horn: &Horn| horn.outline.bounds().intersect(clamp.place()).area();
        horns.iter().map(shared).fold(0.0, f64::max)
    };
    let clamps = sash.measured.clamps.iter().filter(|_| !horns.is_empty());
    let judged = clamps.map(|clamp| {
        let area = Quantity { value: on(clamp) / 100.0, unit: "cm²" };
        let bounds = Bounds::caution(Bound::geometry(0.0));
        let [x, y] = [clamp.at.x, clamp.at.y].map(|at| format!("{at:.0}"));
        let place = text!("place-clamp", clamp = clamp.name.text(), x, y);
        Finding::at_most("machine.horn", place, area, bounds, |verdict, _| match verdict {
            Verdict::Clear => text!("machine-clamp-clear"),
            _ => text!("machine-clamp-on-horn"),
        })
    });
    judged.collect()
}

fn findings(routes: &Routes, job: &Job) -> Vec<Finding> {
    let Job { sash, workshop, .. } = *job;
    let mut findings = routes.bed.clone();
    findings.push(Feeds::new(workshop).judge(workshop));
    findings.extend(bend::judge(sash, workshop));
    findings.extend(over_metal(sash, workshop));
    findings.extend(in_the_corners(job));
    findings.extend(on_horns(sash));
    findings.extend(routes.blocked.iter().cloned());
    findings
}

/// Whether the thinner cutter reaches down to the platform in the corners that it is for.
fn in_the_corners(job: &Job) -> Option<Finding> {
    let mut passes = job.plan.passes.iter();
    let pass = passes.find(|pass| pass.stage == Stage::CleanCorners)?;
    let cutter = &with_cutter_for(Some(pass.stage), job.workshop).cutter;
    let edges = Quantity::mm(cutter.cutting_length);
    let slim = cutter.is_slim(job.workshop.cutting.tolerance);
    let needed = if slim { 0.0 } else { pass.to_depth };
    let bounds = Bounds::stop(Bound::geometry(needed));
    let advice = |verdict, bound| match verdict {
        Verdict::Clear => text!("machine-corner-cutter-fine"),
        _ => text!("machine-corner-cutter", least = format!("{:.1}", up_to_tenth(bound))),
    };
    Some(Finding::at_least(
        "machine.corner-cutter",
        "cutter for the corners",
        edges,
        bounds,
        advice,
    ))
}

/// Whether rapid moves clear the metal that stands out of the face and is not drawn.
fn over_metal(sash: &Sash, workshop: &Workshop) -> Vec<Finding> {
    let clear = clear_height(sash, workshop);
    let judged = sash.undrawn().filter(|solid| solid.top > 0.0).map(|solid| {
        let bounds = Bounds::stop(Bound::geometry(clear));
        let top = Quantity::mm(solid.top);
        Finding::at_most("machine.clear-height", solid.name.clone(), top, bounds, |verdict, _| {
            match verdict {
                Verdict::Clear => text!("machine-runs-over"),
                _ => text!("machine-stands-high"),
            }
        })
    });
    judged.collect()
}

/// The parts of each program of a place; in one of several a part begins where the one before ends.
fn in_programs(parts: Vec<Part>, machine: &Machine) -> Vec<Vec<Part>> {
    let rapid = machine.rapid;
    match machine.programs {
        ProgramsAs::Stage => parts.into_iter().map(|part| vec![part]).collect(),
        ProgramsAs::One => {
            let mut parts = parts;
            let mut before = None;
            for part in &mut parts {
                let way =
                    before.zip(part.route.begin()).map(|(from, to): (Point, _)| from.distance(to));
                part.minutes += way.unwrap_or(0.0) / rapid;
                before = part.route.at();
            }
            // What wants another cutter wants a program of its own.
            let (same, other) = parts.into_iter().partition(|part| !is_cleaning(part));
            [same, other].into_iter().filter(|parts: &Vec<Part>| !parts.is_empty()).collect()
        }
    }
}

/// Whether a part is for the thinner cutter.
fn is_cleaning(part: &Part) -> bool {
    part.stage == Some(Stage::CleanCorners)
}

fn file_name(number: usize, set_up: Option<SetUp>, parts: &[Part]) -> String {
    let stage = match parts {
        [part] => part.stage.map_or("air-run", Stage::slug),
        _ => "all-stages",
    };
    match set_up {
        None => format!("{number}-{stage}.ngc"),
        Some(set_up) => format!("{number:02}-setup{}-{stage}.ngc", set_up.number),
    }
}

/// Cutter paths as seen from above, by what they cut. How deep has no part in them, so that plans of one sash
/// in one workshop may share them.
#[derive(Debug, Default)]
pub struct Paths {
    known: RwLock<Vec<Known>>,
}

#[derive(Debug, Clone)]
struct Known {
    stage: Stage,
    cut: Cut,
    path: Result<Arc<Whole>, NoWay>,
}

impl Paths {
    /// The paths of a pass; none where no machine cuts it.
    fn of(
        &self,
        sash: &Sash,
        pass: &Pass,
        workshop: &Workshop,
    ) -> Option<Result<Arc<Whole>, NoWay>> {
        let Pass { stage, ref cut, .. } = *pass;
        let alike = |known: &&Known| known.stage == stage && known.cut == *cut;
        let known = self.known.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = known.iter().find(alike) {
            return Some(known.path.clone());
        }
        drop(known);
        let path = made(sash, pass, workshop)?;
        let path = path.map(|paths| Arc::new(Whole::new(paths)));
        // Another thread may have made the same meanwhile: either serves.
        let mut known = self.known.write().unwrap_or_else(PoisonError::into_inner);
        known.push(Known { stage, cut: cut.clone(), path: path.clone() });
        Some(path)
    }
}

/// The paths of a pass as seen from above, one after the other; none where no machine cuts it.
fn made(sash: &Sash, pass: &Pass, workshop: &Workshop) -> Option<Result<Vec<Path>, NoWay>> {
    match &pass.cut {
        Cut::Ring(ring) => Some(ring::path(sash, pass.stage, ring, workshop)),
        Cut::Strip(strip) => Some(strip::path(sash, pass.stage, strip, workshop)),
        Cut::Clean { ring, at, from, .. } => {
            let workshop = with_cutter_for(Some(pass.stage), workshop);
            Some(clean::paths(sash, ring, (at, *from), &workshop))
        }
        Cut::Corners { .. } => None,
    }
}

/// The thickest cutter, in tenths, of at most `most` mm that can follow the pass: a thinner one runs nearer to the wall,
/// where the light that it comes down in may be narrower still.
fn thickest(sash: &Sash, pass: &Pass, workshop: &Workshop, most: f64) -> Option<f64> {
    let mut diameter = most;
    while diameter >= THINNEST {
        let mut thinner = workshop.clone();
        let corners = thinner.machine.corner_cutter.as_mut();
        let own = corners.filter(|_| pass.stage == Stage::CleanCorners);
        own.unwrap_or(&mut thinner.cutter).diameter = diameter;
        if made(sash, pass, &thinner)?.is_ok() {
            return Some(diameter);
        }
        // Fine steps at first, for it may be a hair's breadth; then coarse ones.
        let step = if most - diameter < 0.95 { 0.1 } else { 0.5 };
        diameter = ((diameter - step) * 10.0).round() / 10.0;
    }
    None
}

/// How far above the face the air run comes down, and rapid moves do over an opening, mm.
const ABOVE: f64 = 2.0;

/// Room kept between the cutter and the wood where it comes down, mm.
const MARGIN: f64 = 1.0;

/// Thinnest cutter that is worth advising, mm. Common practice, no source.
const THINNEST: f64 = 2.0;

/// Why a pass cannot be followed.
#[derive(Debug, Clone, Copy, PartialEq)]
enum NoWay {
    /// No open light takes the cutter: the widest beside the cut is this wide, mm.
    Entry(f64),
    /// The outline is too tight for a path this far inside the wall, mm.
    Shape(f64),
}

impl NoWay {
    fn finding(self, sash: &Sash, pass: &Pass, workshop: &Workshop) -> Finding {
        let place = format!("{}, {}", pass.place, pass.stage);
        let advice = |most: f64, none: &'static str, thinner: &'static str| {
            move |_, _| match thickest(sash, pass, workshop, most) {
                None => text!(none),
                Some(most) => text!(thinner, most = format!("{most:.1}")),
            }
        };
        match self {
            NoWay::Entry(widest) => {
                let needed = workshop.cutter.diameter + 2.0 * MARGIN;
                let bounds = Bounds::stop(Bound::geometry(needed));
                // Rounded down: what is named has to go in.
                let most = down_to_tenth(widest - 2.0 * MARGIN);
                let advice = advice(most, "machine-too-narrow", "machine-narrower");
                Finding::at_least("machine.entry", place, Quantity::mm(widest), bounds, advice)
            }
            NoWay::Shape(inside) => {
                let bounds = Bounds::stop(Bound::geometry(0.0));
                let most = down_to_tenth(workshop.cutter.diameter) - 0.1;
                let advice = advice(most, "machine-too-tight", "machine-tight");
                Finding::at_most("machine.shape", place, Quantity::mm(inside), bounds, advice)
            }
        }
    }
}
