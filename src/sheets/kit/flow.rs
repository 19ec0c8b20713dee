//! A column of words, tables and pictures that runs on from page to page.

use super::words::{fitted, wrapped};
use super::{LARGE, LEADING, SMALL, Voice, tell};
use crate::drawing::{Across, Item, Layer, Page, Placed, Scene, Text, Up, width};
use crate::geometry::{Edge, ROUNDING};
use crate::sheets::layers::{DIMENSIONS, WORDS};
use kurbo::{Point, Rect, Size};

/// Height of capitals of what is set or ordered, mm.
const KEY: f64 = 2.9;
/// Room for the head and the foot of a page, mm.
const HEAD: f64 = 9.0;
const FOOT: f64 = 7.0;

/// How far the words of an entry stand behind its mark, and entries apart, mm.
const INDENT: f64 = 6.5;
const BETWEEN: f64 = 0.4;
/// So many lines stay on one page.
const SHORT: usize = 3;

/// Scales that a rule reads, each with the key of its name.
pub const SCALES: [(f64, &str); 3] =
    [(1.0, "scale-true"), (0.5, "scale-half"), (0.2, "scale-fifth")];

/// A scene with the scale it is shown at.
#[derive(Debug, Clone, PartialEq)]
pub struct Picture {
    scene: Scene,
    scale: f64,
    bounds: Rect,
}

impl Picture {
    /// `scene` at true size, or smaller where it would not fit `most`.
    pub fn within(scene: Scene, most: Size) -> Picture {
        let bounds = scene.extents();
        let shrink = |have: f64, room: f64| if have > room { room / have } else { 1.0 };
        let scale = shrink(bounds.width(), most.width).min(shrink(bounds.height(), most.height));
        Picture { scene, scale, bounds }
    }

    /// `scene` at true size or at half or a fifth of it, whichever fits `most`, and the key of what that scale is called.
    pub fn to_scale(scene: Scene, most: Size) -> (Picture, &'static str) {
        let bounds = scene.extents();
        let fits = |scale: f64| {
            scale * bounds.width() <= most.width && scale * bounds.height() <= most.height
        };
        match SCALES.iter().find(|(scale, _)| fits(*scale)) {
            Some(&(scale, name)) => (Picture { scene, scale, bounds }, name),
            None => (Picture::within(scene, most), "scale-none"),
        }
    }

    /// Size on paper, mm.
    pub fn size(&self) -> Size {
        self.bounds.size() * self.scale
    }

    /// Millimetres of paper for each of the scene.
    pub fn scale(&self) -> f64 {
        self.scale
    }

    /// The picture with the upper left corner of what it shows at `corner`.
    pub fn hung_at(self, corner: Point) -> Placed {
        let upper_left = Point::new(self.bounds.x0, self.bounds.y1);
        let at = corner - upper_left.to_vec2() * self.scale;
        Placed { scene: self.scene, scale: self.scale, at, clip: None }
    }
}

/// How often a scale is tried anew for what stands round a drawing.
const TRIES: u32 = 5;

/// What `compose` draws of something `extent` mm large for so many millimetres of paper for each of it, at the largest
/// scale up to true size at which it fits `most` with all that stands round it.
///
/// # Errors
/// As `compose`.
pub fn composed<E>(
    most: Size,
    extent: Size,
    compose: impl Fn(f64) -> Result<Scene, E>,
) -> Result<Scene, E> {
    let mut around = Size::new(45.0, 40.0);
    let mut tries = 0;
    loop {
        let room = most - around;
        let scale = (room.width.max(8.0) / extent.width).min(room.height.max(8.0) / extent.height);
        let scale = scale.min(1.0);
        let scene = compose(scale)?;
        let size = scene.extents().size() * scale;
        tries += 1;
        if (size.width <= most.width && size.height <= most.height) || tries == TRIES {
            return Ok(scene);
        }
        around = size - extent * scale + Size::new(1.0, 1.0);
    }
}

/// Pages being filled from the top.
#[derive(Clone)]
pub struct Flow {
    /// What every page belongs to.
    head: String,
    /// What every page says at its foot.
    foot: String,
    size: Size,
    margin: f64,
    /// How its words are said.
    voice: Voice,
    y: f64,
    pages: Vec<(Scene, Vec<Placed>)>,
}

impl Flow {
    /// Pages of a size with a margin, mm, round them, that speak by `voice`; `head` says what they belong to.
    pub fn new(
        voice: Voice,
        (size, margin): (Size, f64),
        head: impl Into<String>,
        foot: impl Into<String>,
    ) -> Flow {
        let mut flow = Flow {
            head: head.into(),
            foot: foot.into(),
            size,
            margin,
            voice,
            y: 0.0,
            pages: Vec::new(),
        };
        flow.new_page();
        flow
    }

    /// How its words are said.
    pub fn voice(&self) -> Voice {
        self.voice
    }

    /// Begins a page.
    pub fn new_page(&mut self) {
        self.pages.push((Scene::new("", "", &[]), Vec::new()));
        self.y = self.size.height - self.margin - HEAD;
    }

    /// Goes on with the pages of `other`.
    pub fn append(&mut self, other: Flow) {
        self.pages.extend(other.pages);
        self.y = other.y;
    }

    /// How many pages are begun.
    pub fn count(&self) -> usize {
        self.pages.len()
    }

    /// Width between the margins, mm.
    pub fn width(&self) -> f64 {
        self.size.width - 2.0 * self.margin
    }

    /// Height of the paper, mm.
    pub fn height(&self) -> f64 {
        self.size.height
    }

    /// What is left of the page, mm.
    pub fn room(&self) -> f64 {
        self.y - self.margin - FOOT
    }

    pub(super) fn left(&self) -> f64 {
        self.margin
    }

    pub(super) fn y(&self) -> f64 {
        self.y
    }

    pub(super) fn draw(&mut self, layer: &Layer, item: Item) {
        if let Some((scene, _)) = self.pages.last_mut() {
            scene.add(layer, item);
        }
    }

    /// Leaves `height` mm free.
    pub fn gap(&mut self, height: f64) {
        self.y -= height;
    }

    /// Begins a page where less than `height` mm are left.
    pub fn keep(&mut self, height: f64) {
        if self.room() < height {
            self.new_page();
        }
    }

    fn line(&mut self, words: &str, x: f64, height: f64) {
        self.keep(height * LEADING);
        let text = Text::new(words, Point::new(x, self.y), height).anchored(Across::Left, Up::Top);
        self.draw(&WORDS, Item::Text(text));
        self.y -= height * LEADING;
    }

    /// A heading, with room for something below it.
    pub fn heading(&mut self, words: &str) {
        self.heading_over(words, 20.0_f64.min(self.size.height / 4.0));
    }

    /// A heading on the same page as what comes below it, `height` mm high.
    pub fn heading_over(&mut self, words: &str, height: f64) {
        self.keep(2.0 + LEADING * LARGE + height);
        self.gap(1.5);
        for line in wrapped(&self.voice.said(words), LARGE, self.width()) {
            self.line(&line, self.margin, LARGE);
        }
        self.gap(0.5);
    }

    /// Lines that belong together, `mark` hanging before the first: no page begins or ends with one of them alone.
    fn together(&mut self, lines: &[String], indent: f64, mark: &str) {
        let fit =
            (1..=lines.len()).take_while(|n| *n as f64 * SMALL * LEADING <= self.room() - ROUNDING);
        let here = match fit.count() {
            fit if fit == lines.len() => fit,
            fit if fit < 2 || lines.len() <= SHORT => 0,
            fit => fit.min(lines.len() - 2),
        };
        if here == 0 {
            self.new_page();
        }
        for (index, line) in lines.iter().enumerate() {
            if index == here && index > 0 {
                self.new_page();
            }
            if index == 0 && !mark.is_empty() {
                let at = Point::new(self.margin, self.y);
                let text = fitted(mark, at, SMALL, indent - 0.5).anchored(Across::Left, Up::Top);
                self.draw(&WORDS, Item::Text(text));
            }
            self.line(line, self.margin + indent, SMALL);
        }
    }

    /// A paragraph.
    pub fn paragraph(&mut self, words: &str) {
        let lines = wrapped(&self.voice.said(words), SMALL, self.width());
        self.together(&lines, 0.0, "");
        self.gap(1.2);
    }

    /// An entry of a list, `mark` hanging before it.
    pub fn entry(&mut self, mark: &str, words: &str) {
        self.entries(mark, &[words]);
    }

    /// The entries of a list; its last does not stand alone on a page with a single line.
    pub fn entries(&mut self, mark: &str, all: &[impl AsRef<str>]) {
        let width = self.width() - INDENT;
        let all = all.iter().map(|words| wrapped(&self.voice.said(words.as_ref()), SMALL, width));
        let all: Vec<Vec<String>> = all.collect();
        for (index, lines) in all.iter().enumerate() {
            if let [last] = all.get(index + 1..).unwrap_or_default()
                && last.len() == 1
                && lines.len() <= SHORT
            {
                self.keep((lines.len() + 1) as f64 * SMALL * LEADING + BETWEEN);
            }
            self.together(lines, INDENT, mark);
            self.gap(BETWEEN);
        }
    }

    /// What is set or ordered, large, after the word for it.
    pub fn key(&mut self, label: &str, words: &str) {
        let indent = (width(label, KEY) + 2.0).clamp(22.0, self.width() / 2.0);
        let words = self.voice.said(words);
        for (index, line) in wrapped(&words, KEY, self.width() - indent).iter().enumerate() {
            self.keep(KEY * LEADING);
            if index == 0 {
                let at = Point::new(self.margin, self.y);
                let text = fitted(label, at, KEY, indent - 1.0).anchored(Across::Left, Up::Top);
                self.draw(&WORDS, Item::Text(text));
            }
            self.line(line, self.margin + indent, KEY);
        }
        self.gap(0.8);
    }

    /// A picture, in the middle.
    pub fn picture(&mut self, picture: Picture) {
        let size = picture.size();
        self.keep(size.height);
        let corner = Point::new(self.margin + (self.width() - size.width) / 2.0, self.y);
        let placed = picture.hung_at(corner);
        if let Some((_, others)) = self.pages.last_mut() {
            others.push(placed);
        }
        self.gap(size.height + 3.0);
    }

    /// The pages, each with its head, its number and its foot.
    pub fn pages(self) -> Vec<Page> {
        self.pages_before(0)
    }

    /// The same, numbered among so many more that come after them.
    pub fn pages_before(self, more: usize) -> Vec<Page> {
        let count = self.pages.len() + more;
        let (size, margin, words, voice) = (self.size, self.margin, SMALL, self.voice);
        let width = size.width - 2.0 * margin;
        let pages = self.pages.into_iter().enumerate();
        pages
            .map(|(index, (mut scene, mut placed))| {
                let number = tell!(voice, "page-number", number = index + 1, count);
                let top = size.height - margin;
                let right = Text::new(number, Point::new(size.width - margin, top), words)
                    .anchored(Across::Right, Up::Top);
                let room = width - right.width() - 4.0;
                let head = fitted(&self.head, Point::new(margin, top), 1.25 * words, room)
                    .anchored(Across::Left, Up::Top);
                let foot = fitted(&self.foot, Point::new(margin, margin), words, width);
                for text in [head, right, foot] {
                    scene.add(&WORDS, Item::Text(text));
                }
                for y in [top - 0.6 * HEAD, margin + 0.6 * FOOT] {
                    let rule =
                        Edge::line(Point::new(margin, y), Point::new(size.width - margin, y));
                    scene.add(&DIMENSIONS, Item::Edge(rule));
                }
                placed.push(Placed::on_page(scene));
                Page { size, placed }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // A typesetter's rule (widows and orphans): no line of a paragraph stands alone on a page.
    #[test]
    fn no_line_stands_alone_on_a_page() {
        let words = |lines: usize| vec!["word"; 24 * lines].join(" ");
        let mut broken = 0;
        for used in 0..60 {
            for count in 1..9 {
                for is_list in [false, true] {
                    let size = (Size::new(120.0, 120.0), 10.0);
                    let mut flow = Flow::new(Voice::plain(), size, "", "");
                    flow.gap(f64::from(used) * 1.5);
                    if is_list {
                        flow.entries("!", &[words(1), words(count), words(1)]);
                    } else {
                        flow.paragraph(&words(count));
                    }
                    let lines = flow.pages.iter().map(|(scene, _)| {
                        scene.texts().filter(|text| text.value.len() > 1).count()
                    });
                    let lines: Vec<usize> = lines.collect();
                    let all: usize = lines.iter().sum();
                    let begun = lines.iter().filter(|lines| **lines > 0).count();
                    broken += usize::from(begun > 1);
                    let alone = lines.iter().filter(|lines| **lines == 1).count();
                    // A list may begin with an entry of one line at the foot of a page.
                    let first = usize::from(is_list && lines.first() == Some(&1));
                    assert!(all < 2 || alone == first, "{used} {count} {is_list}: {lines:?}");
                }
            }
        }
        assert!(broken > 50, "{broken}");
    }
}
