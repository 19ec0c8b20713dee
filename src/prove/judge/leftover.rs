//! Wood that must go and is still there.

use super::corner::Fillet;
use crate::finding::{Basis, Quantity};
use crate::language::{Text, text};
use crate::prove::Setup;
use crate::prove::fault::{Faults, NewFault};
use crate::prove::tolerance::ROUNDING;
use crate::prove::wood::{Field, Part, Row, Stretch};
use crate::rebate::Rebate;

/// Wood left on a stretch of a row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Left {
    /// X where it begins.
    pub from: f64,
    /// X where it ends.
    pub to: f64,
    /// Its height, mm.
    pub height: f64,
    /// Index of the solid, or whatever else tells its kind.
    pub go: usize,
}

/// All that is left of one solid.
#[derive(Debug, Clone, Copy, Default)]
struct Sum {
    area: f64,
    height: f64,
    x: f64,
    y: f64,
}

/// Finds what is left of the wood that must go. Fillets are set aside: their areas come back in
/// the order of `fillets`, mm².
///
/// Left over is what is thicker than the tolerance along X, along Y and in depth.
pub(super) fn search(
    field: &Field,
    fillets: &[Fillet],
    rebate: &Rebate,
    setup: &Setup,
    faults: &mut Faults,
) -> Vec<f64> {
    let mut areas = vec![0.0; fillets.len()];
    let mut rows = Vec::with_capacity(field.rows.len());
    for row in &field.rows {
        let mut left = unfinished(row, field, setup.tolerance);
        if !left.is_empty() {
            left = set_aside(left, row, fillets, setup.tolerance, &mut areas);
        }
        rows.push(left);
    }
    let mut sums = vec![Sum::default(); rebate.go.len()];
    let heights: Vec<f64> = field.rows.iter().map(|row| row.height).collect();
    for (index, row) in field.rows.iter().enumerate() {
        for left in rows.get(index).into_iter().flatten() {
            let Some(x) = thick_at(&heights, &rows, index, left, setup.tolerance) else {
                continue;
            };
            if let Some(sum) = sums.get_mut(left.go) {
                sum.area += (left.to - left.from) * row.height;
                if left.height > sum.height {
                    *sum = Sum { height: left.height, x, y: row.y, ..*sum };
                }
            }
        }
    }
    for (sum, solid) in sums.iter().zip(&rebate.go) {
        if sum.area > 0.0 {
            faults.add(fault(sum, &solid.name, solid.bottom, setup));
        }
    }
    areas
}

fn fault(sum: &Sum, what: &Text, bottom: f64, setup: &Setup) -> NewFault<'static> {
    let advice = text!("prove-leftover", area = format!("{:.1}", sum.area), what);
    let (height, limit) = (Quantity::mm(sum.height), Quantity::mm(setup.tolerance));
    NewFault {
        at: Some([sum.x, sum.y, bottom + sum.height]),
        weight: sum.area * sum.height,
        basis: Basis::Geometry,
        ..NewFault::new("prove.leftover", height, limit, advice)
    }
}

/// Stretches of the row where wood that must go stands higher than the tolerance; neighbours are
/// joined.
fn unfinished(row: &Row, field: &Field, tolerance: f64) -> Vec<Left> {
    let mut found: Vec<Left> = Vec::new();
    for (from, stretch) in row.iter() {
        let stack = field.stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice);
        let go = |part: Part| if let Part::Go(go) = part { Some(go) } else { None };
        let mut layers = stack.iter().filter_map(|layer| go(layer.part).map(|go| (layer, go)));
        let Some((highest, first)) = layers.next() else { continue };
        let (lowest, go) = layers.next_back().unwrap_or((highest, first));
        let height = highest.top.min(stretch.highest(from)) - lowest.bottom;
        if height <= tolerance {
            continue;
        }
        let (from, to) = above(stretch, from, lowest.bottom + tolerance);
        let left = Left { from, to, height, go };
        match found.last_mut() {
            Some(last) if last.to >= from => *last = joined(*last, left),
            _ => found.push(left),
        }
    }
    found
}

/// The part of a stretch, whose highest cut is above `z`, where its cut is above `z`.
fn above(stretch: &Stretch, begin: f64, z: f64) -> (f64, f64) {
    if stretch.lean == 0.0 {
        return (begin, stretch.end);
    }
    let x = (stretch.end + (z - stretch.cut) / stretch.lean).clamp(begin, stretch.end);
    if stretch.cut > z && stretch.cut_at(begin) > z {
        (begin, stretch.end)
    } else if stretch.lean > 0.0 {
        (x, stretch.end)
    } else {
        (begin, x)
    }
}

fn joined(a: Left, b: Left) -> Left {
    let (height, go) = if b.height > a.height { (b.height, b.go) } else { (a.height, a.go) };
    Left { from: a.from, to: b.to, height, go }
}

/// Takes the fillets out of what is left on a row, and drops what is narrower than the tolerance.
fn set_aside(
    left: Vec<Left>,
    row: &Row,
    fillets: &[Fillet],
    tolerance: f64,
    areas: &mut [f64],
) -> Vec<Left> {
    let mut rest = left;
    for (fillet, area) in fillets.iter().zip(areas) {
        if !fillet.is_near(row.y, tolerance) {
            continue;
        }
        for (a, b) in fillet.on_row(row.y, tolerance).into_iter().flatten() {
            let mut outside = Vec::new();
            for left in rest {
                *area += (left.to.min(b) - left.from.max(a)).max(0.0) * row.height;
                let before = Left { to: left.to.min(a), ..left };
                let after = Left { from: left.from.max(b), ..left };
                outside.extend([before, after].into_iter().filter(|part| part.from < part.to));
            }
            rest = outside;
        }
    }
    rest.retain(|left| left.to - left.from > tolerance);
    rest
}

/// An X where what is left is thicker than the tolerance along Y too, in bands of these heights.
pub(super) fn thick_at(
    heights: &[f64],
    lefts: &[Vec<Left>],
    index: usize,
    left: &Left,
    tolerance: f64,
) -> Option<f64> {
    const SAMPLES: u32 = 5;
    let at = |i: u32| left.from + (left.to - left.from) * (f64::from(i) + 0.5) / f64::from(SAMPLES);
    // One row as high as the tolerance is met by a sliver of any thickness, such as is left under the crown
    // of an arc; only the next one shows that there is more of it.
    let tolerance = tolerance + ROUNDING;
    let (below, above) = heights.split_at_checked(index)?;
    let (left_below, left_above) = lefts.split_at_checked(index)?;
    (0..SAMPLES).map(at).find(|&x| {
        let up = above.iter().zip(left_above);
        let down = below.iter().rev().zip(left_below.iter().rev());
        let height = run(up, x, 0.0, tolerance);
        run(down, x, height, tolerance) > tolerance
    })
}

/// Adds up the rows that have wood left at `x`, one after the other, until `enough` is exceeded.
fn run<'a>(
    rows: impl Iterator<Item = (&'a f64, &'a Vec<Left>)>,
    x: f64,
    mut height: f64,
    enough: f64,
) -> f64 {
    for (row_height, lefts) in rows {
        let there = lefts.iter().any(|left| left.from <= x && x <= left.to);
        if !there || height > enough {
            break;
        }
        height += row_height;
    }
    height
}

#[cfg(test)]
mod tests {
    use super::*;

    // Rows at multiples of a pitch of 0.03 mm, with the same stretch left on the first ones.
    fn is_thick(count: usize) -> bool {
        let ys = [65.19, 65.22, 65.25, 65.28];
        let rows: Vec<f64> = ys.windows(2).map(|pair| pair[1] - pair[0]).collect();
        assert!(rows[0] > 0.03);
        let left = Left { from: 10.0, to: 10.4, height: 19.0, go: 0 };
        let lefts: Vec<Vec<Left>> =
            (0..rows.len()).map(|i| if i < count { vec![left] } else { vec![] }).collect();
        thick_at(&rows, &lefts, 0, &left, 0.03).is_some()
    }

    #[test]
    fn one_row_as_high_as_the_tolerance_is_no_thickness() {
        assert!(!is_thick(1));
        assert!(is_thick(2));
        assert!(is_thick(3));
    }
}
