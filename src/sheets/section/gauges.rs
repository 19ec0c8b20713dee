//! Dimensions in rows around a figure, the short ones nearest.

use super::Measure;
use crate::drawing::Dimension;
use crate::geometry::Side;
use kurbo::{Rect, Vec2};

/// Each measure as a dimension outside `figure`, so that none covers another on its side.
pub(super) fn placed(
    measures: &[Measure],
    figure: Rect,
    shift: Vec2,
    height: f64,
) -> Vec<Dimension> {
    let mut placed = Vec::new();
    for side in Side::ALL {
        let mut row_ends: Vec<Vec<(f64, f64)>> = Vec::new();
        let mut of_side: Vec<&Measure> = measures.iter().filter(|m| m.side == side).collect();
        of_side.sort_by(|a, b| length(a).total_cmp(&length(b)));
        for measure in of_side {
            let mut row = 0;
            let dimension = loop {
                let dimension = at_row(measure, figure, shift, row, height);
                let span = span(&dimension, side, height);
                let Some(taken) = row_ends.get_mut(row as usize) else {
                    row_ends.push(vec![span]);
                    break dimension;
                };
                if taken.iter().all(|other| span.1 <= other.0 || other.1 <= span.0) {
                    taken.push(span);
                    break dimension;
                }
                row += 1;
            };
            placed.push(dimension);
        }
    }
    placed
}

fn length(measure: &Measure) -> f64 {
    let between = measure.to - measure.from;
    if measure.side.is_upright() { between.y.abs() } else { between.x.abs() }
}

fn at_row(measure: &Measure, figure: Rect, shift: Vec2, row: u32, height: f64) -> Dimension {
    let out = height * (3.0 + 2.8 * f64::from(row));
    let (from, to) = (measure.from + shift, measure.to + shift);
    let dimension = match measure.side {
        Side::Left => Dimension::upright(from, to, figure.x0 - out, height),
        Side::Right => Dimension::upright(from, to, figure.x1 + out, height),
        Side::Bottom => Dimension::across(from, to, figure.y0 - out, height),
        Side::Top => Dimension::across(from, to, figure.y1 + out, height),
    };
    dimension.saying(&*measure.words).with_value(measure.value_at)
}

/// How much of its row a dimension takes.
fn span(dimension: &Dimension, side: Side, height: f64) -> (f64, f64) {
    let (edges, text) = dimension.parts();
    let all = edges.iter().fold(text.bounds(), |all, edge| {
        // Lines that lead to the figure are not in the row.
        let bounds = edge.bounds();
        let across = if side.is_upright() { bounds.width() } else { bounds.height() };
        if across < height { all.union(bounds) } else { all }
    });
    let (from, to) = if side.is_upright() { (all.y0, all.y1) } else { (all.x0, all.x1) };
    (from, to)
}
