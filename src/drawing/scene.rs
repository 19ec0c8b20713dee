//! A scene: everything on one drawing, in millimetres, X to the right and Y up.

use super::{Across, Dimension, Hatch, Layer, LineWidth, Text, Up};
use crate::geometry::{Edge, Outline, Region};
use crate::number::NotFinite;
use kurbo::{Point, Rect};
use std::borrow::Cow;
use std::fmt;

/// One thing to draw.
#[derive(Debug, Clone, PartialEq)]
pub enum Item {
    /// A line or an arc.
    Edge(Edge),
    /// A closed outline.
    Outline(Outline),
    /// The outline of a region and of its holes.
    Region(Region),
    /// The hatching of a region; not its outline.
    Hatch(Region, Hatch),
    /// One line of text.
    Text(Text),
    /// A linear dimension.
    Dimension(Dimension),
}

/// Width of the lines of a hatch.
pub const HATCH_WIDTH: LineWidth = LineWidth::W013;

/// What a pen draws: every [`Item`] comes down to these.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark<'a> {
    /// A line or an arc.
    Stroke(Edge),
    /// A line of a hatch: continuous and [`HATCH_WIDTH`] wide, whatever its layer is.
    Hatching(Edge),
    /// A closed outline.
    Closed(&'a Outline),
    /// A pale background, for the pens that have one; it carries no meaning that lines do not.
    Tint(&'a Region, [u8; 3]),
    /// One line of text, never empty.
    Text(Cow<'a, Text>),
}

/// Why a scene cannot be drawn.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum SceneError {
    /// A layer name that some pen cannot carry.
    LayerName(String),
    /// Two layers whose names differ in nothing but case, spaces, hyphens or underscores.
    LayerTwice(String),
    /// A coordinate, height or angle on this layer is not finite, or further than 10 km away, or a
    /// text has no height.
    Number(String),
    /// A control character or a character beyond the basic plane in this text.
    Character(String),
    /// The scale or the margin asked for is not usable.
    Look,
    /// A number that came about in drawing is not finite.
    NotFinite,
}

impl fmt::Display for SceneError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            SceneError::LayerName(name) => write!(
                f,
                "`{name}` cannot name a layer: 1 to 31 letters, digits, spaces, - and _ can"
            ),
            SceneError::LayerTwice(name) => write!(f, "two layers are called `{name}`"),
            SceneError::Number(name) => {
                write!(f, "a number on layer `{name}` is not finite or too large to draw")
            }
            SceneError::NotFinite => NotFinite.fmt(f),
            SceneError::Look => f.write_str("a picture needs a scale over 0 and a margin"),
            SceneError::Character(text) => {
                write!(f, "{text:?} holds a character that no drawing can carry")
            }
        }
    }
}

impl std::error::Error for SceneError {}

impl From<NotFinite> for SceneError {
    fn from(_: NotFinite) -> Self {
        SceneError::NotFinite
    }
}

/// Furthest that anything may lie from zero, mm.
const FURTHEST: f64 = 1e7;

/// Whether a pen can write these numbers; not one of them that is not finite.
pub(super) fn within_reach<const N: usize>(numbers: [f64; N]) -> bool {
    numbers.iter().all(|number| number.abs() <= FURTHEST)
}

/// Everything on one drawing.
///
/// Layers are drawn in the order in which they came into the scene, and items in theirs.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// What the drawing shows.
    pub title: String,
    /// Which face it is seen from, in words: `seen from the glazing face`.
    pub seen_from: String,
    layers: Vec<(Layer, Vec<Item>)>,
}

impl Scene {
    /// A scene without items. `layers` are there even when nothing comes onto them.
    pub fn new(title: impl Into<String>, seen_from: impl Into<String>, layers: &[Layer]) -> Scene {
        let layers = layers.iter().map(|layer| (layer.clone(), Vec::new())).collect();
        Scene { title: title.into(), seen_from: seen_from.into(), layers }
    }

    /// Puts an item onto a layer; a layer that is new to the scene comes in last.
    pub fn add(&mut self, layer: &Layer, item: Item) {
        match self.layers.iter_mut().find(|(known, _)| known == layer) {
            Some((_, items)) => items.push(item),
            None => self.layers.push((layer.clone(), vec![item])),
        }
    }

    /// Puts items onto a layer, one after another.
    pub fn add_all(&mut self, layer: &Layer, items: impl IntoIterator<Item = Item>) {
        items.into_iter().for_each(|item| self.add(layer, item));
    }

    /// Writes title and face under everything that is there so far, in capitals `height` mm high.
    pub fn add_caption(&mut self, layer: &Layer, height: f64) {
        let bounds = self.extents();
        let middle = bounds.center().x;
        let lines = [self.title.clone(), self.seen_from.clone()];
        for (line, step) in lines.into_iter().zip([2.0, 4.0]) {
            let at = Point::new(middle, bounds.y0 - step * height);
            let text = Text::new(line, at, height).anchored(Across::Centre, Up::Base);
            self.add(layer, Item::Text(text));
        }
    }

    /// Layers with their items, in drawing order.
    pub fn layers(&self) -> impl Iterator<Item = (&Layer, &[Item])> {
        self.layers.iter().map(|(layer, items)| (layer, items.as_slice()))
    }

    /// Layers with what the pens draw on them, in drawing order.
    pub fn marks(&self) -> impl Iterator<Item = (&Layer, Vec<Mark<'_>>)> {
        self.layers().map(|(layer, items)| {
            let mut marks = Vec::new();
            for item in items {
                break_down(item, &mut marks);
            }
            (layer, marks)
        })
    }

    /// Every text that a pen draws, values of dimensions with them, in drawing order.
    pub fn texts(&self) -> impl Iterator<Item = Cow<'_, Text>> {
        self.layers().flat_map(|(_, items)| items).filter_map(|item| match item {
            Item::Text(text) if !text.value.is_empty() => Some(Cow::Borrowed(text)),
            Item::Dimension(dimension) => Some(Cow::Owned(dimension.parts().1)),
            _ => None,
        })
    }

    /// The smallest upright rectangle around everything drawn, text by its estimated width; a
    /// rectangle without area at zero for an empty scene.
    pub fn extents(&self) -> Rect {
        let items = self.layers().flat_map(|(_, items)| items);
        items.filter_map(bounds).reduce(|a, b| a.union(b)).unwrap_or_default()
    }

    /// Pairs of texts that cover each other, by what they say.
    pub fn covered_texts(&self) -> Vec<(String, String)> {
        let texts: Vec<Cow<'_, Text>> = self.texts().collect();
        let mut covered = Vec::new();
        for (index, a) in texts.iter().enumerate() {
            for b in texts.iter().skip(index + 1).filter(|b| a.covers(b)) {
                covered.push((a.value.clone(), b.value.clone()));
            }
        }
        covered
    }

    /// Whether every pen can draw the scene as it stands.
    ///
    /// # Errors
    /// The first thing that some pen could not carry.
    pub fn check(&self) -> Result<(), SceneError> {
        let mut names: Vec<String> = Vec::new();
        for (layer, items) in self.layers() {
            if !layer.name_is_plain() {
                return Err(SceneError::LayerName(layer.name.to_string()));
            }
            let name = layer.name.to_ascii_lowercase().replace([' ', '-'], "_");
            if names.contains(&name) {
                return Err(SceneError::LayerTwice(layer.name.to_string()));
            }
            names.push(name);
            for item in items {
                check_item(item, layer)?;
            }
        }
        [&self.title, &self.seen_from].into_iter().try_for_each(|text| check_characters(text))
    }
}

fn break_down<'a>(item: &'a Item, marks: &mut Vec<Mark<'a>>) {
    match item {
        Item::Edge(edge) => marks.push(Mark::Stroke(*edge)),
        Item::Outline(outline) => marks.push(Mark::Closed(outline)),
        Item::Region(region) => {
            marks.push(Mark::Closed(&region.outline));
            marks.extend(region.holes.iter().map(Mark::Closed));
        }
        Item::Hatch(region, hatch) => {
            marks.push(Mark::Tint(region, hatch.tint()));
            marks.extend(hatch.strokes(region).into_iter().map(Mark::Hatching));
        }
        Item::Text(text) if text.value.is_empty() => {}
        Item::Text(text) => marks.push(Mark::Text(Cow::Borrowed(text))),
        Item::Dimension(dimension) => {
            let (edges, text) = dimension.parts();
            marks.extend(edges.into_iter().map(Mark::Stroke));
            marks.push(Mark::Text(Cow::Owned(text)));
        }
    }
}

/// The box around an item; none for a text that says nothing.
fn bounds(item: &Item) -> Option<Rect> {
    Some(match item {
        Item::Edge(edge) => edge.bounds(),
        Item::Outline(outline) => outline.bounds(),
        // Lines of a hatch lie within its region, and holes do.
        Item::Region(region) | Item::Hatch(region, _) => region.outline.bounds(),
        Item::Text(text) if text.value.is_empty() => return None,
        Item::Text(text) => text.bounds(),
        Item::Dimension(dimension) => {
            let (edges, text) = dimension.parts();
            edges.iter().map(Edge::bounds).fold(text.bounds(), |all, edge| all.union(edge))
        }
    })
}

fn check_item(item: &Item, layer: &Layer) -> Result<(), SceneError> {
    let within = |rect: Rect| within_reach([rect.x0, rect.y0, rect.x1, rect.y1]);
    let text_fits = |text: &Text| {
        within_reach([text.at.x, text.at.y, text.height, text.turn]) && text.height > 0.0
    };
    let fits = match item {
        Item::Edge(edge) => within(edge.bounds()) && edge_is_finite(edge),
        Item::Outline(outline) => within(outline.bounds()),
        Item::Region(region) | Item::Hatch(region, _) => {
            within(region.outline.bounds()) && region.holes.iter().all(|h| within(h.bounds()))
        }
        Item::Text(text) => text_fits(text),
        Item::Dimension(dimension) => dimension.is_finite() && text_fits(&dimension.parts().1),
    };
    if !fits {
        return Err(SceneError::Number(layer.name.to_string()));
    }
    match item {
        Item::Text(text) => check_characters(&text.value),
        Item::Dimension(dimension) => check_characters(&dimension.words),
        _ => Ok(()),
    }
}

fn edge_is_finite(edge: &Edge) -> bool {
    match edge {
        Edge::Line(line) => line.is_finite(),
        Edge::Arc(arc) => {
            let numbers = [arc.centre.x, arc.centre.y, arc.radius, arc.start, arc.sweep];
            // A larger circle than this is a straight line to any pen.
            numbers.iter().all(|v| v.is_finite() && v.abs() <= 1e3 * FURTHEST) && arc.radius > 0.0
        }
    }
}

fn check_characters(text: &str) -> Result<(), SceneError> {
    // Noncharacters are valid in Rust strings but not in XML; DXF escapes hold four hex digits.
    let bad = |c: char| c.is_control() || u32::from(c) >= 0xFFFE;
    if text.chars().any(bad) { Err(SceneError::Character(text.into())) } else { Ok(()) }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Colour, Figures, LineKind};
    use crate::geometry::Arc;
    use approx::assert_relative_eq;

    const SIGHT: Layer = Layer::new("sight", Colour::Black, LineKind::Continuous, LineWidth::W050);

    fn scene_with(item: Item) -> Scene {
        let mut scene = Scene::new("sash", "seen from the glazing face", &[SIGHT]);
        scene.add(&SIGHT, item);
        scene
    }

    #[test]
    fn extents_hold_arcs_and_text() {
        let arc = Arc { centre: Point::ZERO, radius: 10.0, start: 0.0, sweep: 3.2 };
        let mut scene = scene_with(Item::Edge(Edge::Arc(arc)));
        assert_relative_eq!(scene.extents().y1, 10.0);
        scene.add_caption(&SIGHT, 2.5);
        assert!(scene.extents().y0 < -10.0);
        assert_eq!(scene.check(), Ok(()));
        assert_eq!(Scene::new("", "", &[]).extents(), Rect::ZERO);
    }

    #[test]
    fn what_a_pen_cannot_carry_is_refused() {
        let nan = Edge::line(Point::ZERO, Point::new(f64::NAN, 0.0));
        let number = Err(SceneError::Number("sight".into()));
        assert_eq!(scene_with(Item::Edge(nan)).check(), number);
        let far = Edge::line(Point::ZERO, Point::new(1e8, 0.0));
        assert_eq!(scene_with(Item::Edge(far)).check(), number);
        let flat = Text::new("a", Point::ZERO, 0.0);
        assert_eq!(scene_with(Item::Text(flat)).check(), number);
        for value in ["a\nb", "\u{0}", "\u{1F600}", "\u{FFFE}"] {
            let text = Text::new(value, Point::ZERO, 2.0);
            let wrong = Err(SceneError::Character(value.into()));
            assert_eq!(scene_with(Item::Text(text)).check(), wrong);
        }
        let figures = Figures { height: 2.0, inches: false };
        let dimension =
            Dimension::across(Point::ZERO, Point::new(f64::INFINITY, 0.0), 1.0, figures);
        assert_eq!(scene_with(Item::Dimension(dimension)).check(), number);
    }

    #[test]
    fn layers_must_differ_by_more_than_their_spelling() {
        let loud = Layer { name: "SIGHT".into(), ..SIGHT };
        let scene = Scene::new("", "", &[SIGHT, loud]);
        assert_eq!(scene.check(), Err(SceneError::LayerTwice("SIGHT".into())));
        let odd = Layer { name: "a|b".into(), ..SIGHT };
        let scene = Scene::new("", "", &[odd]);
        assert_eq!(scene.check(), Err(SceneError::LayerName("a|b".into())));
    }
}
