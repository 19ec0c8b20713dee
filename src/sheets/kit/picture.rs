//! A scene to be put on a page at a scale.

use crate::drawing::{Placed, Scene};
use kurbo::{Point, Rect, Size};

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
