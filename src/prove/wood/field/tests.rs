//! Swept shapes against their closed forms.

use super::super::Part;
use super::*;
use crate::geometry::{Arc, Outline, Region};
use crate::prove::motion::{Pace, Spindle};
use crate::sash::Solid;
use approx::assert_relative_eq;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

const RADIUS: f64 = 6.0;
const FINE: Fine = Fine { pitch: 0.05, depth: 0.05 };

fn plank() -> Solid {
    let region = Region::solid(Outline::rectangle(Rect::new(-70.0, -70.0, 70.0, 70.0)).unwrap());
    Solid { name: "plank".into(), region, top: 0.0, bottom: -45.0 }
}

fn level(path: Edge, z: f64) -> Move {
    let (pace, spindle) = (Pace::Feed(1.0), Spindle::Still);
    Move { line: 1, pace, path, from_z: z, to_z: z, spindle, slack: 0.0, arrival: false }
}

/// Volume cut by level moves, all at once.
fn volume(pitch: f64, moves: &[Move]) -> f64 {
    let solid = plank();
    let pieces = [Piece { solid: &solid, part: Part::Go(0) }];
    let mut field = Field::new(&pieces, moves.iter(), RADIUS, Fine { pitch, depth: 0.05 }, 0);
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
    let mut field = Field::new(&pieces, [first, beside].iter(), RADIUS, FINE, 0);
    let sweep =
        |mv: &Move, core| Sweep { path: mv.path, core, radius: RADIUS, from_z: -4.0, to_z: -4.0 };
    assert_relative_eq!(field.sweep(&sweep(&first, 6.0)).unwrap().height, 4.0);
    // The second cut takes 5.5 mm more at its rim: a core of 0.4 mm radius meets none of it.
    assert_eq!(field.clone().sweep(&sweep(&beside, 0.4)), None);
    assert_relative_eq!(field.sweep(&sweep(&beside, 0.6)).unwrap().height, 4.0);
}
