//! What every printed sheet is made with: paper sizes, words that fit, tables, and a column that runs
//! on from page to page.
//!
//! Promised: no text is wider than the place it is given, and every page says what it belongs to. Not
//! promised: that a figure taller than a page is shown whole.

mod boxes;
mod flow;
mod labels;
mod obstacle;
mod table;
mod voice;
mod words;

pub use boxes::{BOX, BoxColumn, Boxes};
pub use flow::{Flow, Picture, SCALES, composed};
pub use labels::{Lettering, Room};
pub use obstacle::{Obstacle, clearest};
pub use table::{Column, OfSide, Table, by_sides};
pub(crate) use voice::tell;
pub use voice::{InText, Voice};
pub use words::{
    figure, fitted, fixed, grouped, hundredths, in_a_row, letter, min_max, mm, one_figure, or_dash,
    parts, range, wrapped,
};

use crate::geometry::Edge;
use crate::survey::{Paper, Printer};
use kurbo::{Point, Size, Vec2};

/// Height of capitals of running words, mm: letters of 9 points.
pub const SMALL: f64 = 2.32;
/// Least height of capitals anywhere on a sheet, mm: letters of 8 points.
pub const LABEL: f64 = 2.06;
/// From line to line, as a share of the height of capitals.
const LEADING: f64 = 1.66;
/// Height of capitals of headings, mm.
pub const LARGE: f64 = 3.2;

/// Width and height of a sheet of paper, mm; for paper off a roll, of the sheet that is not off it.
pub fn sheet(paper: Paper) -> Size {
    match paper {
        // ISO 216.
        Paper::A4 | Paper::Roll => Size::new(210.0, 297.0),
        Paper::A3 => Size::new(297.0, 420.0),
        // 8 1/2 by 11 in.
        Paper::Letter => Size::new(215.9, 279.4),
    }
}

/// The two strokes that mark a point, each reaching so far from it either way.
pub fn cross(at: Point, reach: f64) -> [Edge; 2] {
    [Vec2::new(reach, 0.0), Vec2::new(0.0, reach)].map(|arm| Edge::line(at - arm, at + arm))
}

/// Paper and margin of sheets that are read, not laid on wood, mm.
pub fn reading(printer: &Printer) -> (Size, f64) {
    // A hole punch and a thumb want more than a printer does.
    (sheet(printer.paper), printer.margin.max(10.0))
}
