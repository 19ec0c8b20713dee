//! The glass order as sheets: one a kind of unit, from which a unit maker can work without asking.
//!
//! Promised: the size to order stands alone in large figures; the sight size is never called a size to
//! order. Not promised: that the maker offers the unit.

mod shaped;

use super::SheetError;
use super::kit::{Column, Flow, Lettering, Picture, Table, Voice, composed, mm, reading, tell};
use super::layers::{BEAD, DIMENSIONS, SIGHT_EDGE, UNIT};
use super::order::{centres, widest_bar};
use crate::drawing::{Dimension, Document, Figures, Item, Scene, settled};
use crate::geometry::{Outline, OutlineError};
use crate::number::{NotFinite, decimal};
use crate::report::{OrderTotal, Report, ShapeLine, UnitKind, UnitKinds, UnitLine};
use crate::survey::Printer;
use kurbo::{Point, Rect, Size};
use std::borrow::Cow;
use std::fmt::Display;

/// Height of words on paper, mm.
const HEIGHT: f64 = 2.2;

/// From a dimension to the one beside it, heights of words.
const BESIDE: f64 = 3.2;

/// Most kinds of unit in one document: it is held in memory while it is written.
pub const MOST_KINDS: usize = 200;

/// Units to order, a sheet each.
///
/// # Errors
/// Where a unit has no area, or a number is not finite.
pub fn document_of(
    kinds: &[UnitKind<'_>],
    house: &str,
    printer: &Printer,
) -> Result<Document, SheetError> {
    let (size, margin) = reading(printer);
    let voice = Voice::of(printer);
    let head = tell!(voice, "order-sheet", house);
    let mut flow = Flow::new(voice, (size, margin), head, voice.word("order-foot"));
    summary(&mut flow, kinds)?;
    let blank = Flow::new(voice, (size, margin), "", "");
    for kind in kinds {
        flow.append(on_one_page(&blank, kind, size)?);
    }
    let title = tell!(voice, "order-title", house);
    Ok(Document { title, pages: flow.pages() })
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
    document_of(&kinds.0, &report.house, printer)
}

/// A unit drawn as large as leaves room for all its words on a blank page; where even a small drawing leaves too
/// little, it stays large and the words run on.
fn on_one_page(blank: &Flow, kind: &UnitKind<'_>, size: Size) -> Result<Flow, SheetError> {
    let outline = kind.unit.shape.as_ref().map(ShapeLine::outline).transpose()?;
    let drawn = |share: f64| {
        let mut flow = blank.clone();
        let most = Size::new(size.width, share * size.height);
        unit(&mut flow, kind, outline.as_ref(), most).map(|()| flow)
    };
    let large = drawn(0.385)?;
    if large.count() == blank.count() {
        return Ok(large);
    }
    for share in [0.32, 0.26] {
        let small = drawn(share)?;
        if small.count() == blank.count() {
            return Ok(small);
        }
    }
    Ok(large)
}

/// What is filled in by hand before the order is sent.
const TO_FILL_IN: [&str; 6] =
    ["order-number", "order-by", "order-maker", "order-deliver", "order-wanted", "order-agreed"];

fn summary(flow: &mut Flow, kinds: &[UnitKind<'_>]) -> Result<(), NotFinite> {
    let voice = flow.voice();
    let word = |key: &str| voice.word(key);
    flow.heading(&word("order-heading"));
    let columns = vec![Column::words(&word("order-to-fill-in"), 1.0), Column::words("", 3.0)];
    let mut table = Table::new(columns).to_fill_in();
    table.rows.extend(TO_FILL_IN.map(|what| vec![word(what), String::new()]));
    table.lay(flow);
    flow.heading(&word("order-units"));
    let mut table = Table::new(vec![
        Column::numbers(&word("order-pieces"), 0.8),
        Column::numbers(&word("order-size"), 2.0),
        Column::words(&word("order-build-up"), 1.2),
        Column::numbers(&word("order-each-area"), 0.8),
        Column::numbers(&word("order-each-weight"), 0.8),
        Column::words(&word("order-labels"), 3.2),
        Column::words(&word("order-price-each"), 1.1),
        Column::words(&word("order-price"), 1.1),
    ])
    .to_fill_in();
    for kind in kinds {
        table.rows.push(vec![
            kind.labels.len().to_string(),
            ordered(&kind.unit, voice)?,
            kind.unit.build_up.clone(),
            decimal(kind.unit.area, 2)?.to_string(),
            weight(kind.unit.weight, voice)?,
            labels(kind, voice),
            String::new(),
            String::new(),
        ]);
    }
    if kinds.is_empty() {
        flow.paragraph(&word("order-nothing"));
    } else {
        let all: OrderTotal = kinds.iter().map(UnitKind::total).sum();
        table.rows.push(vec![
            all.pieces.to_string(),
            word("order-in-all"),
            String::new(),
            decimal(all.area, 2)?.to_string(),
            weight(all.weight, voice)?,
            String::new(),
            String::new(),
            String::new(),
        ]);
    }
    table.lay(flow);
    flow.paragraph(&word("order-safety"));
    flow.paragraph(&word("order-tolerances"));
    Ok(())
}

/// What is open, each with boxes to tick or a place to fill in.
fn open(unit: &UnitLine, voice: Voice) -> impl Iterator<Item = (String, String)> {
    // Faces are counted from the outside; a coat lies towards a cavity.
    let inner = 2..=unit.layers.len();
    let word = move |key: &str| voice.word(key);
    let asked = move |what: &str| match what {
        "gas" => (word("unit-gas"), boxes(["unit-air", "unit-argon", "unit-krypton"].map(word))),
        "coat" => (word("unit-coat"), boxes(["unit-no-coat", "unit-low-emissivity"].map(word))),
        "spacer" => (word("unit-spacer"), boxes(["unit-metal", "unit-improved"].map(word))),
        "treatment of the panes" => {
            let ways = ["unit-annealed", "unit-heat-strengthened", "unit-toughened"];
            (word("unit-treatment"), boxes(ways.map(word)))
        }
        "whether the glass is laminated" => {
            (word("unit-whether-laminated"), boxes(["unit-float", "unit-laminated"].map(word)))
        }
        "coated face" => (word("unit-coated-face"), boxes(inner.clone())),
        "spacer material" => (word("unit-spacer-material"), boxes([""])),
        other => (voice.named(other), boxes([""])),
    };
    unit.unstated.iter().map(move |what| asked(what))
}

/// The sash and the light of each; the id of a sash is the joiner's.
fn labels(kind: &UnitKind<'_>, voice: Voice) -> String {
    let labels = kind.labels.iter().map(|label| match label.split_once(' ') {
        Some((sash, light)) => format!("{sash} {}", voice.named(light)),
        None => label.clone(),
    });
    labels.collect::<Vec<_>>().join(", ")
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
    let voice = flow.voice();
    let word = |key: &str| voice.word(key);
    // Sizes over all, where there are others besides.
    let over_all = |plain, shaped| word(if unit.shape.is_some() { shaped } else { plain });
    let ordered = size(width, height)?;
    flow.heading(&match &unit.shape {
        None => tell!(voice, "unit-heading", size = ordered, count),
        Some(shape) => {
            let shape = voice.named(&shape.name);
            tell!(voice, "unit-heading-shaped", size = ordered, shape, count)
        }
    });
    flow.paragraph(&word("unit-seen"));
    let most = Size::new(flow.width(), most.height);
    let scene =
        composed(most, Size::new(width, height), |scale| match unit.shape.as_ref().zip(outline) {
            Some((shape, outline)) => shaped::drawing(unit, shape, outline, (scale, voice)),
            None => Ok(drawing(unit, scale, voice)?),
        })?;
    flow.picture(Picture::within(scene, most));
    if let Some(shape) = &unit.shape {
        shaped::tables(flow, shape)?;
    }
    let mut rows =
        vec![(word("order-pieces"), count.to_string()), (word("unit-label"), labels(kind, voice))];
    if let Some(shape) = &unit.shape {
        rows.push((word("unit-shape"), voice.named(&shape.name)));
        rows.push((word("unit-area"), decimal(shape.area, 4)?.to_string()));
    }
    rows.push((over_all("unit-size", "unit-size-shaped"), size(width, height)?));
    rows.push((word("unit-build-up"), unit.build_up.clone()));
    if unit.tape > 0.0 {
        let each = tell!(voice, "unit-tape-each", width = mm(unit.tape)?);
        rows.push((word("unit-tape"), each));
    }
    let panes = ["unit-outside-pane", "unit-second-pane", "unit-third-pane"];
    for (index, layer) in unit.layers.iter().enumerate() {
        let pane = panes.get(index / 2).copied().filter(|_| index % 2 == 0);
        rows.push((word(pane.unwrap_or("unit-cavity")), voice.named(layer)));
    }
    let thickness = format!("{} / {}", mm(unit.thickness)?, mm(unit.thickest)?);
    rows.push((word("unit-thickness"), thickness));
    rows.push((word("unit-spacer-height"), mm(unit.spacer_height)?));
    if let Some(widest) = widest_bar(unit) {
        rows.push((word("unit-bar-width"), mm(widest)?));
    }
    for (runs, what) in [("upright", "unit-upright-bars"), ("cross", "unit-cross-bars")] {
        let centres = centres(unit, runs, ", ")?;
        if !centres.is_empty() {
            rows.push((word(what), centres));
        }
    }
    rows.push((word("unit-weight"), weight(unit.weight, voice)?));
    let daylight = over_all("unit-daylight", "unit-daylight-shaped");
    rows.push((daylight, size(unit.sight.width, unit.sight.height)?));
    let unasked = || tell!(voice, "unit-no-safety", boxes = boxes([word("unit-rules-checked")]));
    rows.push((
        word("unit-safety"),
        unit.safety.as_ref().map_or_else(unasked, |safety| voice.say(safety)),
    ));
    rows.extend(open(unit, voice));
    let colours = [word("unit-black"), word("unit-grey"), word("unit-white"), String::new()];
    rows.push((word("unit-spacer-colour"), boxes(colours)));
    if unit.shape.is_some() {
        let edges = [word("unit-as-cut"), word("unit-arrised"), String::new()];
        rows.push((word("unit-edges"), boxes(edges)));
    }
    let mut table = Table::new(vec![
        Column::words(&word("unit-what"), 2.2),
        Column::words(&word("unit-this"), 3.0),
    ]);
    table.rows.extend(rows.into_iter().map(|(what, this)| vec![what, this]));
    table.lay(flow);
    Ok(())
}

/// The unit with its sizes and internal bars, zero at the lower left corner of the glass.
fn drawing(unit: &UnitLine, scale: f64, voice: Voice) -> Result<Scene, OutlineError> {
    let (width, height) = (unit.order.width, unit.order.height);
    let h = HEIGHT / scale;
    let mut scene = Scene::new("", voice.word("seen-from-outside"), &[]);
    let glass = Rect::new(0.0, 0.0, width, height);
    scene.add(&UNIT, Item::Outline(Outline::rectangle(glass)?));
    let seal = glass.inflate(-unit.spacer_height, -unit.spacer_height);
    if seal.width() > 0.0 && seal.height() > 0.0 {
        scene.add(&SIGHT_EDGE, Item::Outline(Outline::rectangle(seal)?));
    }
    let (large, figures) = (voice.figures(1.3 * h), voice.figures(h));
    let mut all = vec![
        Dimension::across(Point::ZERO, Point::new(width, 0.0), -BESIDE * h, large)
            .saying(voice.word("unit-order")),
        Dimension::upright(Point::ZERO, Point::new(0.0, height), -BESIDE * h, large)
            .saying(voice.word("unit-order")),
    ];
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
    }
    all.extend(to_bars(unit, (3.0, 3.4), h, figures));
    scene.add_all(&DIMENSIONS, settled(all).into_iter().map(Item::Dimension));
    let mut letters = Lettering::round(&scene, 1.0 / scale, voice);
    shaped::outside(&mut scene, &mut letters, Point::new(0.5 * width, 0.88 * height), h);
    Ok(scene)
}

/// The middles of its internal bars: those of upright ones above it, of cross ones right of it, the first line so many
/// heights of words `away`.
fn to_bars(
    unit: &UnitLine,
    away: (f64, f64),
    h: f64,
    figures: Figures,
) -> impl Iterator<Item = Dimension> {
    let (width, height) = (unit.order.width, unit.order.height);
    let (mut above, mut right) = (height + away.0 * h, width + away.1 * h);
    let next = move |line: &mut f64| {
        *line += BESIDE * h;
        *line - BESIDE * h
    };
    unit.internal_bars.iter().map(move |bar| {
        if bar.runs == "upright" {
            let (from, to) = (Point::new(0.0, height), Point::new(bar.from_edge, height));
            Dimension::across(from, to, next(&mut above), figures)
        } else {
            let (from, to) = (Point::new(width, 0.0), Point::new(width, bar.from_edge));
            Dimension::upright(from, to, next(&mut right), figures)
        }
    })
}

/// Size to order, with the shape where it is no rectangle.
fn ordered(unit: &UnitLine, voice: Voice) -> Result<String, NotFinite> {
    let size = size(unit.order.width, unit.order.height)?;
    Ok(unit
        .shape
        .as_ref()
        .map_or(size.clone(), |shape| format!("{size}, {}", voice.named(&shape.name))))
}

fn weight(kg: Option<f64>, voice: Voice) -> Result<String, NotFinite> {
    kg.map_or_else(|| Ok(voice.word("order-weight-unknown")), |kg| Ok(decimal(kg, 1)?.to_string()))
}

/// `644 × 854`.
pub(super) fn size(width: f64, height: f64) -> Result<String, NotFinite> {
    Ok(format!("{} × {}", mm(width)?, mm(height)?))
}
