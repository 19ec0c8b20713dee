//! Sheets of paper: scenes placed on pages, in millimetres from the lower left corner of the page.

use super::scene::within_reach;
use super::{Scene, SceneError, Text};
use kurbo::{Affine, Point, Rect, Size};
use std::fmt;

/// Pages that belong together.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Document {
    /// What the document is, for the reader's window and lists of files.
    pub title: String,
    /// The pages in order.
    pub pages: Vec<Page>,
}

/// One side of a sheet.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Page {
    /// Width and height, mm.
    pub size: Size,
    /// What is on it, the lowest first.
    pub placed: Vec<Placed>,
}

/// A scene on a page.
#[derive(Debug, Clone, PartialEq)]
pub struct Placed {
    /// The scene.
    pub scene: Scene,
    /// Millimetres of paper for each millimetre of the scene; 1 is true size. Lines keep their width
    /// and dashes theirs; text is scaled.
    pub scale: f64,
    /// Where the scene's zero lies on the page.
    pub at: Point,
    /// Nothing of the scene is drawn outside this rectangle of the page.
    pub clip: Option<Rect>,
}

impl Placed {
    /// A scene that was composed in millimetres of the page.
    pub fn on_page(scene: Scene) -> Placed {
        Placed { scene, scale: 1.0, at: Point::ZERO, clip: None }
    }

    /// From the scene to the page.
    pub fn transform(&self) -> Affine {
        Affine::translate(self.at.to_vec2()) * Affine::scale(self.scale)
    }

    /// `text` of the scene as it stands on the page.
    pub(super) fn text(&self, text: &Text) -> Text {
        let at = self.transform() * text.at;
        Text { at, height: text.height * self.scale, ..text.clone() }
    }

    /// Whether every number can be drawn.
    ///
    /// # Errors
    /// As [`Scene::check`], and where scale, place or clip are not usable.
    pub fn check(&self) -> Result<(), SceneError> {
        let clip = self.clip.unwrap_or_default();
        let numbers = [self.scale, self.at.x, self.at.y, clip.x0, clip.y0, clip.x1, clip.y1];
        let usable = within_reach(numbers) && self.scale > 0.0;
        if usable { self.scene.check() } else { Err(SceneError::Look) }
    }
}

/// What is wrong with the lettering of a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Trouble {
    /// This text reaches over the edge of the page.
    OffPage(String),
    /// These two texts cover each other.
    Covered(String, String),
}

impl fmt::Display for Trouble {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Trouble::OffPage(text) => write!(f, "{text:?} reaches over the edge of the page"),
            Trouble::Covered(a, b) => write!(f, "{a:?} and {b:?} cover each other"),
        }
    }
}

impl Page {
    /// Every text as it stands on the page.
    pub fn texts(&self) -> Vec<Text> {
        let on_page = |placed: &Placed| -> Vec<Text> {
            placed.scene.texts().map(|text| placed.text(&text)).collect()
        };
        self.placed.iter().flat_map(on_page).collect()
    }

    /// Texts that cover each other or reach over the edge.
    pub fn troubles(&self) -> Vec<Trouble> {
        let texts = self.texts();
        let paper = Rect::from_origin_size(Point::ZERO, self.size);
        let mut troubles = Vec::new();
        for (index, a) in texts.iter().enumerate() {
            if a.bounds().union(paper) != paper {
                troubles.push(Trouble::OffPage(a.value.clone()));
            }
            let covered = texts.iter().skip(index + 1).filter(|b| a.covers(b));
            troubles.extend(covered.map(|b| Trouble::Covered(a.value.clone(), b.value.clone())));
        }
        troubles
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::{Colour, Item, Layer, LineKind, LineWidth};

    const WORDS: Layer = Layer::new("words", Colour::Black, LineKind::Continuous, LineWidth::W018);

    fn page(texts: &[(&str, f64, f64)]) -> Page {
        let mut scene = Scene::new("", "", &[]);
        for (value, x, y) in texts {
            scene.add(&WORDS, Item::Text(Text::new(*value, Point::new(*x, *y), 3.0)));
        }
        Page { size: Size::new(100.0, 50.0), placed: vec![Placed::on_page(scene)] }
    }

    #[test]
    fn lettering_that_cannot_be_read_is_told() {
        assert_eq!(page(&[("stile", 5.0, 5.0), ("rail", 5.0, 20.0)]).troubles(), []);
        let off = Trouble::OffPage("stile".into());
        assert_eq!(page(&[("stile", 96.0, 5.0)]).troubles(), [off]);
        let covered = Trouble::Covered("stile".into(), "rail".into());
        assert_eq!(page(&[("stile", 5.0, 5.0), ("rail", 6.0, 6.0)]).troubles(), [covered]);
    }

    #[test]
    fn a_scene_is_placed_before_it_is_judged() {
        let mut page = page(&[("rail", 60.0, 5.0)]);
        page.placed[0].scale = 2.0;
        assert_eq!(page.troubles(), [Trouble::OffPage("rail".into())]);
        page.placed[0].scale = 0.0;
        assert_eq!(page.placed[0].check(), Err(SceneError::Look));
    }
}
