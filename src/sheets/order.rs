//! The glass order: one line a unit.

use super::SheetError;
use super::kit::{Voice, hundredths, mm};
use super::list::List;
use crate::number::{NotFinite, decimal};
use crate::report::{InternalBarLine, Report, ShapeLine, UnitLine};

/// The order as CSV (RFC 4180), a header and a line a unit. Sashes that cannot take their unit are left out.
///
/// # Errors
/// Where a number of the report is not finite.
pub fn csv(report: &Report) -> Result<Vec<u8>, SheetError> {
    let mut list = List::new(Vec::new(), COLUMNS, Voice::plain())?;
    for sash in report.sashes.iter().filter(|sash| sash.answers.may_be_ordered()) {
        list.add(&lines(&sash.id, &sash.units)?)?;
    }
    list.finish()
}

/// What stands in each column.
pub const COLUMNS: [&str; 23] = [
    "label",
    "quantity",
    "order width mm",
    "order height mm",
    "sight width mm (not for ordering)",
    "sight height mm (not for ordering)",
    "build-up",
    "panes and cavities from outside in",
    "gas, coating, spacer, glass",
    "safety glass",
    "thickness mm",
    "thickness at most mm",
    "spacer and seal height at most mm",
    "internal bar width mm",
    "upright internal bars: centres from left edge mm",
    "cross internal bars: centres from bottom edge mm",
    "edge tape mm",
    "weight kg",
    "seen from",
    "shape",
    "how the shape is given",
    "order area m2",
    "not stated: settle with the maker",
];

/// The units of the sash `id`, a line each.
///
/// # Errors
/// Where a number is not finite.
pub fn lines(id: &str, units: &[UnitLine]) -> Result<Vec<Cells>, SheetError> {
    units.iter().map(|unit| line(id, unit)).collect()
}

/// Cells of a line.
pub type Cells = [String; COLUMNS.len()];

fn line(id: &str, unit: &UnitLine) -> Result<Cells, SheetError> {
    let centres = |runs: &str| {
        let bars = unit.internal_bars.iter().filter(|bar| bar.runs == runs);
        bars.map(|bar| mm(bar.from_edge)).collect::<Result<Vec<_>, _>>().map(|all| all.join(" "))
    };
    let widest = unit.internal_bars.iter().map(|bar: &InternalBarLine| bar.width);
    Ok([
        format!("{id} {}", unit.light),
        "1".into(),
        mm(unit.order.width)?,
        mm(unit.order.height)?,
        mm(unit.sight.width)?,
        mm(unit.sight.height)?,
        unit.build_up.clone(),
        unit.layers.join("; "),
        unit.make.clone(),
        unit.safety.clone().unwrap_or_default(),
        mm(unit.thickness)?,
        mm(unit.thickest)?,
        mm(unit.spacer_height)?,
        widest.reduce(f64::max).map(mm).transpose()?.unwrap_or_default(),
        centres("upright")?,
        centres("cross")?,
        mm(unit.tape)?,
        unit.weight.map_or_else(|| "unknown".into(), |weight| format!("{weight:.1}")),
        "glazing face".into(),
        shape_name(unit).into(),
        shape_given(unit)?,
        decimal(unit.area, 4)?.to_string(),
        unit.unstated.join(", "),
    ])
}

/// What the unit is called.
pub(super) fn shape_name(unit: &UnitLine) -> &str {
    unit.shape.as_ref().map_or("rectangle", |shape| &shape.name)
}

/// Everything that sets the shape out, in one line: it is always of the size to order.
fn shape_given(unit: &UnitLine) -> Result<String, NotFinite> {
    let Some(shape) = &unit.shape else { return Ok("order width and order height".into()) };
    let measures = shape.measures.iter().map(|m| Ok(format!("{} {}", m.what, mm(m.mm)?)));
    let measures = measures.collect::<Result<Vec<_>, NotFinite>>()?.join("; ");
    Ok(format!(
        "ORDER size: {measures}; edges anticlockwise from the lower left of the rectangle around it, x y of \
         each beginning: {}",
        corners(shape)?
    ))
}

/// Corners in one line of text, each with the edge that leads from it.
fn corners(shape: &ShapeLine) -> Result<String, NotFinite> {
    let edges = shape.edges.iter().map(|line| {
        let [x, y] = line.from;
        let (x, y) = (hundredths(x)?, hundredths(y)?);
        Ok(match line.arc {
            Some(arc) => format!("({x} {y}) arc R {}", hundredths(arc.radius)?),
            None => format!("({x} {y}) straight"),
        })
    });
    Ok(edges.collect::<Result<Vec<_>, NotFinite>>()?.join(", "))
}
