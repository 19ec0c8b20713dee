//! A daylight under a head: segmental, semicircular, three-centred, pointed or raked.

use crate::geometry::{Arc, Edge, SAME, Side, Sided};
use crate::survey::file::{Head, HeadTable};
use crate::survey::reader::{Reader, Seen};
use crate::survey::scalars::show;
use kurbo::Point;
use std::f64::consts::{FRAC_PI_2, PI};

/// Least height of the upright sides under a head, mm: a stile must begin somewhere.
const LEAST_UPRIGHT: f64 = 10.0;

/// Whether the head is raked, and gives the heights itself.
pub(super) fn is_raked(table: &HeadTable) -> bool {
    table.shape.as_ref().is_some_and(|shape| shape.value == Head::Raked)
}

/// The daylight under the head; `None` where the reader has noted why, or lacks what it needs.
pub(super) fn outline(
    table: &Seen<HeadTable>,
    width: Option<&Seen<f64>>,
    height: Option<&Seen<f64>>,
    reader: &mut Reader,
) -> Option<Sided> {
    let shape = table.shape.as_ref()?.value;
    refuse_strays(table, shape, reader);
    if shape == Head::Raked {
        return raked(table, width, height, reader);
    }
    let rise = rise(table, shape, width?.value, reader)?;
    let most = height?.value - LEAST_UPRIGHT;
    if rise.value > most + SAME {
        let expected = format!(
            "a head that rises at most {} mm, so that {} mm of upright stile stand under it",
            show(most.max(0.0)),
            show(LEAST_UPRIGHT),
        );
        let hint = format!("it rises {} mm of the height", show(rise.value));
        reader.contradict(&rise.place, expected, &hint);
        return None;
    }
    let (half, springing) = (width?.value / 2.0, height?.value - rise.value);
    let arcs = match shape {
        Head::Pointed => pointed(half, rise.value),
        Head::ThreeCentred => three_centred(table, half, &rise, reader)?,
        _ => vec![segment(half, rise.value)?],
    };
    let up = |arc: Arc| Arc { centre: arc.centre + (half, springing), ..arc };
    under(2.0 * half, springing, springing, arcs.into_iter().map(up).map(Edge::Arc).collect())
}

/// Sill and jambs, and the head from the right springing to the left.
fn under(width: f64, left: f64, right: f64, head: Vec<Edge>) -> Option<Sided> {
    let corner = Point::new(width, 0.0);
    let mut edges = vec![
        (Edge::line(Point::ZERO, corner), Side::Bottom),
        (Edge::line(corner, Point::new(width, right)), Side::Right),
    ];
    edges.extend(head.into_iter().map(|edge| (edge, Side::Top)));
    edges.push((Edge::line(Point::new(0.0, left), Point::ZERO), Side::Left));
    Sided::new(edges).ok()
}

/// How high the head rises over its springing line, and what says so.
fn rise(
    table: &Seen<HeadTable>,
    shape: Head,
    width: f64,
    reader: &mut Reader,
) -> Option<Seen<f64>> {
    let half = width / 2.0;
    let (least, most, why) = match shape {
        Head::Segmental => (0.0, half, "half the width: above that it is no segment"),
        Head::ThreeCentred => (0.0, half - 1.0, "less than half the width"),
        Head::Pointed => (half, f64::INFINITY, "half the width: below that it has no point"),
        Head::Semicircular | Head::Raked => return Some(Seen::new(half, &table.place)),
    };
    let from_radius = table.radius.as_ref().filter(|_| shape == Head::Pointed);
    if let (Some(radius), None) = (from_radius, &table.rise) {
        if radius.value < half - SAME {
            let expected = format!("at least {} mm, half the width", show(half));
            reader.contradict(&radius.place, expected, "");
            return None;
        }
        // Both centres on the springing line, r from the springings: r² = (r − w/2)² + rise².
        let apart = radius.value - half;
        let square = radius.value * radius.value - apart * apart;
        return Some(Seen::new(square.max(0.0).sqrt(), &radius.place));
    }
    let Some(rise) = &table.rise else {
        reader.missing(&table.place, "rise", "how high the head rises over its springing line, mm");
        return None;
    };
    if rise.value < least - SAME || rise.value > most + SAME {
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
fn refuse_strays(table: &HeadTable, shape: Head, reader: &mut Reader) {
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

/// One arc over the chord from (half, 0) to (−half, 0); its bulge is 2·rise over the chord.
fn segment(half: f64, rise: f64) -> Option<Arc> {
    Arc::from_bulge(Point::new(half, 0.0), Point::new(-half, 0.0), rise / half)
}

/// Two arcs centred on the springing line; r = (rise² + half²)/(2·half).
fn pointed(half: f64, rise: f64) -> Vec<Arc> {
    let radius = (rise * rise + half * half) / (2.0 * half);
    let sweep = rise.atan2(radius - half);
    vec![
        Arc { centre: Point::new(half - radius, 0.0), radius, start: 0.0, sweep },
        Arc { centre: Point::new(radius - half, 0.0), radius, start: PI - sweep, sweep },
    ]
}

/// Small arcs at the springings and a large one over them, running into each other smoothly.
///
/// With a the half span, b the rise and r the outer radius, the large one is R = (a² + b² − 2ar) /
/// (2(b − r)), since both circles touch: (a − r)² + (R − b)² = (R − r)². Where r is not given it
/// follows the drawing-board construction by the perpendicular bisector of springing to crown less
/// (a − b): r = c(c − a + b)/(2a) with c² = a² + b² (common practice, no source).
fn three_centred(
    table: &HeadTable,
    a: f64,
    rise: &Seen<f64>,
    reader: &mut Reader,
) -> Option<Vec<Arc>> {
    let b = rise.value;
    let small = match &table.radius {
        Some(radius) if radius.value > b - 1.0 + SAME => {
            let expected = format!("at most {} mm, less than the rise", show((b - 1.0).max(0.0)));
            reader.contradict(&radius.place, expected, "");
            return None;
        }
        Some(radius) => radius.value,
        None => {
            let c = a.hypot(b);
            c * (c - a + b) / (2.0 * a)
        }
    };
    let large = (a * a + b * b - 2.0 * a * small) / (2.0 * (b - small));
    // From the small centre up to where the arcs meet, on the line through both centres.
    let turn = (large - b).atan2(a - small);
    let centre = Point::new(0.0, b - large);
    Some(vec![
        Arc { centre: Point::new(a - small, 0.0), radius: small, start: 0.0, sweep: turn },
        Arc { centre, radius: large, start: turn, sweep: 2.0 * (FRAC_PI_2 - turn) },
        Arc { centre: Point::new(small - a, 0.0), radius: small, start: PI - turn, sweep: turn },
    ])
}

/// A straight sloping top between the two heights.
fn raked(
    table: &Seen<HeadTable>,
    width: Option<&Seen<f64>>,
    height: Option<&Seen<f64>>,
    reader: &mut Reader,
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
        && (height.value - higher).abs() > SAME
    {
        let expected = format!("{} mm, the higher side, or no height at all", show(higher));
        reader.contradict(&height.place, expected, "a raked head gives its heights itself");
        return None;
    }
    let width = width?.value;
    let slope = Edge::line(Point::new(width, right), Point::new(0.0, left));
    under(width, left, right, vec![slope])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::reader::Place;
    use approx::assert_relative_eq;

    fn end(arc: &Arc) -> Point {
        Edge::Arc(*arc).end()
    }

    // Closed forms, checked numerically outside this project: (800, 100) gives R 850.
    #[test]
    fn arcs_have_their_closed_forms() {
        assert_relative_eq!(segment(400.0, 100.0).unwrap().radius, 850.0, epsilon = 1e-9);
        // An equilateral pointed arch: radius = span, rise = span·√3/2.
        let [right, left] = pointed(400.0, 400.0 * 3.0_f64.sqrt())[..] else { panic!("two arcs") };
        assert_relative_eq!(right.radius, 800.0, epsilon = 1e-9);
        assert_relative_eq!(right.sweep, PI / 3.0, epsilon = 1e-12);
        assert!((end(&right) - Point::new(0.0, 400.0 * 3.0_f64.sqrt())).hypot() < 1e-9);
        assert!((end(&right) - Edge::Arc(left).start()).hypot() < 1e-9);
        assert!((end(&left) - Point::new(-400.0, 0.0)).hypot() < 1e-9);
    }

    #[test]
    fn three_arcs_run_into_each_other_smoothly() {
        let place = Place::default();
        for radius in [None, Some(120.0)] {
            let table = HeadTable {
                radius: radius.map(|radius| Seen::new(radius, &place)),
                ..HeadTable::default()
            };
            let rise = Seen::new(250.0, &place);
            let arcs = three_centred(&table, 400.0, &rise, &mut Reader::default()).unwrap();
            let edges: Vec<Edge> = arcs.into_iter().map(Edge::Arc).collect();
            assert!((edges[0].start() - Point::new(400.0, 0.0)).hypot() < 1e-9);
            assert!((edges[1].at(0.5) - Point::new(0.0, 250.0)).hypot() < 1e-9);
            assert!((edges[2].end() - Point::new(-400.0, 0.0)).hypot() < 1e-9);
            for pair in edges.windows(2) {
                assert!((pair[0].end() - pair[1].start()).hypot() < 1e-9);
                assert!((pair[0].direction(1.0) - pair[1].direction(0.0)).hypot() < 1e-9);
            }
            assert_relative_eq!(edges[0].direction(0.0).x, 0.0, epsilon = 1e-9);
        }
    }
}
