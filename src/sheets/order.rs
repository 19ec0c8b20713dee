//! The glass order: one line a unit.

use super::SheetError;
use super::kit::{Voice, hundredths, mm, tell};
use super::list::List;
use crate::number::{NotFinite, decimal};
use crate::report::{Report, ShapeLine, UnitLine};

/// The order as CSV (RFC 4180), a header and a line a unit. Sashes that cannot take their unit are left out.
///
/// # Errors
/// Where a number of the report is not finite.
pub fn csv(report: &Report) -> Result<Vec<u8>, SheetError> {
    let voice = Voice::plain();
    let mut list = List::new(Vec::new(), COLUMNS, voice)?;
    for sash in report.sashes.iter().filter(|sash| sash.answers.may_be_ordered()) {
        list.add(&lines(&sash.id, &sash.units, voice)?)?;
    }
    list.finish()
}

/// What stands in each column, by its key.
pub const COLUMNS: [&str; 23] = [
    "list-label",
    "list-quantity",
    "list-order-width",
    "list-order-height",
    "list-sight-width",
    "list-sight-height",
    "list-build-up",
    "list-layers",
    "list-make",
    "list-safety",
    "list-thickness",
    "list-thickest",
    "list-spacer",
    "list-bar-width",
    "list-upright-bars",
    "list-cross-bars",
    "list-tape",
    "list-weight",
    "list-seen-from",
    "list-shape",
    "list-shape-given",
    "list-area",
    "list-unstated",
];

/// The units of the sash `id`, a line each.
///
/// # Errors
/// Where a number is not finite.
pub fn lines(id: &str, units: &[UnitLine], voice: Voice) -> Result<Vec<Cells>, SheetError> {
    units.iter().map(|unit| line(id, unit, voice)).collect()
}

/// Cells of a line.
pub type Cells = [String; COLUMNS.len()];

fn line(id: &str, unit: &UnitLine, voice: Voice) -> Result<Cells, SheetError> {
    Ok([
        format!("{id} {}", voice.named(&unit.light)),
        "1".into(),
        mm(unit.order.width)?,
        mm(unit.order.height)?,
        mm(unit.sight.width)?,
        mm(unit.sight.height)?,
        unit.build_up.clone(),
        voice.named(&unit.layers.join("; ")),
        voice.named(&unit.make),
        unit.safety.as_ref().map_or_else(String::new, |safety| voice.say(safety)),
        mm(unit.thickness)?,
        mm(unit.thickest)?,
        mm(unit.spacer_height)?,
        widest_bar(unit).map(mm).transpose()?.unwrap_or_default(),
        centres(unit, "upright", " ")?,
        centres(unit, "cross", " ")?,
        mm(unit.tape)?,
        unit.weight
            .map_or_else(|| voice.word("order-weight-unknown"), |weight| format!("{weight:.1}")),
        voice.word("section-glazing-face"),
        voice.named(unit.shape.as_ref().map_or("rectangle", |shape| &shape.name)),
        shape_given(unit, voice)?,
        decimal(unit.area, 4)?.to_string(),
        voice.named(&unit.unstated.join(", ")),
    ])
}

/// The middles of the internal bars that run so, in a row.
pub(super) fn centres(unit: &UnitLine, runs: &str, between: &str) -> Result<String, NotFinite> {
    let bars = unit.internal_bars.iter().filter(|bar| bar.runs == runs);
    let middles = bars.map(|bar| mm(bar.from_edge)).collect::<Result<Vec<_>, _>>()?;
    Ok(middles.join(between))
}

/// Width of the widest internal bar, mm.
pub(super) fn widest_bar(unit: &UnitLine) -> Option<f64> {
    unit.internal_bars.iter().map(|bar| bar.width).reduce(f64::max)
}

/// Everything that sets the shape out, in one line: it is always of the size to order.
fn shape_given(unit: &UnitLine, voice: Voice) -> Result<String, NotFinite> {
    let Some(shape) = &unit.shape else { return Ok(voice.word("list-by-size")) };
    let measures = shape.measures.iter();
    let measures = measures.map(|m| Ok(format!("{} {}", voice.named(&m.what), mm(m.mm)?)));
    let measures = measures.collect::<Result<Vec<_>, NotFinite>>()?.join("; ");
    Ok(tell!(voice, "list-shaped", measures, corners = corners(shape, voice)?))
}

/// Corners in one line of text, each with the edge that leads from it.
fn corners(shape: &ShapeLine, voice: Voice) -> Result<String, NotFinite> {
    let edges = shape.edges.iter().map(|line| {
        let [x, y] = line.from;
        let (x, y) = (hundredths(x)?, hundredths(y)?);
        Ok(match line.arc {
            Some(arc) => tell!(voice, "list-arc", x, y, radius = hundredths(arc.radius)?),
            None => tell!(voice, "list-straight", x, y),
        })
    });
    Ok(edges.collect::<Result<Vec<_>, NotFinite>>()?.join(", "))
}
