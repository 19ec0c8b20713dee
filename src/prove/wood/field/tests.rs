//! Swept shapes against their closed forms.

use super::super::Part;
use super::*;
use crate::geometry::{Arc, Outline, Region};
use crate::prove::motion::{Pace, Spindle};
use crate::sash::Solid;
use approx::assert_relative_eq;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

const RADIUS: f64 = 6.0;
const FINE: Resolution = Resolution { pitch: 0.05, depth: 0.05 };

fn plank() -> Solid {
    let region = Region::solid(Outline::rectangle(Rect::new(-70.0, -70.0, 70.0, 70.0)).unwrap());
    Solid { name: crate::language::Text::name("plank"), region, top: 0.0, bottom: -45.0 }
}

fn level(path: Edge, z: f64) -> Move {
    let (pace, spindle) = (Pace::Feed(1.0), Spindle::Still);
    Move {
        line: 1,
        pace,
        path,
        from_z: z,
        to_z: z,
        spindle,
        slack: 0.0,
        arrival: false,
        dwell: 0.0,
    }
}

/// Volume cut by level moves, all at once.
fn volume(pitch: f64, moves: &[Move]) -> f64 {
    let solid = plank();
    let pieces = [Piece { solid: &solid, part: Part::Go(0) }];
    let mut field = Field::new(
        &pieces,
        moves.iter().map(|step| (step, RADIUS)),
        Resolution { pitch, depth: 0.05 },
        0,
    );
    for mv in moves {
        let (from_z, to_z) = (mv.from_z, mv.to_z);
        field.sweep(&Sweep { path: mv.path, core: 5.0, radius: RADIUS, from_z, to_z });
    }
    field.removed().go
}

fn arc(radius: f64, start: f64, sweep: f64) -> Edge {
    Edge::Arc(Arc { centre: Point::new(1.0, 2.0), radius, start, sweep })
}

/// The promise: no boundary lies more than half the pitch off, so an area is off by no more than
/// half the pitch times the length of its boundary.
fn within_bound(measured: f64, exact: f64, boundary: f64, pitch: f64) {
    assert!((measured - exact).abs() <= boundary * pitch / 2.0, "{measured} for {exact}");
    // And in truth far better, since errors of both signs cancel.
    assert!((measured - exact).abs() <= exact * 2e-3 * pitch / 0.05, "{measured} for {exact}");
}

#[test]
fn a_slot_in_any_direction_has_its_closed_form_area() {
    for degrees in [0.0, 0.1, 3.0, 30.0, 45.0, 77.0, 89.9, 90.0, 180.0, 210.0_f64] {
        let to = Point::new(-20.0, -10.0) + 35.0 * kurbo::Vec2::from_angle(degrees.to_radians());
        let path = Edge::line(Point::new(-20.0, -10.0), to);
        for pitch in [0.05, 0.01] {
            let exact = 2.0 * RADIUS * 35.0 + PI * RADIUS * RADIUS;
            within_bound(volume(pitch, &[level(path, -1.0)]), exact, 70.0 + TAU * RADIUS, pitch);
        }
    }
}

#[test]
fn rings_and_arcs_have_their_closed_form_areas() {
    for pitch in [0.05, 0.01] {
        let ring = level(arc(30.0, 0.4, TAU), -1.0);
        within_bound(
            volume(pitch, &[ring]),
            PI * (36.0_f64.powi(2) - 24.0_f64.powi(2)),
            TAU * 60.0,
            pitch,
        );
        // Smaller than the cutter: a whole disc of 4 + 6.
        let small = level(arc(4.0, 0.4, -TAU), -1.0);
        within_bound(volume(pitch, &[small]), PI * 100.0, TAU * 10.0, pitch);
        for (start, sweep) in [(0.0, FRAC_PI_2), (2.0, -2.5), (1.0, 4.0), (5.0, -4.5)] {
            // A ring's share and a disc for the two round ends; the ends must not overlap.
            let exact = f64::abs(sweep) / 2.0 * (36.0_f64.powi(2) - 24.0_f64.powi(2)) + PI * 36.0;
            let length = f64::abs(sweep) * 60.0 + TAU * RADIUS;
            within_bound(
                volume(pitch, &[level(arc(30.0, start, sweep), -1.0)]),
                exact,
                length,
                pitch,
            );
        }
    }
}

// A cutter run into a square corner and out again leaves R²(1 − π/4) there.
#[test]
fn a_corner_keeps_its_closed_form_fillet() {
    let corner = Point::new(20.0, 20.0);
    let moves = [
        level(Edge::line(Point::new(-20.0, 20.0), corner), -1.0),
        level(Edge::line(corner, Point::new(20.0, -20.0)), -1.0),
    ];
    for pitch in [0.05, 0.01] {
        // An L of two slots: 2 × 40 × 12, the quarter of a disc outside the corner beyond the
        // overlapping squares, and two half discs at the ends.
        let square = RADIUS * RADIUS;
        let exact = 2.0 * 40.0 * 12.0 - square + PI * square / 4.0 + PI * square;
        within_bound(volume(pitch, &moves), exact, 80.0 + 68.0 + 1.25 * TAU * RADIUS, pitch);
    }
}

fn slope(path: Edge, to_z: f64) -> Move {
    Move { from_z: 0.0, ..level(path, to_z) }
}

/// The promise for slopes: a boundary within half the pitch, and a depth that is never shown too
/// deep by more than rows and rounding make it, nor too shallow by more than the tolerance.
fn within_slope(measured: f64, exact: f64, area: f64, boundary: f64, depth: f64, pitch: f64) {
    let edge = boundary * depth * pitch / 2.0;
    assert!(measured <= exact + edge + area * FINE.depth / 4.0, "{measured} for {exact}");
    assert!(measured >= exact - edge - area * FINE.depth, "{measured} for {exact}");
    // In truth nearer: half a piece of a helix, and the sagitta of a slope, are shown too shallow.
    assert!(measured <= exact * 1.0005, "{measured} for {exact}");
    assert!(measured >= exact - 0.5 * area * FINE.depth, "{measured} for {exact}");
}

// Closed form: at s along and q across the path the depth is d (s + w) / L, w = √(R² − q²), from
// s = −w to L − w, and d from there to L + w. Over s: d L / 2 + 2 w d. Over q: d (R L + π R²).
#[test]
fn a_ramp_has_its_closed_form_volume() {
    for degrees in [0.0, 0.1, 3.0, 30.0, 45.0, 77.0, 89.9, 90.0, 180.0, 250.0_f64] {
        for (length, depth) in [(35.0, 0.5), (35.0, 3.0), (50.0, 4.0), (10.0, 4.0), (3.0, 20.0)] {
            let to = length * kurbo::Vec2::from_angle(degrees.to_radians());
            let path = Edge::line(Point::ZERO, to.to_point());
            let exact = depth * (RADIUS * length + PI * RADIUS * RADIUS);
            let area = 2.0 * RADIUS * length + PI * RADIUS * RADIUS;
            let boundary = 2.0 * length + TAU * RADIUS;
            let down = volume(0.05, &[slope(path, -depth)]);
            within_slope(down, exact, area, boundary, depth, 0.05);
            // Upwards along the same path it leaves the same.
            let up = Move { from_z: -depth, to_z: 0.0, ..slope(path.reversed(), 0.0) };
            let up = volume(0.05, &[up]);
            assert_relative_eq!(up, down, max_relative = 1e-9);
        }
    }
}

// Closed form of a part of a turn, its ends apart: at ρ from the arc's centre the depth is
// d (θ + δ) / Φ, δ the half angle of the disc there, from θ = −δ to Φ − δ, and d to Φ + δ. Over θ
// and ρ: d (R r Φ + π R²), as for a straight ramp as long. Of a whole turn, whose end covers its
// beginning: d (2π r R + π R² − (1/π) ∫ ρ δ² dρ), the integral taken here by Simpson's rule.
#[test]
fn a_helix_has_its_closed_form_volume() {
    let within = |path: Edge, sweep: f64, exact: f64, depth: f64| {
        let area = (sweep.abs() * 60.0 * RADIUS).min(PI * 36.0 * 36.0);
        let boundary = sweep.abs() * 60.0 + TAU * RADIUS;
        within_slope(volume(0.05, &[slope(path, -depth)]), exact, area, boundary, depth, 0.05);
    };
    for (start, sweep) in [(0.0, FRAC_PI_2), (2.0, -2.5), (1.0, 4.0), (5.0, -4.5)] {
        for depth in [0.3, 4.0] {
            let exact = depth * (RADIUS * 30.0 * f64::abs(sweep) + PI * RADIUS * RADIUS);
            within(arc(30.0, start, sweep), sweep, exact, depth);
        }
    }
    let half_angle = |rho: f64| {
        let cos: f64 = (rho * rho + 900.0 - RADIUS * RADIUS) / (60.0 * rho);
        cos.clamp(-1.0, 1.0).acos()
    };
    let at = |i: u32| 24.0 + 12.0 * f64::from(i) / 10_000.0;
    let weight = |i: u32| if i.is_multiple_of(10_000) { 1.0 } else { 2.0 + 2.0 * f64::from(i % 2) };
    let square: f64 = (0..=10_000).map(|i| weight(i) * at(i) * half_angle(at(i)).powi(2)).sum();
    let square = square * 12.0 / 10_000.0 / 3.0;
    for sweep in [TAU, -TAU] {
        let exact = 4.0 * (TAU * 30.0 * RADIUS + PI * RADIUS * RADIUS - square / PI);
        within(arc(30.0, 0.7, sweep), sweep, exact, 4.0);
    }
}

// One ramp is one visit to each of its rows: its cost grows with its length, not with its depth. The
// deeper one has somewhat more rows, no more.
#[test]
fn a_deep_ramp_takes_little_more_work_than_a_shallow_one() {
    let solid = plank();
    let pieces = [Piece { solid: &solid, part: Part::Go(0) }];
    let steps = |depth: f64| {
        let ramp = slope(Edge::line(Point::new(-50.0, 3.0), Point::new(50.0, 3.0)), -depth);
        let mut field = Field::new(&pieces, [(&ramp, RADIUS)].into_iter(), FINE, 0);
        let before = field.effort.steps();
        let (from_z, to_z) = (0.0, -depth);
        field.sweep(&Sweep { path: ramp.path, core: 5.0, radius: RADIUS, from_z, to_z });
        field.effort.steps() - before
    };
    let (shallow, deep) = (steps(0.5), steps(40.0));
    assert!(shallow < 2000 && deep < 2 * shallow, "{shallow} {deep}");
}

#[test]
fn nothing_is_cut_once_the_effort_is_spent() {
    let solid = plank();
    let pieces = [Piece { solid: &solid, part: Part::Go(0) }];
    let stroke = level(Edge::line(Point::new(-50.0, 3.0), Point::new(50.0, 9.0)), -1.0);
    let sweep = Sweep { path: stroke.path, core: 5.0, radius: RADIUS, from_z: -1.0, to_z: -1.0 };
    let mut fresh = Field::new(&pieces, [(&stroke, RADIUS)].into_iter(), FINE, 0);
    assert!(!fresh.effort.is_spent() && fresh.sweep(&sweep).is_some());
    let mut spent = Field::new(&pieces, [(&stroke, RADIUS)].into_iter(), FINE, 1 << 40);
    assert!(spent.effort.is_spent() && spent.sweep(&sweep).is_none());
    assert_eq!(spent.removed().go, 0.0);
}

#[test]
fn upright_walls_are_exact() {
    let path = Edge::line(Point::new(-100.0, 0.0), Point::new(100.0, 0.0));
    assert_relative_eq!(volume(0.05, &[level(path, -3.0)]), 140.0 * 12.0 * 3.0, epsilon = 1e-6);
    let path = Edge::line(Point::new(0.1, -100.0), Point::new(0.1, 100.0));
    assert_relative_eq!(volume(0.05, &[level(path, -3.0)]), 140.0 * 12.0 * 3.0, epsilon = 1e-6);
}

#[test]
fn the_tallest_wood_is_met_under_the_core_only() {
    let solid = plank();
    let pieces = [Piece { solid: &solid, part: Part::Stay }];
    let beside = level(Edge::line(Point::new(-50.0, 5.5), Point::new(50.0, 5.5)), -4.0);
    let first = level(Edge::line(Point::new(-50.0, 0.0), Point::new(50.0, 0.0)), -4.0);
    let mut field = Field::new(&pieces, [(&first, RADIUS), (&beside, RADIUS)].into_iter(), FINE, 0);
    let sweep =
        |mv: &Move, core| Sweep { path: mv.path, core, radius: RADIUS, from_z: -4.0, to_z: -4.0 };
    assert_relative_eq!(field.sweep(&sweep(&first, 6.0)).unwrap().height, 4.0);
    // The second cut takes 5.5 mm more at its rim: a core of 0.4 mm radius meets none of it.
    assert_eq!(field.clone().sweep(&sweep(&beside, 0.4)), None);
    assert_relative_eq!(field.sweep(&sweep(&beside, 0.6)).unwrap().height, 4.0);
}
