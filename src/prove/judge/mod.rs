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

use super::docket::Docket;
use super::proof::{DepthMap, Proof, Strip, Volumes};
use super::reader::Read;
use super::wood::{Field, Part, Piece, surface};
use super::{Program, Setup};
use crate::rebate::Rebate;

/// Judges programs that could be read whole: as they are ordered, and where they meet too much wood,
/// whether another order would be right.
pub(super) fn judge(programs: &[Program], read: &[Read], rebate: &Rebate, setup: &Setup) -> Proof {
    let proof = sweep(programs, read, rebate, setup);
    let names: Vec<&str> = programs.iter().map(|program| program.name).collect();
    order::explain(proof, &names, |order| {
        let programs: Vec<Program> =
            order.iter().filter_map(|&i| programs.get(i)).copied().collect();
        let read: Vec<Read> = order.iter().filter_map(|&i| read.get(i)).cloned().collect();
        sweep(&programs, &read, rebate, setup)
    })
}

/// Sweeps what was read through the wood, program after program.
fn sweep(programs: &[Program], read: &[Read], rebate: &Rebate, setup: &Setup) -> Proof {
    let pieces = pieces(rebate);
    let moves = || read.iter().flat_map(|read| &read.moves);
    let field = Field::new(&pieces, moves(), setup.radius(), setup.pitch());
    let mut walk = walk::Walk::new(setup, rebate, field, Docket::default());
    for (index, (program, read)) in programs.iter().zip(read).enumerate() {
        walk.run((index, program.name), read);
    }
    let walk::Outcome { field, mut docket, mut margins, passed, extents } = walk.finish();
    rules::travel(&extents, setup, &mut docket);
    let corners = corner::fillets(rebate, setup.radius());
    let chisel = leftover::search(&field, &corners, rebate, setup, &mut docket);
    let chisel = corner::measure(chisel, &corners, rebate, moves(), setup);
    let left = remains::remains(&field, &setup.reserve.fronts);
    margins.zero = zero::margins(moves(), &left, &margins, rebate, setup);
    margins.wood = left.into_iter().flatten().collect();
    let removed = field.removed();
    Proof {
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
    }
}

/// Every solid with what may happen to it.
fn pieces(rebate: &Rebate) -> Vec<Piece<'_>> {
    let go = rebate.go.iter().enumerate().map(|(i, solid)| Piece { solid, part: Part::Go(i) });
    let may_go = rebate.may_go.iter().map(|solid| Piece { solid, part: Part::MayGo });
    let stay = rebate.stay.iter().map(|solid| Piece { solid, part: Part::Stay });
    go.chain(may_go).chain(stay).collect()
}

fn map(field: &Field) -> DepthMap {
    let strips = field.rows.iter().map(|row| {
        let mut spans: Vec<(f64, f64, f64)> = Vec::new();
        for (begin, stretch) in row.iter() {
            let stack = field.stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice);
            let Some(z) = surface(stack, stretch.cut) else { continue };
            match spans.last_mut() {
                Some(last) if last.1 >= begin && last.2.to_bits() == z.to_bits() => {
                    last.1 = stretch.end;
                }
                _ => spans.push((begin, stretch.end, z)),
            }
        }
        Strip { y0: row.y - row.height / 2.0, y1: row.y + row.height / 2.0, spans }
    });
    DepthMap { strips: strips.collect() }
}
