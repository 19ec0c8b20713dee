//! A gently warped surface from heights at a few points.
//!
//! Promised: z = a + bx + cy + dxy + ex² + fy², level where one point is known, tilted along two, a plane
//! through three, with twist through four, and nearest to more (least squares). A cup along X or Y comes
//! from six points on, where they tell it apart from all else. What the points do not tell stays level:
//! two points say nothing of a tilt across them, and the middle alone not which way the cup runs. Where
//! a point stands off, the residuals show it.

use super::least_squares::{Orthogonal, dot};
use super::tolerance::OWN_SHARE;
use super::{Edge, corners};
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
    /// Height gained for each mm in X squared, and in Y, 1/mm.
    cup: Vec2,
}

/// Fewest points that may tell a cup: fewer leave nothing that checks it.
const CUP_POINTS: usize = 6;
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
        Surface { centre: Point::ZERO, level: 0.0, tilt: Vec2::ZERO, twist: 0.0, cup: Vec2::ZERO };

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
        let mut columns = vec![
            column(&|_| 1.0),
            column(&|at| at.dot(along)),
            column(&|at| at.dot(across)),
            column(&|at| at.x * at.y),
        ];
        let told = cups(&columns, [column(&|at| at.x * at.x), column(&|at| at.y * at.y)]);
        let which: Vec<Vec2> = told.iter().map(|(axis, _)| *axis).collect();
        columns.extend(told.into_iter().map(|(_, column)| column));
        let heights: Vec<f64> = points.iter().map(|(_, z)| *z).collect();
        let found = Orthogonal::new(&columns).solve(&heights);
        let [level, by_along, by_across, twist, cups @ ..] = found.as_slice() else { return None };
        let cup = which.iter().zip(cups).map(|(axis, cup)| *cup * *axis).sum();
        let tilt = *by_along * along + *by_across * across;
        let surface = Surface { centre, level: *level, tilt, twist: *twist, cup };
        let residuals = points.iter().map(|(at, z)| z - surface.height(*at)).collect();
        Some(Fitted { surface, residuals })
    }

    /// Height at a place, mm.
    pub fn height(&self, at: Point) -> f64 {
        let from = at - self.centre;
        self.level + self.tilt.dot(from) + self.bend(from) / 2.0
    }

    /// How steeply it rises along X and along Y there, mm a mm.
    pub fn slope(&self, at: Point) -> Vec2 {
        let from = at - self.centre;
        let cup = 2.0 * Vec2::new(self.cup.x * from.x, self.cup.y * from.y);
        self.tilt + self.twist * Vec2::new(from.y, from.x) + cup
    }

    /// By how much the slope along `way` changes over it, times its length, mm: the same everywhere.
    fn bend(&self, way: Vec2) -> f64 {
        let Vec2 { x, y } = way;
        2.0 * (self.cup.x * x * x + self.twist * x * y + self.cup.y * y * y)
    }

    /// No less than the greatest change of slope, 1/mm.
    fn most_bend(&self) -> f64 {
        2.0 * self.cup.x.abs().max(self.cup.y.abs()) + self.twist.abs()
    }

    /// Least and greatest height over an upright rectangle, mm: at a corner, at the vertex of the parabola
    /// along a side, or where the slope is nought within.
    pub fn range(&self, over: Rect) -> (f64, f64) {
        let Rect { x0, y0, x1, y1 } = over;
        let mut places = corners(over).to_vec();
        for y in [y0, y1] {
            let slope = self.slope(Point::new(self.centre.x, y)).x;
            places.push(Point::new(self.centre.x - slope / (2.0 * self.cup.x), y));
        }
        for x in [x0, x1] {
            let slope = self.slope(Point::new(x, self.centre.y)).y;
            places.push(Point::new(x, self.centre.y - slope / (2.0 * self.cup.y)));
        }
        // Cramer's rule on slope = 0.
        let (xx, yy, xy) = (2.0 * self.cup.x, 2.0 * self.cup.y, self.twist);
        let flat =
            Vec2::new(xy * self.tilt.y - yy * self.tilt.x, xy * self.tilt.x - xx * self.tilt.y);
        places.push(self.centre + flat / (xx * yy - xy * xy));
        // Places that do not exist are not finite, and in no rectangle.
        let within = |at: &Point| (x0..=x1).contains(&at.x) && (y0..=y1).contains(&at.y);
        let heights = places.into_iter().filter(within).map(|at| self.height(at));
        heights.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), z| (a.min(z), b.max(z)))
    }

    /// Furthest that the surface departs from the straight line between two points of it, mm: along
    /// the way it is a parabola, so most in the middle.
    pub fn departure(&self, from: Point, to: Point) -> f64 {
        self.bend(to - from).abs() / 8.0
    }

    /// No less than how far a rectangle of the surface lies from the plane that suits it best, mm: its twist stands off by ±d·w·h/4 at the corners, its cups by ±e·w²/8 and ±f·h²/8 (closed forms).
    pub fn off_plane(&self, over: Rect) -> f64 {
        let (w, h) = (over.width(), over.height());
        let cups = self.cup.x.abs() * w * w + self.cup.y.abs() * h * h;
        (self.twist * w * h).abs() / 4.0 + cups / 8.0
    }

    /// How many equal parts of an edge keep the surface over each within `within` mm of a height that
    /// changes evenly along it, and how far it departs at most, mm. Between ends a height departs by at
    /// most f″/8 (the bound of linear interpolation): along a line exactly [`Surface::departure`]; along
    /// an arc f″ is at most slope at the centre × radius + 2 × change of slope × radius², times the sweep
    /// squared.
    pub fn even_parts(&self, along: &Edge, within: f64) -> (f64, f64) {
        let whole = match along {
            Edge::Line(line) => self.departure(line.p0, line.p1),
            Edge::Arc(arc) => {
                let slope = self.slope(arc.centre).hypot();
                let bend = slope * arc.radius + 2.0 * self.most_bend() * arc.radius.powi(2);
                bend * arc.sweep.powi(2) / 8.0
            }
        };
        let count = (whole / within.max(f64::MIN_POSITIVE)).sqrt().ceil().max(1.0);
        (count, whole / (count * count))
    }

    /// Steepest slope over an upright rectangle, mm a mm; slopes change evenly, so it is at a corner.
    pub fn steepest(&self, over: Rect) -> f64 {
        corners(over).into_iter().map(|at| self.slope(at).hypot()).fold(0.0, f64::max)
    }

    /// How far below or above the surface the rim of a flat cutter may stand that follows it with its
    /// axis upright, mm: slope × radius, and what the change of slope adds.
    pub fn rim(&self, over: Rect, radius: f64) -> f64 {
        self.steepest(over) * radius + self.most_bend() * radius * radius / 2.0
    }
}

/// The columns of the cups along X and Y that the points tell apart from the others, and from each other.
fn cups(others: &[Vec<f64>], [x, y]: [Vec<f64>; 2]) -> Vec<(Vec2, Vec<f64>)> {
    if x.len() < CUP_POINTS {
        return Vec::new();
    }
    let told = |columns: &[Vec<f64>], column: &[f64]| {
        let own = Orthogonal::new(columns).remainder(column);
        dot(&own, &own) > OWN_SHARE * OWN_SHARE * dot(column, column)
    };
    let (unit_x, unit_y) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
    match (told(others, &x), told(others, &y)) {
        (true, true) => {
            let with_x: Vec<_> = others.iter().cloned().chain([x.clone()]).collect();
            if told(&with_x, &y) { vec![(unit_x, x), (unit_y, y)] } else { Vec::new() }
        }
        (true, false) => vec![(unit_x, x)],
        (false, true) => vec![(unit_y, y)],
        (false, false) => Vec::new(),
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
    use crate::geometry::Arc;
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

    // Closed form: stiles 900 mm long that stand 1 mm proud in their middle and rails that do not. Along a
    // stile the face is a parabola, 1 mm off its chord; its best plane halves that.
    #[test]
    fn heights_along_the_stiles_tell_their_cup() {
        let corner = [(0.0, 0.0, 0.0), (800.0, 0.0, 0.0), (800.0, 900.0, 0.0), (0.0, 900.0, 0.0)];
        let stiles = [(0.0, 450.0, 1.0), (800.0, 450.0, 1.0)];
        let rails = [(400.0, 0.0, 0.0), (400.0, 900.0, 0.0)];
        for points in [[&corner[..], &stiles].concat(), [&corner[..], &stiles, &rails].concat()] {
            let Fitted { surface, residuals } = fit(&points);
            assert!(residuals.iter().all(|residual| residual.abs() < 1e-9), "{residuals:?}");
            let all = Rect::new(0.0, 0.0, 800.0, 900.0);
            let (low, high) = surface.range(all);
            assert!(low.abs() < 1e-9 && (high - 1.0).abs() < 1e-9);
            let chord = surface.departure(Point::ZERO, Point::new(0.0, 900.0));
            assert_relative_eq!(chord, 1.0, epsilon = 1e-9);
            assert_relative_eq!(surface.off_plane(all), 0.5, epsilon = 1e-9);
            assert_relative_eq!(surface.steepest(all), 4.0 / 900.0, epsilon = 1e-9);
        }
        // Points 1 mm apart along X say nothing of a cup along it.
        let close = [(0.0, 450.0, 0.0), (1.0, 450.0, 0.3)];
        let Fitted { surface, .. } = fit(&[&corner[..2], &corner[2..], &close].concat());
        assert!(surface.steepest(Rect::new(0.0, 0.0, 800.0, 900.0)) < 0.01);
    }

    proptest! {
        // Any such surface comes back from points scattered over a sash, one in each of sixteen fields so
        // that they tell every term, and no chord of it is further off than the bound.
        #[test]
        fn a_surface_comes_back_from_its_points(
            [a, b, c, d, e, f] in prop::array::uniform6(-1.0..1.0_f64),
            scattered in prop::collection::vec((0.1..0.9_f64, 0.1..0.9_f64), 16),
            share in 0.0..1.0_f64,
            sweep in -6.0..6.0_f64,
        ) {
            let height = |at: Point| {
                let cups = 1e-5 * e * at.x * at.x + 1e-5 * f * at.y * at.y;
                a + 0.01 * b * at.x + 0.01 * c * at.y + 1e-5 * d * at.x * at.y + cups
            };
            let fields = (0..16_u32).map(|n| Vec2::new(f64::from(n % 4), f64::from(n / 4)));
            let points: Vec<(Point, f64)> = fields
                .zip(&scattered)
                .map(|(field, &(x, y))| field + Vec2::new(x, y))
                .map(|at| Point::new(225.0 * at.x, 275.0 * at.y))
                .map(|at| (at, height(at)))
                .collect();
            let Fitted { surface, .. } = Surface::fit(&points).unwrap();
            let (from, to) = (points[0].0, points[1].0);
            let at = from.lerp(to, share);
            prop_assert!((surface.height(at) - height(at)).abs() < 1e-6);
            let chord = (1.0 - share) * height(from) + share * height(to);
            prop_assert!((height(at) - chord).abs() <= surface.departure(from, to) + 1e-6);
            let around = Rect::from_points(from, to);
            let (low, high) = surface.range(around);
            prop_assert!((low - 1e-6..=high + 1e-6).contains(&height(at)));
            // Along an arc, its parts are even within what is said.
            let arc = Edge::Arc(Arc { centre: from, radius: 200.0, start: share, sweep });
            let (count, off) = surface.even_parts(&arc, 0.01);
            let part = arc.part(0.0, 1.0 / count);
            let [start, middle, end] = [0.0, 0.5, 1.0].map(|t| height(part.at(t)));
            prop_assert!(off <= 0.01 && (middle - f64::midpoint(start, end)).abs() <= off + 1e-6);
            // A disc that touches the face with its middle stands off by no more at its rim.
            let rim = surface.rim(Rect::from_center_size(from, (0.0, 0.0)), 50.0);
            let beside = from + 50.0 * Vec2::from_angle(sweep);
            prop_assert!((height(beside) - height(from)).abs() <= rim + 1e-6);
            // No more than it can be flattened off.
            let plane = |at: Point| height(around.center()) + surface.slope(around.center()).dot(at - around.center());
            let all = corners(around).into_iter().chain([around.center(), at]).map(|at| height(at) - plane(at));
            let (least, most) = all.fold((0.0_f64, 0.0_f64), |(a, b), z| (a.min(z), b.max(z)));
            prop_assert!((most - least) / 2.0 <= surface.off_plane(around) + 1e-6);
        }
    }
}
