//! Wood left, sorted into bands, as rectangles.

use crate::geometry::{COINCIDENT, THINNEST};
use crate::prove::{Across, DepthMap, Front, Strip};
use crate::sheets::kit::{Voice, tell};
use kurbo::Rect;

/// The bands begin at these, mm.
const FROM: [f64; 4] = [5.0, 8.0, 12.0, 20.0];
/// The picture is no finer than this, mm of the sash: a tenth of what its hatching shows.
const CELL: f64 = 0.5;
/// What is thinner is left by adding cells up, and no place of the sash, mm.
const SLIVER: f64 = CELL / 1000.0;

/// How much is left.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Band(usize);

impl Band {
    pub(super) const ALL: [Band; 5] = [Band(0), Band(1), Band(2), Band(3), Band(4)];

    fn of(wood: f64) -> Band {
        // Rounding must not make 8.0 mm less than 8 mm.
        Band(FROM.iter().filter(|&&from| wood >= from - THINNEST).count())
    }

    /// From 0, the least wood.
    pub(super) fn step(self) -> u8 {
        u8::try_from(self.0).unwrap_or(u8::MAX)
    }

    pub(super) fn words(self, voice: Voice) -> String {
        let below = FROM.get(self.0);
        let from = self.0.checked_sub(1).and_then(|before| FROM.get(before));
        match (from, below) {
            (None, Some(below)) => tell!(voice, "left-under", below = below.to_string()),
            (Some(from), Some(below)) => {
                tell!(voice, "left-between", from = from.to_string(), below = below.to_string())
            }
            (Some(from), None) => tell!(voice, "left-more", from = from.to_string()),
            (None, None) => String::new(),
        }
    }
}

/// From, to, and how much is left between them.
type Run = (f64, f64, Band);

/// Every band with the rectangles it fills, thinned to cells of [`CELL`].
pub(super) fn bands(map: &DepthMap, fronts: &[Front]) -> Vec<(Band, Vec<Rect>)> {
    let mut found = Band::ALL.map(|band| (band, Vec::new()));
    for front in fronts {
        for (rect, band) in rects(map, front) {
            if let Some((_, rects)) = found.get_mut(band.0) {
                rects.push(rect);
            }
        }
    }
    found.to_vec()
}

/// The rectangles of one part: rows of cells, joined where they are alike.
fn rects(map: &DepthMap, front: &Front) -> Vec<(Rect, Band)> {
    let area = front.area;
    let mut rects = Vec::new();
    let mut open: (f64, Vec<Run>) = (area.y0, Vec::new());
    let mut last: Option<&Strip> = None;
    let mut y = area.y0;
    while y < area.y1 - SLIVER {
        let next = (y + CELL).min(area.y1);
        let middle = f64::midpoint(y, next);
        let strip = strip_at(map, middle);
        // Across X the height of the front is that of its place along the strip alone.
        let alike = front.across == Across::X
            && strip.zip(last).is_some_and(|(strip, last)| std::ptr::eq(strip, last));
        last = strip;
        if !alike {
            let runs = strip.map_or_else(Vec::new, |strip| runs(strip, front, middle));
            if runs != open.1 {
                close(&open, y, &mut rects);
                open = (y, runs);
            }
        }
        y = next;
    }
    close(&open, area.y1, &mut rects);
    rects
}

fn close((from, runs): &(f64, Vec<Run>), to: f64, rects: &mut Vec<(Rect, Band)>) {
    if to > *from + SLIVER {
        rects.extend(runs.iter().map(|&(a, b, band)| (Rect::new(a, *from, b, to), band)));
    }
}

pub(super) fn strip_at(map: &DepthMap, y: f64) -> Option<&Strip> {
    let strip = map.strips.get(map.strips.partition_point(|strip| strip.y1 <= y))?;
    // Where two strips meet, rounding may leave `y` to neither.
    (strip.y0 <= y + COINCIDENT).then_some(strip)
}

/// What is left along one row of a part, where something was cut.
fn runs(strip: &Strip, front: &Front, y: f64) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    let area = front.area;
    for &(a, b, z) in strip.spans.iter().filter(|(_, _, z)| *z < 0.0) {
        let (from, to) = (snapped(a.max(area.x0), area.x0), snapped(b.min(area.x1), area.x0));
        let mut x = from;
        while x < to - SLIVER {
            let next = match front.across {
                Across::X => (x + CELL).min(to),
                Across::Y => to,
            };
            let at = if front.across == Across::X { f64::midpoint(x, next) } else { y };
            let band = Band::of(z - front.height(at));
            match runs.last_mut() {
                Some(last) if last.2 == band && last.1 >= x => last.1 = next,
                _ => runs.push((x, next, band)),
            }
            x = next;
        }
    }
    runs
}

/// To the raster of cells that begins at `zero`.
fn snapped(x: f64, zero: f64) -> f64 {
    zero + ((x - zero) / CELL).round() * CELL
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn front() -> Front {
        Front {
            name: "left stile".into(),
            area: Rect::new(-50.0, 0.0, 0.0, 100.0),
            across: Across::X,
            surface: vec![[-8.0, -45.0], [0.0, -37.0]],
            least: 5.0,
            lowest: None,
            outer: None,
        }
    }

    #[test]
    fn bands_are_named_and_bounds_belong_to_the_upper_one() {
        let words = Band::ALL.map(|band| band.words(Voice::plain()));
        assert_eq!(
            words,
            ["under 5 mm", "5 to 8 mm", "8 to 12 mm", "12 to 20 mm", "20 mm and more"]
        );
        assert_eq!(
            [4.9, 5.0, 7.9999, 8.0, 25.0].map(|wood| Band::of(wood).step()),
            [0, 1, 2, 2, 4]
        );
    }

    // Half millimetres added up to 60.7 and the like seldom end there exactly.
    #[test]
    fn no_rectangle_is_a_sliver() {
        for step in 0..400_u32 {
            let y0 = -57.0 - 0.137 * f64::from(step);
            let y1 = y0 + 0.5 * f64::from(1 + step) + 1e-10 * f64::from(step % 3);
            let front = Front { area: Rect::new(-50.0, y0, 0.0, y1), ..front() };
            let spans = vec![(-50.0, -14.0 + 1e-11, -17.0), (-14.0 + 1e-11, 0.0, -27.0)];
            let map = DepthMap { strips: vec![Strip { y0: y0 - 1.0, y1: y1 + 1.0, spans }] };
            for rect in bands(&map, &[front]).into_iter().flat_map(|(_, rects)| rects) {
                assert!(rect.width().min(rect.height()) > SLIVER, "{rect:?} up to {y1}");
            }
        }
    }

    // A rebate 14 wide and 27 deep: 10 mm at the sight edge, 12 two millimetres in, 18 from eight on.
    #[test]
    fn a_chamfer_makes_strips_of_bands() {
        let strip =
            |y0, y1| Strip { y0, y1, spans: vec![(-50.0, -14.0, 0.0), (-14.0, 0.0, -27.0)] };
        // 40.25 is the middle of a cell, and rounding leaves it to neither strip.
        let map =
            DepthMap { strips: vec![strip(-5.0, 40.25 - 1e-13), strip(40.25 + 1e-13, 105.0)] };
        let found = bands(&map, &[front()]);
        let filled: Vec<_> = found.iter().filter(|(_, rects)| !rects.is_empty()).collect();
        assert_eq!(filled.len(), 2);
        for (band, rects) in filled {
            let area: f64 = rects.iter().map(Rect::area).sum();
            let width = if band.step() == 2 { 2.0 } else { 12.0 };
            assert_relative_eq!(area, width * 100.0, epsilon = 1e-9);
            assert_eq!(rects.len(), 1, "alike rows are one rectangle");
        }
    }
}
