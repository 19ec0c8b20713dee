//! Slopes against the lowest of all discs, tried one by one.

use super::*;
use crate::geometry::Edge;
use proptest::prelude::*;

/// The lowest Z of the discs along the ramp that cover `point`, by the quadratic of the two times
/// when its rim passes there.
fn lowest(line: &Line, (from_z, to_z): (f64, f64), radius: f64, point: Point) -> Option<f64> {
    let along = line.p1 - line.p0;
    let back = line.p0 - point;
    let (a, b, c) = (along.hypot2(), back.dot(along), back.hypot2() - radius * radius);
    let root = b * b - a * c;
    if root < 0.0 {
        return None;
    }
    let (first, last) = ((-b - root.sqrt()) / a, (-b + root.sqrt()) / a);
    let (first, last) = (first.max(0.0), last.min(1.0));
    let z = |t: f64| from_z + t * (to_z - from_z);
    (first <= last).then(|| z(first).min(z(last)))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1000))]
    #[test]
    fn slopes_hold_the_true_depth_between_them(
        x0 in -20.0..20.0, y0 in -20.0..20.0, dx in -40.0..40.0,
        dy in prop_oneof![Just(0.0), -1e-3..1e-3, -40.0..40.0],
        from_z in -20.0..0.0, drop in prop_oneof![-20.0..20.0, -1.0..1.0],
        radius in 0.5..8.0, share in 0.0..1.0,
    ) {
        let line = Line::new((x0, y0), (x0 + dx, y0 + dy));
        let ends = (from_z, from_z + drop);
        let Some(ramp) = Ramp::new(&line, ends, radius, 0.02) else { return Ok(()) };
        let bounds = Edge::Line(line).bounds().inflate(radius, radius);
        let y = bounds.y0 + share * bounds.height();
        let mut slopes = Vec::new();
        ramp.slopes(y, &mut slopes);
        for pair in slopes.windows(2) {
            prop_assert!((pair[0].span.to - pair[1].span.from).abs() < 1e-9);
        }
        let low = ends.0.min(ends.1);
        for slope in &slopes {
            for part in [0.01, 0.2, 0.5, 0.7, 0.99] {
                let x = slope.span.from + part * (slope.span.to - slope.span.from);
                let z = slope.span.z + slope.span.lean * (x - slope.span.to);
                let Some(exact) = lowest(&line, ends, radius, Point::new(x, y)) else { continue };
                prop_assert!(z >= exact - 1e-6, "{} above {}", exact, z);
                prop_assert!((z - slope.dip).max(low) <= exact + 1e-6, "{} {:?}", exact, slope);
            }
        }
        // And nothing is forgotten.
        for i in 0..200 {
            let x = bounds.x0 + f64::from(i) / 200.0 * bounds.width();
            let inside = slopes.iter().any(|s| s.span.from <= x && x <= s.span.to);
            let distance = Edge::Line(line).distance_to(Point::new(x, y));
            if (distance - radius).abs() > 1e-6 {
                prop_assert_eq!(inside, distance < radius);
            }
        }
    }

    // Gentle ramps are told within the dip asked for, whatever their direction.
    #[test]
    fn no_dip_of_a_gentle_ramp_is_more_than_asked(
        angle in -4.0..4.0, fall in 0.0..0.5, radius in 0.5..8.0, share in 0.0..1.0,
    ) {
        let to = 30.0 * Vec2::from_angle(angle);
        let line = Line::new(Point::ZERO, to.to_point());
        let Some(ramp) = Ramp::new(&line, (0.0, -30.0 * fall), radius, 0.02) else { return Ok(()) };
        let places = places(radius, fall, 0.02);
        let rim = |q: f64| (radius * radius - q * q).max(0.0).sqrt();
        let rims = [radius].into_iter().chain(places).chain([-radius]);
        let rims: Vec<_> = rims.map(|q| Place { x: -q, q, w: rim(q), z: 0.0 }).collect();
        for pair in rims.windows(2) {
            prop_assert!(pair[1].q <= pair[0].q);
            prop_assert!(ramp.slope(pair[0], pair[1]).dip <= 0.0201, "{:?}", pair);
        }
        let bounds = Edge::Line(line).bounds().inflate(0.0, radius);
        let mut slopes = Vec::new();
        ramp.slopes(bounds.y0 + share * bounds.height(), &mut slopes);
        prop_assert!(slopes.iter().all(|slope| slope.dip <= 0.0201 || slope.span.to - slope.span.from < 1e-3));
    }
}
