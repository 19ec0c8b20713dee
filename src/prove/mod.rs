//! Reads any RS-274 program back, sweeps it through the timber, and judges it.
//!
//! This room shares no code with those that plan and write the cuts: it knows the wood only as the
//! solids of [`Rebate`] and the program only as text. One mistake cannot hide in both.
//!
//! Promised:
//! - Every byte of a program is either understood or refused; nothing is skipped.
//! - A gouge is found by exact distances between the cutter's path and the wood that must stay; no
//!   sampling stands between the two.
//! - Wood left is found on rows (see the module `wood`) whose boundaries lie within half of
//!   [`Setup::pitch`] of the true ones, and on slopes within the tolerance of the true depth, never
//!   below it. No square of wood of side tolerance plus pitch is missed,
//!   and none thinner than tolerance less pitch is reported.
//! - Over a face that is not flat, heights are counted from the face as it lies; the error of that is
//!   taken off the tolerance before judging (see the module `warp`).
//! - Equal input gives an equal proof.
//! - Every proof ends: what it may take is counted, and what needs more is refused.
//!
//! Not promised: what the machine does between the programmed points beyond the words of the
//! program (a controller that rounds corners off), a bent cutter, or wood that moves.

mod fault;
mod judge;
mod motion;
mod path;
mod proof;
mod reader;
mod setup;
mod tolerance;
mod warp;
mod wood;

pub use fault::Fault;
pub use path::{Passage, path};
pub use proof::{
    Chisel, DepthMap, Direction, Fits, Margins, Nearest, Passed, Proof, Span, Strip, Volumes,
    WoodLeft, ZeroError,
};
pub use setup::{Across, Front, Holder, Ordered, Reserve, Seat, Setup};

use crate::finding::{Basis, Quantity};
use crate::geometry::Placement;
use crate::rebate::Rebate;
use fault::NewFault;
use std::collections::BTreeMap;
use tolerance::MOST_BYTES;

/// A program as it will be sent to the machine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Program<'a> {
    /// Its file name, for places in findings.
    pub name: &'a str,
    /// Its text.
    pub text: &'a str,
    /// How the sash lies as seen from its X0 Y0: where the sash is put down in another place for this
    /// program, that is not its own zero.
    pub place: Placement,
}

impl<'a> Program<'a> {
    /// A program whose zero is the sash's.
    pub fn new(name: &'a str, text: &'a str) -> Self {
        Program { name, text, place: Placement::IDENTITY }
    }
}

/// Proves `programs`, run one after the other in this order, against the wood of `rebate`.
///
/// The cutter's state and place are taken as unknown at the start of each program. Where a program
/// holds words that cannot be judged, they are all reported and nothing is swept: a cut that is
/// half understood proves nothing. The work and the room of a proof are bounded, about a second and
/// 256 MiB: programs that need more are refused as `prove.effort`.
///
/// A program's travel is judged in its own place, together with those of the same place; what it
/// cuts is judged in the sash's frame, together with all the others.
pub fn prove(programs: &[Program], rebate: &Rebate, setup: &Setup) -> Proof {
    let mut faults = fault::Faults::default();
    let unplaced = programs.iter().any(|program| !program.place.is_finite());
    let places = if unplaced { Err("a program's zero must be a place") } else { Ok(()) };
    if let Err(wrong) = setup.check().and(places) {
        faults.add(unusable(wrong));
        return Proof::unswept(faults, setup);
    }
    let length = programs.iter().map(|program| program.text.len()).sum::<usize>();
    if length > MOST_BYTES {
        faults.add(too_long(length));
        return Proof::unswept(faults, setup);
    }
    let placed = |program: &Program| reader::read(program.text).placed(&program.place.inverse());
    let read: Vec<_> = programs.iter().map(placed).collect();
    for (index, (program, read)) in programs.iter().zip(&read).enumerate() {
        for refusal in &read.refusals {
            faults.add(refused((index, program.name), refusal));
        }
    }
    if !faults.is_empty() {
        return Proof::unswept(faults, setup);
    }
    match warp::lay_flat(read, setup) {
        Ok((read, flat)) => {
            let proof = judge::judge(programs, &read, rebate, &flat);
            // What was taken off the tolerance is the error of layout flat: together, the promise.
            Proof { tolerance: setup.tolerance, ..proof }
        }
        Err(unfit) => {
            faults.add(warped(unfit));
            Proof::unswept(faults, setup)
        }
    }
}

/// What [`prove`] would say of `commented`, where those are the `proven` programs with other comments
/// and blank lines and `proof` is of those, in a fraction of the time: the same proof, its lines
/// counted anew. `None` where a program says anything else, or where the proof holds a fault.
pub fn prove_commented(proof: &Proof, proven: &[Program], commented: &[Program]) -> Option<Proof> {
    let length = commented.iter().map(|program| program.text.len()).sum::<usize>();
    if !proof.is_proven() || proven.len() != commented.len() || length > MOST_BYTES {
        return None;
    }
    let mut lines = BTreeMap::new();
    for (a, b) in proven.iter().zip(commented) {
        let same = a.name == b.name && a.place == b.place;
        let pairs = reader::same_words(a.text, b.text).filter(|_| same)?;
        if lines.insert(a.name, pairs).is_some() {
            // Two programs of one name: which of them a line of the proof belongs to is not known.
            return None;
        }
    }
    let mut proof = proof.clone();
    for (passed, program) in proof.programs.iter_mut().zip(commented) {
        passed.lines = reader::count_lines(program.text);
    }
    for nearest in proof.margins.nearest_mut() {
        nearest.line = *lines.get(nearest.program.as_str())?.get(&nearest.line)?;
    }
    Some(proof)
}

fn warped(unfit: warp::NotFlattened) -> NewFault<'static> {
    let count = |value| Quantity { value, unit: "moves" };
    let (rule, measured, limit, advice) = match unfit {
        warp::NotFlattened::Lean(rim, most) => (
            "prove.lean",
            Quantity::mm(rim),
            Quantity::mm(most),
            "Not proven: the face leans too much for the cutter's flat end. Wedge the sash level on the \
             bed and measure it again, or use a thinner cutter.",
        ),
        warp::NotFlattened::Moves(moves, most) => (
            "prove.effort",
            count(moves),
            count(most),
            "Not proven: too many moves over a face that is not flat. Split the programs.",
        ),
    };
    NewFault { basis: Basis::Geometry, ..NewFault::new(rule, measured, limit, advice) }
}

fn unusable(wrong: &str) -> NewFault<'static> {
    let none = Quantity { value: 0.0, unit: "" };
    NewFault::new("prove.setup", none, none, format!("Mend the workshop's settings: {wrong}."))
}

fn too_long(length: usize) -> NewFault<'static> {
    let bytes = |value: usize| Quantity { value: value as f64, unit: "bytes" };
    let advice = "Not proven: the programs are too long. Split them, or use longer moves.";
    let fault = NewFault::new("prove.effort", bytes(length), bytes(MOST_BYTES), advice);
    NewFault { basis: Basis::CommonPractice, ..fault }
}

fn refused<'a>(program: (usize, &'a str), refusal: &reader::Refusal) -> NewFault<'a> {
    let (measured, limit) = refusal.lengths.map_or_else(
        || (Quantity { value: 1.0, unit: "" }, Quantity { value: 0.0, unit: "" }),
        |(measured, limit)| (Quantity::mm(measured), Quantity::mm(limit)),
    );
    let advice =
        format!("Not run: {}. Mend this line; a program is judged only whole.", refusal.what);
    NewFault {
        program: Some(program),
        line: Some(refusal.line),
        basis: Basis::Published("RS-274/NGC, NISTIR 6556"),
        ..NewFault::new(refusal.rule, measured, limit, advice)
    }
}

#[cfg(test)]
mod tests;
