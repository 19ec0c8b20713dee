//! What the prover is told of the workshop.

use crate::prove::Setup;
use crate::survey::Workshop;

/// Spindle speeds this far from the survey's count as another speed, as a share.
const SPEED_SLACK: f64 = 0.5;

/// The prover's limits, from the survey.
pub fn setup(workshop: &Workshop) -> Setup {
    let (cutter, machine, cutting) = (&workshop.cutter, &workshop.machine, &workshop.cutting);
    let spindle = machine.spindle;
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
        spindle: [spindle * (1.0 - SPEED_SLACK), spindle],
        step_depth: cutting.step_depth.max(cutting.widen_step).max(cutting.score_depth),
        skim: cutting.finish_allowance,
        tolerance: cutting.tolerance,
        ..Setup::default()
    }
}
