//! Cutter paths and their RS-274 text, one program a stage, for a three-axis machine whose zero is the
//! sash's frame of reference: X and Y at the lower left corner of the sight rectangle, Z on the
//! glazing face.
//!
//! Promised: rapid moves only at clear height; the cutter comes down only over an open light and
//! enters the wood sideways; lines of at most 70 characters; four decimals, arcs with I and J; only
//! G0 G1 G2 G3 G17 G21 G90 G94, M2 M3 M5, F and S. Over a face that is not flat lines become ramps and
//! arcs helices, whose Z departs from the face by at most an eighth of the tolerance. Not promised: that the text is right; `prove`
//! reads it back and judges.

mod air_run;
mod bend;
mod doors;
mod feeds;
mod lead;
mod put_down;
mod ring;
mod route;
mod setups;
mod split;
mod stages;
mod strip;
mod text;

pub use feeds::Feeds;
pub use put_down::SetUp;

use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::Fit;
use crate::geometry::Placement;
use crate::passes::{Bite, Pass, Plan, Stage};
use crate::sash::Sash;
use crate::survey::Workshop;
use route::Route;
use stages::Job;

/// A machine program.
#[derive(Debug, Clone, PartialEq)]
pub struct Program {
    /// File name: `4-widen.ngc`.
    pub name: String,
    /// The stage it cuts; none for the air run.
    pub stage: Option<Stage>,
    /// RS-274 text, ASCII, lines ended by a line feed.
    pub text: String,
    /// Estimated time, minutes: lengths over feeds, no allowance for acceleration.
    pub minutes: f64,
    /// How the sash lies for it: at its own zero, unless it is cut in several set-ups.
    pub place: Placement,
}

impl Program {
    /// Adds remarks to its head, in front of the first line that does something.
    pub fn add_remarks(&mut self, remarks: &[String]) {
        let head = self.text.split_inclusive('\n').take_while(|line| line.starts_with('('));
        let at = head.map(str::len).sum();
        self.text.insert_str(at, &text::remarks_of(remarks));
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

/// Writes every program of a plan.
///
/// A sash larger than the machine's travel is cut in several set-ups, one after the other, each by
/// programs of its own.
pub fn programs(sash: &Sash, fit: &Fit, plan: &Plan, workshop: &Workshop) -> Programs {
    let feeds = Feeds::new(workshop);
    let job = Job { sash, fit, plan, workshop, feeds };
    let [width, height] = workshop.machine.bed;
    let (mut programs, bed) = if sash.outer.width() <= width && sash.outer.height() <= height {
        (job.in_one_place(), stages::bed(sash.outer.size(), workshop))
    } else {
        job.in_set_ups()
    };
    let blocked = std::mem::take(&mut programs.findings);
    programs.findings = bed
        .into_iter()
        .chain([feeds.judge(workshop)])
        .chain(bend::judge(sash, workshop))
        .chain(blocked)
        .collect();
    if programs.findings.iter().any(|finding| finding.verdict == Verdict::Stop) {
        programs.programs.clear();
    }
    programs
}

fn follow(sash: &Sash, pass: &Pass, workshop: &Workshop, route: &mut Route) -> Result<(), NoWay> {
    match &pass.bite {
        Bite::Ring(ring) => ring::follow(sash, pass, ring, workshop, route),
        Bite::Strip(strip) => strip::follow(sash, pass, strip, workshop, route),
        Bite::Corners { .. } => Ok(()),
    }
}

/// Room kept between the cutter and the wood where it comes down, mm.
const MARGIN: f64 = 1.0;

/// Why a pass cannot be followed.
#[derive(Debug, Clone, Copy, PartialEq)]
enum NoWay {
    /// No open light takes the cutter: the widest beside the cut is this wide, mm.
    Entry(f64),
    /// The outline is too tight for a path this far inside the wall, mm.
    Shape(f64),
}

impl NoWay {
    fn finding(self, pass: &Pass, workshop: &Workshop) -> Finding {
        let place = format!("{}, {}", pass.place, pass.stage);
        match self {
            NoWay::Entry(widest) => {
                let needed = workshop.cutter.diameter + 2.0 * MARGIN;
                let bounds = Bounds::stop(Bound::geometry(needed));
                Finding::at_least("machine.entry", place, Quantity::mm(widest), bounds, |_, _| {
                    format!(
                        "Use a cutter of at most {:.1} mm: it has to come down in the open light.",
                        (widest - 2.0 * MARGIN).max(0.0)
                    )
                })
            }
            NoWay::Shape(inside) => {
                let bounds = Bounds::stop(Bound::geometry(0.0));
                Finding::at_most("machine.shape", place, Quantity::mm(inside), bounds, |_, _| {
                    "The outline is too tight for this cutter's path: use a thinner cutter, or cut by hand."
                        .into()
                })
            }
        }
    }
}
