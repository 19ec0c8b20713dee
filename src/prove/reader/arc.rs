//! Arcs from their words.

use crate::geometry::Arc;
use crate::prove::tolerance::{ARC_RADII, ROUNDING, SPECK};
use kurbo::{Point, Vec2};
use std::f64::consts::TAU;

/// How an arc is given, in mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Form {
    /// From the start point to the centre.
    Centre(Vec2),
    /// Radius; negative for the longer way round.
    Radius(f64),
}

/// An arc with how far it may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Found {
    /// The arc with the mean of its two radii.
    pub arc: Arc,
    /// Half the difference of the radii, mm.
    pub slack: f64,
}

/// Why no arc fits its words.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum NoArc {
    /// Radii at start and end differ by this much, mm.
    Radii(f64),
    /// It has no radius.
    NoRadius,
    /// An arc given by its radius that ends where it begins.
    Closed,
    /// The ends are further apart than twice the radius; by this much, mm.
    TooFar(f64),
    /// The ends all but coincide.
    Speck,
}

/// The arc from `from` to `to`.
///
/// Small controllers reject radii that differ by more than 0.005 mm and 0.1 %; what the standard
/// allows, 0.002 mm, lies inside that.
pub(super) fn arc(from: Point, to: Point, clockwise: bool, form: Form) -> Result<Found, NoArc> {
    let chord = (to - from).hypot();
    if chord > 0.0 && chord < SPECK {
        return Err(NoArc::Speck);
    }
    let centre = match form {
        Form::Centre(offset) => from + offset,
        Form::Radius(radius) => centre_of(from, to, clockwise, radius)?,
    };
    let (out, back) = (from - centre, to - centre);
    let (first, last) = (out.hypot(), back.hypot());
    if first.min(last) < SPECK {
        return Err(NoArc::NoRadius);
    }
    if (first - last).abs() > ARC_RADII + ROUNDING {
        return Err(NoArc::Radii((first - last).abs()));
    }
    let turn = (back.atan2() - out.atan2()).rem_euclid(TAU);
    let sweep = match (chord == 0.0, clockwise) {
        (true, true) => -TAU,
        (true, false) => TAU,
        (false, true) => turn - TAU,
        (false, false) => turn,
    };
    let radius = f64::midpoint(first, last);
    Ok(Found {
        arc: Arc { centre, radius, start: out.atan2(), sweep },
        slack: (first - last).abs() / 2.0,
    })
}

/// Centre of the arc of `radius` from `from` to `to`: on the perpendicular of the chord, to the
/// right of travel for the shorter clockwise arc, and mirrored for the longer or the other way.
fn centre_of(from: Point, to: Point, clockwise: bool, radius: f64) -> Result<Point, NoArc> {
    let chord = to - from;
    let length = chord.hypot();
    if radius.abs() < SPECK {
        return Err(NoArc::NoRadius);
    }
    if length == 0.0 {
        return Err(NoArc::Closed);
    }
    let short = length / 2.0 - radius.abs();
    if short > ARC_RADII {
        return Err(NoArc::TooFar(2.0 * short));
    }
    let aside = (radius * radius - length * length / 4.0).max(0.0).sqrt();
    let right = Vec2::new(chord.y, -chord.x) / length;
    let side = if clockwise == (radius > 0.0) { aside } else { -aside };
    Ok(from.midpoint(to) + side * right)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use std::f64::consts::{FRAC_PI_2, PI};

    const A: Point = Point::new(10.0, 0.0);
    const B: Point = Point::new(0.0, 10.0);

    #[test]
    fn quarter_and_three_quarters_by_centre_and_by_radius() {
        let by_centre = Form::Centre(Vec2::new(-10.0, 0.0));
        for (clockwise, radius, sweep) in
            [(false, 10.0, FRAC_PI_2), (true, -10.0, -3.0 * FRAC_PI_2)]
        {
            let a = arc(A, B, clockwise, by_centre).unwrap();
            let b = arc(A, B, clockwise, Form::Radius(radius)).unwrap();
            assert_relative_eq!(a.arc.sweep, sweep, epsilon = 1e-12);
            assert_relative_eq!(b.arc.sweep, sweep, epsilon = 1e-12);
            assert!((a.arc.centre - b.arc.centre).hypot() < 1e-12);
            assert_relative_eq!(a.arc.radius, 10.0);
        }
    }

    #[test]
    fn equal_ends_are_a_whole_turn_by_centre_and_refused_by_radius() {
        let whole = arc(A, A, true, Form::Centre(Vec2::new(-5.0, 0.0))).unwrap();
        assert_relative_eq!(whole.arc.sweep, -2.0 * PI);
        assert_eq!(arc(A, A, true, Form::Radius(5.0)), Err(NoArc::Closed));
    }

    // FACTS of the standard: 0.002 mm at most. Three decimals can break it, four cannot.
    #[test]
    fn radii_may_differ_by_the_standard_and_no_more() {
        let off = |by: f64| {
            arc(A, Point::new(0.0, 10.0 + by), false, Form::Centre(Vec2::new(-10.0, 0.0)))
        };
        assert_relative_eq!(off(0.0019).unwrap().slack, 0.000_95, epsilon = 1e-9);
        assert!(matches!(off(0.0021), Err(NoArc::Radii(d)) if (d - 0.0021).abs() < 1e-9));
    }

    #[test]
    fn impossible_arcs_are_refused() {
        assert!(matches!(arc(A, B, false, Form::Radius(7.0)), Err(NoArc::TooFar(_))));
        assert_eq!(arc(A, B, false, Form::Radius(0.0)), Err(NoArc::NoRadius));
        assert_eq!(arc(A, B, false, Form::Centre(Vec2::ZERO)), Err(NoArc::NoRadius));
        let near = Point::new(10.0, 1e-5);
        assert_eq!(arc(A, near, false, Form::Centre(Vec2::new(-10.0, 0.0))), Err(NoArc::Speck));
    }
}
