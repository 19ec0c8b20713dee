//! A daylight under a head: segmental, semicircular, elliptical, three-centred, pointed or raked.

use crate::geometry::{self, COINCIDENT, Height, Pointed, Sided};
use crate::input::{Optional, Place, Reader, Spanned, show};
use crate::survey::file::sight::{Head, HeadTable};

/// Least height of the upright sides under a head, mm: a stile must begin somewhere.
const LEAST_UPRIGHT: f64 = 10.0;

/// Whether the head is raked, and gives the heights itself.
pub(super) fn is_raked(table: &HeadTable) -> bool {
    table.shape.as_ref().is_some_and(|shape| shape.value == Head::Raked)
}

/// The daylight under the head; `None` where the reader has noted why, or lacks what it needs.
pub(super) fn outline(
    table: &Spanned<Box<HeadTable>>,
    width: Option<&Spanned<f64>>,
    height: Option<&Spanned<f64>>,
    reader: &mut Reader<'_>,
) -> Option<Sided> {
    let shape = table.shape.as_ref()?.value;
    refuse_strays(table, shape, reader);
    if shape == Head::Raked {
        return raked(table, width, height, reader);
    }
    let rise = rise(table, shape, width?.value, reader)?;
    let most = height?.value - LEAST_UPRIGHT;
    if rise.value > most + COINCIDENT {
        let expected = format!(
            "a head that rises at most {} mm, so that {} mm of upright stile stand under it",
            show(most.max(0.0)),
            show(LEAST_UPRIGHT),
        );
        let hint = format!("it rises {} mm of the height", show(rise.value));
        reader.contradict(&rise.place, expected, &hint);
        return None;
    }
    let kind = match shape {
        Head::Segmental => geometry::Head::Segmental { rise: rise.value },
        Head::Elliptical => geometry::Head::Elliptical { rise: rise.value },
        Head::ThreeCentred => {
            check_haunch(table, &rise, reader)?;
            let haunch = table.radius.value();
            geometry::Head::ThreeCentred { rise: rise.value, haunch }
        }
        Head::Pointed if rise.value <= width?.value / 2.0 + COINCIDENT => {
            geometry::Head::Semicircular
        }
        Head::Pointed => geometry::Head::Pointed(Pointed::Rise(rise.value)),
        Head::Semicircular | Head::Raked => geometry::Head::Semicircular,
    };
    made(geometry::arched(width?.value, Height::Total(height?.value), kind), &rise.place, reader)
}

/// What was made, or a note of why it could not be.
fn made(
    outline: Result<Sided, geometry::ArchError>,
    place: &Place,
    reader: &mut Reader<'_>,
) -> Option<Sided> {
    outline
        .map_err(|error| {
            let expected = "a head that can be drawn over this width and height".to_owned();
            reader.contradict(place, expected, &error.to_string());
        })
        .ok()
}

/// How high the head rises over its springing line, and what says so.
fn rise(
    table: &Spanned<Box<HeadTable>>,
    shape: Head,
    width: f64,
    reader: &mut Reader<'_>,
) -> Option<Spanned<f64>> {
    let half = width / 2.0;
    let (least, most, why) = match shape {
        Head::Segmental => (0.0, half, "half the width: above that it is no segment"),
        Head::ThreeCentred => (0.0, half - 1.0, "less than half the width"),
        Head::Elliptical => (0.0, f64::INFINITY, ""),
        Head::Pointed => (half, f64::INFINITY, "half the width: below that it has no point"),
        Head::Semicircular | Head::Raked => return Some(Spanned::new(half, &table.place)),
    };
    let from_radius = table.radius.as_ref().filter(|_| shape == Head::Pointed);
    if let (Some(radius), None) = (from_radius, &table.rise) {
        if radius.value < half - COINCIDENT {
            let expected = format!("at least {} mm, half the width", show(half));
            reader.contradict(&radius.place, expected, "");
            return None;
        }
        // Both centres on the springing line, r from the springings: r² = (r − w/2)² + rise².
        let apart = radius.value - half;
        let square = radius.value * radius.value - apart * apart;
        return Some(Spanned::new(square.max(0.0).sqrt(), &radius.place));
    }
    let Some(rise) = &table.rise else {
        reader.missing(&table.place, "rise", "how high the head rises over its springing line, mm");
        return None;
    };
    if rise.value < least - COINCIDENT || rise.value > most + COINCIDENT {
        let expected = if rise.value > most {
            format!("at most {} mm, {why}", show(most))
        } else {
            format!("at least {} mm, {why}", show(least))
        };
        reader.contradict(&rise.place, expected, "");
        return None;
    }
    Some(rise.clone())
}

/// Notes keys that the shape has no use for.
fn refuse_strays(table: &HeadTable, shape: Head, reader: &mut Reader<'_>) {
    let keys = [
        (&table.rise, matches!(shape, Head::Semicircular | Head::Raked), "rise"),
        (&table.left, shape != Head::Raked, "left"),
        (&table.right, shape != Head::Raked, "right"),
    ];
    let round = matches!(shape, Head::Pointed | Head::ThreeCentred);
    let both = shape == Head::Pointed && table.rise.is_some();
    let radius = [(&table.radius, !round || both, "radius")];
    for (value, stray, key) in keys.into_iter().chain(radius) {
        if let (Some(value), true) = (value, stray) {
            let expected = if both && key == "radius" {
                "either a rise or a radius: each gives the other".to_owned()
            } else {
                format!("no `{key}`, which this shape of head does not have")
            };
            reader.contradict(&value.place, expected, "");
        }
    }
}

/// Notes outer arcs of a three-centred head that leave nothing for the large one.
fn check_haunch(table: &HeadTable, rise: &Spanned<f64>, reader: &mut Reader<'_>) -> Option<()> {
    let most = rise.value - 1.0;
    let Some(radius) = table.radius.as_ref().filter(|radius| radius.value > most + COINCIDENT)
    else {
        return Some(());
    };
    let expected = format!("at most {} mm, less than the rise", show(most.max(0.0)));
    reader.contradict(&radius.place, expected, "");
    None
}

/// A straight sloping top between the two heights.
fn raked(
    table: &Spanned<Box<HeadTable>>,
    width: Option<&Spanned<f64>>,
    height: Option<&Spanned<f64>>,
    reader: &mut Reader<'_>,
) -> Option<Sided> {
    for (value, key) in [(&table.left, "left"), (&table.right, "right")] {
        if value.is_none() {
            let about = format!("height of the raked head at the {key}, mm");
            reader.missing(&table.place, key, &about);
        }
    }
    let (left, right) = (table.left.as_ref()?.value, table.right.as_ref()?.value);
    let higher = left.max(right);
    if let Some(height) = height
        && (height.value - higher).abs() > COINCIDENT
    {
        let expected = format!("{} mm, the higher side, or no height at all", show(higher));
        reader.contradict(&height.place, expected, "a raked head gives its heights itself");
        return None;
    }
    made(geometry::raked(width?.value, left, right), &table.place, reader)
}
