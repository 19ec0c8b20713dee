//! The openings between the bars.

use super::{Light, PlacedBar};
use crate::geometry::{ClipError, Edge, Outline, REWORKED, Region, ShapeError, Sided, side_of};
use crate::survey::{Bar, Runs};
use kurbo::{Point, Rect};
use std::cmp::Ordering;

/// Lights whose lower edges lie this close stand in one row, mm.
const ROW: f64 = 20.0;

/// The lights of a rectangular daylight with bars square to it. They count from the upper left to the
/// right, then downwards.
///
/// # Errors
/// Where bars leave no room between them.
pub(super) fn grid(daylight: Rect, bars: &[PlacedBar]) -> Result<Vec<Light>, ShapeError> {
    let columns = openings(bars, Runs::Upright, daylight.width());
    let rows = openings(bars, Runs::Cross, daylight.height());
    let cells = rows.iter().rev().flat_map(|row| columns.iter().map(move |column| (column, row)));
    cells
        .enumerate()
        .map(|(index, (column, row))| {
            let sight = Rect::new(column.0, row.0, column.1, row.1);
            Ok(light(index, sight, Sided::rectangle(sight)?))
        })
        .collect()
}

/// The open stretches between bars that run one way, from 0 to `length`.
fn openings(bars: &[PlacedBar], runs: Runs, length: f64) -> Vec<(f64, f64)> {
    let bars = bars.iter().map(|bar| &bar.measured);
    let mut across: Vec<&Bar> = bars.filter(|bar| bar.runs == runs).collect();
    across.sort_by(|a, b| a.centre.total_cmp(&b.centre));
    let mut from = 0.0;
    let mut open = Vec::with_capacity(across.len() + 1);
    for bar in across {
        open.push((from, bar.centre - bar.width / 2.0));
        from = bar.centre + bar.width / 2.0;
    }
    open.push((from, length));
    open
}

/// The lights of any daylight: what its bars leave open. They count from the upper left to the right,
/// then downwards.
///
/// # Errors
/// Where the daylight cannot be divided without doubt.
pub(super) fn divide(daylight: &Sided, bars: &[PlacedBar]) -> Result<Vec<Light>, ShapeError> {
    let mut open = vec![Region::solid(daylight.outline().clone())];
    for bar in bars {
        let strip = Region::solid(bar.strip(bar.measured.width)?);
        let mut left = Vec::with_capacity(open.len() + 1);
        for region in &open {
            left.extend(region.difference(&strip)?);
        }
        open = left;
    }
    // An island of bars would leave a light with a hole, which no pane has.
    if let Some(island) = open.iter().find(|region| !region.holes.is_empty()) {
        let at = island.holes.first().map_or(Point::ZERO, |hole| hole.bounds().center());
        return Err(ClipError::Unclear(at).into());
    }
    let mut outlines: Vec<Sided> =
        open.into_iter().map(|region| with_sides(region.outline, daylight)).collect();
    outlines.sort_by(|a, b| in_rows(a.bounds(), b.bounds()));
    let numbered = outlines.into_iter().enumerate();
    Ok(numbered.map(|(index, outline)| light(index, outline.bounds(), outline)).collect())
}

fn light(index: usize, sight: Rect, outline: Sided) -> Light {
    Light { name: format!("light {}", index + 1), sight, outline }
}

/// Edges of the daylight keep their side; those along bars belong to where they look to.
fn with_sides(light: Outline, daylight: &Sided) -> Sided {
    let side =
        |edge: &Edge| daylight.side_at(edge.at(0.5), REWORKED).unwrap_or_else(|| side_of(edge));
    Sided::with_sides(light, side)
}

/// Higher rows first, then from the left. Rows are known by their lower edges, which an arched head does
/// not move.
fn in_rows(a: Rect, b: Rect) -> Ordering {
    if (a.y0 - b.y0).abs() > ROW { b.y0.total_cmp(&a.y0) } else { a.x0.total_cmp(&b.x0) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, Side};
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    // By hand: bars of 22 mm at 268 and 552 in 820 mm leave 257, 262 and 257; the head of 120 mm rise
    // belongs to all three.
    #[test]
    fn upright_bars_divide_an_arched_daylight_into_three() {
        let (width, springing) = (820.0, 700.0);
        let chord = [Point::new(width, springing), Point::new(0.0, springing)];
        let head = Arc::from_bulge(chord[0], chord[1], 2.0 * 120.0 / width).unwrap();
        let daylight = Sided::new(vec![
            (Edge::line(Point::ZERO, Point::new(width, 0.0)), Side::Bottom),
            (Edge::line(Point::new(width, 0.0), chord[0]), Side::Right),
            (Edge::Arc(head), Side::Top),
            (Edge::line(chord[1], Point::ZERO), Side::Left),
        ])
        .unwrap();
        let sight = daylight.bounds();
        let outer = sight.inflate(60.0, 60.0);
        let bars: Vec<_> = casement()
            .bars
            .iter()
            .enumerate()
            .map(|(index, bar)| PlacedBar::new(index, bar, daylight.outline(), outer))
            .collect();
        let lights = divide(&daylight, &bars).unwrap();
        assert_eq!(lights.len(), 3);
        let widths: Vec<f64> = lights.iter().map(|light| light.sight.width()).collect();
        for (width, expected) in widths.iter().zip([257.0, 262.0, 257.0]) {
            assert_relative_eq!(*width, expected, epsilon = 1e-6);
        }
        assert_relative_eq!(lights[1].sight.y1, 820.0, epsilon = 1e-6);
        let sides: Vec<Side> = lights[0].outline.edges().map(|(_, side)| side).collect();
        assert_eq!(sides.iter().filter(|side| **side == Side::Top).count(), 1);
        let whole: f64 = lights.iter().map(|light| light.outline.outline().area()).sum();
        assert!(whole < daylight.outline().area() - 44.0 * springing);
    }
}
