//! Curves drawn again with circular arcs that follow each other smoothly, since machines and the pens
//! know no other curve.
//!
//! Each stretch of the curve is replaced by two arcs that share its ends and directions there (a
//! *biarc*). Every stretch is as long as the tolerance allows; then the tolerance is tightened as far
//! as the number of arcs stays, so that the deviation is even. Deviations are measured on the arcs
//! made, at [`SAMPLES`] places a stretch, not estimated.

use super::prepared::Prepared;
use super::tolerance::{COINCIDENT, PARALLEL, ROUNDING, STRAIGHT, STRETCH_SHARE};
use super::{Arc, Edge, backwards};
use kurbo::{Point, Vec2};
use std::f64::consts::{FRAC_PI_2, PI};
use std::fmt;

/// Places on each stretch where the deviation is measured.
const SAMPLES: u32 = 24;
/// From one of these places to the next that is looked at; it shares no divisor with their number.
const STRIDE: u32 = 7;
/// More stretches than this are no help to anybody.
const MOST: usize = 2000;

/// Why a curve could not be fitted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum FitError {
    /// The tolerance is not a positive number.
    Tolerance(f64),
    /// The curve has a place without finite coordinates or without a direction, at this parameter.
    NoDirection(f64),
    /// More arcs would be needed than is reasonable: the curve turns too sharply at this place.
    TooSharp(Point),
}

impl fmt::Display for FitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FitError::Tolerance(within) => {
                write!(f, "the tolerance must be a positive length: {within}")
            }
            FitError::NoDirection(t) => {
                write!(f, "the curve stands still or is not finite at {t:.4} of its way")
            }
            FitError::TooSharp(at) => {
                write!(f, "the curve turns too sharply for arcs at ({:.3}, {:.3})", at.x, at.y)
            }
        }
    }
}

impl std::error::Error for FitError {}

/// A place on a curve and its unit direction.
type Place = (Point, Vec2);

/// Arcs (and straight edges where the curve is straight) that stay within `within` mm of a smooth
/// curve, given as its point and derivative for a parameter from 0 to 1.
///
/// # Errors
/// Where the curve is not finite or has no direction, or turns too sharply.
pub fn fit_arcs(curve: &dyn Fn(f64) -> (Point, Vec2), within: f64) -> Result<Vec<Edge>, FitError> {
    if !within.is_finite() || within <= 0.0 {
        return Err(FitError::Tolerance(within));
    }
    let place = |t: f64| -> Result<Place, FitError> {
        let (point, along) = curve(t);
        let speed = along.hypot();
        if !point.is_finite() || !speed.is_finite() || speed <= COINCIDENT {
            return Err(FitError::NoDirection(t));
        }
        Ok((point, along / speed))
    };
    let mut best = pass(&place, within)?;
    // The same number of stretches, with the deviation shared evenly.
    let (mut low, mut high) = (0.0, within);
    for _ in 0..12 {
        let middle = f64::midpoint(low, high);
        match pass(&place, middle) {
            Ok(found) if found.len() <= best.len() => (best, high) = (found, middle),
            _ => low = middle,
        }
    }
    Ok(best.into_iter().flatten().collect())
}

/// Stretches as long as the tolerance allows, one after the other.
fn pass(
    place: &dyn Fn(f64) -> Result<Place, FitError>,
    within: f64,
) -> Result<Vec<Vec<Edge>>, FitError> {
    let (mut stretches, mut from, mut last) = (Vec::new(), 0.0, 1.0_f64);
    while from < 1.0 {
        if stretches.len() >= MOST {
            return Err(FitError::TooSharp(place(from)?.0));
        }
        let whole = stretch(place, from, 1.0, within)?;
        if let Some(edges) = whole {
            stretches.push(edges);
            break;
        }
        // The longest that fits lies between one that fits and one that does not.
        let mut no = (from + 4.0 * last).min(1.0);
        let mut step = (no - from) / 2.0;
        let mut found = None;
        for _ in 0..60 {
            if let Some(edges) = stretch(place, from, from + step, within)? {
                let longer = f64::midpoint(from + step, no) - from;
                found = Some((from + step, edges));
                if longer - step < STRETCH_SHARE * step {
                    break;
                }
                step = longer;
            } else {
                no = from + step;
                let yes = found.as_ref().map_or(from, |(to, _)| *to);
                step = f64::midpoint(yes, no) - from;
                if found.is_some() && no - yes < STRETCH_SHARE * step {
                    break;
                }
            }
        }
        let Some((to, edges)) = found else {
            return Err(FitError::TooSharp(place(from)?.0));
        };
        last = to - from;
        from = to;
        stretches.push(edges);
    }
    Ok(stretches)
}

/// The arcs for one stretch, where they stay within the tolerance.
fn stretch(
    place: &dyn Fn(f64) -> Result<Place, FitError>,
    from: f64,
    to: f64,
    within: f64,
) -> Result<Option<Vec<Edge>>, FitError> {
    let Some(edges) = biarc(place(from)?, place(to)?) else { return Ok(None) };
    let prepared: Vec<Prepared> = edges.iter().copied().map(Prepared::new).collect();
    for step in 1..SAMPLES {
        // Not in order: what is too far off is so about the middle of an arc, and half of all stretches are.
        let t = from + (to - from) * f64::from(step * STRIDE % SAMPLES) / f64::from(SAMPLES);
        let (point, along) = place(t)?;
        let nearest = prepared
            .iter()
            .map(|edge| (edge.distance_to(point), edge))
            .min_by(|a, b| a.0.total_cmp(&b.0));
        let Some((away, edge)) = nearest else { return Ok(None) };
        // Near but the wrong way round would be a curve that turns back.
        if away > within || edge.direction_beside(point).dot(along) < 0.5 {
            return Ok(None);
        }
    }
    Ok(Some(edges))
}

/// Two arcs from place to place that share a direction where they meet, at equal distances along the
/// end directions. Their joint lies half way between `p + d·t` and `q − d·u`, where
/// |q − p − d (t + u)| = 2 d (the condition that both arcs have the same direction there).
fn biarc((p, t): Place, (q, u): Place) -> Option<Vec<Edge>> {
    let gap = q - p;
    if gap.hypot() <= COINCIDENT {
        return None;
    }
    // gap² − 2 d gap·(t + u) + d² (t + u)² = 4 d², with (t + u)² = 2 + 2 t·u.
    let (bend, ahead) = (2.0 * (1.0 - t.dot(u)), gap.dot(t + u));
    let d = if bend < PARALLEL {
        gap.hypot2() / (2.0 * ahead)
    } else {
        (-ahead + (ahead * ahead + bend * gap.hypot2()).sqrt()) / bend
    };
    if !d.is_finite() || d <= 0.0 {
        return None;
    }
    let joint = (p + d * t).midpoint(q - d * u);
    let mut edges = Vec::new();
    for edge in [from_tangent(p, t, joint), from_tangent(q, -u, joint).map(|edge| edge.reversed())]
    {
        let edge = edge?;
        if edge.length() > COINCIDENT {
            edges.push(edge);
        }
    }
    (!edges.is_empty()).then_some(edges)
}

/// The arc that leaves `from` in the direction `along` and arrives at `to`; none past a quarter turn.
fn from_tangent(from: Point, along: Vec2, to: Point) -> Option<Edge> {
    let chord = to - from;
    // Between chord and tangent lies half the sweep.
    let half = along.cross(chord).atan2(along.dot(chord));
    if half.abs() > FRAC_PI_2 / 2.0 {
        return None;
    }
    if (half * chord.hypot()).abs() < STRAIGHT {
        return Some(Edge::line(from, to));
    }
    Arc::from_bulge(from, to, (half / 2.0).tan()).map(Edge::Arc)
}

/// Arcs within `within` mm of the ellipse about `centre` with the semi-axes `wide` (along X) and
/// `high` (along Y), from `from` to `to` radians of its parameter (a quarter turn a quarter ellipse).
/// Each quarter is fitted alike, so that the result is as symmetrical as the ellipse.
///
/// # Errors
/// As [`fit_arcs`].
pub fn fit_ellipse(
    centre: Point,
    (wide, high): (f64, f64),
    (from, to): (f64, f64),
    within: f64,
) -> Result<Vec<Edge>, FitError> {
    if !(wide > COINCIDENT && high > COINCIDENT && wide.is_finite() && high.is_finite()) {
        return Err(FitError::NoDirection(0.0));
    }
    let turns = (to - from).abs();
    if !turns.is_finite() || turns > 2.0 * PI + ROUNDING {
        return Err(FitError::NoDirection(1.0));
    }
    let mut cuts = vec![from];
    let way = (to - from).signum();
    // Quarter points strictly between the ends.
    let first = (from / FRAC_PI_2 * way + ROUNDING).floor() + 1.0;
    let mut next = first * FRAC_PI_2 * way;
    while (to - next) * way > ROUNDING {
        cuts.push(next);
        next += FRAC_PI_2 * way;
    }
    cuts.push(to);
    let mut edges = Vec::new();
    for (&start, &end) in cuts.iter().zip(cuts.iter().skip(1)) {
        // Always from the end of the level axis, so that mirrored quarters have mirrored arcs.
        let begins_level = (start / PI - (start / PI).round()).abs() < ROUNDING;
        let (a, b) = if begins_level { (start, end) } else { (end, start) };
        let curve = |t: f64| {
            let angle = a + t * (b - a);
            let (sin, cos) = angle.sin_cos();
            let point = centre + Vec2::new(wide * cos, high * sin);
            (point, (b - a) * Vec2::new(-wide * sin, high * cos))
        };
        let fitted = fit_arcs(&curve, within)?;
        if begins_level {
            edges.extend(fitted);
        } else {
            edges.extend(backwards(&fitted));
        }
    }
    Ok(edges)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::FIT_WITHIN;
    use approx::assert_relative_eq;
    use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv};
    use proptest::prelude::*;

    /// Greatest distance of samples of the curve from the arcs, and greatest turn at a joint.
    fn measured(edges: &[Edge], curve: &dyn Fn(f64) -> Point) -> (f64, f64) {
        let away = (0..=4000)
            .map(|i| curve(f64::from(i) / 4000.0))
            .map(|p| edges.iter().map(|e| e.distance_to(p)).fold(f64::INFINITY, f64::min))
            .fold(0.0, f64::max);
        let joints = edges.iter().zip(edges.iter().skip(1));
        let turn =
            joints.map(|(a, b)| a.direction(1.0).cross(b.direction(0.0)).abs()).fold(0.0, f64::max);
        (away, turn)
    }

    fn half_ellipse(wide: f64, high: f64) -> impl Fn(f64) -> Point {
        move |t| Point::new(wide * (PI * t).cos(), high * (PI * t).sin())
    }

    // A biarc of length L departs from a curve by about L³/324 of the change of curvature along it, so
    // a quarter of 450 × 200 needs ∫ ∛(|dκ/ds|/(324 · 0.02)) ds, nearly 8 of them.
    #[test]
    fn half_an_ellipse_is_followed_by_few_smooth_arcs() {
        for (wide, high, most) in [(450.0, 200.0, 32), (450.0, 449.0, 8), (600.0, 60.0, 48)] {
            let edges = fit_ellipse(Point::ZERO, (wide, high), (0.0, PI), FIT_WITHIN).unwrap();
            let (away, turn) = measured(&edges, &half_ellipse(wide, high));
            assert!(away <= FIT_WITHIN * 1.001, "{wide} × {high}: {away}");
            assert!(turn < 1e-6, "{turn}");
            assert!(edges.len() <= most, "{wide} × {high}: {} arcs", edges.len());
            // Left and right mirror each other.
            let lengths: Vec<f64> = edges.iter().map(Edge::length).collect();
            for (a, b) in lengths.iter().zip(lengths.iter().rev()) {
                assert_relative_eq!(*a, *b, epsilon = 1e-6);
            }
        }
    }

    #[test]
    fn a_circle_needs_no_more_than_its_quarters() {
        let edges = fit_ellipse(Point::ZERO, (300.0, 300.0), (0.0, 2.0 * PI), FIT_WITHIN).unwrap();
        assert!(edges.len() <= 8, "{}", edges.len());
        for edge in &edges {
            let Edge::Arc(arc) = edge else { panic!("an arc") };
            assert_relative_eq!(arc.radius, 300.0, epsilon = 1e-6);
        }
    }

    #[test]
    fn wrong_curves_are_named() {
        let still = |_: f64| (Point::ZERO, Vec2::ZERO);
        assert_eq!(fit_arcs(&still, 0.02), Err(FitError::NoDirection(0.0)));
        let line = |t: f64| (Point::new(t * 100.0, 0.0), Vec2::new(100.0, 0.0));
        assert_eq!(fit_arcs(&line, 0.0), Err(FitError::Tolerance(0.0)));
        let straight = fit_arcs(&line, 0.02).unwrap();
        assert!(straight.iter().all(|edge| matches!(edge, Edge::Line(_))));
        // A cusp: the curve stops and turns back.
        let cusp = |t: f64| {
            let s = 2.0 * t - 1.0;
            (Point::new(100.0 * s * s, 100.0 * s.powi(3)), Vec2::new(400.0 * s, 600.0 * s * s))
        };
        assert!(fit_arcs(&cusp, 0.02).is_err());
        assert!(fit_ellipse(Point::ZERO, (f64::NAN, 3.0), (0.0, 1.0), 0.02).is_err());
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(32))]
        #[test]
        fn free_curves_stay_within_the_tolerance(
            x in prop::array::uniform4(-300.0..300.0), y in prop::array::uniform4(-300.0..300.0),
        ) {
            let corner = |i: usize| Point::new(x[i], y[i]);
            let bezier = CubicBez::new(corner(0), corner(1), corner(2), corner(3));
            let slope = bezier.deriv();
            let slowest = (0..=200)
                .map(|i| slope.eval(f64::from(i) / 200.0).to_vec2().hypot())
                .fold(f64::INFINITY, f64::min);
            prop_assume!(slowest > 60.0);
            let curve = |t| (bezier.eval(t), slope.eval(t).to_vec2());
            let edges = fit_arcs(&curve, FIT_WITHIN).unwrap();
            let (away, turn) = measured(&edges, &|t| bezier.eval(t));
            prop_assert!(away <= FIT_WITHIN * 1.02, "{}", away);
            prop_assert!(turn < 1e-6, "{}", turn);
            prop_assert!(edges.len() <= 80, "{} arcs", edges.len());
        }
    }
}
