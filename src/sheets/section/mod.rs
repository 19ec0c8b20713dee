//! One member or bar cut across, before and after: what goes, what stays, and where the unit sits.
//!
//! Frame of a section: X from the sight edge into the wood, Y = 0 on the glazing face and negative
//! towards the room. Both figures stand side by side or one under the other at true size, glazing face up.
//!
//! Promised: every measure and label that is given is drawn, and no text covers another as far as
//! rows and columns can keep them apart. Not promised: that what is given is a sensible section.

mod annotations;
mod figure;
mod of_sash;
pub mod warm;

pub use of_sash::{drawn, of_parts, sections};

use of_sash::wood_of;

use super::{SheetError, layers};
use crate::drawing::{Across, Item, Layer, Scene, Text, Up, ValueAt, outline_along};
use crate::geometry::{Outline, Region, Side};
use crate::section::{Glazing, TOLERANCE};
use crate::sheets::kit::{LABEL as HEIGHT, SCALES, Voice};
use kurbo::{Affine, BezPath, Point, Rect, Shape, Size, Vec2};

/// Layers in drawing order: what changes lies over what does not.
const LAYERS: [Layer; 10] = [
    layers::HATCHING,
    layers::TIMBER,
    layers::BEAD,
    layers::BLOCKS,
    layers::UNIT,
    layers::NEW_REBATE,
    layers::OLD_REBATE,
    layers::SIGHT_EDGE,
    layers::DIMENSIONS,
    layers::WORDS,
];
/// Between both figures, mm.
const GAP: f64 = 8.0;

/// A distance to be shown.
#[derive(Debug, Clone, PartialEq)]
pub struct Measure {
    /// The first point.
    pub from: Point,
    /// The second point. Measured along X at the bottom and top, along Y at the left and right.
    pub to: Point,
    /// On which side of the figure it is shown.
    pub side: Side,
    /// Words before the value; may be empty.
    pub words: String,
    /// Where the value stands. `Middle` takes the room there is.
    pub value_at: ValueAt,
}

/// Words with a line that leads to what they name. The two faces need none: every figure names them.
#[derive(Debug, Clone, PartialEq)]
pub struct Label {
    /// What is named.
    pub at: Point,
    /// The words.
    pub words: String,
    /// Whether the words stand to the left of the figure, else to the right.
    pub on_left: bool,
}

/// One figure's notes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Notes {
    /// Distances.
    pub measures: Vec<Measure>,
    /// Labels.
    pub labels: Vec<Label>,
}

/// Everything that the drawing of a section needs.
#[derive(Debug, Clone, PartialEq)]
pub struct Section {
    /// What is cut: `kitchen-1, left stile`.
    pub title: String,
    /// What is said under the title.
    pub caption: String,
    /// The wood as it was: one closed path a piece.
    pub before: Vec<BezPath>,
    /// The wood that goes, part of `before`.
    pub removed: Vec<BezPath>,
    /// The wood that is left: `before` less `removed`.
    pub after: Vec<BezPath>,
    /// What is put in.
    pub glazing: Glazing,
    /// X of every sight edge.
    pub sight: Vec<f64>,
    /// Notes of the figure before.
    pub notes_before: Notes,
    /// Notes of the figure after.
    pub notes_after: Notes,
}

impl Section {
    /// Lays out the section as a scene at true size, both figures side by side.
    ///
    /// # Errors
    /// Where a path or a rectangle holds no area.
    pub fn scene(&self, voice: Voice) -> Result<Scene, SheetError> {
        self.laid((voice, HEIGHT), |left, right| Vec2::new(left.x1 + GAP - right.x0, 0.0))
    }

    /// The same with one figure under the other, for a page that is too narrow for both.
    ///
    /// # Errors
    /// As [`Section::scene`].
    pub fn stacked(&self, voice: Voice) -> Result<Scene, SheetError> {
        self.stacked_for(1.0, voice)
    }

    /// The same with letters that can be read when it is shown at `scale`.
    fn stacked_for(&self, scale: f64, voice: Voice) -> Result<Scene, SheetError> {
        let below = |upper: Rect, lower: Rect| Vec2::new(0.0, upper.y0 - GAP / scale - lower.y1);
        self.laid((voice, HEIGHT / scale), below)
    }

    /// One figure under the other, at the largest scale that a rule reads and `most` has room for.
    ///
    /// # Errors
    /// As [`Section::scene`].
    pub fn within(&self, most: Size, voice: Voice) -> Result<Scene, SheetError> {
        let mut drawn = None;
        for (scale, _) in SCALES {
            let scene = self.stacked_for(scale, voice)?;
            let size = scene.extents().size() * scale;
            drawn = Some(scene);
            if size.width <= most.width && size.height <= most.height {
                break;
            }
        }
        drawn.map_or_else(|| self.stacked(voice), Ok)
    }

    /// The same without a measure, for the one who owns the window.
    ///
    /// # Errors
    /// As [`Section::scene`].
    pub fn for_owner(&self, most: Size, voice: Voice) -> Result<Scene, SheetError> {
        let without = |notes: &Notes| Notes { measures: Vec::new(), ..notes.clone() };
        let (notes_before, notes_after) = (without(&self.notes_before), without(&self.notes_after));
        Section { notes_before, notes_after, ..self.clone() }.within(most, voice)
    }

    /// `apart` tells from what both figures fill how far the second is moved.
    fn laid(
        &self,
        (voice, height): (Voice, f64),
        apart: impl Fn(Rect, Rect) -> Vec2,
    ) -> Result<Scene, SheetError> {
        let mut scene = Scene::new(&*self.title, voice.said(&self.caption), &LAYERS);
        let before = self.figure_before(&mut scene, (voice, height))?;
        // Where the second figure begins is known only once its notes have been laid out.
        let trial = self.figure_after(&mut Scene::new("", "", &[]), Vec2::ZERO, (voice, height))?;
        let after =
            self.figure_after(&mut scene, apart(before.filled, trial.filled), (voice, height))?;
        let level = before.filled.y1.max(after.filled.y1);
        let beside = after.filled.y1 > before.filled.y0;
        for (heading, figure) in [("section-before", before), ("section-after", after)] {
            let y = if beside { level } else { figure.filled.y1 } + 1.5 * height;
            let at = Point::new(figure.middle, y);
            let text = Text::new(voice.word(heading), at, 1.25 * height)
                .anchored(Across::Centre, Up::Base);
            scene.add(&layers::WORDS, Item::Text(text));
        }
        scene.add_caption(&layers::WORDS, 1.25 * height);
        Ok(scene)
    }

    fn figure_before(
        &self,
        scene: &mut Scene,
        (voice, height): (Voice, f64),
    ) -> Result<Placed, SheetError> {
        let wood = outlines(&self.before, Vec2::ZERO)?;
        figure::wood(scene, &outlines(&self.after, Vec2::ZERO)?, &wood);
        figure::removed(scene, &outlines(&self.removed, Vec2::ZERO)?);
        let around = bounds(&wood);
        figure::sight(scene, &self.sight, around, Vec2::ZERO);
        Ok(self.notes_before.add(scene, &wood, around, (Vec2::ZERO, voice, height)))
    }

    fn figure_after(
        &self,
        scene: &mut Scene,
        shift: Vec2,
        (voice, height): (Voice, f64),
    ) -> Result<Placed, SheetError> {
        let (before, after) = (outlines(&self.before, shift)?, outlines(&self.after, shift)?);
        let wood = bounds(&before);
        figure::wood(scene, &after, &after);
        figure::change(scene, &before, &after);
        figure::glazing(scene, &self.glazing, wood, shift)?;
        figure::sight(scene, &self.sight, wood, shift);
        let around = with_glazing(wood, &self.glazing, shift);
        Ok(self.notes_after.add(scene, &before, around, (shift, voice, height)))
    }
}

/// Where a figure came to lie.
struct Placed {
    /// X of the middle of its wood.
    middle: f64,
    /// Everything that belongs to it.
    filled: Rect,
}

impl Notes {
    /// Measures and labels around a figure that fills `around`; `wood` as it was has the faces.
    fn add(
        &self,
        scene: &mut Scene,
        wood: &[Outline],
        around: Rect,
        (shift, voice, height): (Vec2, Voice, f64),
    ) -> Placed {
        let mut filled = around;
        let mut texts = Vec::new();
        for dimension in annotations::dimensions(&self.measures, around, shift, (voice, height)) {
            let (edges, text) = dimension.parts();
            filled = edges.iter().fold(filled.union(text.bounds()), |all, e| all.union(e.bounds()));
            texts.push(text);
            scene.add(&layers::DIMENSIONS, Item::Dimension(dimension));
        }
        let filled =
            annotations::labels(scene, &self.labels, wood, filled, (shift, voice, height), texts);
        Placed { middle: bounds(wood).center().x, filled }
    }
}

fn outlines(paths: &[BezPath], shift: Vec2) -> Result<Vec<Outline>, SheetError> {
    let moved = paths.iter().map(|path| Affine::translate(shift) * path.clone());
    Ok(moved.map(|path| outline_along(&path, TOLERANCE)).collect::<Result<_, _>>()?)
}

fn solids(rects: &[Rect], shift: Vec2) -> Result<Vec<Region>, SheetError> {
    let moved = rects.iter().map(|rect| Outline::rectangle(*rect + shift).map(Region::solid));
    Ok(moved.collect::<Result<_, _>>()?)
}

/// `around` with panes, beads and putty.
fn with_glazing(around: Rect, glazing: &Glazing, shift: Vec2) -> Rect {
    let held = glazing.beads.iter().chain(&glazing.putty).map(Shape::bounding_box);
    glazing.panes.iter().copied().chain(held).fold(around, |all, one| all.union(one + shift))
}

fn bounds(outlines: &[Outline]) -> Rect {
    outlines.iter().map(Outline::bounds).reduce(|a, b| a.union(b)).unwrap_or_default()
}
