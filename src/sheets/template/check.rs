//! The square that proves that a print is at true size.

use crate::drawing::{Across, Item, Scene, Text, Up};
use crate::geometry::{Edge, Outline, OutlineError};
use crate::sheets::kit::{SMALL, wrapped};
use crate::sheets::layers::{CHECK, WORDS};
use kurbo::{Point, Rect, Size};

/// Side of the square, mm.
pub const SIDE: f64 = 100.0;

/// What the user is asked to do with it.
pub const SENTENCE: &str = "Measure this square before you use the sheet: it must be 100 mm each way. \
     If it is not, print again at 100 %, without fitting the page to the paper.";

/// Steps in which places are tried, mm.
const STEP: f64 = 4.0;
/// Least distance to anything else, mm.
const AWAY: f64 = 2.0;
/// Places nearer to each other than this are one, mm.
const CLOSE: f64 = 0.05;

/// Draws the square with its lower left corner at `corner`.
///
/// # Errors
/// None: the square has an area.
pub fn add(scene: &mut Scene, corner: Point) -> Result<(), OutlineError> {
    let square = Rect::from_origin_size(corner, Size::new(SIDE, SIDE));
    scene.add(&CHECK, Item::Outline(Outline::rectangle(square)?));
    let middle = square.center();
    let mut y = middle.y + 3.0 * SMALL;
    let title = Text::new("100 mm × 100 mm", Point::new(middle.x, y + 3.0 * SMALL), 1.4 * SMALL);
    scene.add(&WORDS, Item::Text(title.anchored(Across::Centre, Up::Base)));
    for line in wrapped(SENTENCE, SMALL, 0.7 * SIDE) {
        let text = Text::new(line, Point::new(middle.x, y), SMALL);
        scene.add(&WORDS, Item::Text(text.anchored(Across::Centre, Up::Base)));
        y -= 1.8 * SMALL;
    }
    Ok(())
}

/// The lower left corner of a place in `window` where the square meets as few of `edges` as can be;
/// `lesser` ones count only where there is a choice.
pub(super) fn place(window: Rect, edges: &[Edge], lesser: &[Edge]) -> Point {
    let bounds: Vec<Rect> = edges.iter().chain(lesser).map(Edge::bounds).collect();
    let across = bounds.iter().flat_map(|all| [all.x0, all.x1]);
    let up = bounds.iter().flat_map(|all| [all.y0, all.y1]);
    let (across, up) = (steps(window.x0, window.x1, across), steps(window.y0, window.y1, up));
    let mut best = (usize::MAX, window.origin());
    for &y in &up {
        for &x in &across {
            let corner = Point::new(x, y);
            let square = Rect::from_origin_size(corner, Size::new(SIDE, SIDE)).inflate(AWAY, AWAY);
            let count = |edges: &[Edge]| {
                edges.iter().filter(|edge| super::tiles::runs_through(edge, square)).count()
            };
            let met = 8 * count(edges) + count(lesser);
            if met < best.0 {
                best = (met, corner);
            }
        }
    }
    best.1
}

/// Places for the lower end of a side between `low` and `high`: in steps, and close to where a line ends or
/// runs, since a gap may be hardly wider than the square.
fn steps(low: f64, high: f64, ends: impl Iterator<Item = f64>) -> Vec<f64> {
    let (first, last) = (low + AWAY, (high - SIDE - AWAY).max(low + AWAY));
    let count = ((last - first) / STEP).floor();
    let mut all = vec![last];
    let mut step = 0.0;
    while step <= count {
        all.push(first + step * STEP);
        step += 1.0;
    }
    let beside = ends.flat_map(|end| [end + AWAY + CLOSE, end - SIDE - AWAY - CLOSE]);
    all.extend(beside.filter(|&at| (first..=last).contains(&at)));
    all.sort_by(f64::total_cmp);
    all.dedup_by(|a, b| (*a - *b).abs() < CLOSE);
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    fn upright(x: f64) -> Edge {
        Edge::line(Point::new(x, 0.0), Point::new(x, 250.0))
    }

    // Between 41.3 and 147 lie 105.7 mm: room for 100 and 2 on either side, but between steps of 4.
    #[test]
    fn a_gap_hardly_wider_than_the_square_is_found() {
        let window = Rect::new(0.0, 0.0, 190.0, 250.0);
        let corner = place(window, &[upright(147.0), upright(160.0)], &[upright(41.3)]);
        assert!((43.3..=45.0).contains(&corner.x), "{corner}");
        // Where there is none, the lesser line is met.
        let corner = place(window, &[upright(145.0), upright(160.0)], &[upright(41.3)]);
        assert!(corner.x + SIDE + AWAY <= 145.0 && corner.x < 41.3, "{corner}");
        assert!(corner.x >= AWAY && corner.y >= AWAY);
    }
}
