//! Grid lines that are close where heat turns, and wide where it goes straight on.

use crate::geometry::COINCIDENT;

/// How fine a grid is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fineness {
    /// Widest cell beside a place that is named, mm.
    pub beside: f64,
    /// How much wider each next cell may be.
    pub growth: f64,
}

/// Grid lines from the least to the greatest of `places`, mm, each of them among the lines. Cells widen away from
/// every place, but for the two ends: there nothing turns.
pub fn lines(places: impl IntoIterator<Item = f64>, fineness: Fineness) -> Vec<f64> {
    let mut places: Vec<f64> = places.into_iter().filter(|place| place.is_finite()).collect();
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, kept| *next - *kept <= COINCIDENT);
    let last = places.len().saturating_sub(2);
    let mut lines: Vec<f64> = places.first().copied().into_iter().collect();
    for (index, pair) in places.windows(2).enumerate() {
        let [from, to] = *pair else { continue };
        let sizes = sizes(to - from, fineness, [index > 0, index < last || index == 0]);
        let mut at = from;
        let inner = sizes.len().saturating_sub(1);
        lines.extend(sizes.into_iter().take(inner).map(|size| {
            at += size;
            at
        }));
        lines.push(to);
    }
    lines
}

/// Cells that fill `length`, the least at those ends that are `fine`.
fn sizes(length: f64, fineness: Fineness, fine: [bool; 2]) -> Vec<f64> {
    let of = |count: usize| -> Vec<f64> {
        let size = |index: usize| {
            let steps = match fine {
                [true, true] => index.min(count - 1 - index),
                [false, true] => count - 1 - index,
                [true, false] => index,
                [false, false] => 0,
            };
            fineness.beside * fineness.growth.powf(steps as f64)
        };
        (0..count).map(size).collect()
    };
    let all = (1..MOST).map(of).find(|sizes| sizes.iter().sum::<f64>() >= length * NEARLY);
    let sizes = all.unwrap_or_else(|| vec![1.0]);
    let total: f64 = sizes.iter().sum();
    sizes.into_iter().map(|size| size * length / total).collect()
}

/// As long as this of a length, so that rounding makes no cell more or less.
const NEARLY: f64 = 1.0 - 1e-6;

/// More cells than this between two places are never made.
const MOST: usize = 400;
