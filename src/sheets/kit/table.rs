//! Tables with rules, whose cells run over several lines.

use super::words::{grouped, wrapped};
use super::{Flow, LEADING, SMALL, Voice};
use crate::drawing::{Across, Item, Text, Up};
use crate::geometry::{Edge, Side};
use crate::sheets::layers::{DIMENSIONS, WORDS};
use kurbo::Point;

/// Between a rule and the words beside it, mm.
const INSET: f64 = 0.9;

/// A column of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Its heading.
    pub head: String,
    /// Share of the table's width.
    pub share: f64,
    /// Numbers stand at the right.
    pub numbers: bool,
}

impl Column {
    /// A column of words.
    pub fn words(head: &str, share: f64) -> Column {
        Column { head: head.into(), share, numbers: false }
    }

    /// A column of numbers.
    pub fn numbers(head: &str, share: f64) -> Column {
        Column { head: head.into(), share, numbers: true }
    }
}

/// A table.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Table {
    /// The columns.
    pub columns: Vec<Column>,
    /// Cells, row by row; an empty cell is a place to write in.
    pub rows: Vec<Vec<String>>,
    /// Least height of a row, mm.
    pub least: f64,
}

/// Height of a row that a pencil fills in, mm.
const PENCIL: f64 = 8.0;

impl Table {
    /// A table without rows.
    pub fn new(columns: Vec<Column>) -> Table {
        Table { columns, rows: Vec::new(), least: 0.0 }
    }

    /// The same with rows that a pencil fills in.
    #[must_use]
    pub fn to_fill_in(self) -> Table {
        Table { least: PENCIL, ..self }
    }

    /// Puts the table into the flow; its head is said again on every page.
    pub fn lay(&self, flow: &mut Flow) {
        let voice = flow.voice();
        let heads: Vec<String> =
            self.columns.iter().map(|column| voice.named(&column.head)).collect();
        if self.rows.is_empty() {
            return;
        }
        let head = self.row(&heads, flow.width());
        let rows = self.rows.iter().map(|cells| {
            let named = cells.first().map_or("", String::as_str);
            let said = cells.iter().zip(&self.columns).enumerate();
            let said = said.map(|(at, (cell, column))| {
                // A row of words may have its unit in its first cell.
                let head = if at > 0 && !column.numbers { named } else { "" };
                voice.cell(&[&column.head, head], cell)
            });
            let mut row = self.row(&said.collect::<Vec<_>>(), flow.width());
            row.height = row.height.max(self.least);
            row
        });
        let rows: Vec<Row> = rows.collect();
        let mut needs_head = true;
        for (index, row) in rows.iter().enumerate() {
            // The last row does not stand alone on a page.
            let last = rows.get(index + 1..).filter(|rest| rest.len() == 1);
            let last: f64 = last.into_iter().flatten().map(|row| row.height).sum();
            let last = if row.height + last < flow.height() / 3.0 { last } else { 0.0 };
            let head_height = if needs_head { head.height } else { 0.0 };
            if flow.room() < row.height + last + head_height {
                flow.new_page();
                needs_head = true;
            }
            if needs_head {
                self.draw(&head, flow, true);
                needs_head = false;
            }
            self.draw(row, flow, false);
        }
        flow.gap(2.5);
    }

    fn row(&self, cells: &[String], width: f64) -> Row {
        let total: f64 = self.columns.iter().map(|column| column.share).sum();
        let mut cells = cells.iter();
        let lines: Vec<(f64, Vec<String>)> = self
            .columns
            .iter()
            .map(|column| {
                let wide = width * column.share / total;
                let words = cells.next().map_or("", String::as_str);
                (wide, wrapped(words, SMALL, wide - 2.0 * INSET))
            })
            .collect();
        let most = lines.iter().map(|(_, lines)| lines.len()).max().unwrap_or(1);
        let height = SMALL + (most as f64 - 1.0) * LEADING * SMALL + 2.0 * INSET + 0.4 * SMALL;
        Row { lines, height }
    }

    fn draw(&self, row: &Row, flow: &mut Flow, is_head: bool) {
        let (left, top) = (flow.left(), flow.y());
        let bottom = top - row.height;
        let mut x = left;
        let mut rules =
            vec![Edge::line(Point::new(left, bottom), Point::new(left + flow.width(), bottom))];
        if is_head {
            rules.push(Edge::line(Point::new(left, top), Point::new(left + flow.width(), top)));
        }
        for ((wide, lines), column) in row.lines.iter().zip(&self.columns) {
            for (index, line) in lines.iter().enumerate() {
                let y = top - INSET - 0.2 * SMALL - index as f64 * LEADING * SMALL;
                let (at, across) = if column.numbers {
                    (Point::new(x + wide - INSET, y), Across::Right)
                } else {
                    (Point::new(x + INSET, y), Across::Left)
                };
                let text = Text::new(line.clone(), at, SMALL).anchored(across, Up::Top);
                flow.draw(&WORDS, Item::Text(text));
            }
            rules.push(Edge::line(Point::new(x, top), Point::new(x, bottom)));
            x += wide;
        }
        rules.push(Edge::line(Point::new(x, top), Point::new(x, bottom)));
        for rule in rules {
            flow.draw(&DIMENSIONS, Item::Edge(rule));
        }
        flow.gap(row.height);
    }
}

/// A light, a side of it, and what a table says of that.
pub type OfSide<'a> = (&'a str, Side, Vec<String>);

/// The rows of a table of sides: those of a light that are alike share one, and so do lights whose sides are alike.
/// `names` tells lights in a row.
pub fn by_sides(
    all: &[OfSide],
    voice: Voice,
    names: impl Fn(&[&str]) -> String,
) -> Vec<Vec<String>> {
    let of_light = grouped(all, |a, b| a.0 == b.0 && a.2 == b.2, |(_, side, _)| side);
    let alike = |a: &(&OfSide, _), b: &(&OfSide, _)| a.1 == b.1 && a.0.2 == b.0.2;
    let rows = grouped(&of_light, alike, |((light, ..), _)| *light);
    let row = |(((.., cells), sides), lights): (&(&OfSide, Vec<&Side>), Vec<&str>)| {
        let sides: Vec<String> = sides.iter().map(|side| voice.named(&side.to_string())).collect();
        let named = format!("{}: {}", names(&lights), sides.join(", "));
        std::iter::once(named).chain(cells.iter().cloned()).collect()
    };
    rows.into_iter().map(row).collect()
}

/// One row, its cells broken into lines.
struct Row {
    /// Width of each cell, mm, and its lines.
    lines: Vec<(f64, Vec<String>)>,
    height: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Size;

    // As with the lines of a paragraph: one row alone is taken for one that stands by itself.
    #[test]
    fn the_last_row_does_not_stand_alone_on_a_page() {
        let mut broken = 0;
        for used in 0..60 {
            for count in 2..6_usize {
                let mut flow = Flow::new(Voice::plain(), (Size::new(120.0, 120.0), 10.0), "", "");
                flow.gap(f64::from(used) * 1.5);
                let mut table = Table::new(vec![Column::words("head", 1.0)]);
                table.rows.extend((0..count).map(|row| vec![format!("row {row}")]));
                table.lay(&mut flow);
                let pages = flow.pages();
                let rows = pages.iter().map(|page| {
                    let texts = page.texts();
                    texts.iter().filter(|text| text.value.starts_with("row ")).count()
                });
                let rows: Vec<usize> = rows.filter(|rows| *rows > 0).collect();
                assert!(rows.last().is_some_and(|rows| *rows > 1), "{used} {count}: {rows:?}");
                assert_eq!(rows.iter().sum::<usize>(), count);
                broken += usize::from(rows.len() > 1);
            }
        }
        assert!(broken > 10, "{broken}");
    }
}
