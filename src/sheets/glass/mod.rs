//! The glass order as sheets: one a kind of unit, from which a unit maker can work without asking.
//!
//! Promised: the size to order stands alone in large figures; the sight size is never called a size to
//! order. Not promised: that the maker offers the unit.

mod shaped;

use super::SheetError;
use super::kit::{Column, Flow, Lettering, Picture, Table, Voice, composed, mm, reading};
use super::layers::BEAD;
use super::layers::{DIMENSIONS, SIGHT_EDGE, UNIT};
use crate::drawing::{Dimension, Document, Item, Scene, settled};
use crate::geometry::{Outline, OutlineError};
use crate::number::{NotFinite, decimal};
use crate::report::{OrderTotal, Report, ShapeLine, UnitKind, UnitKinds, UnitLine};
use crate::survey::Printer;
use kurbo::{Point, Rect, Size};
use std::borrow::Cow;
use std::fmt::Display;

/// Height of words on paper, mm.
const HEIGHT: f64 = 2.2;

/// Most kinds of unit in one document: it is held in memory while it is written.
pub const MOST_KINDS: usize = 200;

/// Units to order, a sheet each.
///
/// # Errors
/// Where a unit has no area, or a number is not finite.
pub fn document_of(
    kinds: &UnitKinds<'_>,
    house: &str,
    printer: &Printer,
) -> Result<Document, SheetError> {
    let (size, margin) = reading(printer);
    let head = format!("{house} · glass order");
    let foot = "Calculated from the survey as written. Unit maker: if anything is unclear, ask before you make it.";
    let mut flow = Flow::new(Voice::of(printer), (size, margin), head, foot);
    summary(&mut flow, kinds)?;
    for kind in &kinds.0 {
        flow.new_page();
        flow = on_one_page(&flow, kind, size)?;
    }
    Ok(Document { title: format!("{house}: glass order"), pages: flow.pages() })
}

/// The order; sashes that cannot take their unit are left out.
///
/// # Errors
/// As [`document_of`].
pub fn document(report: &Report, printer: &Printer) -> Result<Document, SheetError> {
    let mut kinds = UnitKinds::default();
    for sash in report.sashes.iter().filter(|sash| sash.answers.may_be_ordered()) {
        kinds.add(&sash.id, sash.units.iter().map(Cow::Borrowed));
    }
    document_of(&kinds, &report.house, printer)
}

/// A unit drawn as large as leaves room for all its words on the page just begun; where even a small
/// drawing leaves too little, it stays large and the words run on.
fn on_one_page(begun: &Flow, kind: &UnitKind<'_>, size: Size) -> Result<Flow, SheetError> {
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

/// What is filled in by hand before the order is sent.
const TO_FILL_IN: [&str; 6] = [
    "order number and date",
    "ordered by, telephone",
    "unit maker",
    "deliver to, or fetched by",
    "wanted by",
    "price and delivery agreed, date",
];

fn summary(flow: &mut Flow, UnitKinds(kinds): &UnitKinds<'_>) -> Result<(), NotFinite> {
    flow.heading("Glass order");
    let columns = vec![Column::words("to fill in", 1.0), Column::words("", 3.0)];
    let mut table = Table::new(columns).to_fill_in();
    table.rows.extend(TO_FILL_IN.map(|what| vec![what.to_owned(), String::new()]));
    table.lay(flow);
    flow.heading("Units to order");
    let mut table = Table::new(vec![
        Column::numbers("pieces", 0.8),
        Column::numbers("ORDER width × height, mm", 2.0),
        Column::words("build-up", 1.2),
        Column::numbers("each m²", 0.8),
        Column::numbers("each kg", 0.8),
        Column::words("labels", 3.2),
        Column::words("price each", 1.1),
        Column::words("price", 1.1),
    ])
    .to_fill_in();
    for kind in kinds {
        table.rows.push(vec![
            kind.labels.len().to_string(),
            ordered(&kind.unit)?,
            kind.unit.build_up.clone(),
            decimal(kind.unit.area, 2)?.to_string(),
            weight(kind.unit.weight)?,
            kind.labels.join(", "),
            String::new(),
            String::new(),
        ]);
    }
    if kinds.is_empty() {
        flow.paragraph(
            "Nothing can be ordered: no sash can take its unit. See the reasons in summary.txt.",
        );
    } else {
        let all: OrderTotal = kinds.iter().map(UnitKind::total).sum();
        table.rows.push(vec![
            all.pieces.to_string(),
            "in all".into(),
            String::new(),
            decimal(all.area, 2)?.to_string(),
            weight(all.weight)?,
            String::new(),
            String::new(),
            String::new(),
        ]);
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

/// What is open, each with boxes to tick or a place to fill in.
fn open(unit: &UnitLine) -> impl Iterator<Item = (&str, String)> {
    // Faces are counted from the outside; a coat lies towards a cavity.
    let inner = 2..=unit.layers.len();
    let ticked = move |what: &str| match what {
        "gas" => boxes(["air", "argon", "krypton"]),
        "coat" => boxes(["none", "low emissivity:"]),
        "spacer" => boxes(["metal", "improved (warm edge):"]),
        "treatment of the panes" => boxes(["annealed", "heat-strengthened", "toughened"]),
        "whether the glass is laminated" => boxes(["float", "laminated"]),
        "coated face" => boxes(inner.clone()),
        _ => boxes([""]),
    };
    unit.unstated.iter().map(move |what| (what.as_ref(), ticked(what)))
}

/// Boxes to tick.
fn boxes(of: impl IntoIterator<Item = impl Display>) -> String {
    let boxes: Vec<String> = of.into_iter().map(|what| format!("[ ] {what}")).collect();
    boxes.join(" / ")
}

/// `outline` is that of a unit that is no rectangle.
fn unit(
    flow: &mut Flow,
    kind: &UnitKind<'_>,
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
    let (most, voice) = (Size::new(flow.width(), most.height), flow.voice());
    let scene =
        composed(most, Size::new(width, height), |scale| match unit.shape.as_ref().zip(outline) {
            Some((shape, outline)) => shaped::drawing(unit, shape, outline, (scale, voice)),
            None => Ok(drawing(unit, scale, voice)?),
        })?;
    flow.picture(Picture::within(scene, most));
    if let Some(shape) = &unit.shape {
        shaped::tables(flow, shape)?;
    }
    let centres = |runs: &str| {
        let bars = unit.internal_bars.iter().filter(|bar| bar.runs == runs);
        bars.map(|bar| mm(bar.from_edge)).collect::<Result<Vec<_>, _>>().map(|all| all.join(", "))
    };
    let widest = unit.internal_bars.iter().map(|bar| bar.width).reduce(f64::max);
    let mut rows = vec![
        ("pieces", count.to_string()),
        ("label each", kind.labels.join(", ")),
        ("ORDER width × height, edge of glass, mm", size(width, height)?),
        ("build-up, from outside in, mm", unit.build_up.clone()),
    ];
    let panes = ["outside pane, faces 1 and 2", "pane, faces 3 and 4", "pane, faces 5 and 6"];
    for (index, layer) in unit.layers.iter().enumerate() {
        let pane = panes.get(index / 2).copied().filter(|_| index % 2 == 0);
        rows.push((pane.unwrap_or("cavity"), layer.clone()));
    }
    rows.extend([
        (
            "thickness, nominal / at most, mm",
            format!("{} / {}", mm(unit.thickness)?, mm(unit.thickest)?),
        ),
        ("spacer and seal, height from the edge, at most, mm", mm(unit.spacer_height)?),
    ]);
    if let Some(widest) = widest {
        rows.push(("internal bars, width, mm", mm(widest)?));
    }
    for (runs, what) in [
        ("upright", "upright internal bars, centres from the left edge, mm"),
        ("cross", "cross internal bars, centres from the bottom edge, mm"),
    ] {
        let centres = centres(runs)?;
        if !centres.is_empty() {
            rows.push((what, centres));
        }
    }
    rows.extend([
        ("weight each, kg", weight(unit.weight)?),
        (
            "daylight in the timber, NOT a size to order, mm",
            size(unit.sight.width, unit.sight.height)?,
        ),
        (
            "safety glass",
            unit.safety.clone().unwrap_or_else(|| {
                format!(
                    "no place in the survey asks for it; {}",
                    boxes(["checked by the local rules"])
                )
            }),
        ),
    ]);
    rows.extend(open(unit));
    rows.push(("spacer colour", boxes(["black", "grey", "white", ""])));
    if unit.tape > 0.0 {
        let tape = format!("{} on each edge, beyond the order size", mm(unit.tape)?);
        rows.insert(4, ("edge tape, mm", tape));
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
        rows.push(("edges of the glass", boxes(["as cut", "arrised", ""])));
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
fn drawing(unit: &UnitLine, scale: f64, voice: Voice) -> Result<Scene, OutlineError> {
    let (width, height) = (unit.order.width, unit.order.height);
    let h = HEIGHT / scale;
    let mut scene = Scene::new("", "seen from outside", &[]);
    let glass = Rect::new(0.0, 0.0, width, height);
    scene.add(&UNIT, Item::Outline(Outline::rectangle(glass)?));
    let seal = glass.inflate(-unit.spacer_height, -unit.spacer_height);
    if seal.width() > 0.0 && seal.height() > 0.0 {
        scene.add(&SIGHT_EDGE, Item::Outline(Outline::rectangle(seal)?));
    }
    let (large, figures) = (voice.figures(1.3 * h), voice.figures(h));
    let mut all = vec![
        Dimension::across(Point::ZERO, Point::new(width, 0.0), -3.2 * h, large).saying("order"),
        Dimension::upright(Point::ZERO, Point::new(0.0, height), -3.2 * h, large).saying("order"),
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
            Dimension::across(
                Point::new(0.0, height),
                Point::new(bar.from_edge, height),
                line,
                figures,
            )
        } else {
            let line = width + right * h;
            right += 3.2;
            Dimension::upright(
                Point::new(width, 0.0),
                Point::new(width, bar.from_edge),
                line,
                figures,
            )
        });
    }
    for dimension in settled(all) {
        scene.add(&DIMENSIONS, Item::Dimension(dimension));
    }
    let mut letters = Lettering::round(&scene, 1.0 / scale, voice);
    shaped::outside(&mut scene, &mut letters, Point::new(0.5 * width, 0.88 * height), h);
    Ok(scene)
}

/// Size to order, with the shape where it is no rectangle.
fn ordered(unit: &UnitLine) -> Result<String, NotFinite> {
    let size = size(unit.order.width, unit.order.height)?;
    Ok(unit.shape.as_ref().map_or(size.clone(), |shape| format!("{size}, {}", shape.name)))
}

fn weight(kg: Option<f64>) -> Result<String, NotFinite> {
    kg.map_or_else(|| Ok("unknown".into()), |kg| Ok(decimal(kg, 1)?.to_string()))
}

fn size(width: f64, height: f64) -> Result<String, NotFinite> {
    Ok(format!("{} × {}", mm(width)?, mm(height)?))
}

fn plural(count: usize) -> &'static str {
    if count == 1 { "" } else { "s" }
}
