//! Judgements of a sash that is cupped or twisted: glass is flat.

use super::{Fit, UnitFit};
use crate::finding::{Bounds, Finding, Quantity, Verdict};
use crate::geometry::{Fitted, Surface};
use crate::sash::Sash;
use crate::survey::Limits;
use kurbo::Point;

/// Whether the bed takes up the twist under each unit, and whether the heights agree; nothing for a
/// flat sash.
pub(super) fn judge(sash: &Sash, fit: &Fit, limits: &Limits) -> Vec<Finding> {
    let Fitted { surface, residuals } = sash.measured.warp();
    if residuals.is_empty() {
        return Vec::new();
    }
    let units = fit.units.iter().map(|unit| twist(sash, unit, &surface, limits));
    units.chain([heights(&residuals, limits)]).collect()
}

/// What is left of the bed where the platform, which follows the face, dips or rises most from the flat
/// unit on it: the nearest plane leaves ±t·w·h/4 at the corners (closed form), so the bed is that much
/// thinner at two of them. To a tenth of a millimetre: heights are not measured finer.
fn twist(sash: &Sash, unit: &UnitFit, surface: &Surface, limits: &Limits) -> Finding {
    let rect = unit.unit;
    let off = surface.departure(Point::new(rect.x0, rect.y0), Point::new(rect.x1, rect.y1));
    let off = (off * 10.0).round() / 10.0;
    Finding::at_least(
        "fit.twist",
        unit.light.clone(),
        Quantity::mm(sash.measured.finish.bed - off),
        Bounds::new(&limits.twist_stop, &limits.twist_caution),
        |verdict, _| match verdict {
            Verdict::Clear => "The bed takes up the twist of the sash.".into(),
            _ => format!(
                "The sash is twisted: the flat unit stands {off:.1} mm nearer the platform at two corners and as \
                 much further off at the others. Lay a thicker bed, or straighten the sash first."
            ),
        },
    )
}

/// How far the heights lie from a face that is only tilted and twisted: a cup, or a wrong height.
fn heights(residuals: &[f64], limits: &Limits) -> Finding {
    let far = residuals.iter().map(|residual| residual.abs()).enumerate();
    let (index, worst) = far.max_by(|(_, a), (_, b)| a.total_cmp(b)).unwrap_or((0, 0.0));
    Finding::at_most(
        "sash.surface",
        format!("height {} of the face", index + 1),
        Quantity::mm(worst),
        Bounds::caution(&limits.cup_caution),
        |verdict, _| {
            match verdict {
            Verdict::Clear => "The heights of the face agree with a tilt and a twist.".into(),
            _ => "Depths will be off by this much here: measure this height again. If it is right the sash is \
                  cupped, which the cutter does not follow: press it flat on the bed, or cut it by hand."
                .into(),
        }
        },
    )
}
