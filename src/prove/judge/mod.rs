//! The judgements.

mod aside;
mod bite;
mod corner;
mod fits;
mod gouge;
mod heat;
mod leftover;
mod load;
mod order;
mod result;
mod rules;
mod simulation;
mod steps;
mod tool;
mod wide;
mod zero;

use super::fault::NewFault;
use super::motion::Move;
use super::proof::{Proof, Volumes};
use super::reader::Read;
use super::wood::{Field, Part, Piece, Resolution};
use super::{Program, Setup};
use crate::finding::{Basis, Quantity};
use crate::language::text;
use crate::rebate::Rebate;
use simulation::Simulation;
use std::cell::Cell;
pub(super) use steps::steps;

/// Judges programs that could be read whole: as they are ordered, and where they meet too much wood,
/// whether another order would be right.
pub(super) fn judge(runs: &[Run], rebate: &Rebate, setup: &Setup) -> Proof {
    let (proof, _) = sweep(runs, rebate, setup, 0);
    // All tries together may take as much as the first one.
    let spent = Cell::new(0);
    let names: Vec<&str> = runs.iter().map(|run| run.program.name).collect();
    order::explain(proof, &names, |order| {
        let runs: Vec<Run> = order.iter().filter_map(|&i| runs.get(i)).copied().collect();
        let (proof, steps) = sweep(&runs, rebate, setup, spent.get());
        spent.set(steps);
        proof
    })
}

/// A program with what was read, and the setup with its cutter put in.
#[derive(Debug, Clone, Copy)]
pub(super) struct Run<'a> {
    pub program: Program<'a>,
    pub read: &'a Read,
    pub setup: &'a Setup,
}

impl Run<'_> {
    /// Its moves, each with the radius of the cutter, mm.
    fn moves(&self) -> impl Iterator<Item = (&Move, f64)> {
        self.read.moves.iter().map(|step| (step, self.setup.radius()))
    }
}

/// Sweeps what was read through the wood, program after program; with the proof comes how many steps
/// it took, those `spent` before included.
fn sweep<'a>(runs: &[Run<'a>], rebate: &'a Rebate, setup: &'a Setup, spent: u64) -> (Proof, u64) {
    let field = uncut(runs, rebate, setup, spent);
    let mut simulation = Simulation::new(setup, rebate, field);
    for (index, Run { program, read, setup }) in runs.iter().enumerate() {
        simulation.run((index, program.name), program.place, read, setup);
    }
    simulation.tell_aside();
    let Simulation { field, mut faults, mut margins, passed, extents, stopped, .. } = simulation;
    let steps = field.effort.steps();
    if let Some((program, line)) = stopped {
        faults.add(too_much(program, line, &field));
        return (Proof::unswept(faults, setup), steps);
    }
    rules::travel(&extents, setup, &mut faults);
    let corners = corner::fillets(rebate, setup.radius());
    let chisel = leftover::search(&field, &corners, rebate, setup, &mut faults);
    let fits = fits::fits(&field, &corners, setup, &mut faults);
    let chisel = corner::measure(
        chisel,
        &corners,
        rebate,
        runs.iter().flat_map(Run::moves),
        setup.tolerance,
    );
    let left = result::least_wood(&field, &setup.reserve.fronts);
    // That of a thinner cutter for the corners is set by itself.
    let own = runs.iter().filter(|run| run.setup.cutter_diameter >= setup.cutter_diameter);
    let own = own.flat_map(|run| &run.read.moves);
    margins.zero = zero::margins(own, &left, &margins, rebate, setup);
    margins.wood = left.into_iter().flatten().collect();
    let removed = field.removed();
    let (faults, cautions) = faults.faults();
    let proof = Proof {
        faults,
        cautions,
        assumed: Vec::new(),
        swept: true,
        chisel,
        fits,
        margins,
        volumes: Volumes {
            must_go: rebate.go.iter().map(crate::sash::Solid::volume).sum(),
            gone: removed.go,
            may_gone: removed.may_go,
            stay_gone: removed.stay,
        },
        programs: passed,
        tolerance: setup.tolerance,
        row_bound: setup.pitch() / 2.0,
        rows: field.rows.len(),
        map: result::depth_map(&field),
    };
    (proof, steps)
}

/// The wood before any cut, in rows fit for these programs.
fn uncut(runs: &[Run], rebate: &Rebate, setup: &Setup, spent: u64) -> Field {
    let resolution = Resolution { pitch: setup.pitch(), depth: setup.tolerance };
    Field::new(&pieces(rebate), runs.iter().flat_map(Run::moves), resolution, spent)
}

/// The programs were more work than a proof may be.
fn too_much<'a>(
    program: Option<rules::Name<'a>>,
    line: Option<usize>,
    field: &Field,
) -> NewFault<'a> {
    let percent = |share: f64| Quantity { value: 100.0 * share, unit: "%" };
    let advice = text!("prove-effort");
    let (share, whole) = (percent(field.effort.share()), percent(1.0));
    let fault = NewFault::new("prove.effort", share, whole, advice);
    NewFault { program, line, basis: Basis::CommonPractice, ..fault }
}

/// Every solid with what may happen to it.
fn pieces(rebate: &Rebate) -> Vec<Piece<'_>> {
    let go = rebate.go.iter().enumerate().map(|(i, solid)| Piece { solid, part: Part::Go(i) });
    let may_go = rebate.may_go.iter().map(|solid| Piece { solid, part: Part::MayGo });
    let stay = rebate.stay.iter().map(|solid| Piece { solid, part: Part::Stay });
    go.chain(may_go).chain(stay).collect()
}

#[cfg(test)]
mod tests;
