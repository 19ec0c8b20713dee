//! What the prover is told: the timber, the workshop, and programs as text.

use super::work::Work;
use crate::geometry::OutlineError;
use crate::prove::{self, Program, Proof, Setup};
use crate::survey::{self, Workshop};

/// Proves any programs against a surveyed sash, whatever wrote them.
///
/// # Errors
/// As [`Work::new`].
pub fn prove(
    measured: &survey::Sash,
    workshop: &Workshop,
    programs: &[Program],
) -> Result<Proof, OutlineError> {
    let work = Work::new(measured, workshop)?;
    Ok(prove::prove(programs, &work.rebate, &setup(workshop)))
}

/// Proves the very text that would be written.
pub fn prove_work(work: &Work, workshop: &Workshop) -> Proof {
    let programs = work.programs.programs.iter();
    let programs: Vec<Program> =
        programs.map(|program| Program { name: &program.name, text: &program.text }).collect();
    prove::prove(&programs, &work.rebate, &setup(workshop))
}

/// The prover's limits, from the survey.
pub fn setup(workshop: &Workshop) -> Setup {
    let (cutter, machine, cutting) = (&workshop.cutter, &workshop.machine, &workshop.cutting);
    Setup {
        cutter_diameter: cutter.diameter,
        cutting_length: cutter.cutting_length,
        shank_diameter: cutter.shank_diameter,
        travel: machine.bed,
        bed_area: None,
        clear_height: machine.clear_height,
        max_feed: machine.max_feed,
        max_plunge: machine.max_plunge,
        rapid: machine.rapid,
        spindle: [machine.spindle_slowest.min(machine.spindle), machine.spindle],
        step_depth: cutting.step_depth.max(cutting.widen_step).max(cutting.score_depth),
        skim: cutting.finish_allowance,
        tolerance: cutting.tolerance,
        ..Setup::default()
    }
}
