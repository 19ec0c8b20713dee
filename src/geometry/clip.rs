//! What two regions share, what one leaves of the other, and both together.
//!
//! Promised: an answer whose areas add up, or an error. Boundaries may coincide, touch or be tangent.
//! Arcs stay arcs with their centres. Pieces thinner than [`THINNEST`] or smaller than [`SMALLEST`]
//! are left out. Not promised: anything about outlines that cross themselves; they are refused.

use super::overlay::{Loop, Overlay, Piece, Sorted, clear_point, loops};
use super::tolerance::{NODE, ROUNDING, SMALLEST, THINNEST};
use super::{Edge, Outline, OutlineError, Region};
use kurbo::Point;
use std::fmt;

/// Why two regions could not be combined.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ClipError {
    /// A boundary crosses or touches itself.
    CrossesItself,
    /// Boundaries run so close to each other here that the result does not close.
    Unclear(Point),
    /// Areas do not add up: so many mm² are unaccounted for.
    Unsound(f64),
    /// The edges found do not make an outline.
    Outline(OutlineError),
}

impl fmt::Display for ClipError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ClipError::CrossesItself => write!(f, "the outline crosses itself"),
            ClipError::Unclear(at) => {
                write!(f, "edges run too close to each other at ({:.3}, {:.3})", at.x, at.y)
            }
            ClipError::Unsound(area) => write!(f, "areas do not add up by {area:.4} mm²"),
            ClipError::Outline(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for ClipError {}

#[derive(Clone, Copy)]
enum Wanted {
    Intersection,
    Difference,
    Union,
}

impl Wanted {
    fn holds(self, [first, second]: [bool; 2]) -> bool {
        match self {
            Wanted::Intersection => first && second,
            Wanted::Difference => first && !second,
            Wanted::Union => first || second,
        }
    }
}

impl Region {
    /// What this region and `other` share.
    ///
    /// ```
    /// use fillister::geometry::Outline;
    /// let sheet = Outline::rectangle(kurbo::Rect::new(0.0, 0.0, 400.0, 600.0))?;
    /// let strip = Outline::rectangle(kurbo::Rect::new(350.0, -10.0, 450.0, 610.0))?;
    /// let both = sheet.intersection(&strip)?;
    /// assert_eq!(both.len(), 1);
    /// assert!((both[0].area() - 50.0 * 600.0).abs() < 1e-6);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// Where a boundary crosses itself, or the result would not be sound.
    pub fn intersection(&self, other: &Region) -> Result<Vec<Region>, ClipError> {
        Combined::new(self, other, true)?.regions(Wanted::Intersection)
    }

    /// What is left of this region without `other`.
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn difference(&self, other: &Region) -> Result<Vec<Region>, ClipError> {
        Combined::new(self, other, true)?.regions(Wanted::Difference)
    }

    /// What of this region lies in `other`, and what does not.
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn split(&self, other: &Region) -> Result<[Vec<Region>; 2], ClipError> {
        let combined = Combined::new(self, other, true)?;
        Ok([combined.regions(Wanted::Intersection)?, combined.regions(Wanted::Difference)?])
    }

    /// This region and `other` together.
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn union(&self, other: &Region) -> Result<Vec<Region>, ClipError> {
        Combined::new(self, other, false)?.regions(Wanted::Union)
    }

    fn crosses_itself(&self) -> bool {
        let loops = || std::iter::once(&self.outline).chain(&self.holes);
        loops().any(Outline::crosses_itself)
    }
}

impl Outline {
    /// What this outline and `other` share; see [`Region::intersection`].
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn intersection(&self, other: &Outline) -> Result<Vec<Region>, ClipError> {
        Region::solid(self.clone()).intersection(&Region::solid(other.clone()))
    }

    /// What is left of this outline without `other`; see [`Region::difference`].
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn difference(&self, other: &Outline) -> Result<Vec<Region>, ClipError> {
        Region::solid(self.clone()).difference(&Region::solid(other.clone()))
    }

    /// This outline and `other` together; see [`Region::union`].
    ///
    /// # Errors
    /// As [`Region::intersection`].
    pub fn union(&self, other: &Outline) -> Result<Vec<Region>, ClipError> {
        Region::solid(self.clone()).union(&Region::solid(other.clone()))
    }
}

/// Two regions laid on each other, found sound.
struct Combined {
    overlay: Overlay,
    /// By how much areas may differ, mm².
    slack: f64,
}

impl Combined {
    fn new(first: &Region, second: &Region, near_only: bool) -> Result<Combined, ClipError> {
        if first.crosses_itself() || second.crosses_itself() {
            return Err(ClipError::CrossesItself);
        }
        let overlay = Overlay::new(first, second, near_only);
        let [intersection, difference, union] =
            [Wanted::Intersection, Wanted::Difference, Wanted::Union]
                .map(|wanted| area(&chosen(&overlay.pieces, wanted)));
        let length: f64 = first.edges().chain(second.edges()).map(Edge::length).sum();
        // Each boundary may have moved to its nodes, and sums round off.
        let slack = 2.0 * NODE * length + ROUNDING * (first.area() + second.area());
        let unsound = [
            first.area() + overlay.second_area - intersection - union,
            first.area() - intersection - difference,
            (intersection - first.area().min(second.area())).max(0.0),
            (-intersection).max(0.0),
        ];
        match unsound.iter().find(|by| by.abs() > slack || by.is_nan()) {
            Some(&by) => Err(ClipError::Unsound(by)),
            None => Ok(Combined { overlay, slack }),
        }
    }

    fn regions(&self, wanted: Wanted) -> Result<Vec<Region>, ClipError> {
        let nodes = &self.overlay.nodes;
        let pieces = chosen(&self.overlay.pieces, wanted);
        let found = loops(&pieces, nodes.len())
            .map_err(|node| ClipError::Unclear(nodes.get(node).copied().unwrap_or_default()))?;
        let by = found.iter().map(Loop::area).sum::<f64>() - area(&pieces);
        if by.abs() > self.slack {
            return Err(ClipError::Unsound(by));
        }
        regions(found)
    }
}

/// The pieces that bound what is wanted, each turned so that it lies to the left.
fn chosen(pieces: &[Sorted], wanted: Wanted) -> Vec<Piece> {
    pieces
        .iter()
        .filter_map(|sorted| match (wanted.holds(sorted.left), wanted.holds(sorted.right)) {
            (true, false) => Some(sorted.piece),
            (false, true) => Some(sorted.piece.reversed()),
            _ => None,
        })
        .collect()
}

fn area(pieces: &[Piece]) -> f64 {
    pieces.iter().map(|piece| piece.edge.area_share()).sum()
}

/// Loops sorted into outlines and their holes; slivers left out.
fn regions(found: Vec<Loop>) -> Result<Vec<Region>, ClipError> {
    let (mut regions, mut holes) = (Vec::new(), Vec::new());
    for chain in found {
        let area = chain.area();
        if area.abs() < SMALLEST || chain.width() < THINNEST {
            continue;
        }
        let outline = chain.outline().map_err(ClipError::Outline)?;
        if area > 0.0 {
            regions.push(Region::solid(outline));
        } else {
            holes.push(outline);
        }
    }
    for hole in holes {
        let around = regions
            .iter_mut()
            .filter(|region| region.outline.contains(clear_point(&hole, &region.outline)))
            .min_by(|a, b| a.outline.area().total_cmp(&b.outline.area()));
        match around {
            Some(region) => region.holes.push(hole),
            None => return Err(ClipError::Unclear(hole.bounds().center())),
        }
    }
    Ok(regions)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Arc, Join};
    use approx::assert_relative_eq;
    use kurbo::Rect;

    fn rectangle(x0: f64, y0: f64, x1: f64, y1: f64) -> Outline {
        Outline::rectangle(Rect::new(x0, y0, x1, y1)).unwrap()
    }

    fn arched() -> Outline {
        let head = Arc::from_bulge(Point::new(800.0, 900.0), Point::new(0.0, 900.0), 0.25).unwrap();
        Outline::new(vec![
            Edge::line(Point::ZERO, Point::new(800.0, 0.0)),
            Edge::line(Point::new(800.0, 0.0), Point::new(800.0, 900.0)),
            Edge::Arc(head),
            Edge::line(Point::new(0.0, 900.0), Point::ZERO),
        ])
        .unwrap()
    }

    // Side by side along a whole edge: one rectangle of four edges, and nothing shared.
    #[test]
    fn neighbours_become_one() {
        let (a, b) = (rectangle(0.0, 0.0, 100.0, 50.0), rectangle(100.0, 0.0, 180.0, 50.0));
        let joined = a.union(&b).unwrap();
        assert_eq!(joined.len(), 1);
        assert_eq!(joined[0].outline.edges().len(), 4);
        assert_relative_eq!(joined[0].area(), 9000.0);
        assert_eq!(a.intersection(&b).unwrap(), []);
        assert_eq!(a.difference(&b).unwrap(), [Region::solid(a)]);
    }

    #[test]
    fn corners_that_touch_stay_two_regions() {
        let (a, b) = (rectangle(0.0, 0.0, 10.0, 10.0), rectangle(10.0, 10.0, 20.0, 20.0));
        let joined = a.union(&b).unwrap();
        assert_eq!(joined.len(), 2);
        assert!(joined.iter().all(|part| part.outline.edges().len() == 4));
    }

    #[test]
    fn an_outline_with_itself_is_itself() {
        for a in [arched(), rectangle(0.0, 0.0, 10.0, 20.0)] {
            for parts in [a.intersection(&a).unwrap(), a.union(&a).unwrap()] {
                assert_eq!(parts.len(), 1);
                assert_eq!(parts[0].outline.edges().len(), a.edges().len());
                assert_relative_eq!(parts[0].area(), a.area(), epsilon = 1e-6);
            }
            assert_eq!(a.difference(&a).unwrap(), []);
        }
    }

    // A frame of constant width, its head cut off at the springing: arcs keep their circle.
    #[test]
    fn a_band_across_an_arched_frame_keeps_its_arcs() {
        let inner = arched();
        let outer = inner.offset(50.0, Join::Sharp).unwrap();
        let frame = outer.difference(&inner).unwrap();
        assert_eq!((frame.len(), frame[0].holes.len()), (1, 1));
        assert_relative_eq!(frame[0].area(), outer.area() - inner.area(), epsilon = 1e-6);
        let band = Region::solid(rectangle(-100.0, 900.0, 900.0, 2000.0));
        let head = frame[0].intersection(&band).unwrap();
        assert_eq!(head.len(), 1);
        let mut radii: Vec<f64> = head[0]
            .edges()
            .filter_map(|edge| if let Edge::Arc(arc) = edge { Some(arc.radius) } else { None })
            .collect();
        radii.sort_by(f64::total_cmp);
        assert_eq!(radii, [850.0, 900.0]);
    }

    #[test]
    fn a_hole_may_appear_and_slivers_do_not() {
        let (a, b) = (rectangle(0.0, 0.0, 100.0, 100.0), rectangle(20.0, 20.0, 60.0, 60.0));
        let left = a.difference(&b).unwrap();
        assert_eq!((left.len(), left[0].holes.len()), (1, 1));
        assert_relative_eq!(left[0].area(), 8400.0, epsilon = 1e-9);
        let nearly = rectangle(0.0, 0.0, 100.0, 99.9995);
        assert_eq!(a.difference(&nearly).unwrap(), []);
    }

    #[test]
    fn an_outline_that_crosses_itself_is_refused() {
        let tie = [(0.0, 0.0), (40.0, 40.0), (40.0, 0.0), (0.0, 30.0)].map(Point::from);
        let tie = Outline::polygon(&tie).unwrap();
        let square = rectangle(0.0, 0.0, 4.0, 4.0);
        assert_eq!(square.intersection(&tie), Err(ClipError::CrossesItself));
        assert_eq!(tie.difference(&square), Err(ClipError::CrossesItself));
    }
}
