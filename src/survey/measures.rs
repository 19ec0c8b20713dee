//! How a sash out of square was measured.

use crate::geometry::PerSide;
use crate::geometry::quadrilateral::{Adjusted, Span};

/// Widths, heights and diagonals, brought together.
#[derive(Debug, Clone, PartialEq)]
pub struct Measures {
    /// The likeliest shape with straight edges, and how each measure stands to it. A middle width or
    /// height counts there less the bow of its two sides.
    pub adjusted: Adjusted,
    /// How far the middle of each sight edge is bowed away from the daylight, mm: as surveyed, or half
    /// of what a middle width or height has more than the ends.
    pub bow: PerSide<f64>,
}

/// What a joiner calls a measure.
pub fn measure_name(span: Span) -> &'static str {
    match span {
        Span::Across(share) if share <= 0.25 => "width at the bottom",
        Span::Across(share) if share < 0.75 => "width in the middle",
        Span::Across(_) => "width at the top",
        Span::Up(share) if share <= 0.25 => "height at the left",
        Span::Up(share) if share < 0.75 => "height in the middle",
        Span::Up(_) => "height at the right",
        Span::FromLowerLeft => "diagonal from the lower left",
        Span::FromLowerRight => "diagonal from the lower right",
    }
}
