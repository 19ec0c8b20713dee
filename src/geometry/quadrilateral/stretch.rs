//! Whether all measures can be true at once.

use crate::geometry::least_squares::{Orthogonal, dot};

/// The least factor by which every tolerance must be stretched so that all measures hold at once, to
/// the first order around the adjusted shape.
///
/// `columns` say how each measure grows with each unknown, `values` how far each is off, both in
/// tolerances. That factor is the least largest |value − what the unknowns can make|; by duality of
/// linear programmes it is the largest |y·values| / Σ|y| over all y square to every column, and the
/// largest is taken by a y that is zero but for one measure more than there are unknowns. So every
/// choice of that many measures is tried: the result is exact.
pub(super) fn stretch(columns: &[Vec<f64>], values: &[f64]) -> f64 {
    let chosen = columns.len() + 1;
    let mut most = 0.0_f64;
    choose(values.len(), chosen, &mut Vec::with_capacity(chosen), &mut |rows| {
        let pick = |all: &[f64]| rows.iter().filter_map(|&row| all.get(row).copied()).collect();
        let some: Vec<Vec<f64>> = columns.iter().map(|column| pick(column)).collect();
        let basis = Orthogonal::new(&some);
        if basis.open() > 0 {
            return;
        }
        // The one direction left over, from whichever axis leans most towards it.
        let axes = (0..chosen).map(|axis| {
            let unit: Vec<f64> = (0..chosen).map(|i| if i == axis { 1.0 } else { 0.0 }).collect();
            basis.remainder(&unit)
        });
        let longest = axes.max_by(|a, b| dot(a, a).total_cmp(&dot(b, b))).unwrap_or_default();
        let sum: f64 = longest.iter().map(|value| value.abs()).sum();
        if sum > 0.0 {
            let picked: Vec<f64> = pick(values);
            most = most.max(dot(&longest, &picked).abs() / sum);
        }
    });
    most
}

/// Calls `visit` with every choice of `count` numbers below `from`, each in rising order.
fn choose(from: usize, count: usize, so_far: &mut Vec<usize>, visit: &mut impl FnMut(&[usize])) {
    if so_far.len() == count {
        visit(so_far);
        return;
    }
    let first = so_far.last().map_or(0, |last| last + 1);
    for next in first..from {
        so_far.push(next);
        choose(from, count, so_far, visit);
        so_far.pop();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Closed form: of numbers that measure one unknown, half the span between the outermost.
    #[test]
    fn of_one_unknown_it_is_half_the_spread() {
        let columns = [vec![1.0; 4]];
        assert_relative_eq!(stretch(&columns, &[0.0, 3.0, -2.0, 1.0]), 2.5, epsilon = 1e-12);
        assert_eq!(stretch(&columns, &[7.0]), 0.0);
    }

    #[test]
    fn every_choice_comes_once() {
        let mut count = 0;
        choose(8, 6, &mut Vec::new(), &mut |rows| {
            assert!(rows.windows(2).all(|pair| pair[0] < pair[1]));
            count += 1;
        });
        assert_eq!(count, 28);
    }
}
