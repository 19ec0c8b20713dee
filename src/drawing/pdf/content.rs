//! The marks of a page as operators of a content stream, in millimetres.

use super::typeface::{RESOURCE, Typeface};
use super::{POINTS, narrow};
use crate::drawing::font::CAPITAL;
use crate::drawing::{HATCH_WIDTH, Layer, Mark, Page, Placed, Text};
use crate::geometry::{Arc, Edge, Outline};
use kurbo::{Affine, Point, Rect};
use pdf_writer::types::{LineCapStyle, LineJoinStyle};
use pdf_writer::{Content, Name, Str};

/// How closely Béziers follow an arc, mm.
const CURVE: f64 = 1e-4;

/// Places are told to this, mm: a fiftieth of what a template promises, and half as long to write as all digits.
const FINEST: f64 = 1e-3;

/// Everything on `page`.
pub(super) fn content(page: &Page, typeface: &Typeface) -> Vec<u8> {
    let mut out = Content::new();
    let mm = narrow(POINTS);
    // From here on the unit is the millimetre.
    out.transform([mm, 0.0, 0.0, mm, 0.0, 0.0]);
    out.set_line_join(LineJoinStyle::RoundJoin);
    for placed in &page.placed {
        Pen { out: &mut out, placed, typeface, place: placed.transform() }.scene();
    }
    out.finish().into_vec()
}

struct Pen<'a> {
    out: &'a mut Content,
    placed: &'a Placed,
    typeface: &'a Typeface,
    /// From the scene to the page.
    place: Affine,
}

impl Pen<'_> {
    fn scene(&mut self) {
        self.out.save_state();
        if let Some(clip) = self.placed.clip {
            let [x, y, w, h] = [clip.x0, clip.y0, clip.width(), clip.height()].map(narrow);
            self.out.rect(x, y, w, h).clip_nonzero().end_path();
        }
        for (layer, marks) in self.placed.scene.marks() {
            let marks: Vec<Mark> = marks.into_iter().filter(|mark| self.shows(mark)).collect();
            if !marks.is_empty() {
                self.layer(layer, &marks);
            }
        }
        self.out.restore_state();
    }

    /// Whether any part of the mark can lie inside the clip.
    fn shows(&self, mark: &Mark) -> bool {
        let bounds = match mark {
            Mark::Stroke(edge) | Mark::Hatching(edge) => edge.bounds(),
            Mark::Closed(outline) => outline.bounds(),
            Mark::Tint(region, _) => region.outline.bounds(),
            Mark::Text(text) => text.bounds(),
        };
        let bounds = self.place.transform_rect_bbox(bounds);
        self.placed.clip.is_none_or(|clip| touch(clip.inflate(1.0, 1.0), bounds))
    }

    fn layer(&mut self, layer: &Layer, marks: &[Mark]) {
        self.out.begin_marked_content(Name(layer.name.as_bytes()));
        self.out.save_state();
        let [red, green, blue] = layer.colour.rgb().map(share);
        self.out.set_stroke_rgb(red, green, blue);
        let mut in_hatch = None;
        for mark in marks {
            let hatching = matches!(mark, Mark::Hatching(_));
            if in_hatch != Some(hatching) {
                self.line_look(layer, hatching);
                in_hatch = Some(hatching);
            }
            match mark {
                Mark::Stroke(edge) | Mark::Hatching(edge) => {
                    self.go_to(edge.start());
                    self.along(edge);
                    self.out.stroke();
                }
                Mark::Closed(outline) => {
                    self.outline(outline);
                    self.out.stroke();
                }
                Mark::Tint(region, tint) => {
                    let [red, green, blue] = tint.map(share);
                    self.out.set_fill_rgb(red, green, blue);
                    self.outline(&region.outline);
                    for hole in &region.holes {
                        self.outline(hole);
                    }
                    self.out.fill_even_odd();
                }
                Mark::Text(text) => {
                    self.out.set_fill_rgb(red, green, blue);
                    self.text(&self.placed.text(text));
                }
            }
        }
        self.out.restore_state();
        self.out.end_marked_content();
    }

    fn line_look(&mut self, layer: &Layer, hatching: bool) {
        let width = if hatching { HATCH_WIDTH } else { layer.width };
        let pattern = if hatching { &[] } else { layer.kind.pattern() };
        self.out.set_line_width(narrow(width.mm()));
        self.out.set_dash_pattern(pattern.iter().map(|&v| narrow(v)), 0.0);
        // Butt ends for dashes: round ones would fill the gaps.
        let cap = if pattern.is_empty() { LineCapStyle::RoundCap } else { LineCapStyle::ButtCap };
        self.out.set_line_cap(cap);
    }

    fn on_page(&self, point: Point) -> (f32, f32) {
        let placed = self.place * point;
        let finest = |at: f64| narrow((at / FINEST).round() * FINEST);
        (finest(placed.x), finest(placed.y))
    }

    fn go_to(&mut self, point: Point) {
        let (x, y) = self.on_page(point);
        self.out.move_to(x, y);
    }

    /// From where the pen stands to the end of `edge`.
    fn along(&mut self, edge: &Edge) {
        match edge {
            Edge::Line(line) => {
                let (x, y) = self.on_page(line.p1);
                self.out.line_to(x, y);
            }
            Edge::Arc(Arc { centre, radius, start, sweep }) => {
                let curve = kurbo::Arc::new(*centre, (*radius, *radius), *start, *sweep, 0.0);
                curve.to_cubic_beziers(CURVE / self.placed.scale, |a, b, c| {
                    let [a, b, c] = [a, b, c].map(|point| self.on_page(point));
                    self.out.cubic_to(a.0, a.1, b.0, b.1, c.0, c.1);
                });
            }
        }
    }

    fn outline(&mut self, outline: &Outline) {
        for (index, edge) in outline.edges().iter().enumerate() {
            if index == 0 {
                self.go_to(edge.start());
            }
            self.along(edge);
        }
        self.out.close_path();
    }

    fn text(&mut self, text: &Text) {
        let (sin, cos) = text.turn.to_radians().sin_cos();
        let base = text.base_from_anchor();
        let x = text.at.x + base.x * cos - base.y * sin;
        let y = text.at.y + base.x * sin + base.y * cos;
        self.out.begin_text();
        self.out.set_font(RESOURCE, narrow(text.height / CAPITAL));
        self.out.set_text_matrix([cos, sin, -sin, cos, x, y].map(narrow));
        self.out.show(Str(&self.typeface.code(&text.value)));
        self.out.end_text();
    }
}

fn touch(a: Rect, b: Rect) -> bool {
    a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1
}

fn share(byte: u8) -> f32 {
    f32::from(byte) / 255.0
}
