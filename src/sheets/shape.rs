//! Outlines of a sash's parts as drawings show them.

use crate::geometry::{Edge, Outline, OutlineError, Sided};
use crate::sash::{PlacedBar, Sash};
use kurbo::Rect;

/// An outline with the exact bounds where it is a rectangle: what was grown may carry rounding.
///
/// # Errors
/// Where a rectangle has no area.
pub(super) fn drawn(sided: &Sided, bounds: Rect) -> Result<Outline, OutlineError> {
    if sided.is_rectangle() { Outline::rectangle(bounds) } else { Ok(sided.outline().clone()) }
}

/// Where the edges of a bar are seen: its two sight edges within the daylight.
pub(super) fn bar_edges(sash: &Sash, bar: &PlacedBar) -> Vec<Edge> {
    let half = bar.measured.width / 2.0;
    let sides = [-half, half].into_iter().filter_map(|by| bar.path.shifted(by));
    sides.flat_map(|edge| sash.outline.outline().stretches_inside(&edge)).collect()
}
