//! Boxes to write in with a pencil, each column under its name.

use super::Flow;
use super::words::wrapped;
use crate::drawing::{Across, Item, Text, Up};
use crate::geometry::Outline;
use crate::sheets::layers::{BOXES, WORDS};
use kurbo::{Point, Rect};

/// Height of capitals of words beside boxes, mm: a form asks for so much that its letters are smaller than elsewhere.
pub const FORM_WORDS: f64 = 2.0;
/// Height of a box, mm: what a pencil wants on a sash.
pub const BOX: f64 = 8.5;
/// Between words and box, mm.
const INSET: f64 = 0.7;
/// From line to line, as a share of the height of capitals.
const LEADING: f64 = 1.7;
/// Height of capitals of the small print, mm.
const FINE: f64 = 1.45;
/// Width of the names of rows, mm.
const NAMES: f64 = 17.0;

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
    /// Puts the boxes into the flow, all on one page.
    pub fn lay(&self, flow: &mut Flow) {
        let named = self.rows.iter().any(|name| !name.is_empty());
        let indent = if named { NAMES } else { 0.0 };
        let heads = self.heads(flow.width() - indent);
        let count = |head: &Head| (head.words.len() as f64, head.fine.len() as f64);
        let height = |head: &Head| {
            let (words, fine) = count(head);
            LEADING * (words * FORM_WORDS + fine * FINE)
        };
        let top = heads.iter().map(height).fold(0.0, f64::max) + INSET;
        flow.keep(top + self.rows.len() as f64 * BOX);
        let head_y = flow.y();
        flow.gap(top);
        let (left, y0) = (flow.left(), flow.y());
        for (row, name) in self.rows.iter().enumerate() {
            let middle = y0 - (row as f64 + 0.5) * BOX;
            let text = Text::new(name.clone(), Point::new(left, middle), FORM_WORDS);
            flow.draw(&WORDS, Item::Text(text.anchored(Across::Left, Up::Middle)));
        }
        let mut x = left + indent;
        for head in &heads {
            // Names stand on their boxes, however many lines the neighbours have.
            let mut y = head_y - top + INSET + height(head);
            for (lines, size) in [(&head.words, FORM_WORDS), (&head.fine, FINE)] {
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

    fn heads(&self, width: f64) -> Vec<Head> {
        let total: f64 = self.columns.iter().map(|column| column.share).sum();
        self.columns
            .iter()
            .map(|column| {
                let wide = width * column.share / total;
                let lines = |words: &str, height: f64| {
                    if words.is_empty() {
                        Vec::new()
                    } else {
                        wrapped(words, height, wide - 2.0 * INSET)
                    }
                };
                Head {
                    wide,
                    words: lines(&column.words, FORM_WORDS),
                    fine: lines(&column.fine, FINE),
                }
            })
            .collect()
    }
}

/// What stands over a column, in lines.
struct Head {
    wide: f64,
    words: Vec<String>,
    fine: Vec<String>,
}
