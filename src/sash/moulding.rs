//! The moulding on a room-side arris, as a curve that can be measured.

use crate::geometry::COINCIDENT;
use crate::survey::Moulding;
use kurbo::{Arc, BezPath, Line, ParamCurve, Point, Shape};
use std::f64::consts::{FRAC_PI_2, PI};

/// How closely Béziers follow the ellipses of a moulding, mm.
const CURVE: f64 = 1e-6;

/// The room-side surface of a member from its sight edge inwards.
///
/// X is the distance from the sight edge into the member, Y the height above the room face: the wood
/// lies above the curve. The curve begins at the sight edge and ends on the room face.
#[derive(Debug, Clone, PartialEq)]
pub struct Profile {
    path: BezPath,
}

/// Wood between a floor cut from the glazing face and a moulding of that height, mm: what is left where the
/// moulding is highest. Not positive where the floor breaks into the moulding.
pub fn wood_under(floor: f64, thickness: f64, moulding: f64) -> f64 {
    thickness - floor - moulding
}

impl Profile {
    /// The curve of a moulding as surveyed.
    pub fn new(moulding: &Moulding) -> Profile {
        let mut path = BezPath::new();
        match moulding {
            Moulding::Square => path.move_to(Point::ZERO),
            Moulding::Chamfer { width, depth } => {
                path.move_to((0.0, *depth));
                path.line_to((*width, 0.0));
            }
            Moulding::Ovolo { width, depth } => {
                path.move_to((0.0, *depth));
                quarter(&mut path, Point::new(*width, *depth), (*width, *depth), PI, FRAC_PI_2);
            }
            Moulding::Ogee { width, depth } => {
                let half = (width / 2.0, depth / 2.0);
                path.move_to((0.0, *depth));
                quarter(&mut path, Point::new(0.0, half.1), half, FRAC_PI_2, -FRAC_PI_2);
                quarter(&mut path, Point::new(*width, half.1), half, PI, FRAC_PI_2);
            }
            Moulding::Traced(points) => {
                for (index, point) in points.iter().enumerate() {
                    if index == 0 { path.move_to(*point) } else { path.line_to(*point) }
                }
            }
        }
        Profile { path }
    }

    /// The curve itself; a bare point for a square arris.
    pub fn path(&self) -> &BezPath {
        &self.path
    }

    /// Height of the surface above the room face at `from_sight` mm into the member; where a traced
    /// curve doubles back, the greatest, since that leaves the least wood.
    pub fn height_at(&self, from_sight: f64) -> f64 {
        self.greatest_height(from_sight, from_sight)
    }

    /// Greatest height of the surface between two distances from the sight edge, the lesser first, mm.
    pub fn greatest_height(&self, from: f64, to: f64) -> f64 {
        // The ends of the stretch, found by plumb lines, then every curve end and turning point
        // between them: a cubic has its greatest value at one of those.
        let mut far = None;
        let mut greatest = 0.0_f64;
        for segment in self.path.segments() {
            // Most of the width of most members is beyond the moulding.
            let hull = segment.to_cubic();
            let xs = [hull.p0, hull.p1, hull.p2, hull.p3].map(|at| at.x);
            if xs.iter().all(|x| *x < from - COINCIDENT) || xs.iter().all(|x| *x > to + COINCIDENT)
            {
                continue;
            }
            let far = *far.get_or_insert_with(|| self.path.bounding_box().abs().y1 + 1.0);
            for plumb in [from, to] {
                let line = Line::new((plumb, -far), (plumb, far));
                for hit in segment.intersect_line(line) {
                    greatest = greatest.max(segment.eval(hit.segment_t).y);
                }
            }
            let turns = kurbo::ParamCurveExtrema::extrema(&segment);
            for t in turns.into_iter().chain([0.0, 1.0]) {
                let point = segment.eval(t);
                if (from..=to).contains(&point.x) {
                    greatest = greatest.max(point.y);
                }
            }
        }
        greatest
    }
}

fn quarter(path: &mut BezPath, centre: Point, radii: (f64, f64), start: f64, sweep: f64) {
    let arc = Arc::new(centre, radii, start, sweep, 0.0);
    arc.to_cubic_beziers(CURVE, |a, b, c| path.curve_to(a, b, c));
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn heights_follow_the_closed_forms() {
        let chamfer = Profile::new(&Moulding::Chamfer { width: 8.0, depth: 12.0 });
        assert_relative_eq!(chamfer.height_at(0.0), 12.0, epsilon = 1e-6);
        assert_relative_eq!(chamfer.height_at(2.0), 9.0, epsilon = 1e-6);
        assert_relative_eq!(chamfer.height_at(9.0), 0.0);

        // Ellipse: h = d − d·√(1 − ((w − s)/w)²).
        let ovolo = Profile::new(&Moulding::Ovolo { width: 10.0, depth: 15.0 });
        for s in [0.5, 2.0, 5.0, 9.0] {
            let closed = 15.0 - 15.0 * (1.0 - ((10.0 - s) / 10.0_f64).powi(2)).sqrt();
            assert_relative_eq!(ovolo.height_at(s), closed, epsilon = 1e-4);
        }

        let ogee = Profile::new(&Moulding::Ogee { width: 10.0, depth: 16.0 });
        assert_relative_eq!(
            ogee.height_at(3.0),
            8.0 + 8.0 * (1.0 - 0.36_f64).sqrt(),
            epsilon = 1e-4
        );
        assert_relative_eq!(
            ogee.height_at(7.0),
            8.0 - 8.0 * (1.0 - 0.36_f64).sqrt(),
            epsilon = 1e-4
        );
    }

    #[test]
    fn a_square_arris_has_no_height_and_a_traced_quirk_counts() {
        assert_eq!(Profile::new(&Moulding::Square).greatest_height(0.0, 30.0), 0.0);
        let quirk = [(0.0, 4.0), (3.0, 4.0), (3.0, 9.0), (8.0, 0.0)].map(Point::from).to_vec();
        let traced = Profile::new(&Moulding::Traced(quirk));
        assert_relative_eq!(traced.height_at(1.0), 4.0);
        assert_relative_eq!(traced.height_at(3.0), 9.0);
        assert_relative_eq!(traced.greatest_height(0.0, 14.0), 9.0);
    }
}
