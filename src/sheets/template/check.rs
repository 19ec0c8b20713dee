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
    let steps = |room: f64| {
        let room = (room - SIDE - 2.0 * AWAY).max(0.0);
        let count = (room / STEP).floor();
        let mut all = Vec::new();
        let mut step = 0.0;
        while step <= count {
            all.push(AWAY + step * STEP);
            step += 1.0;
        }
        all.push(AWAY + room);
        all
    };
    let mut best = (usize::MAX, window.origin());
    for &y in &steps(window.height()) {
        for &x in &steps(window.width()) {
            let corner = Point::new(window.x0 + x, window.y0 + y);
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
