//! The marks of a scene as entities.

use super::{Record, Value};
use crate::drawing::{Across, HATCH_WIDTH, Layer, Mark, Scene, Text, Up};
use crate::geometry::{Arc, Edge, Outline};
use kurbo::Point;
use std::borrow::Cow;
use std::f64::consts::PI;
use std::fmt::Write;

/// Every mark of the scene, each owned by the record with the handle `owner`.
pub(super) fn entities(
    scene: &Scene,
    owner: &str,
    mut next_handle: impl FnMut() -> String,
) -> Vec<Record> {
    let mut entities = Vec::new();
    for (layer, marks) in scene.marks() {
        for mark in marks {
            let hatching = matches!(mark, Mark::Hatching(_));
            let mut begin = |name: &'static str| begun(name, next_handle(), owner, layer, hatching);
            entities.push(match mark {
                Mark::Stroke(Edge::Line(line)) | Mark::Hatching(Edge::Line(line)) => {
                    begin("LINE").text(100, "AcDbLine").place(10, line.p0).place(11, line.p1)
                }
                Mark::Stroke(Edge::Arc(arc)) | Mark::Hatching(Edge::Arc(arc)) => round(&arc, begin),
                Mark::Closed(outline) => polyline(outline, begin("LWPOLYLINE")),
                Mark::Text(text) => lettering(&text, begin("TEXT")),
                Mark::Tint(..) => continue,
            });
        }
    }
    entities
}

/// What every entity begins with.
fn begun(name: &'static str, handle: String, owner: &str, layer: &Layer, hatching: bool) -> Record {
    let record = Record::new(name)
        .text(5, handle)
        .text(330, owner.to_owned())
        .text(100, "AcDbEntity")
        .text(8, layer.name.clone());
    if hatching {
        record.text(6, "CONTINUOUS").whole(370, HATCH_WIDTH.hundredths())
    } else {
        // As wide as its layer.
        record.text(370, "-1")
    }
}

impl Record {
    /// Adds a length or an angle with twelve decimals.
    fn fine(self, code: u16, value: f64) -> Record {
        self.with(code, Value::Real(tidy(value), 12))
    }

    fn fine_flat(self, code: u16, at: Point) -> Record {
        self.fine(code, at.x).fine(code + 10, at.y)
    }

    fn place(self, code: u16, at: Point) -> Record {
        self.fine_flat(code, at).fine(code + 20, 0.0)
    }
}

/// As many decimals as are written, so that what rounds to nothing is nothing.
fn tidy(value: f64) -> f64 {
    (value * 1e12).round() / 1e12
}

/// An arc, which DXF always counts anticlockwise; or a circle.
fn round(arc: &Arc, begin: impl FnOnce(&'static str) -> Record) -> Record {
    let whole = arc.is_full_turn();
    let circle = begin(if whole { "CIRCLE" } else { "ARC" })
        .text(100, "AcDbCircle")
        .place(10, arc.centre)
        .fine(40, arc.radius);
    if whole {
        return circle;
    }
    let end = arc.start + arc.sweep;
    let (from, to) = if arc.sweep < 0.0 { (end, arc.start) } else { (arc.start, end) };
    let degrees = |angle: f64| angle.to_degrees().rem_euclid(360.0);
    circle.text(100, "AcDbArc").fine(50, degrees(from)).fine(51, degrees(to))
}

/// Where each piece of a closed outline begins, and its bulge. No piece turns by more than half.
fn vertices(outline: &Outline) -> Vec<(Point, f64)> {
    let mut vertices = Vec::new();
    for edge in outline.edges() {
        match edge {
            Edge::Line(line) => vertices.push((line.p0, 0.0)),
            Edge::Arc(arc) if arc.sweep.abs() <= PI => vertices.push((edge.start(), arc.bulge())),
            Edge::Arc(arc) => {
                let bulge = Arc { sweep: arc.sweep / 2.0, ..*arc }.bulge();
                vertices.extend([(edge.start(), bulge), (edge.at(0.5), bulge)]);
            }
        }
    }
    vertices
}

fn polyline(outline: &Outline, begun: Record) -> Record {
    let vertices = vertices(outline);
    // Closed.
    let head = begun.text(100, "AcDbPolyline").whole(90, vertices.len()).whole(70, 1_u8);
    vertices.into_iter().fold(head, |record, (at, bulge)| {
        let record = record.fine_flat(10, at);
        if tidy(bulge) == 0.0 { record } else { record.fine(42, bulge) }
    })
}

fn lettering(text: &Text, begun: Record) -> Record {
    let across = match text.across {
        Across::Left => 0_u8,
        Across::Centre => 1,
        Across::Right => 2,
    };
    let up = match text.up {
        Up::Base => 0_u8,
        Up::Middle => 2,
        Up::Top => 3,
    };
    let turn = tidy(text.turn.rem_euclid(360.0));
    let mut record = begun
        .text(100, "AcDbText")
        .place(10, text.at)
        .fine(40, text.height)
        .text(1, escaped(&text.value));
    if turn != 0.0 {
        record = record.fine(50, turn);
    }
    if across != 0 {
        record = record.whole(72, across);
    }
    // Only text that is held at the left of its base line is placed by the first point.
    record = record.place(11, text.at);
    if up != 0 {
        record = record.whole(73, up);
    }
    record.text(100, "AcDbText")
}

/// `text` in ASCII so that a reader shows exactly it: a backslash would begin an escape, a caret a control
/// character, and two percent signs a control code (`%%d` is a degree sign).
fn escaped(text: &str) -> Cow<'static, str> {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '%' if text.contains("%%") => out.push_str("%%%"),
            '^' => out.push_str("^ "),
            // Writing to a String cannot fail.
            '\\' | '\u{80}'.. => drop(write!(out, "\\U+{:04X}", u32::from(c))),
            other => out.push(other),
        }
    }
    out.into()
}

#[cfg(test)]
mod tests {
    use super::escaped;

    #[test]
    fn only_what_a_reader_would_take_for_a_code_is_escaped() {
        assert_eq!(escaped("100 % é"), "100 % \\U+00E9");
        assert_eq!(escaped("a\\U+0041"), "a\\U+005CU+0041");
        assert_eq!(escaped("%%d 5%"), "%%%%%%d 5%%%");
        assert_eq!(escaped("^J"), "^ J");
    }
}
