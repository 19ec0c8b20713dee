//! The judgements.

mod bodies;
mod corner;
mod gouge;
mod leftover;
mod load;
mod order;
mod remains;
mod rules;
mod walk;
mod zero;

use super::docket::{Charge, Docket};
use super::proof::{DepthMap, Proof, Strip, Volumes};
use super::reader::Read;
use super::wood::{Field, Fine, Part, Piece, Stretch, surface};
use super::{Program, Setup};
use crate::finding::{Basis, Quantity};
use crate::rebate::Rebate;
use std::cell::Cell;

/// Judges programs that could be read whole: as they are ordered, and where they meet too much wood,
/// whether another order would be right.
pub(super) fn judge(programs: &[Program], read: &[Read], rebate: &Rebate, setup: &Setup) -> Proof {
    let read: Vec<&Read> = read.iter().collect();
    let (proof, _) = sweep(programs, &read, rebate, setup, 0);
    // All tries together may take as much as the first one.
    let spent = Cell::new(0);
    let names: Vec<&str> = programs.iter().map(|program| program.name).collect();
    order::explain(proof, &names, |order| {
        let programs: Vec<Program> =
            order.iter().filter_map(|&i| programs.get(i)).copied().collect();
        let read: Vec<&Read> = order.iter().filter_map(|&i| read.get(i)).copied().collect();
        let (proof, steps) = sweep(&programs, &read, rebate, setup, spent.get());
        spent.set(steps);
        proof
    })
}

/// Sweeps what was read through the wood, program after program; with the proof comes how many steps
/// it took, those `spent` before included.
fn sweep<'a>(
    programs: &[Program<'a>],
    read: &[&Read],
    rebate: &'a Rebate,
    setup: &'a Setup,
    spent: u64,
) -> (Proof, u64) {
    let pieces = pieces(rebate);
    let moves = || read.iter().flat_map(|read| &read.moves);
    let fine = Fine { pitch: setup.pitch(), depth: setup.tolerance };
    let field = Field::new(&pieces, moves(), setup.radius(), fine, spent);
    let mut walk = walk::Walk::new(setup, rebate, field, Docket::default());
    for (index, (program, read)) in programs.iter().zip(read).enumerate() {
        walk.run((index, program.name), program.place, read);
    }
    let walk::Outcome { field, mut docket, mut margins, passed, extents, stopped } = walk.finish();
    let steps = field.effort.steps();
    if let Some((program, line)) = stopped {
        docket.add(too_much(program, line, &field));
        return (Proof::unswept(docket, setup), steps);
    }
    rules::travel(&extents, setup, &mut docket);
    let corners = corner::fillets(rebate, setup.radius());
    let chisel = leftover::search(&field, &corners, rebate, setup, &mut docket);
    let chisel = corner::measure(chisel, &corners, rebate, moves(), setup);
    let left = remains::remains(&field, &setup.reserve.fronts);
    margins.zero = zero::margins(moves(), &left, &margins, rebate, setup);
    margins.wood = left.into_iter().flatten().collect();
    let removed = field.removed();
    let proof = Proof {
        faults: docket.faults(),
        swept: true,
        chisel,
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
        map: map(&field),
    };
    (proof, steps)
}

/// The programs were more work than a proof may be.
fn too_much<'a>(
    program: Option<rules::Name<'a>>,
    line: Option<usize>,
    field: &Field,
) -> Charge<'a> {
    let percent = |share: f64| Quantity { value: 100.0 * share, unit: "%" };
    Charge {
        rule: "prove.effort",
        program,
        line,
        at: None,
        measured: percent(field.effort.share()),
        limit: percent(1.0),
        weight: field.effort.share(),
        advice: "Not proven: too long or too winding to follow to its end. Split the program, or \
                 use fewer, straighter moves."
            .into(),
        basis: Basis::CommonPractice,
    }
}

/// Every solid with what may happen to it.
fn pieces(rebate: &Rebate) -> Vec<Piece<'_>> {
    let go = rebate.go.iter().enumerate().map(|(i, solid)| Piece { solid, part: Part::Go(i) });
    let may_go = rebate.may_go.iter().map(|solid| Piece { solid, part: Part::MayGo });
    let stay = rebate.stay.iter().map(|solid| Piece { solid, part: Part::Stay });
    go.chain(may_go).chain(stay).collect()
}

/// Change of Z that the map tells apart on a slope, mm.
const MAP_STEP: f64 = 0.05;
/// Most level steps that one slope, and all slopes together, are told in.
const MOST_MAP_STEPS: (f64, f64) = (256.0, 500_000.0);

fn map(field: &Field) -> DepthMap {
    let mut spare = MOST_MAP_STEPS.1;
    let strips = field.rows.iter().map(|row| {
        let mut spans: Vec<(f64, f64, f64)> = Vec::with_capacity(row.stretches.len());
        for (begin, stretch) in row.iter() {
            let stack = field.stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice);
            let mut count = 1.0;
            if stretch.lean != 0.0 {
                let change = (stretch.lean * (stretch.end - begin)).abs();
                count = (change / MAP_STEP).ceil().clamp(1.0, MOST_MAP_STEPS.0.min(spare.max(1.0)));
                spare -= count;
            }
            for (from, to, cut) in steps(begin, stretch, count) {
                let Some(z) = surface(stack, cut) else { continue };
                match spans.last_mut() {
                    Some(last) if last.1 >= from && last.2.to_bits() == z.to_bits() => last.1 = to,
                    _ => spans.push((from, to, z)),
                }
            }
        }
        Strip { y0: row.y - row.height / 2.0, y1: row.y + row.height / 2.0, spans }
    });
    DepthMap { strips: strips.collect() }
}

/// The stretch in so many level steps: X from, X to, and the cut in the middle.
fn steps(begin: f64, stretch: &Stretch, count: f64) -> impl Iterator<Item = (f64, f64, f64)> {
    let width = (stretch.end - begin) / count;
    let mut index = 0.0;
    std::iter::from_fn(move || {
        if index >= count {
            return None;
        }
        let from = begin + index * width;
        index += 1.0;
        let to = if index < count { begin + index * width } else { stretch.end };
        Some((from, to, stretch.cut_at(f64::midpoint(from, to))))
    })
}

#[cfg(test)]
mod tests;
