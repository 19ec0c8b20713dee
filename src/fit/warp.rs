//! Judgements of a sash that is cupped or twisted: glass is flat.

use super::{Fit, UnitFit};
use crate::finding::{Bounds, Finding, Quantity, Verdict};
use crate::geometry::Surface;
use crate::language::text;
use crate::sash::Sash;
use crate::survey::Limits;

/// Whether the bed takes up the twist under each unit; nothing for a flat sash.
pub(super) fn judge(sash: &Sash, fit: &Fit, limits: &Limits) -> Vec<Finding> {
    if sash.measured.surface.is_empty() {
        return Vec::new();
    }
    let surface = sash.measured.warp().surface;
    fit.units.iter().map(|unit| twist(sash, unit, &surface, limits)).collect()
}

/// What is left of the bed where the platform, which follows the face, rises most above the flat unit on
/// it ([`Surface::off_plane`]). To a tenth of a millimetre: heights are not measured finer.
fn twist(sash: &Sash, unit: &UnitFit, surface: &Surface, limits: &Limits) -> Finding {
    let off = (surface.off_plane(unit.unit()) * 10.0).round() / 10.0;
    Finding::at_least(
        "fit.twist",
        unit.light.clone(),
        Quantity::mm(sash.measured.finish.bed - off),
        Bounds::new(&limits.twist_stop, &limits.twist_caution),
        |verdict, _| match verdict {
            Verdict::Clear => {
                text!("fit-twist-taken-up", off = format!("{off:.1}"))
            }
            _ => text!("fit-twisted", off = format!("{off:.1}")),
        },
    )
}
