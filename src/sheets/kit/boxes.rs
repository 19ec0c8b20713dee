//! Boxes to write in with a pencil, each column under its name.

use super::words::wrapped;
use super::{Flow, LABEL, SMALL};
use crate::drawing::{Across, Item, Text, Up, width};
use crate::geometry::Outline;
use crate::sheets::layers::{BOXES, WORDS};
use kurbo::{Point, Rect};

/// Height of a box, mm: what a pencil wants on a sash.
pub const BOX: f64 = 8.5;
/// Between words and box, mm.
const INSET: f64 = 0.7;
/// From line to line, as a share of the height of capitals.
const LEADING: f64 = 1.7;
/// Least width of a box, mm.
const NARROWEST: f64 = 10.0;
/// Least width of the names of rows, mm; a longer name takes several lines, a longer word more room.
const NAMES: f64 = 19.0;

/// A column of boxes.
#[derive(Debug, Clone, PartialEq)]
pub struct BoxColumn {
    /// What is to be written there.
    pub words: String,
    /// What stands below that in small print.
    pub fine: String,
    /// Share of the width.
    pub share: f64,
}

/// Rows of boxes under their names.
#[derive(Debug, Clone, PartialEq)]
pub struct Boxes {
    /// The columns.
    pub columns: Vec<BoxColumn>,
    /// A name for each row; where all are empty they take no room.
    pub rows: Vec<String>,
}

impl Boxes {
    /// Puts the boxes into the flow; columns whose words would be broken stand below the others.
    pub fn lay(&self, flow: &mut Flow) {
        let named = self.rows.iter().any(|name| !name.is_empty());
        let longest = self.rows.iter().map(|name| longest(name, SMALL)).fold(0.0, f64::max);
        let indent = if named { NAMES.max(longest + INSET) } else { 0.0 };
        let room = flow.width() - indent;
        let fits =
            |columns: &[BoxColumn]| columns.iter().map(BoxColumn::least).sum::<f64>() <= room;
        let count = self.columns.len().max(1);
        let parts = (1..count).find(|parts| self.columns.chunks(count.div_ceil(*parts)).all(fits));
        for columns in self.columns.chunks(count.div_ceil(parts.unwrap_or(count))) {
            self.lay_some(flow, columns, indent);
        }
    }

    /// All on one page.
    fn lay_some(&self, flow: &mut Flow, columns: &[BoxColumn], indent: f64) {
        let heads = heads(columns, flow.width() - indent);
        let count = |head: &Head| (head.words.len() as f64, head.fine.len() as f64);
        let height = |head: &Head| {
            let (words, fine) = count(head);
            LEADING * (words * SMALL + fine * LABEL)
        };
        let top = heads.iter().map(height).fold(0.0, f64::max) + INSET;
        flow.keep(top + self.rows.len() as f64 * BOX);
        let head_y = flow.y();
        flow.gap(top);
        let (left, y0) = (flow.left(), flow.y());
        for (row, name) in self.rows.iter().enumerate() {
            let lines = wrapped(name, SMALL, indent - INSET);
            let above = (lines.len() as f64 - 1.0) / 2.0 * LEADING * SMALL;
            let mut y = y0 - (row as f64 + 0.5) * BOX + above;
            for line in lines {
                let text = Text::new(line, Point::new(left, y), SMALL);
                flow.draw(&WORDS, Item::Text(text.anchored(Across::Left, Up::Middle)));
                y -= LEADING * SMALL;
            }
        }
        let mut x = left + indent;
        for head in &heads {
            // Names stand on their boxes, however many lines the neighbours have.
            let mut y = head_y - top + INSET + height(head);
            for (lines, size) in [(&head.words, SMALL), (&head.fine, LABEL)] {
                for line in lines {
                    let text = Text::new(line.clone(), Point::new(x + INSET, y), size);
                    flow.draw(&WORDS, Item::Text(text.anchored(Across::Left, Up::Top)));
                    y -= LEADING * size;
                }
            }
            for row in 0..self.rows.len() {
                let top = y0 - row as f64 * BOX;
                let rect = Rect::new(x, top - BOX, x + head.wide, top);
                // A box without width has nothing to write in, and nothing to draw.
                if let Ok(outline) = Outline::rectangle(rect) {
                    flow.draw(&BOXES, Item::Outline(outline));
                }
            }
            x += head.wide;
        }
        flow.gap(self.rows.len() as f64 * BOX + 1.8);
    }
}

impl BoxColumn {
    /// The width that breaks none of its words, mm.
    fn least(&self) -> f64 {
        let words = longest(&self.words, SMALL).max(longest(&self.fine, LABEL));
        (words + 2.0 * INSET).max(NARROWEST)
    }
}

/// The width of the longest word, mm.
fn longest(words: &str, height: f64) -> f64 {
    words.split_whitespace().map(|word| width(word, height)).fold(0.0, f64::max)
}

fn heads(columns: &[BoxColumn], room: f64) -> Vec<Head> {
    let total: f64 = columns.iter().map(|column| column.share).sum();
    let least: f64 = columns.iter().map(BoxColumn::least).sum();
    columns
        .iter()
        .map(|column| {
            // What is left over goes by the shares.
            let wide = column.least() + (room - least).max(0.0) * column.share / total;
            let lines = |words: &str, height: f64| {
                if words.is_empty() {
                    Vec::new()
                } else {
                    wrapped(words, height, wide - 2.0 * INSET)
                }
            };
            Head { wide, words: lines(&column.words, SMALL), fine: lines(&column.fine, LABEL) }
        })
        .collect()
}

/// What stands over a column, in lines.
struct Head {
    wide: f64,
    words: Vec<String>,
    fine: Vec<String>,
}
