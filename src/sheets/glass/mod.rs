//! The glass order as sheets: one a kind of unit, from which a unit maker can work without asking.
//!
//! Promised: the size to order stands alone in large figures; the sight size is never called a size to
//! order. Not promised: that the maker offers the unit.

mod shaped;

use super::SheetError;
use super::kit::{Column, Flow, Picture, Table, mm, reading};
use super::layers::BEAD;
use super::layers::{DIMENSIONS, SIGHT_EDGE, UNIT, WORDS};
use crate::drawing::{Across, Dimension, Document, Item, Scene, Text, Up};
use crate::geometry::{COINCIDENT, Outline, OutlineError};
use crate::number::{NotFinite, decimal};
use crate::report::{Report, ShapeLine, UnitLine};
use crate::survey::Printer;
use kurbo::{Point, Rect, Size};
use std::borrow::Cow;

/// Height of words on paper, mm.
const HEIGHT: f64 = 2.2;
/// No drawing of a unit is smaller: one that left less room would show nothing, and words divided by it would run
/// out of all bounds.
const LEAST_SCALE: f64 = 1e-3;

/// Most kinds of unit in one document: it is held in memory while it is written.
const MOST_KINDS: usize = 200;

/// Units that are made alike, with the labels of all.
struct Kind<'a> {
    unit: Cow<'a, UnitLine>,
    labels: Vec<String>,
}

/// Units to order, like ones together.
#[derive(Default)]
pub struct Kinds<'a>(Vec<Kind<'a>>);

impl<'a> Kinds<'a> {
    /// Adds the units of the sash `id`.
    pub fn add(&mut self, id: &str, units: impl IntoIterator<Item = Cow<'a, UnitLine>>) {
        for unit in units {
            let label = format!("{id} {}", unit.light);
            match self.0.iter_mut().find(|kind| alike(&kind.unit, &unit)) {
                Some(kind) => kind.labels.push(label),
                None => self.0.push(Kind { unit, labels: vec![label] }),
            }
        }
    }

    /// Sheets that can be held in memory, in order; one for an order that is not long.
    pub fn parts(mut self) -> Vec<Kinds<'a>> {
        let mut parts = Vec::new();
        while self.0.len() > MOST_KINDS {
            let rest = self.0.split_off(MOST_KINDS);
            parts.push(std::mem::replace(&mut self, Kinds(rest)));
        }
        parts.push(self);
        parts
    }

    /// The order.
    ///
    /// # Errors
    /// Where a unit has no area, or a number is not finite.
    pub fn document(&self, house: &str, printer: &Printer) -> Result<Document, SheetError> {
        let (size, margin) = reading(printer);
        let head = format!("{house} · glass order");
        let foot = "Calculated from the survey as written. Unit maker: if anything is unclear, ask before you make it.";
        let mut flow = Flow::new(size, margin, head, foot);
        let Kinds(kinds) = self;
        summary(&mut flow, kinds)?;
        for kind in kinds {
            flow.new_page();
            flow = on_one_page(&flow, kind, size)?;
        }
        Ok(Document { title: format!("{house}: glass order"), pages: flow.pages() })
    }
}

/// The order; sashes that cannot take their unit are left out.
///
/// # Errors
/// As [`Kinds::document`].
pub fn document(report: &Report, printer: &Printer) -> Result<Document, SheetError> {
    let mut kinds = Kinds::default();
    for sash in report.sashes.iter().filter(|sash| sash.answers.may_be_ordered()) {
        kinds.add(&sash.id, sash.units.iter().map(Cow::Borrowed));
    }
    kinds.document(&report.house, printer)
}

/// A unit drawn as large as leaves room for all its words on the page just begun; where even a small
/// drawing leaves too little, it stays large and the words run on.
fn on_one_page(begun: &Flow, kind: &Kind<'_>, size: Size) -> Result<Flow, SheetError> {
    let outline = kind.unit.shape.as_ref().map(ShapeLine::outline).transpose()?;
    let drawn = |share: f64| {
        let mut flow = begun.clone();
        let most = Size::new(size.width, share * size.height);
        unit(&mut flow, kind, outline.as_ref(), most).map(|()| flow)
    };
    let large = drawn(0.385)?;
    if large.count() == begun.count() {
        return Ok(large);
    }
    for share in [0.32, 0.26] {
        let small = drawn(share)?;
        if small.count() == begun.count() {
            return Ok(small);
        }
    }
    Ok(large)
}

/// Whether a maker would make both the same.
fn alike(a: &UnitLine, b: &UnitLine) -> bool {
    let same = |a: f64, b: f64| (a - b).abs() <= COINCIDENT;
    a.order == b.order
        && a.shape == b.shape
        && a.sight == b.sight
        && a.build_up == b.build_up
        && a.make == b.make
        && a.unstated == b.unstated
        && a.safety == b.safety
        && same(a.spacer_height, b.spacer_height)
        && same(a.tape, b.tape)
        && same(a.thickest, b.thickest)
        && a.internal_bars == b.internal_bars
}

fn summary(flow: &mut Flow, kinds: &[Kind<'_>]) -> Result<(), NotFinite> {
    flow.heading("Units to order");
    let mut table = Table::new(vec![
        Column::numbers("quantity", 0.9),
        Column::numbers("ORDER width × height, mm", 2.0),
        Column::words("build-up", 1.2),
        Column::numbers("weight each, kg", 1.0),
        Column::words("labels", 4.0),
        Column::words("ordered", 1.0),
    ]);
    for kind in kinds {
        table.rows.push(vec![
            kind.labels.len().to_string(),
            ordered(&kind.unit)?,
            kind.unit.build_up.clone(),
            weight(&kind.unit)?,
            kind.labels.join(", "),
            String::new(),
        ]);
    }
    if kinds.is_empty() {
        flow.paragraph(
            "Nothing can be ordered: no sash can take its unit. See the reasons in summary.txt.",
        );
    }
    table.lay(flow);
    flow.paragraph(
        "Safety glass: where a pane lies near a floor or a door, local rules may ask for toughened or laminated \
         glass. England, Approved Document K: below 800 mm from the floor, and below 1500 mm in doors and side \
         panels within 300 mm of them. A unit's page says where the survey shows such a place.",
    );
    flow.paragraph(
        "Tolerances asked for, unless the maker agrees others: width and height ± 2.0 mm, panes offset by at most \
         2.0 mm (sides up to 2 m); thickness as stated for each unit.",
    );
    Ok(())
}

/// `outline` is that of a unit that is no rectangle.
fn unit(
    flow: &mut Flow,
    kind: &Kind<'_>,
    outline: Option<&Outline>,
    most: Size,
) -> Result<(), SheetError> {
    let unit = kind.unit.as_ref();
    let count = kind.labels.len();
    let (width, height) = (unit.order.width, unit.order.height);
    let shape = unit.shape.as_ref().map_or_else(String::new, |shape| format!(", {}", shape.name));
    let pieces = format!("{count} piece{}", plural(count));
    flow.heading(&format!("ORDER SIZE {} mm{shape}, {pieces}", size(width, height)?));
    flow.paragraph("Seen from outside, which is the glazing face.");
    let most = Size::new(flow.width(), most.height);
    let scene = match unit.shape.as_ref().zip(outline) {
        Some((shape, outline)) => shaped::drawing(unit, shape, outline, most)?,
        None => drawing(unit, most)?,
    };
    flow.picture(Picture::within(scene, most));
    if let Some(shape) = &unit.shape {
        shaped::tables(flow, shape)?;
    }
    let centres = |runs: &str| {
        let bars = unit.internal_bars.iter().filter(|bar| bar.runs == runs);
        bars.map(|bar| mm(bar.from_edge)).collect::<Result<Vec<_>, _>>().map(|all| all.join(", "))
    };
    let widest = unit.internal_bars.iter().map(|bar| bar.width).reduce(f64::max);
    let none = |words: String| if words.is_empty() { "none".to_owned() } else { words };
    let mut rows = vec![
        ("quantity", count.to_string()),
        ("label each", kind.labels.join(", ")),
        ("ORDER width × height, edge of glass, mm", size(width, height)?),
        ("build-up, from outside in, mm", unit.build_up.clone()),
        (
            "thickness, nominal / at most, mm",
            format!("{} / {}", mm(unit.thickness)?, mm(unit.thickest)?),
        ),
        ("spacer and seal, height from the edge, at most, mm", mm(unit.spacer_height)?),
        ("internal bars, width, mm", none(widest.map(mm).transpose()?.unwrap_or_default())),
        ("upright internal bars, centres from the left edge, mm", none(centres("upright")?)),
        ("cross internal bars, centres from the bottom edge, mm", none(centres("cross")?)),
        ("weight each, kg", weight(unit)?),
        (
            "daylight in the timber, NOT a size to order, mm",
            size(unit.sight.width, unit.sight.height)?,
        ),
        (
            "safety glass",
            unit.safety.clone().unwrap_or_else(|| "none asked for by the survey".into()),
        ),
        ("gas, coating, spacer, glass", unit.make.clone()),
        ("not stated in the survey: settle it with the maker", none(unit.unstated.join(", "))),
        ("spacer colour", String::new()),
    ];
    if unit.tape > 0.0 {
        let tape = format!("{} on each edge, beyond the order size", mm(unit.tape)?);
        rows.insert(6, ("edge tape, mm", tape));
    }
    if let Some(shape) = &unit.shape {
        let over_all = "ORDER width × height over all, edge of glass, mm";
        if let Some(row) = rows.iter_mut().find(|row| row.0.starts_with("ORDER width")) {
            row.0 = over_all;
        }
        rows.insert(
            2,
            ("shape, set out by the drawing and the table above", shape.name.to_string()),
        );
        rows.insert(3, ("area of the glass, m²", decimal(shape.area, 4)?.to_string()));
        let sight = "daylight in the timber, over all, NOT a size to order, mm";
        if let Some(row) = rows.iter_mut().find(|row| row.0.starts_with("daylight")) {
            row.0 = sight;
        }
    }
    let mut table = Table::new(vec![Column::words("what", 2.2), Column::words("this unit", 3.0)]);
    table.rows.extend(rows.into_iter().map(|(what, this)| vec![what.to_owned(), this]));
    table.lay(flow);
    Ok(())
}

/// The unit with its sizes and internal bars, zero at the lower left corner of the glass.
fn drawing(unit: &UnitLine, most: Size) -> Result<Scene, OutlineError> {
    let (width, height) = (unit.order.width, unit.order.height);
    let scale = ((most.width - 50.0) / width).min((most.height - 45.0) / height).max(LEAST_SCALE);
    let h = HEIGHT / scale;
    let mut scene = Scene::new("", "seen from outside", &[]);
    let glass = Rect::new(0.0, 0.0, width, height);
    scene.add(&UNIT, Item::Outline(Outline::rectangle(glass)?));
    let seal = glass.inflate(-unit.spacer_height, -unit.spacer_height);
    if seal.width() > 0.0 && seal.height() > 0.0 {
        scene.add(&SIGHT_EDGE, Item::Outline(Outline::rectangle(seal)?));
    }
    let mut all = vec![
        Dimension::across(Point::ZERO, Point::new(width, 0.0), -3.2 * h, 1.3 * h).saying("order"),
        Dimension::upright(Point::ZERO, Point::new(0.0, height), -3.2 * h, 1.3 * h).saying("order"),
    ];
    let (mut up, mut right) = (3.0, 3.4);
    for bar in &unit.internal_bars {
        let half = bar.width / 2.0;
        let upright = bar.runs == "upright";
        let (low, high) = (bar.from_edge - half, bar.from_edge + half);
        let seen = if upright {
            Rect::new(low, seal.y0, high, seal.y1)
        } else {
            Rect::new(seal.x0, low, seal.x1, high)
        };
        if seen.width() > 0.0 && seen.height() > 0.0 {
            scene.add(&BEAD, Item::Outline(Outline::rectangle(seen)?));
        }
        all.push(if upright {
            let line = height + up * h;
            up += 3.2;
            Dimension::across(Point::new(0.0, height), Point::new(bar.from_edge, height), line, h)
        } else {
            let line = width + right * h;
            right += 3.2;
            Dimension::upright(Point::new(width, 0.0), Point::new(width, bar.from_edge), line, h)
        });
    }
    for dimension in all {
        scene.add(&DIMENSIONS, Item::Dimension(dimension));
    }
    // Between internal bars there is always room beside the middle.
    let middle = Point::new(0.5 * width, 0.88 * height);
    if unit.internal_bars.is_empty() {
        let words = Text::new("outside", middle, h).anchored(Across::Centre, Up::Middle);
        scene.add(&WORDS, Item::Text(words));
    }
    Ok(scene)
}

/// Size to order, with the shape where it is no rectangle.
fn ordered(unit: &UnitLine) -> Result<String, NotFinite> {
    let size = size(unit.order.width, unit.order.height)?;
    Ok(unit.shape.as_ref().map_or(size.clone(), |shape| format!("{size}, {}", shape.name)))
}

fn weight(unit: &UnitLine) -> Result<String, NotFinite> {
    unit.weight.map_or_else(|| Ok("unknown".into()), |kg| Ok(decimal(kg, 1)?.to_string()))
}

fn size(width: f64, height: f64) -> Result<String, NotFinite> {
    Ok(format!("{} × {}", mm(width)?, mm(height)?))
}

fn plural(count: usize) -> &'static str {
    if count == 1 { "" } else { "s" }
}
