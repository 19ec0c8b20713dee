//! Everything besides glass that is cut to size: beads, blocks, boards, templates, one line each.

use super::SheetError;
use super::kit::{Voice, min_max, mm};
use super::list::List;
use crate::fit::Block;
use crate::geometry::Side;
use crate::hand::{Board, CuttingPass};
use crate::materials::{Bead, FaceBead, Materials};
use crate::number::NotFinite;
use crate::report::{Report, SashReport};

/// Cells of a line.
pub type Cells = [String; COLUMNS.len()];

/// What stands in each column.
pub const COLUMNS: [&str; 8] =
    ["sash", "what", "label", "count", "length mm", "width mm", "thickness mm", "remark"];

/// The list of a house as CSV (RFC 4180), a header and a line a part. Sashes that are stopped have none.
///
/// # Errors
/// Where a number of the report is not finite.
pub fn csv(report: &Report) -> Result<Vec<u8>, SheetError> {
    let mut list = List::new(Vec::new(), COLUMNS, Voice::plain())?;
    for sash in &report.sashes {
        list.add(&parts(sash)?)?;
    }
    list.finish()
}

/// The lines of a sash; none for one that is stopped.
///
/// # Errors
/// Where a number of the report is not finite.
pub fn parts(sash: &SashReport) -> Result<Vec<Cells>, NotFinite> {
    let Some(materials) = &sash.materials else { return Ok(Vec::new()) };
    let lines = lines(materials)?.into_iter();
    let cells = lines.map(|Line { what, label, count, sizes, remark }| {
        let [length, width, thickness] = sizes;
        Ok([
            sash.id.clone(),
            what.to_owned(),
            label.to_owned(),
            count.to_string(),
            mm(length)?,
            mm(width)?,
            mm(thickness)?,
            remark,
        ])
    });
    cells.collect()
}

/// One line of the list.
struct Line<'a> {
    what: &'static str,
    label: &'a str,
    count: usize,
    /// Length, width, thickness, mm.
    sizes: [f64; 3],
    remark: String,
}

fn lines(materials: &Materials) -> Result<Vec<Line<'_>>, NotFinite> {
    let beads = materials.beads.iter().map(|bead| {
        let [first, last] = bead.mitres;
        let (first, last, short) = (mm(first)?, mm(last)?, mm(bead.short)?);
        let curve = curve(bead)?.map_or_else(String::new, |curve| format!("; {curve}"));
        let place = &bead.place;
        let taper = match min_max(bead.width)? {
            widths if widths == mm(bead.width.most)? => String::new(),
            widths => format!("; planed to a taper of {widths} mm"),
        };
        Ok(Line {
            what: "bead",
            label: &bead.label,
            count: 1,
            sizes: [bead.long, bead.width.most, bead.height],
            remark: format!(
                "{place}; short points {short} mm; mitres {first} and {last} degrees; splay {} degrees, {} mm left at \
                 the top{curve}{taper}",
                mm(bead.splay)?,
                mm(bead.top)?
            ),
        })
    });
    let face_beads = materials.face_beads.iter().map(|bead| {
        let ends = ends(bead);
        let cut =
            if bead.square { format!("{ends} ends") } else { format!("longest side; ends {ends}") };
        Ok(Line {
            what: "face bead",
            label: &bead.label,
            count: 1,
            sizes: [bead.length, bead.width, bead.height],
            remark: format!("{}; {cut}; on the outer pane", over(bead)?),
        })
    });
    let blocks = materials.blocks.iter().flat_map(|unit| {
        by_side(&unit.blocks).map(|(block, count)| Line {
            what: if block.side == Side::Bottom { "setting block" } else { "location block" },
            label: &unit.light,
            count,
            sizes: [block.length, block.width, block.height],
            remark: format!("{}, at the quarter points", block.side),
        })
    });
    let drains = materials.blocks.iter().flat_map(|unit| {
        unit.drains.iter().map(|drains| Line {
            what: if drains.side == Side::Bottom { "drain slot" } else { "air slot" },
            label: &unit.light,
            count: drains.middles.len(),
            sizes: [drains.length, drains.width, drains.height],
            remark: format!("through the back of the {} bead, along the wall", drains.side),
        })
    });
    let boards = materials.boards.iter().map(|board| Line {
        what: "board",
        label: &board.place,
        count: board.count,
        sizes: [board.length, board.width, board.thickness],
        remark: board_remark(board),
    });
    let plate = materials.template.iter().filter(|_| materials.by_bush).map(|template| Line {
        what: "template plate",
        label: "",
        count: 1,
        sizes: [template.plate.width, template.plate.height, template.plate.thickness],
        remark: "aperture as template.dxf".to_owned(),
    });
    let others = blocks.chain(drains).chain(boards).chain(plate).map(Ok);
    beads.chain(face_beads).chain(others).collect()
}

/// The first block of each side, and how many stand there.
fn by_side(blocks: &[Block]) -> impl Iterator<Item = (&Block, usize)> {
    let sides = blocks.chunk_by(|a, b| a.side == b.side);
    sides.filter_map(|alike| alike.first().map(|block| (block, alike.len())))
}

/// What to mind about a board, and when it has to come out.
fn board_remark(board: &Board) -> String {
    let mut remark = board.remark.to_owned();
    if board.in_opening() {
        remark += "; comes out to try the unit, and before any machine program";
    }
    if let Some(CuttingPass { stage, place, .. }) = &board.cut_into_by {
        remark = format!("{remark}; cut into from the pass: {stage}, {place}");
    }
    remark
}

/// What to say of a bead's curve; nothing for a straight one.
pub(super) fn curve(bead: &Bead) -> Result<Option<String>, NotFinite> {
    let Some([wall, sight]) = bead.radii else { return Ok(None) };
    Ok(Some(format!(
        "curved: radius {} mm along the wall, {} mm along the sight edge; lengths along the curve",
        mm(wall)?,
        mm(sight)?
    )))
}

/// What a face bead lies over.
pub(super) fn over(bead: &FaceBead) -> Result<String, NotFinite> {
    let curve = match bead.radius {
        Some(radius) => format!(", curved: radius {} mm on its middle line", mm(radius)?),
        None => String::new(),
    };
    Ok(format!("over {}{curve}", bead.bar))
}

/// How the ends of a face bead are cut.
pub(super) fn ends(bead: &FaceBead) -> &'static str {
    if bead.square { "square" } else { "cut to the sight edge" }
}
