//! The cutter follows a face that is not flat: every cut is lifted or lowered by as much as the face lies
//! off there, so that the wood left is what was planned, not the machine's Z.
//!
//! Promised: along a path the cutter departs from the bent plan by at most an eighth of the cutting
//! tolerance; rapid moves keep their height above the highest place of the face; a flat sash keeps its
//! route as it is. Not promised: that the cutter's flat end lies along a face that leans, which is judged.

use super::route::{Move, Pace, Route, Step};
use crate::finding::{Bound, Bounds, Finding, Quantity, Verdict};
use crate::geometry::{Edge, Fitted, ROUNDING, Surface};
use crate::language::text;
use crate::sash::Sash;
use crate::survey::{Limits, Workshop};
use kurbo::Point;

/// Share of the tolerance that a chord may depart.
const CHORD: f64 = 1.0 / 8.0;
/// Share of the tolerance that the rim of the cutter may stand off a leaning face.
const RIM: f64 = 0.5;
/// Diameters that flat cutters are had in, mm. Common practice, no source.
const CUTTERS: [f64; 8] = [3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0];
/// The coarsest tolerance that is worth advising, mm: bed and clearance are some two.
const MOST_TOLERANCE: f64 = 0.2;
/// Most parts of one move: a face that wants more of them is no sash's.
const MOST_PARTS: f64 = 1000.0;

/// Bends one route.
pub(super) fn bend(route: Route, sash: &Sash, workshop: &Workshop) -> Route {
    let surface = sash.measured.warp().surface;
    if surface == Surface::FLAT {
        return route;
    }
    let (_, highest) = surface.range(sash.outer);
    let mut bending = Bending {
        surface,
        lift: highest.max(0.0),
        clear: super::clear_height(sash, workshop),
        within: CHORD * workshop.cutting.tolerance,
        at: None,
        z: None,
        steps: Vec::new(),
    };
    for step in route.steps() {
        match step {
            Step::Move(step) => bending.step(*step),
            Step::Remark(_) => bending.steps.push(step.clone()),
        }
    }
    route.with_steps(bending.steps)
}

struct Bending {
    surface: Surface,
    /// How much higher rapid moves run.
    lift: f64,
    clear: f64,
    within: f64,
    at: Option<Point>,
    /// Z of the flat plan.
    z: Option<f64>,
    steps: Vec<Step>,
}

impl Bending {
    fn push(&mut self, step: Move) {
        self.steps.push(Step::Move(step));
    }

    fn step(&mut self, step: Move) {
        match step {
            Move::Z { to, pace } => {
                self.z = Some(to);
                let off = self.at.map_or(self.lift, |at| self.off(at, to));
                self.push(Move::Z { to: to + off, pace });
            }
            Move::Plane { along, pace } => {
                self.at = Some(along.end());
                match self.z.filter(|z| *z < self.clear && pace != Pace::Rapid) {
                    Some(z) => self.follow(&along, z, z, pace),
                    None => self.push(step),
                }
            }
            Move::Slope { along, to, pace } => {
                self.at = Some(along.end());
                let from = self.z.replace(to).unwrap_or(to);
                self.follow(&along, from, to, pace);
            }
        }
    }

    /// How much a height of the plan is lifted at a place.
    fn off(&self, at: Point, z: f64) -> f64 {
        if z < self.clear { self.surface.height(at) } else { self.lift }
    }

    fn follow(&mut self, along: &Edge, from: f64, to: f64, pace: Pace) {
        let (count, _) = self.surface.even_parts(along, self.within);
        let count = count.min(MOST_PARTS);
        let mut done = 0.0;
        while done < count {
            let part =
                if count > 1.0 { along.part(done / count, (done + 1.0) / count) } else { *along };
            done += 1.0;
            let z = from + (to - from) * done / count;
            let off = self.off(part.end(), z);
            self.push(Move::Slope { along: part, to: z + off, pace });
        }
    }
}

/// Whether the surface that the programs follow is the face, and whether the cutter can follow it;
/// nothing for a sash whose face was not measured.
pub(super) fn judge(sash: &Sash, workshop: &Workshop) -> Vec<Finding> {
    if sash.measured.surface.is_empty() {
        return Vec::new();
    }
    let Fitted { surface, residuals } = sash.measured.warp();
    vec![heights(&residuals, &workshop.limits), lean(&surface, sash, workshop)]
}

/// How far the height that fits worst lies from the surface through them all.
fn heights(residuals: &[f64], limits: &Limits) -> Finding {
    let far = residuals.iter().map(|residual| residual.abs()).enumerate();
    let (index, worst) = far.max_by(|(_, a), (_, b)| a.total_cmp(b)).unwrap_or((0, 0.0));
    Finding::at_most(
        "machine.surface",
        format!("height {} of the face", index + 1),
        Quantity::mm(worst),
        Bounds::new(&limits.face_stop, &limits.face_caution),
        |verdict, _| match verdict {
            Verdict::Clear => text!("machine-follows-face"),
            _ => {
                text!("machine-measure-height")
            }
        },
    )
}

/// How far the flat end of the cutter, whose axis stays upright, stands off a leaning face.
fn lean(surface: &Surface, sash: &Sash, workshop: &Workshop) -> Finding {
    let off = surface.rim(sash.outer, workshop.cutter.radius());
    let cures = || {
        let most = RIM * workshop.cutting.tolerance;
        let thinner =
            CUTTERS.into_iter().rev().filter(|diameter| *diameter < workshop.cutter.diameter);
        let thinner = { thinner }.find(|diameter| surface.rim(sash.outer, diameter / 2.0) <= most);
        let tolerance = (100.0 * off / RIM - ROUNDING).ceil() / 100.0;
        let thinner = thinner.map(|mm| text!("machine-thinner-cutter", most = format!("{mm:.0}")));
        let coarser = (tolerance <= MOST_TOLERANCE)
            .then(|| text!("machine-coarser-cut", tolerance = format!("{tolerance:.2}")));
        let either = |one, other| text!("machine-or", one, other);
        thinner.into_iter().chain(coarser).reduce(either)
    };
    Finding::at_most(
        "machine.lean",
        "glazing face",
        Quantity::mm(off),
        Bounds::stop(Bound::geometry(RIM * workshop.cutting.tolerance)),
        |verdict, _| match verdict {
            Verdict::Clear => text!("machine-follows-warp"),
            _ => match cures() {
                None => text!("machine-leans"),
                Some(cures) => text!("machine-leans-unless", cures),
            },
        },
    )
}
