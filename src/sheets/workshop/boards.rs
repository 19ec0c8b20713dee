//! The boards that carry the router, and when each has to come out.

use super::passes::Row;
use super::{WITH_TABLE, mm};
use crate::hand::Board;
use crate::number::number;
use crate::passes::Stage;
use crate::sheets::Subject;
use crate::sheets::kit::{Column, Flow, Table};

/// The boards as a table.
pub(super) fn table(flow: &mut Flow, subject: &Subject<'_>, rows: &[Row]) {
    flow.heading_over("Boards that carry the router", WITH_TABLE);
    flow.paragraph(
        "For a router in the hand. Before a machine runs its programs every board comes out of the openings: its \
         cutter comes down there.",
    );
    let mut table = Table::new(vec![
        Column::words("place", 2.0),
        Column::numbers("count", 0.8),
        Column::numbers("length by width, mm", 1.6),
        Column::numbers("thickness, mm", 1.2),
        Column::words("remark", 2.6),
        Column::words("comes out", 3.0),
    ]);
    for board in &subject.materials.boards {
        let size = format!("{} × {}", number(board.length, 0), number(board.width, 0));
        let out = comes_out(board, rows);
        table.rows.push(vec![
            board.place.clone(),
            board.count.to_string(),
            size,
            mm(board.thickness),
            board.remark.to_owned(),
            out,
        ]);
    }
    flow.table(&table);
}

/// When a board has to come out, by the numbers of the passes.
fn comes_out(board: &Board, rows: &[Row]) -> String {
    if !board.in_opening() {
        return "stays to the end".into();
    }
    let widened = rows.iter().rposition(|row| row.stage == Stage::Widen);
    let tried = match widened {
        Some(index) => format!("after no. {} to try the unit; goes back", index + 1),
        None => "to try the unit; goes back".to_owned(),
    };
    let met = board.cut_into_by.as_ref().and_then(|met| {
        rows.iter().position(|row| {
            row.stage == met.stage
                && row.places.contains(&met.place)
                && (row.depth - met.depth).abs() < 1e-6
        })
    });
    match met {
        Some(index) => format!("before no. {}, or let that pass cut into it; {tried}", index + 1),
        None => tried,
    }
}
