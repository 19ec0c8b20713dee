//! Everything besides glass that is cut to size: beads, blocks, boards, templates, one line each.

use super::Subject;
use super::beads::{beads, face_beads};
use super::guide;
use crate::fit::{Block, support};
use crate::geometry::{OutlineError, Side};
use crate::hand::{Infill, Meeting, infills};
use crate::number::number;
use std::fmt;

/// Why the list could not be written.
#[derive(Debug)]
pub enum CuttingListError {
    /// An outline without area.
    Outline(OutlineError),
    /// Writing to memory failed.
    Csv(csv::Error),
}

impl fmt::Display for CuttingListError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            CuttingListError::Outline(error) => error.fmt(f),
            CuttingListError::Csv(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for CuttingListError {}

impl From<OutlineError> for CuttingListError {
    fn from(error: OutlineError) -> Self {
        CuttingListError::Outline(error)
    }
}

impl From<csv::Error> for CuttingListError {
    fn from(error: csv::Error) -> Self {
        CuttingListError::Csv(error)
    }
}

/// One line: sash, what, label, count, length, width, thickness, remark.
pub type Line = [String; 8];

/// The lines of one sash.
///
/// # Errors
/// Where an outline has no area.
pub fn lines(subject: &Subject<'_>) -> Result<Vec<Line>, OutlineError> {
    let (sash, fit) = (subject.sash, subject.fit);
    let mut lines = Vec::new();
    let mut add = |what: &str, label: String, count: usize, sizes: [f64; 3], remark: String| {
        let [length, width, thickness] = sizes.map(mm);
        let sash = subject.id().to_owned();
        lines.push([sash, what.into(), label, count.to_string(), length, width, thickness, remark]);
    };
    for bead in beads(sash, fit) {
        let [first, last] = bead.mitres.map(mm);
        let mut remark = format!(
            "{}; short points {} mm; mitres {first} and {last} degrees",
            bead.place,
            mm(bead.short)
        );
        if let Some(curve) = bead.curve() {
            remark = format!("{remark}; {curve}");
        }
        add("bead", bead.label, 1, [bead.long, bead.width, bead.height], remark);
    }
    let proud = sash.measured.finish.bead;
    for bead in face_beads(sash) {
        let remark = if bead.square {
            format!("over {}; square ends; on the outer pane", bead.place)
        } else {
            let (place, ends) = (&bead.place, bead.ends());
            format!("over {place}; longest side; ends {ends}; on the outer pane")
        };
        add("face bead", bead.label, 1, [bead.length, bead.width, proud], remark);
    }
    for unit in &fit.units {
        for (side, blocks) in by_side(&support(&sash.measured, unit)) {
            let Some(block) = blocks.first() else { continue };
            let what = if side == Side::Bottom { "setting block" } else { "location block" };
            let sizes = [block.length, block.width, block.height];
            let remark = format!("{side}, at the quarter points");
            add(what, unit.light.clone(), blocks.len(), sizes, remark);
        }
    }
    let (router, cutter) = (&subject.workshop.router, &subject.workshop.cutter);
    for board in infills(sash, fit, subject.plan, router, cutter, subject.by_bush()) {
        let sizes = [board.size.width, board.size.height, board.thickness];
        let remark = board_remark(&board);
        add("board", board.place, board.count, sizes, remark);
    }
    if subject.by_bush()
        && let Some(template) = guide::of(subject)?
    {
        let plate = template.plate;
        let sizes = [plate.width(), plate.height(), template.plate_thickness];
        add("template plate", String::new(), 1, sizes, "aperture as template.dxf".into());
    }
    Ok(lines)
}

fn by_side(blocks: &[Block]) -> impl Iterator<Item = (Side, Vec<&Block>)> {
    let at = |side: Side| (side, blocks.iter().filter(|block| block.side == side).collect());
    [Side::Bottom, Side::Top, Side::Left, Side::Right].into_iter().map(at)
}

/// What to mind about a board, and when it has to come out.
fn board_remark(board: &Infill) -> String {
    let mut remark = board.remark.to_owned();
    if board.in_opening() {
        remark += "; comes out to try the unit, and before any machine program";
    }
    if let Some(Meeting { stage, place, .. }) = &board.met_by {
        remark = format!("{remark}; cut into from the pass: {stage}, {place}");
    }
    remark
}

/// The list as CSV (RFC 4180).
///
/// # Errors
/// None in practice: writing to memory fails only where memory does.
pub fn csv(lines: &[Line]) -> Result<Vec<u8>, CuttingListError> {
    let mut out =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    out.write_record([
        "sash",
        "what",
        "label",
        "count",
        "length mm",
        "width mm",
        "thickness mm",
        "remark",
    ])?;
    for line in lines {
        out.write_record(line)?;
    }
    out.into_inner().map_err(|error| csv::Error::from(error.into_error()).into())
}

fn mm(value: f64) -> String {
    number(value, 1)
}
