//! What the prover is told of the units that were ordered: from the survey and the order alone. No formula of
//! wall or platform has a part in it, so that a rebate planned too small for the glass that comes is seen.

use super::work::Work;
use crate::geometry::{PerSide, ShapeError};
use crate::prove::Ordered;

/// Every unit of a sash.
///
/// # Errors
/// Where the tape does not go round the glass.
pub(super) fn ordered(work: &Work) -> Result<Vec<Ordered>, ShapeError> {
    let measured = &work.sash.measured;
    let (unit, finish) = (&measured.unit, measured.finish);
    let of = |fit: &crate::fit::UnitFit| {
        Ok(Ordered {
            light: fit.light.clone(),
            drawn: fit.outlines.order.grow(&PerSide::all(unit.tape))?,
            rest: fit.outlines.unit.clone(),
            clearance: measured.clearance,
            bed: finish.bed,
            thickest: unit.build_up.thickness() + unit.over,
            bead: finish.bead,
            proud: finish.proud,
        })
    };
    work.fit.units.iter().map(of).collect()
}
