//! What the prover is told: the timber, the workshop, and programs as text.

use super::error::WorkError;
use super::ordered::ordered;
use super::reserve::{obstacles, reserve};
use super::trial::Views;
use super::work::Work;
use crate::finding::{Bounds, Finding, Quantity, Verdict};
use crate::geometry::{Placement, ShapeError};
use crate::language::text;
use crate::machine::{self, SetUp};
use crate::number::NotFinite;
use crate::prove::{self, CornerCutter, Direction, Holder, Program, Proof, Setup, Span};
use crate::sheets;
use crate::survey::{self, Cutter, Limit, Workshop};
use crate::warmth::Losses;
use kurbo::{Point, Rect, Size};

/// Thickest chip in wood on small machines, mm a cutting edge: under what published charts allow a cutter of 6 mm in
/// softwood (0.15 to 0.33), as such machines are limper; a workshop that asks for thicker chips is taken at its word.
const MOST_CHIP: f64 = 0.2;

/// Proves any programs against a surveyed sash, whatever wrote them.
///
/// A sash larger than the machine's travel is cut in several set-ups: a program whose name holds
/// `-setup2-` is taken as run in the second of them, unless its place is said.
///
/// # Errors
/// As [`Work::new`].
pub fn prove(
    measured: &survey::Sash,
    workshop: &Workshop,
    programs: &[Program],
) -> Result<Proof, WorkError> {
    let work = to_cut(measured, workshop)?;
    let programs = all_placed(programs, &work);
    Ok(prove::prove(&programs, &work.rebate, &setup(&work, workshop)?))
}

/// The work on a sash without its heat, which says nothing of a cut.
pub(super) fn to_cut(measured: &survey::Sash, workshop: &Workshop) -> Result<Work, WorkError> {
    Work::losing(&Views::shared(), measured, workshop, |_, _, _| Losses::Tables)
}

/// The programs in the set-ups that their names tell.
pub(super) fn all_placed<'a>(programs: &[Program<'a>], work: &Work) -> Vec<Program<'a>> {
    programs.iter().map(|program| placed(*program, &work.programs.set_ups)).collect()
}

/// The program in the set-up that its name tells.
fn placed<'a>(program: Program<'a>, set_ups: &[SetUp]) -> Program<'a> {
    let of = |set_up: &&SetUp| program.name.contains(&format!("-setup{}-", set_up.number));
    match set_ups.iter().find(of) {
        Some(set_up) if program.place == Placement::IDENTITY => {
            Program { place: set_up.place, ..program }
        }
        _ => program,
    }
}

/// Proves the very text that would be written.
///
/// # Errors
/// As [`setup`], and where a program cannot be written.
pub fn prove_work(work: &Work, workshop: &Workshop) -> Result<Proof, WorkError> {
    let texts = texts(&work.programs.programs)?;
    let programs = as_read(&work.programs.programs, &texts);
    Ok(prove::prove(&programs, &work.rebate, &setup(work, workshop)?))
}

fn texts(programs: &[machine::Program]) -> Result<Vec<String>, NotFinite> {
    programs.iter().map(machine::Program::text).collect()
}

/// The programs as the prover takes them.
fn as_read<'a>(programs: &'a [machine::Program], texts: &'a [String]) -> Vec<Program<'a>> {
    let both = programs.iter().zip(texts);
    both.map(|(own, text)| Program { place: own.place, ..Program::new(&own.name, text) }).collect()
}

/// What may be written of a sash's programs.
pub(super) struct Proven {
    /// The proof of the texts.
    pub proof: Proof,
    /// One a program, in the same order.
    pub texts: Vec<String>,
}

/// Proves the programs and writes the margins into the head of each, as remarks: the prover reads that very
/// text again and sees that its words are those that it has proven.
pub(super) fn proven(work: &Work, workshop: &Workshop) -> Result<Proven, WorkError> {
    let setup = setup(work, workshop)?;
    let mut programs = work.programs.programs.clone();
    let texts = texts(&programs)?;
    let plain = as_read(&work.programs.programs, &texts);
    let proof = prove::prove(&plain, &work.rebate, &setup);
    if !proof.is_proven() {
        return Ok(Proven { proof, texts });
    }
    for program in &mut programs {
        program.add_remarks(sheets::margins::remarks(&proof.margins, program.place.turned));
    }
    let noted = self::texts(&programs)?;
    let read = as_read(&programs, &noted);
    let known = prove::prove_commented(&proof, &plain, &read);
    let proof = known.unwrap_or_else(|| prove::prove(&read, &work.rebate, &setup));
    Ok(Proven { proof, texts: noted })
}

/// The prover's limits, from the survey.
///
/// # Errors
/// Where a clamp or a piece of metal has no area; a survey that was read without a mistake has none
/// such.
pub fn setup(work: &Work, workshop: &Workshop) -> Result<Setup, ShapeError> {
    let (cutter, machine, cutting) = (&workshop.cutter, &workshop.machine, &workshop.cutting);
    let [width, height] = machine.bed;
    // The zero lies there in the travel, so the travel begins that far before the zero.
    let bed =
        |[x, y]: [f64; 2]| Rect::from_origin_size(Point::new(-x, -y), Size::new(width, height));
    let holder =
        |holder: survey::Holder| Holder { diameter: holder.diameter, stick_out: holder.stick_out };
    Ok(Setup {
        sash: work.sash.measured.id.clone(),
        cutter_diameter: cutter.diameter,
        cutting_length: cutter.cutting_length,
        shank_diameter: cutter.shank_diameter,
        flutes: cutter.flutes,
        holder: cutter.holder.map(holder),
        corner_cutter: workshop.corner_cutter().map(|cutter| CornerCutter {
            diameter: cutter.diameter,
            cutting_length: cutter.cutting_length,
            shank_diameter: cutter.shank_diameter,
            flutes: cutter.flutes,
            holder: cutter.holder.map(holder),
            least_chip: least_chip(cutter, workshop),
            widest_bite: cutting.side_step * cutter.diameter,
        }),
        travel: machine.bed,
        bed_area: machine.zero.map(bed),
        clear_height: machine::clear_height(&work.sash, workshop),
        // The room face of the thickest member lies on the board.
        floor: Some(-(work.sash.measured.thickness().most + machine.spoil_board)),
        max_feed: machine.max_feed,
        max_plunge: machine.max_plunge,
        rapid: machine.rapid,
        spindle: [machine.spindle_slowest.min(machine.spindle), machine.spindle],
        most_chip: cutting.chip_load.max(MOST_CHIP),
        least_chip: least_chip(cutter, workshop),
        step_depth: cutting.step_depth.max(cutting.widen_step).max(cutting.score_depth),
        widest_bite: cutting.side_step * cutter.diameter,
        skim: cutting.finish_allowance,
        tolerance: cutting.tolerance,
        surface: work.sash.measured.warp().surface,
        obstacles: obstacles(&work.sash)?,
        clamps: work.sash.measured.clamps.len(),
        reserve: reserve(work, &workshop.limits),
        units: ordered(work)?,
        ..Setup::default()
    })
}

/// Least chip that still cuts rather than rubs, mm a cutting edge: in hardwood, as an open book on small machines
/// has it (second hand; 0.1 in softwood).
const LEAST_CHIP: f64 = 0.05;

/// A workshop that asks for thinner chips, or whose machine cannot feed as fast, is judged by what it can do.
fn least_chip(cutter: &Cutter, workshop: &Workshop) -> f64 {
    let (machine, edges) = (&workshop.machine, f64::from(cutter.flutes));
    let slowest = machine.spindle_slowest.min(machine.spindle);
    LEAST_CHIP.min(workshop.cutting.chip_load).min(machine.max_feed / (slowest * edges))
}

/// What the proof of the programs written here found, with the cure for whoever let them be written: the survey asks
/// for such programs, and nobody has typed them.
pub(super) fn findings(proof: &Proof) -> impl Iterator<Item = Finding> {
    proof.findings().map(|finding| match finding.rule {
        "prove.effort" => Finding { advice: text!("proof-too-long"), ..finding.clone() },
        _ => finding.clone(),
    })
}

/// `prove.zero`: whether wood and unit bear a zero that is set as far off as the workshop may set it.
pub(super) fn zero_findings(proof: &Proof, workshop: &Workshop) -> Vec<Finding> {
    let Some(zero) = proof.margins.zero.as_ref().filter(|_| proof.is_proven()) else {
        return Vec::new();
    };
    let axes = [("X", &zero.x), ("Y", &zero.y), ("Z", &zero.z)];
    axes.into_iter().map(|(axis, span)| zero_finding(axis, span, workshop)).collect()
}

fn zero_finding(axis: &str, span: &Span, workshop: &Workshop) -> Finding {
    let Span { minus, plus } = span;
    let nearer: &Direction = if minus.by <= plus.by { minus } else { plus };
    let limit = Limit::set(workshop.cutting.zero_error);
    Finding::at_least(
        "prove.zero",
        text!("place-zero", axis),
        Quantity::mm(nearer.by),
        Bounds::caution(&limit),
        |verdict, _| match (verdict, &nearer.limited_by) {
            (Verdict::Clear, _) | (_, None) => text!("zero-fine"),
            (_, Some(what)) if nearer.by < nearer.wood => text!("zero-ease", what),
            (_, Some(what)) => text!("zero-care", what),
        },
    )
}
