//! The SVG pen: a picture of true size, for screens and for printing.
//!
//! Coordinates are millimetres with four decimals. Each layer is a group that carries its name in
//! `data-layer`. Text is real text in whatever sans-serif face the reader has,
//! stretched or squeezed to the length it was composed with.

use super::font::CAPITAL;
use super::{HATCH_WIDTH, Layer, Mark, Scene, SceneError, Text};
use crate::geometry::{Arc, Edge, Outline, Region};
use crate::number::number;
use kurbo::{Point, Rect};
use std::f64::consts::PI;
use std::fmt::Write;

/// How the picture is laid out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Look {
    /// Millimetres of picture for each millimetre of the scene; 1 is true size. Below that, lines keep
    /// their width on the picture.
    pub scale: f64,
    /// White margin all round, mm of the scene.
    pub margin: f64,
}

impl Default for Look {
    fn default() -> Self {
        Look { scale: 1.0, margin: 5.0 }
    }
}

/// Writes `scene` as one SVG document.
///
/// # Errors
/// As [`Scene::check`]; also where the scale is not positive or the margin is negative.
pub fn write(scene: &Scene, look: Look) -> Result<String, SceneError> {
    scene.check()?;
    let usual = 0.0..1e4;
    if !(usual.contains(&look.scale) && look.scale > 0.0 && usual.contains(&look.margin)) {
        return Err(SceneError::Look);
    }
    let bounds = scene.extents().inflate(look.margin, look.margin);
    let mut out = String::new();
    head(&mut out, scene, bounds, look.scale);
    // A line of a picture smaller than life would fade away if it shrank as well.
    let paper = Paper { bounds, line: 1.0 / look.scale.min(1.0) };
    for (layer, marks) in scene.marks() {
        if !marks.is_empty() {
            group(&mut out, &paper, layer, &marks);
        }
    }
    out.push_str("</svg>\n");
    Ok(out)
}

fn head(out: &mut String, scene: &Scene, bounds: Rect, scale: f64) {
    let (width, height) = (n(bounds.width()), n(bounds.height()));
    push(
        out,
        format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{}mm\" height=\"{}mm\" \
             viewBox=\"0 0 {width} {height}\" fill=\"none\" stroke-linecap=\"round\" \
             stroke-linejoin=\"round\" font-family=\"'DejaVu Sans Condensed', Helvetica, \
             Arial, 'Liberation Sans', sans-serif\" xml:space=\"preserve\">\n",
            n(bounds.width() * scale),
            n(bounds.height() * scale),
        ),
    );
    push(out, format_args!("<title>{}</title>\n", escaped(&scene.title)));
    push(out, format_args!("<desc>{}</desc>\n", escaped(&scene.seen_from)));
    push(out, format_args!("<rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n"));
}

fn group(out: &mut String, paper: &Paper, layer: &Layer, marks: &[Mark]) {
    let colour = hex(layer.colour.rgb());
    push(
        out,
        format_args!(
            "<g data-layer=\"{}\" stroke=\"{colour}\" stroke-width=\"{}\"",
            escaped(&layer.name),
            n(layer.width.mm() * paper.line),
        ),
    );
    let pattern: Vec<String> = layer.kind.pattern().iter().map(|&v| n(v * paper.line)).collect();
    if !pattern.is_empty() {
        // Butt ends: round ones would fill the gaps.
        let pattern = pattern.join(" ");
        push(out, format_args!(" stroke-dasharray=\"{pattern}\" stroke-linecap=\"butt\""));
    }
    out.push_str(">\n");
    let mut in_hatch = false;
    for mark in marks {
        let hatching = matches!(mark, Mark::Hatching(_));
        match (in_hatch, hatching) {
            (false, true) => {
                let width = n(HATCH_WIDTH.mm() * paper.line);
                push(out, format_args!("<g stroke-width=\"{width}\" stroke-dasharray=\"none\">\n"));
            }
            (true, false) => out.push_str("</g>\n"),
            _ => {}
        }
        in_hatch = hatching;
        match mark {
            Mark::Stroke(edge) | Mark::Hatching(edge) => path(out, &paper.open(edge), ""),
            Mark::Closed(outline) => path(out, &paper.closed(outline), ""),
            Mark::Tint(region, tint) => {
                let look =
                    format!(" fill=\"{}\" fill-rule=\"evenodd\" stroke=\"none\"", hex(*tint));
                path(out, &paper.region(region), &look);
            }
            Mark::Text(text) => paper.text(out, text, &colour),
        }
    }
    if in_hatch {
        out.push_str("</g>\n");
    }
    out.push_str("</g>\n");
}

fn path(out: &mut String, data: &str, look: &str) {
    push(out, format_args!("<path d=\"{data}\"{look}/>\n"));
}

/// The picture's frame: Y runs down from the upper edge.
struct Paper {
    bounds: Rect,
    /// How much wider a line is drawn than it is on paper.
    line: f64,
}

impl Paper {
    fn place(&self, point: Point) -> String {
        format!("{} {}", n(point.x - self.bounds.x0), n(self.bounds.y1 - point.y))
    }

    fn open(&self, edge: &Edge) -> String {
        format!("M{}{}", self.place(edge.start()), self.onward(edge))
    }

    fn closed(&self, outline: &Outline) -> String {
        let start = outline.corners().next().unwrap_or_default();
        let edges: String = outline.edges().iter().map(|edge| self.onward(edge)).collect();
        format!("M{}{edges}Z", self.place(start))
    }

    fn region(&self, region: &Region) -> String {
        let holes: String = region.holes.iter().map(|hole| self.closed(hole)).collect();
        format!("{}{holes}", self.closed(&region.outline))
    }

    /// From where the pen stands to the end of `edge`.
    fn onward(&self, edge: &Edge) -> String {
        match edge {
            Edge::Line(line) => format!("L{}", self.place(line.p1)),
            Edge::Arc(arc) => {
                // An arc word cannot turn right round, and is ill-conditioned near half a turn.
                let pieces = if arc.sweep.abs() > 0.9 * PI { 3.0 } else { 1.0 };
                let step = arc.sweep / pieces;
                (0..3)
                    .take_while(|&i| f64::from(i) < pieces)
                    .map(|i| {
                        let start = arc.start + f64::from(i) * step;
                        self.arc_word(&Arc { start, sweep: step, ..*arc })
                    })
                    .collect()
            }
        }
    }

    fn arc_word(&self, arc: &Arc) -> String {
        let radius = n(arc.radius);
        // Anticlockwise with Y up is against the direction that SVG counts as positive.
        let with = u8::from(arc.sweep < 0.0);
        let end = self.place(Edge::Arc(*arc).end());
        format!("A{radius} {radius} 0 0 {with} {end}")
    }

    fn text(&self, out: &mut String, text: &Text, colour: &str) {
        let anchor = match text.across {
            super::Across::Left => "start",
            super::Across::Centre => "middle",
            super::Across::Right => "end",
        };
        let down = n(-text.drop_to_base());
        let turn =
            if text.turn == 0.0 { String::new() } else { format!(" rotate({})", n(-text.turn)) };
        push(
            out,
            format_args!(
                "<text transform=\"translate({}){turn}\" y=\"{down}\" font-size=\"{}\" \
                 text-anchor=\"{anchor}\"{} fill=\"{colour}\" stroke=\"none\">{}</text>\n",
                self.place(text.at),
                n(text.height / CAPITAL),
                length(text),
                escaped(&text.value),
            ),
        );
    }
}

/// Keeps the text to its measured length, whatever face the reader has.
fn length(text: &Text) -> String {
    let width = text.width();
    if width > 0.0 {
        format!(" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"", n(width))
    } else {
        String::new()
    }
}

fn n(value: f64) -> String {
    number(value, 4)
}

fn hex([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            other => out.push(other),
        }
    }
    out
}

/// Writing into a `String` cannot fail.
fn push(out: &mut String, text: std::fmt::Arguments<'_>) {
    let written = out.write_fmt(text);
    debug_assert!(written.is_ok());
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Colour, Item, LineKind, LineWidth};

    const BARS: Layer = Layer::new("bars", Colour::Blue, LineKind::Dashed, LineWidth::W025);

    #[test]
    fn a_dashed_line_of_true_length() {
        let mut scene = Scene::new("A & B", "seen from the room face", &[BARS]);
        scene.add(&BARS, Item::Edge(Edge::line(Point::new(-10.0, 0.0), Point::new(90.0, 20.0))));
        let svg = write(&scene, Look::default()).unwrap();
        assert!(svg.contains("width=\"110mm\" height=\"30mm\" viewBox=\"0 0 110 30\""));
        assert!(svg.contains("<path d=\"M5 25L105 5\"/>"));
        assert!(svg.contains("stroke-dasharray=\"3 0.75\""));
        assert!(svg.contains("<title>A &amp; B</title>"));
        let large = write(&scene, Look { scale: 3.0, margin: 5.0 }).unwrap();
        assert!(large.contains("width=\"330mm\" height=\"90mm\" viewBox=\"0 0 110 30\""));
    }

    // Half the size: a line drawn twice as wide, and dashes twice as long, are as wide and long as before.
    #[test]
    fn lines_of_a_picture_smaller_than_life_keep_their_width() {
        let mut scene = Scene::new("", "", &[BARS]);
        scene.add(&BARS, Item::Edge(Edge::line(Point::ZERO, Point::new(90.0, 20.0))));
        let look = |scale| write(&scene, Look { scale, margin: 5.0 }).unwrap();
        assert!(look(1.0).contains("stroke-width=\"0.25\""));
        let half = look(0.5);
        assert!(half.contains("stroke-width=\"0.5\"") && half.contains("\"6 1.5\""));
        assert!(half.contains("width=\"50mm\""));
    }

    #[test]
    fn text_cannot_break_out() {
        let mut scene = Scene::new("", "", &[]);
        let text = Text::new("</text><script>\"&", Point::ZERO, 2.0).turned(90.0);
        scene.add(&BARS, Item::Text(text));
        let svg = write(&scene, Look::default()).unwrap();
        assert!(svg.contains(">&lt;/text&gt;&lt;script&gt;&quot;&amp;</text>"));
        assert!(svg.contains(" rotate(-90)"));
    }
}
