//! Area, centroid and second moments of plane sections, by Green's theorem on straight-edged rings.

use kurbo::Point;
use schemars::JsonSchema;
use serde::Serialize;
use std::ops::AddAssign;

/// Integrals over a section about the origin of its coordinates; those of pieces add up.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Moments {
    /// Area ∫dA, mm².
    pub area: f64,
    /// ∫x dA, mm³.
    pub x: f64,
    /// ∫y dA, mm³.
    pub y: f64,
    /// ∫x² dA, mm⁴.
    pub xx: f64,
    /// ∫y² dA, mm⁴.
    pub yy: f64,
    /// ∫xy dA, mm⁴.
    pub xy: f64,
}

impl Moments {
    /// Moments of the area within a closed ring of straight edges, its last point joined to its
    /// first. Either winding gives a positive area; stretches run there and back add nothing.
    ///
    /// Green's theorem, edge by edge with c = x₀y₁ − x₁y₀: A = ½Σc, ∫x = ⅙Σ(x₀+x₁)c,
    /// ∫x² = ¹⁄₁₂Σ(x₀²+x₀x₁+x₁²)c, ∫xy = ¹⁄₂₄Σ(x₀y₁+2x₀y₀+2x₁y₁+x₁y₀)c.
    pub fn of_ring(ring: &[Point]) -> Moments {
        let mut sum = Moments::default();
        let ends = ring.iter().skip(1).chain(ring.first());
        for (p, q) in ring.iter().zip(ends) {
            let c = p.x * q.y - q.x * p.y;
            sum.area += c / 2.0;
            sum.x += (p.x + q.x) * c / 6.0;
            sum.y += (p.y + q.y) * c / 6.0;
            sum.xx += (p.x * p.x + p.x * q.x + q.x * q.x) * c / 12.0;
            sum.yy += (p.y * p.y + p.y * q.y + q.y * q.y) * c / 12.0;
            let mixed = p.x * q.y + 2.0 * p.x * p.y + 2.0 * q.x * q.y + q.x * p.y;
            sum.xy += mixed * c / 24.0;
        }
        if sum.area < 0.0 { sum.reversed() } else { sum }
    }

    fn reversed(self) -> Moments {
        Moments {
            area: -self.area,
            x: -self.x,
            y: -self.y,
            xx: -self.xx,
            yy: -self.yy,
            xy: -self.xy,
        }
    }

    /// The section about its own centroid; all zero where there is no area.
    pub fn section(&self) -> Section {
        if self.area <= 0.0 {
            return Section::default();
        }
        let (x, y) = (self.x / self.area, self.y / self.area);
        Section {
            area: self.area,
            x,
            y,
            // Steiner: what is left of the moment about the origin. Rounding must not make it negative.
            ix: (self.yy - self.area * y * y).max(0.0),
            iy: (self.xx - self.area * x * x).max(0.0),
            ixy: self.xy - self.area * x * y,
        }
    }
}

impl AddAssign for Moments {
    fn add_assign(&mut self, other: Moments) {
        self.area += other.area;
        self.x += other.x;
        self.y += other.y;
        self.xx += other.xx;
        self.yy += other.yy;
        self.xy += other.xy;
    }
}

/// A plane section about its own centroid.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, JsonSchema)]
pub struct Section {
    /// Area, mm².
    pub area: f64,
    /// Centroid, mm from the sight edge into the wood.
    pub x: f64,
    /// Centroid, mm above the room face.
    pub y: f64,
    /// Second moment about the axis along X, ∫(y − ȳ)² dA, mm⁴: bending out of the plane of the glass.
    pub ix: f64,
    /// Second moment about the axis along Y, mm⁴: bending within the plane of the glass.
    pub iy: f64,
    /// Product moment, mm⁴.
    pub ixy: f64,
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    /// A 45 by 45 mm square less a corner.
    fn less_corner(width: f64, depth: f64) -> Section {
        let (s, t) = (45.0 - width, 45.0 - depth);
        let ring = [(0.0, 0.0), (45.0, 0.0), (45.0, t), (s, t), (s, 45.0), (0.0, 45.0)];
        Moments::of_ring(&ring.map(Point::from)).section()
    }

    // Rectangle less a corner rebate (closed form, parallel axes).
    #[test]
    fn rebated_squares_have_their_closed_form_moments() {
        let deep = less_corner(15.0, 25.0);
        assert_relative_eq!(deep.area, 1650.0, epsilon = 1e-9);
        assert_relative_eq!(deep.x, 19.0909, epsilon = 1e-4);
        assert_relative_eq!(deep.y, 20.2273, epsilon = 1e-4);
        assert_relative_eq!(deep.ix, 276_164.773, epsilon = 1e-3);
        assert_relative_eq!(deep.iy, 231_136.364, epsilon = 1e-3);
        assert_relative_eq!(deep.ixy, -69_034.091, epsilon = 1e-3);

        let small = less_corner(10.0, 12.0);
        assert_relative_eq!(small.area, 1905.0, epsilon = 1e-9);
        assert_relative_eq!(small.x, 21.398, epsilon = 1e-3);
        assert_relative_eq!(small.y, 21.461, epsilon = 1e-3);
        assert_relative_eq!(small.ix, 305_550.797, epsilon = 1e-3);
        assert_relative_eq!(small.iy, 301_653.789, epsilon = 1e-3);
    }

    #[test]
    fn winding_and_spurs_do_not_matter_and_pieces_add_up() {
        let ring = [(2.0, 1.0), (8.0, 1.0), (8.0, 5.0), (2.0, 5.0)].map(Point::from);
        let mut back = ring;
        back.reverse();
        let (there, back) = (Moments::of_ring(&ring), Moments::of_ring(&back));
        assert_relative_eq!(there.area, back.area, epsilon = 1e-9);
        assert_relative_eq!(there.x, back.x, epsilon = 1e-9);
        assert_relative_eq!(there.xy, back.xy, epsilon = 1e-9);
        let spur = [(2.0, 1.0), (8.0, 1.0), (8.0, 9.0), (8.0, 5.0), (2.0, 5.0)].map(Point::from);
        assert_relative_eq!(Moments::of_ring(&spur).xx, Moments::of_ring(&ring).xx);
        let left = [(2.0, 1.0), (4.0, 1.0), (4.0, 5.0), (2.0, 5.0)].map(Point::from);
        let right = [(4.0, 1.0), (8.0, 1.0), (8.0, 5.0), (4.0, 5.0)].map(Point::from);
        let mut sum = Moments::of_ring(&left);
        sum += Moments::of_ring(&right);
        assert_relative_eq!(sum.section().ix, Moments::of_ring(&ring).section().ix, epsilon = 1e-9);
        assert_relative_eq!(sum.section().ix, 6.0 * 4.0_f64.powi(3) / 12.0, epsilon = 1e-9);
    }

    #[test]
    fn nothing_has_no_section() {
        assert_eq!(Moments::of_ring(&[]).section(), Section::default());
        let flat = [(0.0, 0.0), (4.0, 0.0)].map(Point::from);
        assert_eq!(Moments::of_ring(&flat).section(), Section::default());
    }
}
