//! A gently warped surface from heights at a few points.
//!
//! Promised: z = a + bx + cy + dxy, level where one point is known, tilted along two, a plane through
//! three, with twist through four, and nearest to more (least squares). What the points do not tell
//! stays level: two points say nothing of a tilt across them. Not promised: a cup. Where the middle
//! stands off, the residuals show it.

use super::Edge;
use super::least_squares::Orthogonal;
use kurbo::{Point, Rect, Vec2};

/// A warped surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Surface {
    /// Where the values below hold.
    centre: Point,
    level: f64,
    tilt: Vec2,
    /// Height gained for each mm in X and mm in Y together, 1/mm.
    twist: f64,
}

/// A surface and how far each point lies from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Fitted {
    /// The surface.
    pub surface: Surface,
    /// Measured height less the surface's, mm, for each point.
    pub residuals: Vec<f64>,
}

impl Surface {
    /// The surface that lies level at zero.
    pub const FLAT: Surface =
        Surface { centre: Point::ZERO, level: 0.0, tilt: Vec2::ZERO, twist: 0.0 };

    /// The surface nearest to `points`, each with its height, mm; none without a point, or where a
    /// value is not finite.
    pub fn fit(points: &[(Point, f64)]) -> Option<Fitted> {
        let finite = points.iter().all(|(at, z)| at.is_finite() && z.is_finite());
        if points.is_empty() || !finite {
            return None;
        }
        let count = points.len() as f64;
        let centre = (points.iter().map(|(at, _)| at.to_vec2()).sum::<Vec2>() / count).to_point();
        let from = |at: Point| at - centre;
        let along = main_direction(points.iter().map(|(at, _)| from(*at)));
        let across = Vec2::new(-along.y, along.x);
        // The main direction first, so that points in a row tilt the surface along the row alone.
        let column = |value: &dyn Fn(Vec2) -> f64| -> Vec<f64> {
            points.iter().map(|(at, _)| value(from(*at))).collect()
        };
        let columns = [
            column(&|_| 1.0),
            column(&|at| at.dot(along)),
            column(&|at| at.dot(across)),
            column(&|at| at.x * at.y),
        ];
        let heights: Vec<f64> = points.iter().map(|(_, z)| *z).collect();
        let found = Orthogonal::new(&columns).solve(&heights);
        let [level, by_along, by_across, twist] = *found.as_slice() else { return None };
        let surface = Surface { centre, level, tilt: by_along * along + by_across * across, twist };
        let residuals = points.iter().map(|(at, z)| z - surface.height(*at)).collect();
        Some(Fitted { surface, residuals })
    }

    /// Height at a place, mm.
    pub fn height(&self, at: Point) -> f64 {
        let from = at - self.centre;
        self.level + self.tilt.dot(from) + self.twist * from.x * from.y
    }

    /// How steeply it rises along X and along Y there, mm a mm.
    pub fn slope(&self, at: Point) -> Vec2 {
        let from = at - self.centre;
        self.tilt + self.twist * Vec2::new(from.y, from.x)
    }

    /// Least and greatest height over an upright rectangle, mm. Along each side the height runs
    /// straight, so both are at corners.
    pub fn range(&self, over: Rect) -> (f64, f64) {
        let corners =
            [(over.x0, over.y0), (over.x1, over.y0), (over.x0, over.y1), (over.x1, over.y1)];
        let heights = corners.map(|at| self.height(at.into()));
        heights
            .into_iter()
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), z| (a.min(z), b.max(z)))
    }

    /// Furthest that the surface departs from the straight line between two points of it, mm: along
    /// the way the twist alone bends it, by twist·Δx·Δy·t(1 − t), so most in the middle.
    pub fn departure(&self, from: Point, to: Point) -> f64 {
        let across = to - from;
        (self.twist * across.x * across.y).abs() / 4.0
    }

    /// How many equal parts of an edge keep the surface over each within `within` mm of a height that
    /// changes evenly along it, and how far it departs at most, mm. Between ends a height departs by at
    /// most f″/8 (the bound of linear interpolation): along a line exactly [`Surface::departure`]; along
    /// an arc f″ is at most slope at the centre × radius + 2 × twist × radius², times the sweep squared.
    pub fn even_parts(&self, along: &Edge, within: f64) -> (f64, f64) {
        let whole = match along {
            Edge::Line(line) => self.departure(line.p0, line.p1),
            Edge::Arc(arc) => {
                let slope = self.slope(arc.centre).hypot();
                let bend = slope * arc.radius + 2.0 * self.twist.abs() * arc.radius.powi(2);
                bend * arc.sweep.powi(2) / 8.0
            }
        };
        let count = (whole / within.max(f64::MIN_POSITIVE)).sqrt().ceil().max(1.0);
        (count, whole / (count * count))
    }

    /// Steepest slope over an upright rectangle, mm a mm; slopes change evenly, so it is at a corner.
    pub fn steepest(&self, over: Rect) -> f64 {
        let corners =
            [(over.x0, over.y0), (over.x1, over.y0), (over.x0, over.y1), (over.x1, over.y1)];
        corners.into_iter().map(|at| self.slope(at.into()).hypot()).fold(0.0, f64::max)
    }

    /// How far below or above the surface the rim of a flat cutter may stand that follows it with its
    /// axis upright, mm: slope × radius, and what the twist adds along a diagonal.
    pub fn rim(&self, over: Rect, radius: f64) -> f64 {
        self.steepest(over) * radius + self.twist.abs() * radius * radius / 2.0
    }
}

/// The direction in which the points spread most; X where they spread evenly or not at all.
fn main_direction(points: impl Iterator<Item = Vec2>) -> Vec2 {
    let sums = points.fold((0.0, 0.0), |(even, mixed), at| {
        (even + at.x * at.x - at.y * at.y, mixed + 2.0 * at.x * at.y)
    });
    let (even, mixed) = sums;
    Vec2::from_angle(f64::atan2(mixed, even) / 2.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn fit(points: &[(f64, f64, f64)]) -> Fitted {
        let points: Vec<(Point, f64)> =
            points.iter().map(|&(x, y, z)| (Point::new(x, y), z)).collect();
        Surface::fit(&points).unwrap()
    }

    #[test]
    fn what_is_not_told_stays_level() {
        assert_eq!(fit(&[(100.0, 200.0, 1.5)]).surface.height(Point::ZERO), 1.5);
        // Two points on a diagonal: level across it.
        let two = fit(&[(0.0, 0.0, 0.0), (300.0, 400.0, 5.0)]).surface;
        assert_relative_eq!(two.height(Point::new(150.0, 200.0)), 2.5, epsilon = 1e-12);
        let aside = Point::new(150.0 - 80.0, 200.0 + 60.0);
        assert_relative_eq!(two.height(aside), 2.5, epsilon = 1e-9);
        // Three in a row, four in a row: the same, with residuals.
        let row = fit(&[(0.0, 0.0, 0.0), (100.0, 0.0, 0.0), (200.0, 0.0, 3.0)]);
        assert_relative_eq!(row.surface.slope(Point::ZERO).y, 0.0, epsilon = 1e-12);
        assert_relative_eq!(row.residuals[1], -1.0, epsilon = 1e-9);
        assert_eq!(Surface::fit(&[]), None);
        assert_eq!(Surface::fit(&[(Point::new(f64::NAN, 0.0), 1.0)]), None);
    }

    // Closed form: one corner of a rectangle lifted by h lifts the middle by h/4, which is h/4 from
    // the chord over the lifted corner and h/4 from the one beside it.
    #[test]
    fn a_lifted_corner_twists_the_rectangle() {
        let all = [(0.0, 0.0, 0.0), (800.0, 0.0, 0.0), (800.0, 900.0, 4.0), (0.0, 900.0, 0.0)];
        let Fitted { surface, residuals } = fit(&all);
        assert!(residuals.iter().all(|residual| residual.abs() < 1e-9));
        let middle = Point::new(400.0, 450.0);
        assert_relative_eq!(surface.height(middle), 1.0, epsilon = 1e-9);
        let chord = surface.departure(Point::ZERO, Point::new(800.0, 900.0));
        assert_relative_eq!(chord, 2.0 - 1.0, epsilon = 1e-9);
        assert_eq!(surface.departure(Point::ZERO, Point::new(800.0, 0.0)), 0.0);
        let (least, most) = surface.range(Rect::new(0.0, 0.0, 800.0, 900.0));
        assert!(least.abs() < 1e-9 && (most - 4.0).abs() < 1e-9);
    }

    #[test]
    fn a_cup_shows_in_the_residuals() {
        let all = [
            (0.0, 0.0, 0.0),
            (800.0, 0.0, 0.0),
            (800.0, 900.0, 0.0),
            (0.0, 900.0, 0.0),
            (400.0, 450.0, 5.0),
        ];
        let fitted = fit(&all);
        assert_relative_eq!(fitted.surface.height(Point::new(400.0, 450.0)), 1.0, epsilon = 1e-9);
        assert_relative_eq!(fitted.residuals[4], 4.0, epsilon = 1e-9);
    }

    proptest! {
        // Any such surface comes back from points scattered over a sash, and no chord of it is
        // further off than the bound.
        #[test]
        fn a_surface_comes_back_from_its_points(
            [a, b, c, d] in prop::array::uniform4(-1.0..1.0_f64),
            scattered in prop::collection::vec((0.0..900.0, 0.0..1100.0), 8..20),
            share in 0.0..1.0_f64,
        ) {
            let height = |at: Point| {
                a + 0.01 * b * at.x + 0.01 * c * at.y + 1e-5 * d * at.x * at.y
            };
            let points: Vec<(Point, f64)> =
                scattered.iter().map(|&at| (Point::from(at), height(at.into()))).collect();
            let Fitted { surface, .. } = Surface::fit(&points).unwrap();
            let (from, to) = (points[0].0, points[1].0);
            let at = from.lerp(to, share);
            prop_assert!((surface.height(at) - height(at)).abs() < 1e-6);
            let chord = (1.0 - share) * height(from) + share * height(to);
            prop_assert!((height(at) - chord).abs() <= surface.departure(from, to) + 1e-6);
        }
    }
}
