//! The SVG pen: a picture of true size, for screens and for printing.
//!
//! Coordinates are millimetres with four decimals. Each layer is a group that carries its name in
//! `data-layer`. Text is real text in whatever sans-serif face the reader has,
//! stretched or squeezed to the length it was composed with.

use super::font::CAPITAL;
use super::{Across, HATCH_WIDTH, Layer, Mark, Scene, SceneError, Text};
use crate::geometry::{Arc, Edge, Outline};
use crate::number::{Decimal, NotFinite, decimal};
use kurbo::{Point, Rect};
use maud::Escaper;
use std::f64::consts::PI;
use std::fmt::{Arguments, Write};

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
    // A line of a picture smaller than life would fade away if it shrank as well.
    let mut pen = Pen { out: String::new(), bounds, line: 1.0 / look.scale.min(1.0) };
    pen.head(scene, look.scale)?;
    for (layer, marks) in scene.marks() {
        if !marks.is_empty() {
            pen.group(layer, &marks)?;
        }
    }
    pen.put(format_args!("</svg>\n"));
    Ok(pen.out)
}

/// The picture so far. In its frame Y runs down from the upper edge.
struct Pen {
    out: String,
    bounds: Rect,
    /// How much wider a line is drawn than it is on paper.
    line: f64,
}

impl Pen {
    fn put(&mut self, text: Arguments<'_>) {
        // Writing to a String cannot fail.
        let _ = self.out.write_fmt(text);
    }

    fn head(&mut self, scene: &Scene, scale: f64) -> Result<(), NotFinite> {
        let (wide, high) = (self.bounds.width(), self.bounds.height());
        let (width, height) = (n(wide)?, n(high)?);
        let (on_paper, up_paper) = (n(wide * scale)?, n(high * scale)?);
        self.put(format_args!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{on_paper}mm\" height=\"{up_paper}mm\" \
             viewBox=\"0 0 {width} {height}\" fill=\"none\" stroke-linecap=\"round\" \
             stroke-linejoin=\"round\" font-family=\"'DejaVu Sans Condensed', Helvetica, \
             Arial, 'Liberation Sans', sans-serif\" xml:space=\"preserve\">\n",
        ));
        let (title, seen_from) = (escaped(&scene.title), escaped(&scene.seen_from));
        self.put(format_args!("<title>{title}</title>\n<desc>{seen_from}</desc>\n"));
        self.put(format_args!("<rect width=\"{width}\" height=\"{height}\" fill=\"#ffffff\"/>\n"));
        Ok(())
    }

    fn group(&mut self, layer: &Layer, marks: &[Mark<'_>]) -> Result<(), NotFinite> {
        let colour = hex(layer.colour.rgb());
        let (name, width) = (escaped(&layer.name), n(layer.width.mm() * self.line)?);
        self.put(format_args!(
            "<g data-layer=\"{name}\" stroke=\"{colour}\" stroke-width=\"{width}\""
        ));
        for (index, length) in layer.kind.pattern().iter().enumerate() {
            let before = if index == 0 { " stroke-dasharray=\"" } else { " " };
            let length = n(length * self.line)?;
            self.put(format_args!("{before}{length}"));
        }
        // Butt ends: round ones would fill the gaps.
        let dashed = !layer.kind.pattern().is_empty();
        self.put(format_args!("{}>\n", if dashed { "\" stroke-linecap=\"butt\"" } else { "" }));
        let mut in_hatch = false;
        for mark in marks {
            let hatching = matches!(mark, Mark::Hatching(_));
            if hatching && !in_hatch {
                let width = n(HATCH_WIDTH.mm() * self.line)?;
                self.put(format_args!("<g stroke-width=\"{width}\" stroke-dasharray=\"none\">\n"));
            } else if in_hatch && !hatching {
                self.put(format_args!("</g>\n"));
            }
            in_hatch = hatching;
            self.mark(mark, &colour)?;
        }
        self.put(format_args!("{}</g>\n", if in_hatch { "</g>\n" } else { "" }));
        Ok(())
    }

    fn mark(&mut self, mark: &Mark<'_>, colour: &str) -> Result<(), NotFinite> {
        if let Mark::Text(text) = mark {
            return self.text(text, colour);
        }
        self.put(format_args!("<path d=\""));
        match mark {
            Mark::Stroke(edge) | Mark::Hatching(edge) => {
                self.point('M', edge.start())?;
                self.onward(edge)?;
            }
            Mark::Closed(outline) => self.closed(outline)?,
            Mark::Tint(region, _) => {
                self.closed(&region.outline)?;
                region.holes.iter().try_for_each(|hole| self.closed(hole))?;
            }
            Mark::Text(_) => {}
        }
        self.put(format_args!("\""));
        if let Mark::Tint(_, tint) = mark {
            let tint = hex(*tint);
            self.put(format_args!(" fill=\"{tint}\" fill-rule=\"evenodd\" stroke=\"none\""));
        }
        self.put(format_args!("/>\n"));
        Ok(())
    }

    /// A word of a path that ends in a place.
    fn point(&mut self, word: char, at: Point) -> Result<(), NotFinite> {
        let (x, y) = self.place(at)?;
        self.put(format_args!("{word}{x} {y}"));
        Ok(())
    }

    fn place(&self, point: Point) -> Result<(Decimal, Decimal), NotFinite> {
        Ok((n(point.x - self.bounds.x0)?, n(self.bounds.y1 - point.y)?))
    }

    fn closed(&mut self, outline: &Outline) -> Result<(), NotFinite> {
        self.point('M', outline.corners().next().unwrap_or_default())?;
        outline.edges().iter().try_for_each(|edge| self.onward(edge))?;
        self.put(format_args!("Z"));
        Ok(())
    }

    /// From where the pen stands to the end of `edge`.
    fn onward(&mut self, edge: &Edge) -> Result<(), NotFinite> {
        let arc = match edge {
            Edge::Line(line) => return self.point('L', line.p1),
            Edge::Arc(arc) => arc,
        };
        // An arc word cannot turn right round, and is ill-conditioned near half a turn.
        let pieces = if arc.sweep.abs() > 0.9 * PI { 3 } else { 1 };
        let sweep = arc.sweep / f64::from(pieces);
        let radius = n(arc.radius)?;
        // Anticlockwise with Y up is against the direction that SVG counts as positive.
        let with = u8::from(arc.sweep < 0.0);
        for piece in 0..pieces {
            let start = arc.start + f64::from(piece) * sweep;
            let (x, y) = self.place(Edge::Arc(Arc { start, sweep, ..*arc }).end())?;
            self.put(format_args!("A{radius} {radius} 0 0 {with} {x} {y}"));
        }
        Ok(())
    }

    fn text(&mut self, text: &Text, colour: &str) -> Result<(), NotFinite> {
        let anchor = match text.across {
            Across::Left => "start",
            Across::Centre => "middle",
            Across::Right => "end",
        };
        let (x, y) = self.place(text.at)?;
        self.put(format_args!("<text transform=\"translate({x} {y})"));
        if text.turn != 0.0 {
            let turn = n(-text.turn)?;
            self.put(format_args!(" rotate({turn})"));
        }
        let (down, size) = (n(-text.drop_to_base())?, n(text.height / CAPITAL)?);
        self.put(format_args!("\" y=\"{down}\" font-size=\"{size}\" text-anchor=\"{anchor}\""));
        // Kept to its measured length, whatever face the reader has.
        let width = text.width();
        if width > 0.0 {
            let width = n(width)?;
            self.put(format_args!(" textLength=\"{width}\" lengthAdjust=\"spacingAndGlyphs\""));
        }
        let value = escaped(&text.value);
        self.put(format_args!(" fill=\"{colour}\" stroke=\"none\">{value}</text>\n"));
        Ok(())
    }
}

fn n(value: f64) -> Result<Decimal, NotFinite> {
    decimal(value, 4)
}

fn hex([red, green, blue]: [u8; 3]) -> String {
    format!("#{red:02x}{green:02x}{blue:02x}")
}

/// Text that cannot be taken for a tag or end a value in quotes.
fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    // Writing to a String cannot fail.
    let _ = Escaper::new(&mut out).write_str(text);
    out
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
