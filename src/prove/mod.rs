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
mod head;
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
pub use path::{Passage, Step, path};
pub use proof::{
    Chisel, DepthMap, Direction, Fits, Margins, Nearest, Passed, Proof, Span, Strip, Volumes,
    WoodLeft, ZeroError,
};
pub use setup::{Across, CornerCutter, Front, Holder, Ordered, Reserve, Seat, Setup};
pub use tolerance::MOST_BYTES;

use crate::finding::{Basis, Quantity, Verdict};
use crate::geometry::Placement;
use crate::language::{Text, text};
use crate::rebate::Rebate;
use fault::NewFault;
use std::collections::BTreeMap;

/// A program as it will be sent to the machine.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Program<'a> {
    /// Its file name, for places in findings.
    pub name: &'a str,
    /// Its text.
    pub text: &'a str,
    /// How the sash lies as seen from its X0 Y0, where its head does not say: where the sash is put down in
    /// another place for this program, that is not its own zero. A head that says otherwise is a fault, unless
    /// this is the sash's own zero.
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
/// half understood proves nothing. The work and the room of a proof are bounded, about five seconds
/// and 256 MiB: programs that need more are refused as `prove.effort`.
///
/// A program's travel is judged in its own place, together with those of the same place; what it
/// cuts is judged in the sash's frame, together with all the others.
pub fn prove(programs: &[Program], rebate: &Rebate, setup: &Setup) -> Proof {
    let mut faults = fault::Faults::default();
    let unplaced = programs.iter().any(|program| !program.place.is_finite());
    let places = if unplaced { Err(text!("setting-program-zero")) } else { Ok(()) };
    if let Err(wrong) = setup.check().and(places) {
        faults.add(unusable(wrong));
        return Proof::unswept(faults, setup);
    }
    let length = length(programs);
    if length > MOST_BYTES {
        faults.add(too_long(length));
        return Proof::unswept(faults, setup);
    }
    let (placed, read) = read(programs);
    let assumed = head::assumed(&placed, setup);
    if !head::judge(programs, &placed, &read, setup, &mut faults) {
        return Proof::unswept(faults, setup);
    }
    for (index, program) in programs.iter().enumerate() {
        faults_of_letters((index, program.name), program.text, &mut faults);
    }
    let (from_heads, letters) = std::mem::take(&mut faults).faults();
    let proof = judged(&placed, read, rebate, setup, faults);
    let found = from_heads.into_iter().chain(proof.faults).collect();
    let cautions = letters.into_iter().chain(proof.cautions).collect();
    // What was taken off the tolerance is the error of layout flat: together, the promise.
    Proof { faults: found, cautions, assumed, tolerance: setup.tolerance, ..proof }
}

/// Judges programs whose heads are as they should be.
fn judged(
    placed: &[head::Placed],
    read: Vec<reader::Read>,
    rebate: &Rebate,
    setup: &Setup,
    mut faults: fault::Faults,
) -> Proof {
    for (index, (placed, read)) in placed.iter().zip(&read).enumerate() {
        for (kind, refusal) in read.refused().into_iter().enumerate() {
            faults.add(refused((index, placed.program.name), kind, &refusal));
        }
    }
    if !faults.is_empty() {
        return Proof::unswept(faults, setup);
    }
    let judge = |runs: &[judge::Run], flat: &Setup| judge::judge(runs, rebate, flat);
    over_flat(placed, read, setup, judge).unwrap_or_else(|unfit| {
        faults.add(warped(unfit));
        Proof::unswept(faults, setup)
    })
}

/// Does `work` with what was read, laid on a flat face, each program with its cutter put in.
fn over_flat<T>(
    placed: &[head::Placed],
    read: Vec<reader::Read>,
    setup: &Setup,
    work: impl FnOnce(&[judge::Run], &Setup) -> T,
) -> Result<T, warp::NotFlattened> {
    let (read, flat) = warp::lay_flat(read, setup)?;
    let with_cutter = |placed: &head::Placed| flat.with_cutter(placed.head.diameter());
    let setups: Vec<Setup> = placed.iter().map(with_cutter).collect();
    let runs: Vec<judge::Run> = placed
        .iter()
        .zip(&read)
        .zip(&setups)
        .map(|((placed, read), setup)| judge::Run { program: placed.program, read, setup })
        .collect();
    Ok(work(&runs, &flat))
}

/// Follows `programs` through the wood as [`prove`] does, move by move, for whoever shows the cut as it goes on; none
/// where they cannot be swept.
pub fn steps(programs: &[Program], rebate: &Rebate, setup: &Setup) -> Option<Vec<Step>> {
    let unplaced = programs.iter().any(|program| !program.place.is_finite());
    if setup.check().is_err() || unplaced || length(programs) > MOST_BYTES {
        return None;
    }
    let (placed, read) = read(programs);
    if read.iter().any(|read| !read.refusals.is_empty()) {
        return None;
    }
    let steps = |runs: &[judge::Run], flat: &Setup| judge::steps(runs, rebate, flat);
    over_flat(&placed, read, setup, steps).ok()?
}

/// Bytes of all programs together.
fn length(programs: &[Program]) -> usize {
    programs.iter().map(|program| program.text.len()).sum()
}

/// The programs where their heads place them, and what each does in the sash's frame.
fn read<'a>(programs: &[Program<'a>]) -> (Vec<head::Placed<'a>>, Vec<reader::Read>) {
    let placed = head::placed(programs);
    let read = |head::Placed { program, .. }: &head::Placed| {
        reader::read(program.text).placed(&program.place.inverse())
    };
    let read = placed.iter().map(read).collect();
    (placed, read)
}

/// What [`prove`] would say of `commented`, where those are the `proven` programs with other comments
/// and blank lines and `proof` is of those, in a fraction of the time: the same proof, its lines
/// counted anew. `None` where a program says anything else, or where the proof holds a fault.
pub fn prove_commented(proof: &Proof, proven: &[Program], commented: &[Program]) -> Option<Proof> {
    let too_long = length(commented) > MOST_BYTES;
    if !proof.is_proven() || proven.len() != commented.len() || too_long {
        return None;
    }
    let mut lines = BTreeMap::new();
    for (a, b) in proven.iter().zip(commented) {
        let heads = [a, b].map(|program| reader::Head::read(program.text).without_lines());
        let [ours, theirs] = heads;
        let same = a.name == b.name && a.place == b.place && ours == theirs;
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
    for caution in &mut proof.cautions {
        let (Some(program), Some(line)) = (&caution.program, caution.line) else { continue };
        let new = *lines.get(program.as_str())?.get(&line)?;
        caution.in_line(new);
    }
    Some(proof)
}

/// Comments may be in any letters; but some controllers act on bytes that are no ASCII, wherever they stand.
fn faults_of_letters(program: (usize, &str), text: &str, faults: &mut fault::Faults) {
    for (line, _) in reader::lines(text).filter(|(_, line)| !line.is_ascii()) {
        let count = |value| Quantity { value, unit: "" };
        let advice = text!("prove-comment");
        faults.add(NewFault {
            program: Some(program),
            line: Some(line),
            basis: Basis::CommonPractice,
            verdict: Verdict::Caution,
            ..NewFault::new("prove.comment", count(1.0), count(0.0), advice)
        });
    }
}

fn warped(unfit: warp::NotFlattened) -> NewFault<'static> {
    let count = |value| Quantity { value, unit: "moves" };
    let (rule, measured, limit, advice) = match unfit {
        warp::NotFlattened::Lean(rim, most) => {
            ("prove.lean", Quantity::mm(rim), Quantity::mm(most), text!("prove-lean"))
        }
        warp::NotFlattened::Moves(moves, most) => {
            ("prove.effort", count(moves), count(most), text!("prove-moves"))
        }
    };
    NewFault { basis: Basis::Geometry, ..NewFault::new(rule, measured, limit, advice) }
}

fn unusable(wrong: Text) -> NewFault<'static> {
    let none = Quantity { value: 0.0, unit: "" };
    NewFault::new("prove.setup", none, none, text!("prove-settings", wrong))
}

fn too_long(length: usize) -> NewFault<'static> {
    let bytes = |value: usize| Quantity { value: value as f64, unit: "bytes" };
    let advice = text!("prove-too-long");
    let fault = NewFault::new("prove.effort", bytes(length), bytes(MOST_BYTES), advice);
    NewFault { basis: Basis::CommonPractice, ..fault }
}

fn refused<'a>(program: (usize, &'a str), kind: usize, refusal: &reader::Refused) -> NewFault<'a> {
    let (measured, limit) = refusal.lengths.map_or_else(
        || (Quantity { value: 1.0, unit: "" }, Quantity { value: 0.0, unit: "" }),
        |(measured, limit)| (Quantity::mm(measured), Quantity::mm(limit)),
    );
    let not_run = text!("prove-not-run", what = &refusal.what);
    let also = match refusal.lines.as_slice() {
        [] | [_] => not_run,
        [_, one] => not_run.and(text!("prove-so-is", line = one.to_string())),
        [_, rest @ ..] => not_run.and(text!("prove-so-are", lines = listed(rest))),
    };
    let advice = also.and(text!("prove-only-whole"));
    NewFault {
        program: Some(program),
        line: refusal.lines.first().copied(),
        basis: Basis::Published("RS-274/NGC, NISTIR 6556"),
        kind,
        count: refusal.lines.len(),
        ..NewFault::new(refusal.rule, measured, limit, advice)
    }
}

/// Lines in words, a dozen at the most.
fn listed(lines: &[usize]) -> Text {
    const MOST: usize = 12;
    let named = lines.iter().take(MOST).map(ToString::to_string).collect::<Vec<_>>().join(", ");
    match lines.len().checked_sub(MOST).filter(|more| *more > 0) {
        Some(more) => text!("list-and-others", named, count = more),
        None => Text::given(named),
    }
}

#[cfg(test)]
mod tests;
