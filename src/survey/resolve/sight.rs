//! The daylight: a rectangle, or the outline that other measures make.

use super::{head, out_of_square};
use crate::geometry::quadrilateral::Quadrilateral;
use crate::geometry::{self, ArchError, COINCIDENT, Edge, OutlineError, Sided, corners};
use crate::input::{Bounds, Entry, Optional, Place, Reader, Spanned, show};
use crate::survey::file::lengths::SightSize;
use crate::survey::file::sight::SightTable;
use crate::survey::traced::{self, MOST_EDGES, Reading};
use crate::survey::values::{Measures, UnitShape};
use kurbo::{Point, Rect};
use std::f64::consts::PI;

/// Opens a file that the survey names: its bytes, or why they cannot be had.
pub(super) type Open<'o> = dyn Fn(&str) -> Result<Vec<u8>, String> + 'o;

/// Said of what lies outside the sash and would not if its daylight were turned.
pub(super) const SWAPPED: &str = "; or are width and height of the sight swapped?";

/// Sharper corners of a daylight, radians (5°), are slips of a drawing: a unit that covers the edges by 12 mm would reach
/// 12/sin(2.5°) = 275 mm past them. *Common practice, no source.*
const SHARPEST: f64 = 5.0 * PI / 180.0;

/// What could be learnt of the daylight.
#[derive(Default)]
pub(super) struct Daylight {
    /// Width of its bounds.
    pub(super) width: Option<Spanned<f64>>,
    /// Height of its bounds.
    pub(super) height: Option<Spanned<f64>>,
    /// Its outline; none for a rectangle.
    pub(super) outline: Option<Sided>,
    pub(super) measures: Option<Measures>,
    /// Whether it is round somewhere by design, so that glass would follow it.
    pub(super) shaped: bool,
}

impl Daylight {
    /// A daylight of that outline, moved so that its bounds start at zero.
    fn of(outline: &Sided, place: &Place) -> Daylight {
        let bounds = outline.bounds();
        let outline = outline.moved(-bounds.origin().to_vec2());
        Daylight {
            width: Some(Spanned::new(bounds.width(), place)),
            height: Some(Spanned::new(bounds.height(), place)),
            outline: (!outline.is_rectangle()).then_some(outline),
            ..Daylight::default()
        }
    }

    /// What unit usually goes behind it.
    pub(super) fn usual_unit(&self) -> UnitShape {
        if self.shaped { UnitShape::Shaped } else { UnitShape::Square }
    }
}

/// The ways to give a daylight.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Plain,
    OutOfSquare,
    Round,
    Free,
    Traced,
}

/// The daylight of a table; parts that are missing or refused are left out. `misfit` is from where on
/// measures disagree.
pub(super) fn daylight(
    table: &Spanned<Box<SightTable>>,
    misfit: f64,
    open: &Open<'_>,
    reader: &mut Reader<'_>,
) -> Daylight {
    let Some(way) = way(table, reader) else { return Daylight::default() };
    if way != Way::OutOfSquare
        && let Some(tolerance) = &table.tolerance
    {
        let expected = "`widths`, `heights` and `diagonals`, to which a tolerance belongs";
        reader.contradict(&tolerance.place, expected.to_owned(), "");
    }
    if way != Way::Traced {
        refuse_without_drawing(table, reader);
    }
    if !matches!(way, Way::OutOfSquare | Way::Plain) || table.head.is_some() {
        refuse_bow(table, reader);
    }
    let found = match way {
        Way::Plain => plain(table, reader),
        Way::OutOfSquare => {
            let found = out_of_square::measured(table, misfit, reader);
            let Some((outline, measures)) = found else { return Daylight::default() };
            Daylight { measures: Some(measures), ..Daylight::of(&outline, &table.place) }
        }
        Way::Round => table.diameter.as_ref().map_or_else(Daylight::default, |diameter| {
            let outline = geometry::circle(diameter.value).ok();
            let round = outline.map(|outline| Daylight::of(&outline, &diameter.place));
            Daylight { shaped: true, ..round.unwrap_or_default() }
        }),
        Way::Free => {
            let place = table.outline.place();
            drawn(free(table, reader), place, table, reader)
        }
        Way::Traced => {
            let place = table.traced.place();
            drawn(traced(table, open, reader), place, table, reader)
        }
    };
    refuse_sharp(&found, table, reader);
    found
}

/// Notes the sharpest corner of a daylight if no unit fills it.
fn refuse_sharp(found: &Daylight, table: &Spanned<Box<SightTable>>, reader: &mut Reader<'_>) {
    let angles = found.outline.iter().flat_map(|outline| outline.outline().corner_angles());
    let Some((at, angle)) = angles.min_by(|(_, a), (_, b)| a.total_cmp(b)) else { return };
    if angle < SHARPEST {
        let place = table.outline.place().or(table.traced.place()).unwrap_or(&table.place);
        let expected = format!("corners of {}° at least", show(SHARPEST.to_degrees()));
        let hint = format!(
            "{:.1} mm right of and {:.1} mm above its lower left it turns back beside itself: no unit \
             fills so narrow a tip",
            at.x, at.y
        );
        reader.contradict(place, expected, &hint);
    }
}

/// The daylight of a drawn outline, if its size can be.
fn drawn(
    outline: Option<Sided>,
    place: Option<&Place>,
    table: &Spanned<Box<SightTable>>,
    reader: &mut Reader<'_>,
) -> Daylight {
    let Bounds { least, most, .. } = SightSize::BOUNDS;
    let can_be = |length: f64| (least - COINCIDENT..=most + COINCIDENT).contains(&length);
    let of_size = outline.filter(|outline| {
        let size = outline.bounds().size();
        let fits = can_be(size.width) && can_be(size.height);
        if !fits {
            let expected = format!("a daylight from {least} mm to {most} mm wide and high");
            let hint = format!("it comes to {} mm by {} mm", show(size.width), show(size.height));
            reader.contradict(place.unwrap_or(&table.place), expected, &hint);
        }
        fits
    });
    let found = of_size.map(|outline| Daylight::of(&outline, &table.place));
    Daylight { shaped: true, ..found.unwrap_or_default() }
}

/// Which way the table goes; `None` where it goes two at once, or was refused.
fn way(table: &Spanned<Box<SightTable>>, reader: &mut Reader<'_>) -> Option<Way> {
    let plain = table.width.place().or(table.height.place()).or(table.head.place());
    let crooked = table.widths.place().or(table.heights.place()).or(table.diagonals.place());
    let all = [
        (Way::Plain, plain),
        (Way::OutOfSquare, crooked),
        (Way::Round, table.diameter.place()),
        (Way::Free, table.outline.place()),
        (Way::Traced, table.traced.place()),
    ];
    let mut given = all.iter().filter_map(|(way, place)| Some((*way, (*place)?)));
    let Some((way, _)) = given.next() else {
        // One that was given but refused is no reason to ask for another.
        let others = ["head", "widths", "heights", "diagonals", "diameter", "outline", "traced"];
        let refused =
            others.iter().any(|key| reader.was_refused(&format!("{}.{key}", table.place.key)));
        return (!refused).then_some(Way::Plain);
    };
    let Some((_, place)) = given.next() else { return Some(way) };
    let expected = "one way to give the sight: width and height; or widths, heights and diagonals; \
                    or a diameter; or an outline; or a traced one";
    reader.contradict(place, expected.to_owned(), "");
    None
}

fn refuse_bow(table: &SightTable, reader: &mut Reader<'_>) {
    if let Some(bow) = &table.bow {
        let expected = "no bow: only the members of a four-sided sash can be bowed";
        reader.contradict(&bow.place, expected.to_owned(), "give an outline with arcs instead");
    }
}

/// A rectangle, or what stands under a head.
fn plain(table: &Spanned<Box<SightTable>>, reader: &mut Reader<'_>) -> Daylight {
    if table.width.is_none() {
        let about = format!("from stile to stile ({})", SightSize::expected());
        reader.missing(&table.place, "width", &about);
    }
    let raked = table.head.as_ref().is_some_and(|head| head::is_raked(head));
    if table.height.is_none() && !raked {
        let about = format!("from rail to rail ({})", SightSize::expected());
        reader.missing(&table.place, "height", &about);
    }
    let (width, height) = (table.width.clone(), table.height.clone());
    let outline = match &table.head {
        Some(table) => head::outline(table, width.as_ref(), height.as_ref(), reader),
        None => width.as_ref().zip(height.as_ref()).and_then(|(width, height)| {
            let bow = out_of_square::bow(table.bow.as_ref());
            let straight = bow.iter().all(|(_, &bow)| bow == 0.0);
            let rect = Rect::new(0.0, 0.0, width.value, height.value);
            if straight { None } else { Quadrilateral { corners: corners(rect) }.bowed(&bow).ok() }
        }),
    };
    let shaped = table.head.is_some() && !raked;
    match outline {
        Some(outline) => Daylight { shaped, ..Daylight::of(&outline, &table.place) },
        // A head that could not be made has been noted; what is known is still of use for checks.
        None => Daylight { width, height, shaped, ..Daylight::default() },
    }
}

/// A free outline of lines and arcs.
fn free(table: &SightTable, reader: &mut Reader<'_>) -> Option<Sided> {
    let corners = table.outline.as_ref()?;
    if !(2..=MOST_EDGES).contains(&corners.len()) {
        let expected = format!("from 2 to {MOST_EDGES} corners");
        reader.contradict(&corners.place, expected, "");
        return None;
    }
    let points = corners.iter().map(|corner| Point::from((corner.value.0[0], corner.value.0[1])));
    let next = points.clone().cycle().skip(1);
    let edges = corners
        .iter()
        .zip(points)
        .zip(next)
        .map(|((corner, from), to)| Edge::bulged(from, to, corner.value.1));
    let corner = |index: usize| corners.get(index).map_or(&corners.place, |corner| &corner.place);
    match geometry::free(edges.collect()) {
        Ok(outline) => Some(outline),
        Err(ArchError::Outline(OutlineError::Degenerate(index) | OutlineError::Open(index))) => {
            let expected = "a corner apart from the next: the edge from here has no length";
            let hint = "the last corner leads to the first";
            reader.contradict(corner(index), expected.to_owned(), hint);
            None
        }
        Err(ArchError::Crosses(one, other)) => {
            let expected = format!(
                "an outline that does not cross or touch itself: the edge from here meets the one \
                 from corner {}",
                one + 1
            );
            let hint = "give the corners in order, all the way round";
            reader.contradict(corner(other), expected, hint);
            None
        }
        Err(_) => {
            reader.contradict(&corners.place, "corners that enclose daylight".to_owned(), "");
            None
        }
    }
}

/// The outline in the drawing that a table names; `None` where the reader has noted why not.
fn traced(
    table: &Spanned<Box<SightTable>>,
    open: &Open<'_>,
    reader: &mut Reader<'_>,
) -> Option<Sided> {
    let name = table.traced.as_ref()?;
    let refused = |key| reader.was_refused(&format!("{}.{key}", table.place.key));
    if ["layer", "drawn_in"].into_iter().any(refused) {
        // Read some other way than was meant, it would seem to have faults that it has not.
        return None;
    }
    let reading = Reading { layer: table.layer.value(), unit: table.drawn_in.value() };
    let outline = open(name).and_then(|bytes| {
        traced::traced(&bytes, &reading).map_err(|error| format!("{}, {error}", name.value))
    });
    let noted = outline.map_err(|why| {
        let expected = "the name of a text DXF file, from the survey's folder on, in which one \
                        closed outline of lines and arcs is drawn";
        reader.contradict(&name.place, expected.to_owned(), &why);
    });
    noted.ok()
}

/// What belongs to a drawing is out of place without one.
fn refuse_without_drawing(table: &SightTable, reader: &mut Reader<'_>) {
    let layer = table.layer.place();
    let unit = table.drawn_in.place();
    for place in [layer, unit].into_iter().flatten() {
        let expected = "`traced`, the drawing to which this belongs";
        reader.contradict(place, expected.to_owned(), "");
    }
}
