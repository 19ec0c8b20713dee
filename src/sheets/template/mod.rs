//! The template at true size, cut into tiles that an ordinary printer can print.
//!
//! Promised: every line of the sash is on some tile, or runs straight between two; tiles laid in their places give the whole; every tile
//! says which sash it belongs to, which face is up and where the top is, names its lines, and carries a square to
//! measure. Of straight sides their ends are printed, or all of them where that is asked for.
//! Not promised: that a printer is true; that is what the square is for.

pub mod check;
mod cover;
mod distances;
mod lines;
mod looks;
mod naming;
mod page;
mod tiles;

pub use lines::lines;
pub use tiles::{Seam, Tile, Tiling};

use super::kit::{sheet, tell};
use super::{SheetError, Subject, guide};
use crate::drawing::{Document, pdf};
use crate::survey::{Paper, TemplateAs};
use kurbo::{Rect, Size};

/// White round the drawing, so that its outermost lines lie inside a tile, mm.
const AROUND: f64 = 3.0;

/// Paper, and what of it a tile can fill.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Format {
    /// The page.
    size: Size,
    /// White edge, mm.
    margin: f64,
    /// The window of a tile on the page.
    window: Rect,
}

impl Format {
    fn new(size: Size, margin: f64) -> Format {
        let low = margin + page::FOOT;
        let window = Rect::new(margin, low, size.width - margin, size.height - margin);
        Format { size, margin, window }
    }

    fn turned(self) -> Format {
        Format::new(Size::new(self.size.height, self.size.width), self.margin)
    }
}

/// The whole template of a sash: a page to find one's way, then the tiles.
///
/// # Errors
/// Where an outline has no area, or a number is not finite.
pub fn document(subject: &Subject<'_>) -> Result<Document, SheetError> {
    let mut scene = lines::lines(subject)?;
    if subject.materials.by_bush {
        guide::plate(subject, &mut scene)?;
    }
    let scene = looks::on_paper(&scene);
    let edges = lines::edges(&scene, |_| true);
    let outlines = lines::edges(&scene, |layer| !looks::is_points(layer));
    let drawing = scene.extents().inflate(AROUND, AROUND);
    let printer = &subject.workshop.printer;
    let upright = format(subject, drawing);
    let tiled = |format: Format| {
        let all = Tiling::new(drawing, format.window.size(), printer.overlap, &edges);
        match printer.template {
            TemplateAs::Whole => all,
            TemplateAs::Corners => all.without_straight(&outlines),
        }
    };
    let placed = |format: Format| {
        let tiling = tiled(format);
        let (squares, met): (Vec<_>, Vec<_>) = (0..tiling.tiles.len())
            .filter_map(|index| page::square(&tiling, index, (subject.voice(), &edges)))
            .unzip();
        (tiling, squares, met.into_iter().filter(|met| *met > 0).count())
    };
    let lying = upright.turned();
    // The paper lies across where that saves a sheet, or leaves outlines clear of the squares.
    let (format, (tiling, squares, _)) = match (placed(upright), placed(lying)) {
        (a, b) if printer.paper != Paper::Roll && b.0.tiles.len() + b.2 < a.0.tiles.len() + a.2 => {
            (lying, b)
        }
        (a, _) => (upright, a),
    };
    let mut pages = cover::pages(subject, &scene, &tiling)?;
    let before = pages.len();
    for (index, square) in squares.into_iter().enumerate() {
        let tile = page::tile(subject, &scene, &edges, (&tiling, index, square), (format, before))?;
        pages.extend(tile);
    }
    let voice = subject.voice();
    let title = tell!(voice, "template-title", house = subject.house, sash = subject.id());
    Ok(Document { title, pages })
}

fn format(subject: &Subject<'_>, drawing: Rect) -> Format {
    let printer = &subject.workshop.printer;
    let margin = printer.margin;
    let size = match printer.paper {
        Paper::Roll => {
            let needed = drawing.height() + 2.0 * margin + page::FOOT;
            Size::new(printer.roll_width, needed.max(printer.roll_width).min(pdf::LONGEST_PAGE))
        }
        other => sheet(other),
    };
    Format::new(size, margin)
}
