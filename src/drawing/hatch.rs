//! Hatching, as the lines themselves, so that every pen draws the same.

use crate::geometry::{COINCIDENT, Edge, Region, corners};
use kurbo::{BezPath, Point, Shape, Vec2};

/// What a cut surface is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hatch {
    /// Wood that stays.
    Timber,
    /// Wood that is cut away.
    Removed,
    /// Glass: a tint only, panes are too thin for lines.
    Glass,
    /// Spacer and edge seal.
    Spacer,
    /// Sealant or bedding tape.
    Bed,
    /// A wooden bead.
    Bead,
    /// Face putty.
    Putty,
    /// An opening.
    Open,
    /// A setting block.
    Block,
    /// A step of a scale, 0 for the gravest; beyond 4 as 4. Each step has lines of its own.
    Scale(u8),
}

/// Most lines that one direction of one hatch may need; beyond, the spacing is doubled until fewer do.
const MOST_LINES: f64 = 4000.0;

impl Hatch {
    /// Lines to draw, each direction with its angle in degrees anticlockwise from X and its spacing in mm; and the pale
    /// background, red, green and blue.
    ///
    /// Thin lines at 45° for cut surfaces, another angle or spacing for neighbours (ISO 128-3, from
    /// memory).
    fn look(self) -> (&'static [(f64, f64)], [u8; 3]) {
        match self {
            Hatch::Timber => (&[(45.0, 2.5)], [246, 232, 208]),
            Hatch::Removed => (&[(135.0, 1.6)], [250, 218, 210]),
            Hatch::Glass => (&[], [214, 236, 244]),
            Hatch::Spacer => (&[(45.0, 0.8), (135.0, 0.8)], [214, 214, 218]),
            Hatch::Bed => (&[(0.0, 0.6)], [236, 236, 236]),
            Hatch::Bead => (&[(135.0, 2.0)], [232, 224, 190]),
            Hatch::Putty => (&[(0.0, 1.2)], [240, 234, 222]),
            Hatch::Open => (&[], [255, 255, 255]),
            Hatch::Block => (&[(45.0, 0.7)], [205, 205, 205]),
            Hatch::Scale(0) => (&[(45.0, 0.9), (135.0, 0.9)], [244, 170, 150]),
            Hatch::Scale(1) => (&[(45.0, 0.9)], [250, 206, 160]),
            Hatch::Scale(2) => (&[(135.0, 1.5)], [252, 232, 176]),
            Hatch::Scale(3) => (&[(0.0, 1.8)], [232, 240, 200]),
            Hatch::Scale(_) => (&[(45.0, 4.0)], [214, 234, 214]),
        }
    }

    /// Pale background, red, green and blue, for the pens that have one.
    pub fn tint(self) -> [u8; 3] {
        self.look().1
    }

    /// The hatching of `region`. Lines run through common points, so that the hatching of touching
    /// regions lines up.
    pub fn strokes(self, region: &Region) -> Vec<Edge> {
        self.look().0.iter().flat_map(|&(angle, spacing)| across(region, angle, spacing)).collect()
    }
}

/// Parallel lines at `angle` degrees, `spacing` mm apart, clipped to `region`.
fn across(region: &Region, angle: f64, spacing: f64) -> Vec<Edge> {
    let along = Vec2::from_angle(angle.to_radians());
    let normal = Vec2::new(-along.y, along.x);
    let bounds = region.outline.bounds();
    let middle = bounds.center();
    let reach = bounds.size().to_vec2().hypot() / 2.0 + 1.0;
    let mut spacing = spacing;
    while 2.0 * reach / spacing > MOST_LINES {
        spacing *= 2.0;
    }
    let inside = Inside::new(region);
    // Each edge with how far along the normal it reaches.
    let edges: Vec<(&Edge, (f64, f64))> = region
        .edges()
        .map(|edge| {
            let reach = corners(edge.bounds()).map(|at| at.to_vec2().dot(normal));
            let least = reach.into_iter().fold(f64::INFINITY, f64::min);
            (edge, (least, reach.into_iter().fold(f64::NEG_INFINITY, f64::max)))
        })
        .collect();
    let (least, most) =
        (middle.to_vec2().dot(normal) - reach, middle.to_vec2().dot(normal) + reach);
    let mut strokes = Vec::new();
    let mut step = (least / spacing).ceil();
    while step * spacing <= most {
        let foot = (step * spacing * normal).to_point();
        let foot = foot + (middle - foot).dot(along) * along;
        let line = Edge::line(foot - reach * along, foot + reach * along);
        let at = step * spacing;
        let met = edges.iter().filter(|(_, (low, high))| *low <= at + NEAR && at - NEAR <= *high);
        strokes.extend(clip(met.map(|(edge, _)| *edge), &inside, &line));
        step += 1.0;
    }
    strokes
}

/// An edge further than this from a line does not cross it, mm: far above rounding.
const NEAR: f64 = 1e-3;

/// The pieces of `line` inside a region of which `edges` are all that it may cross.
fn clip<'e>(edges: impl Iterator<Item = &'e Edge>, inside: &Inside, line: &Edge) -> Vec<Edge> {
    let from = line.start();
    let mut cuts: Vec<Point> = edges.flat_map(|edge| edge.crossings(line)).collect();
    cuts.sort_by(|a, b| (*a - from).hypot2().total_cmp(&(*b - from).hypot2()));
    // A line through a corner or along an edge meets the boundary without passing through it, so
    // each piece is asked for itself.
    cuts.windows(2)
        .filter_map(|pair| match pair {
            &[a, b] if (b - a).hypot() > COINCIDENT && inside.has(a.midpoint(b)) => {
                Some(Edge::line(a, b))
            }
            _ => None,
        })
        .collect()
}

/// A region made ready for many questions.
struct Inside {
    outline: BezPath,
    holes: Vec<BezPath>,
}

impl Inside {
    fn new(region: &Region) -> Inside {
        let holes = region.holes.iter().map(crate::geometry::Outline::to_path).collect();
        Inside { outline: region.outline.to_path(), holes }
    }

    fn has(&self, point: Point) -> bool {
        self.outline.winding(point) != 0 && self.holes.iter().all(|hole| hole.winding(point) == 0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Outline;
    use approx::assert_relative_eq;
    use kurbo::Rect;

    fn frame() -> Region {
        Region {
            outline: Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 60.0)).unwrap(),
            holes: vec![Outline::rectangle(Rect::new(20.0, 20.0, 80.0, 40.0)).unwrap()],
        }
    }

    // Lines a distance s apart have a total length of area / s, up to the ends of the region.
    #[test]
    fn length_of_the_lines_is_area_by_spacing() {
        let region = frame();
        let length: f64 = Hatch::Timber.strokes(&region).iter().map(Edge::length).sum();
        assert_relative_eq!(length, region.area() / 2.5, max_relative = 0.01);
    }

    #[test]
    fn no_line_crosses_a_hole() {
        let region = frame();
        let strokes = Hatch::Spacer.strokes(&region);
        assert!(strokes.len() > 100);
        for stroke in strokes {
            for step in 1..20 {
                assert!(region.contains(stroke.at(f64::from(step) / 20.0)));
            }
        }
    }

    #[test]
    fn a_vast_region_gets_a_bounded_number_of_lines() {
        let outline = Outline::rectangle(Rect::new(0.0, 0.0, 1e9, 1e9)).unwrap();
        assert!(Hatch::Timber.strokes(&Region::solid(outline)).len() < 4001);
    }
}
