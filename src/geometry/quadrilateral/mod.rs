//! The most likely quadrilateral from measured lengths.
//!
//! Promised: of all quadrilaterals near a rectangle the one whose lengths differ least from the
//! measured ones, each difference divided by its tolerance and squared (least squares; Gauss-Newton
//! with damping); measures that are exact are met exactly, up to rounding. Not promised: where there
//! is one measure more than needed, that the wrong one of several is known: [`Adjusted::verdict`] then
//! gives all that can be it.
//!
//! Eight coordinates have three freedoms that no length can see (two of place, one of turning). They
//! are fixed by putting the lower left corner at zero and the lower edge along +X; five unknowns are
//! left.

mod adjust;
mod stretch;
mod suspects;

pub use adjust::{AdjustError, Adjusted, Residual, adjust};
pub use suspects::{Suspect, Verdict};

use super::{Edge, OutlineError, PerSide, Side, Sided};
use kurbo::{Point, Vec2};

/// Where a length was measured. A *share* goes along an edge from 0 to 1: from its lower end on
/// the left and the right edge, from its left end on the lower and the upper edge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Span {
    /// From the left edge to the right edge, at the same share of both: 0 is the lower edge itself,
    /// corner to corner, 1 the upper edge, ½ runs from middle to middle.
    Across(f64),
    /// From the lower edge to the upper edge, at the same share of both: 0 is the left edge itself.
    Up(f64),
    /// The diagonal from the lower left corner.
    FromLowerLeft,
    /// The diagonal from the lower right corner.
    FromLowerRight,
}

impl Span {
    /// The span's vector is the sum of the corners, each times its weight: lower left, lower right,
    /// upper right, upper left.
    fn weights(self) -> [f64; 4] {
        match self {
            Span::Across(t) => [t - 1.0, 1.0 - t, t, -t],
            Span::Up(t) => [t - 1.0, -t, t, 1.0 - t],
            Span::FromLowerLeft => [-1.0, 0.0, 1.0, 0.0],
            Span::FromLowerRight => [0.0, -1.0, 0.0, 1.0],
        }
    }
}

/// A measured length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measured {
    /// Where it was measured.
    pub span: Span,
    /// The length, mm.
    pub length: f64,
    /// How far it may be off either way, mm, positive.
    pub tolerance: f64,
}

/// Four corners, anticlockwise from the lower left.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quadrilateral {
    /// Lower left, lower right, upper right, upper left.
    pub corners: [Point; 4],
}

impl Quadrilateral {
    /// The length of `span`, mm.
    pub fn length(&self, span: Span) -> f64 {
        self.vector(span).hypot()
    }

    fn vector(&self, span: Span) -> Vec2 {
        self.corners.iter().zip(span.weights()).map(|(corner, by)| by * corner.to_vec2()).sum()
    }

    /// How far the corner furthest from a right angle is from it, radians.
    pub fn out_of_square(&self) -> f64 {
        let cosine = |[before, at, after]: [Point; 3]| {
            let (a, b) = (before - at, after - at);
            let lengths = a.hypot() * b.hypot();
            if lengths > 0.0 { (a.dot(b) / lengths).abs().min(1.0) } else { 1.0 }
        };
        let [a, b, c, d] = self.corners;
        [[d, a, b], [a, b, c], [b, c, d], [c, d, a]]
            .into_iter()
            .map(cosine)
            .fold(0.0, f64::max)
            .asin()
    }

    /// Whether it turns to the left at every corner.
    pub fn is_convex(&self) -> bool {
        let [a, b, c, d] = self.corners;
        let left = |[p, q, r]: [Point; 3]| (q - p).cross(r - q) > 0.0;
        [[a, b, c], [b, c, d], [c, d, a], [d, a, b]].into_iter().all(left)
    }

    /// The outline with each edge bowed outwards by its side's `bow` in the middle, mm (inwards where
    /// negative): the arc through both corners and that middle, or a straight edge where it is zero.
    /// The lower left corner of its bounds is moved to zero.
    ///
    /// A chord c with rise s has the bulge 2s/c (DXF reference: tangent of a quarter of the angle).
    ///
    /// # Errors
    /// As [`Sided::new`].
    pub fn bowed(&self, bow: &PerSide<f64>) -> Result<Sided, OutlineError> {
        let edges = self.edges(bow, Vec2::ZERO);
        let low = edges.iter().map(|(edge, _)| edge.bounds()).reduce(|a, b| a.union(b));
        let shift = low.map_or(Vec2::ZERO, |low| -low.origin().to_vec2());
        Sided::new(self.edges(bow, shift))
    }

    fn edges(&self, bow: &PerSide<f64>, shift: Vec2) -> Vec<(Edge, Side)> {
        let [a, b, c, d] = self.corners.map(|corner| corner + shift);
        let edge = |(from, to, side): (Point, Point, Side)| {
            let bulge = 2.0 * bow.get(side) / (to - from).hypot();
            (Edge::bulged(from, to, bulge), side)
        };
        let sides =
            [(a, b, Side::Bottom), (b, c, Side::Right), (c, d, Side::Top), (d, a, Side::Left)];
        sides.into_iter().map(edge).collect()
    }
}

#[cfg(test)]
mod tests;
