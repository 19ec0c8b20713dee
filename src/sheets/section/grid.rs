//! Outlines of wood that is bounded by upright and level cuts.

use crate::geometry::SAME;
use kurbo::{Point, Rect};
use std::collections::BTreeMap;

/// A corner of the grid: column and row.
type Node = (usize, usize);

/// The outlines of `solid` less `cuts`, each anticlockwise round its wood; holes come clockwise.
pub(super) fn outlines(solid: Rect, cuts: &[Rect]) -> Vec<Vec<Point>> {
    inside_of(solid, cuts, |at| solid.contains(at) && !cuts.iter().any(|cut| cut.contains(at)))
}

/// The outlines of what `cut` takes from `solid` less `cuts`.
pub(super) fn taken(solid: Rect, cuts: &[Rect], new: &[Rect]) -> Vec<Vec<Point>> {
    let all: Vec<Rect> = cuts.iter().chain(new).copied().collect();
    inside_of(solid, &all, |at| {
        let was = solid.contains(at) && !cuts.iter().any(|cut| cut.contains(at));
        was && new.iter().any(|cut| cut.contains(at))
    })
}

fn inside_of(solid: Rect, cuts: &[Rect], inside: impl Fn(Point) -> bool) -> Vec<Vec<Point>> {
    let lines = |of: fn(&Rect) -> [f64; 2], low: f64, high: f64| {
        let mut lines: Vec<f64> = cuts.iter().flat_map(of).chain([low, high]).collect();
        lines.retain(|&v| (low..=high).contains(&v));
        lines.sort_by(f64::total_cmp);
        lines.dedup_by(|a, b| (*a - *b).abs() <= SAME);
        lines
    };
    let columns = lines(|cut| [cut.x0, cut.x1], solid.x0, solid.x1);
    let rows = lines(|cut| [cut.y0, cut.y1], solid.y0, solid.y1);
    let at = |(column, row): Node| {
        columns.get(column).zip(rows.get(row)).map(|(&x, &y)| Point::new(x, y))
    };
    let filled = |column: Option<usize>, row: Option<usize>| {
        column
            .zip(row)
            .and_then(|(column, row)| Some((at((column, row))?, at((column + 1, row + 1))?)))
            .is_some_and(|(low, high)| inside(low.midpoint(high)))
    };
    // Edges of filled cells towards empty ones, with the wood on their left.
    let mut onward: BTreeMap<Node, Vec<Node>> = BTreeMap::new();
    for column in 0..columns.len() {
        for row in 0..rows.len() {
            if !filled(Some(column), Some(row)) {
                continue;
            }
            let corners =
                [(column, row), (column + 1, row), (column + 1, row + 1), (column, row + 1)];
            let beyond = [
                filled(Some(column), row.checked_sub(1)),
                filled(Some(column + 1), Some(row)),
                filled(Some(column), Some(row + 1)),
                filled(column.checked_sub(1), Some(row)),
            ];
            let next = corners.iter().cycle().skip(1);
            for ((&from, &to), _) in corners.iter().zip(next).zip(beyond).filter(|(_, full)| !full)
            {
                onward.entry(from).or_default().push(to);
            }
        }
    }
    let mut outlines = Vec::new();
    while let Some(start) = onward.keys().next().copied() {
        let mut nodes = Vec::new();
        let mut node = start;
        while let Some(next) = onward.get_mut(&node).and_then(Vec::pop) {
            nodes.push(node);
            node = next;
        }
        onward.retain(|_, ends| !ends.is_empty());
        outlines.push(without_straight(&nodes.into_iter().filter_map(at).collect::<Vec<_>>()));
    }
    outlines
}

/// The ring less the corners where it does not turn.
fn without_straight(ring: &[Point]) -> Vec<Point> {
    let before = ring.iter().cycle().skip(ring.len().saturating_sub(1));
    let after = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(before)
        .zip(after)
        .filter(|((at, before), after)| (**at - **before).cross(**after - **at).abs() > SAME * SAME)
        .map(|((at, _), _)| *at)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Outline;

    const SOLID: Rect = Rect::new(0.0, -45.0, 52.0, 0.0);

    fn area(rings: &[Vec<Point>]) -> f64 {
        rings.iter().map(|ring| Outline::polygon(ring).unwrap().area()).sum()
    }

    #[test]
    fn a_rebate_and_what_a_wider_one_takes() {
        let (old, new) = (Rect::new(0.0, -17.0, 9.0, 0.0), Rect::new(0.0, -26.0, 14.0, 0.0));
        let before = outlines(SOLID, &[old]);
        assert_eq!((before.len(), before[0].len()), (1, 6));
        assert_eq!(area(&before), 52.0 * 45.0 - 9.0 * 17.0);
        let taken = taken(SOLID, &[old], &[new]);
        assert_eq!((taken.len(), taken[0].len()), (1, 6));
        assert_eq!(area(&taken), 14.0 * 26.0 - 9.0 * 17.0);
    }

    #[test]
    fn a_groove_deeper_than_the_new_rebate_leaves_a_slot() {
        let groove = Rect::new(0.0, -20.0, 18.0, -15.0);
        let new = Rect::new(0.0, -26.0, 14.0, 0.0);
        let after = outlines(SOLID, &[groove, new]);
        assert_eq!(area(&after), 52.0 * 45.0 - 14.0 * 26.0 - 4.0 * 5.0);
        // The lip before the groove and the wood behind it.
        assert_eq!(taken(SOLID, &[groove], &[new]).len(), 2);
        assert_eq!(taken(SOLID, &[new], &[groove, new]).len(), 1);
    }
}
