//! Everything besides glass that is cut to size: beads, blocks, boards, templates, one line each.

use super::SheetError;
use super::kit::{Voice, min_max, mm, tell};
use super::list::List;
use crate::fit::Block;
use crate::geometry::Side;
use crate::hand::{Board, CuttingPass};
use crate::materials::{Bead, FaceBead, Materials};
use crate::number::NotFinite;
use crate::report::{Report, SashReport};

/// Cells of a line.
pub type Cells = [String; COLUMNS.len()];

/// What stands in each column, by its key.
pub const COLUMNS: [&str; 8] = [
    "cutting-sash",
    "cutting-what",
    "cutting-label",
    "cutting-count",
    "cutting-length",
    "cutting-width",
    "cutting-thickness",
    "cutting-remark",
];

/// The list of a house as CSV (RFC 4180), a header and a line a part. Sashes that are stopped have none.
///
/// # Errors
/// Where a number of the report is not finite.
pub fn csv(report: &Report) -> Result<Vec<u8>, SheetError> {
    let voice = Voice::plain();
    let mut list = List::new(Vec::new(), COLUMNS, voice)?;
    for sash in &report.sashes {
        list.add(&parts(sash, voice)?)?;
    }
    list.finish()
}

/// The lines of a sash; none for one that is stopped.
///
/// # Errors
/// Where a number of the report is not finite.
pub fn parts(sash: &SashReport, voice: Voice) -> Result<Vec<Cells>, NotFinite> {
    let Some(materials) = &sash.materials else { return Ok(Vec::new()) };
    let lines = lines(materials, voice)?.into_iter();
    let cells = lines.map(|Line { what, label, count, sizes, remark }| {
        let [length, width, thickness] = sizes;
        Ok([
            sash.id.clone(),
            voice.word(what),
            voice.named(label),
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

fn lines(materials: &Materials, voice: Voice) -> Result<Vec<Line<'_>>, NotFinite> {
    let beads = materials.beads.iter().map(|bead| {
        let [first, last] = bead.mitres;
        let (first, last, short) = (mm(first)?, mm(last)?, mm(bead.short)?);
        let place = voice.named(&bead.place);
        let mut remarks = vec![tell!(
            voice,
            "cutting-bead-remark",
            place,
            short,
            first,
            last,
            splay = mm(bead.splay)?,
            top = mm(bead.top)?
        )];
        remarks.extend(curve(bead, voice)?);
        match min_max(bead.width, voice)? {
            widths if widths == mm(bead.width.most)? => {}
            widths => remarks.push(tell!(voice, "cutting-taper", widths)),
        }
        Ok(Line {
            what: "cutting-bead",
            label: &bead.label,
            count: 1,
            sizes: [bead.long, bead.width.most, bead.height],
            remark: remarks.join("; "),
        })
    });
    let face_beads = materials.face_beads.iter().map(|bead| {
        let ends = voice.word(ends(bead));
        let cut = if bead.square {
            tell!(voice, "cutting-ends", ends)
        } else {
            tell!(voice, "cutting-longest", ends)
        };
        Ok(Line {
            what: "cutting-face-bead",
            label: &bead.label,
            count: 1,
            sizes: [bead.length, bead.width, bead.height],
            remark: tell!(voice, "cutting-face-remark", over = over(bead, voice)?, cut),
        })
    });
    let blocks = materials.blocks.iter().flat_map(|unit| {
        by_side(&unit.blocks).map(|(block, count)| Line {
            what: if block.side == Side::Bottom {
                "cutting-setting-block"
            } else {
                "cutting-location-block"
            },
            label: &unit.light,
            count,
            sizes: [block.length, block.width, block.height],
            remark: tell!(
                voice,
                "cutting-block-remark",
                side = voice.named(&block.side.to_string())
            ),
        })
    });
    let drains = materials.blocks.iter().flat_map(|unit| {
        unit.drains.iter().map(|drains| Line {
            what: if drains.side == Side::Bottom { "cutting-drain" } else { "cutting-air" },
            label: &unit.light,
            count: drains.middles.len(),
            sizes: [drains.length, drains.width, drains.height],
            remark: tell!(
                voice,
                "cutting-slot-remark",
                side = voice.named(&drains.side.to_string())
            ),
        })
    });
    let boards = materials.boards.iter().map(|board| Line {
        what: "cutting-board",
        label: &board.place,
        count: board.count,
        sizes: [board.length, board.width, board.thickness],
        remark: board_remark(board, voice),
    });
    let plate = materials.template.iter().filter(|_| materials.by_bush).map(|template| Line {
        what: "cutting-plate",
        label: "",
        count: 1,
        sizes: [template.plate.width, template.plate.height, template.plate.thickness],
        remark: voice.word("cutting-plate-remark"),
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
fn board_remark(board: &Board, voice: Voice) -> String {
    let mut remarks = vec![voice.named(board.remark)];
    if board.in_opening() {
        remarks.push(voice.word("cutting-comes-out"));
    }
    if let Some(CuttingPass { stage, place, .. }) = &board.cut_into_by {
        let (stage, place) = (voice.named(stage.words()), voice.named(place));
        remarks.push(tell!(voice, "cutting-cut-into", stage, place));
    }
    remarks.join("; ")
}

/// What to say of a bead's curve; nothing for a straight one.
pub(super) fn curve(bead: &Bead, voice: Voice) -> Result<Option<String>, NotFinite> {
    let Some([wall, sight]) = bead.radii else { return Ok(None) };
    Ok(Some(tell!(voice, "cutting-curve", wall = mm(wall)?, sight = mm(sight)?)))
}

/// What a face bead lies over.
pub(super) fn over(bead: &FaceBead, voice: Voice) -> Result<String, NotFinite> {
    let bar = voice.named(&bead.bar);
    Ok(match bead.radius {
        Some(radius) => tell!(voice, "cutting-over-curved", bar, radius = mm(radius)?),
        None => tell!(voice, "cutting-over", bar),
    })
}

/// How the ends of a face bead are cut, by its key.
pub(super) fn ends(bead: &FaceBead) -> &'static str {
    if bead.square { "cutting-square" } else { "cutting-to-sight-edge" }
}
