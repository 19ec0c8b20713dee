//! Closed forms of moved and rounded outlines, and what cannot be moved so far.

use super::*;
use crate::geometry::circle;
use approx::assert_relative_eq;
use kurbo::Rect;
use std::f64::consts::{FRAC_PI_2, PI};

// Steiner's formula A + P d + π d² for a convex outline with round joins.
#[test]
fn convex_offsets_follow_steiner() {
    let sheet = Outline::rectangle(Rect::new(0.0, 0.0, 400.0, 600.0)).unwrap();
    for (d, area) in [(2.0, 244_012.566_4), (10.0, 260_314.159_3)] {
        let wider = sheet.offset(d, Join::Round).unwrap();
        assert_relative_eq!(wider.area(), area, epsilon = 1e-4);
    }
    assert_relative_eq!(sheet.offset(10.0, Join::Sharp).unwrap().area(), 260_400.0);
    let hexagon: Vec<Point> = (0..6)
        .map(|i| (50.0 * kurbo::Vec2::from_angle(f64::from(i) * TAU / 6.0)).to_point())
        .collect();
    let hexagon = Outline::polygon(&hexagon).unwrap();
    assert_relative_eq!(hexagon.area(), 6495.1905, epsilon = 1e-4);
    assert_relative_eq!(
        hexagon.offset(10.0, Join::Round).unwrap().area(),
        9809.3498,
        epsilon = 1e-4
    );
}

#[test]
fn a_right_triangle_moves_out_and_in() {
    let corners = [(0.0, 0.0), (400.0, 0.0), (0.0, 300.0)].map(Point::from);
    let triangle = Outline::polygon(&corners).unwrap();
    assert_relative_eq!(
        triangle.offset(5.0, Join::Round).unwrap().area(),
        66_078.539_8,
        epsilon = 1e-4
    );
    assert_relative_eq!(
        triangle.offset(-5.0, Join::Sharp).unwrap().area(),
        54_150.0,
        epsilon = 1e-6
    );
}

#[test]
fn each_side_may_move_by_its_own_distance() {
    let sight = Outline::rectangle(Rect::new(0.0, 0.0, 820.0, 930.0)).unwrap();
    let wall = sight.offset_each(&[16.0, 14.0, 14.0, 14.0], Join::Sharp).unwrap();
    let expected = Rect::new(-14.0, -16.0, 834.0, 944.0);
    assert!((wall.bounds().origin() - expected.origin()).hypot() < 1e-9);
    assert_relative_eq!(wall.area(), expected.area(), epsilon = 1e-6);
}

#[test]
fn an_arched_head_stays_concentric() {
    let arch = Arc::from_bulge(Point::new(800.0, 900.0), Point::new(0.0, 900.0), 0.25).unwrap();
    let light = Outline::new(vec![
        Edge::line(Point::ZERO, Point::new(800.0, 0.0)),
        Edge::line(Point::new(800.0, 0.0), Point::new(800.0, 900.0)),
        Edge::Arc(arch),
        Edge::line(Point::new(0.0, 900.0), Point::ZERO),
    ])
    .unwrap();
    let wall = light.offset(14.0, Join::Sharp).unwrap();
    let Some(Edge::Arc(moved)) = wall.edges().get(2) else { panic!("the head must stay an arc") };
    assert_relative_eq!(moved.radius, 864.0, epsilon = 1e-9);
    assert!((moved.centre - arch.centre).hypot() < 1e-9);
    assert_relative_eq!(wall.bounds().width(), 828.0, epsilon = 1e-9);
}

// Smooth corners stay smooth: a rounded rectangle keeps its eight edges. Area by Steiner.
#[test]
fn round_corners_move_without_new_edges() {
    let (w, h, r) = (363.9, 430.1, 20.3);
    let quarter = (TAU / 16.0).tan();
    let corners = [
        (r, 0.0, 0.0),
        (w - r, 0.0, quarter),
        (w, r, 0.0),
        (w, h - r, quarter),
        (w - r, h, 0.0),
        (r, h, quarter),
        (0.0, h - r, 0.0),
        (0.0, r, quarter),
    ];
    let next = corners.iter().cycle().skip(1);
    let edges = corners.iter().zip(next).map(|(&(x, y, bulge), &(to_x, to_y, _))| {
        let (from, to) = (Point::new(x, y), Point::new(to_x, to_y));
        Arc::from_bulge(from, to, bulge).map_or(Edge::line(from, to), Edge::Arc)
    });
    let plate = Outline::new(edges.collect()).unwrap();
    for distance in [8.087, -8.942] {
        for join in [Join::Round, Join::Sharp] {
            let moved = plate.offset(distance, join).unwrap();
            assert_eq!(moved.edges().len(), 8);
            let steiner = plate.area() + plate.perimeter() * distance + PI * distance * distance;
            assert_relative_eq!(moved.area(), steiner, epsilon = 1e-6);
        }
    }
}

// A dumbbell: every edge of the offset still runs forwards where the neck has crossed over.
#[test]
fn a_neck_narrower_than_the_offset_is_an_error() {
    let bell = [
        (0.0, 0.0),
        (100.0, 0.0),
        (100.0, 45.0),
        (200.0, 45.0),
        (200.0, 0.0),
        (300.0, 0.0),
        (300.0, 100.0),
        (200.0, 100.0),
        (200.0, 55.0),
        (100.0, 55.0),
        (100.0, 100.0),
        (0.0, 100.0),
    ];
    let bell = Outline::polygon(&bell.map(Point::from)).unwrap();
    for join in [Join::Sharp, Join::Round] {
        assert!(bell.offset(-4.9, join).is_ok());
        for d in [-5.0, -5.5, -20.0] {
            assert!(matches!(bell.offset(d, join), Err(OffsetError::Crosses(..))), "{d}");
        }
    }
}

// A round bite of radius 20 cannot be moved by more into itself; a narrow mouth closes before.
#[test]
fn an_offset_wider_than_the_radius_is_an_error() {
    let bite = |mouth: f64, bulge: f64| {
        let (left, right) = (Point::new(200.0 - mouth, 300.0), Point::new(200.0 + mouth, 300.0));
        let hollow = Arc::from_bulge(right, left, -bulge).unwrap();
        Outline::new(vec![
            Edge::line(Point::ZERO, Point::new(400.0, 0.0)),
            Edge::line(Point::new(400.0, 0.0), Point::new(400.0, 300.0)),
            Edge::line(Point::new(400.0, 300.0), right),
            Edge::Arc(hollow),
            Edge::line(left, Point::new(0.0, 300.0)),
            Edge::line(Point::new(0.0, 300.0), Point::ZERO),
        ])
        .unwrap()
    };
    let half_round = bite(20.0, 1.0);
    assert!(half_round.offset(15.0, Join::Round).is_ok());
    for d in [20.0, 20.5, 60.0] {
        assert!(half_round.offset(d, Join::Round).is_err(), "{d}");
        assert!(half_round.offset(d, Join::Sharp).is_err(), "{d}");
    }
    // Bulge 2: R = 10 (1 + 4)/4 = 12.5, and a mouth of 20.
    let keyhole = bite(10.0, 2.0);
    assert!(keyhole.offset(9.9, Join::Round).is_ok());
    assert!(keyhole.offset(10.1, Join::Round).is_err());
    let circle = crate::geometry::circle(100.0).unwrap().outline().clone();
    assert!(circle.offset(-49.0, Join::Round).is_ok());
    for d in [-50.0, -51.0, -400.0] {
        assert_eq!(circle.offset(d, Join::Round), Err(OffsetError::Collapsed(0)), "{d}");
    }
}

// Two half rounds, the lower one smaller: moved inwards by 25 the level steps between them run on to
// the very top of the smaller circle, which closes on itself there.
#[test]
fn an_arc_that_runs_on_to_a_whole_turn_is_an_error() {
    let level = |a: f64, b: f64| Edge::line(Point::new(a, 0.0), Point::new(b, 0.0));
    let half =
        |radius, start| Edge::Arc(Arc { centre: Point::new(400.0, 0.0), radius, start, sweep: PI });
    let edges = vec![level(330.0, 350.0), half(50.0, PI), level(450.0, 470.0), half(70.0, 0.0)];
    let rounds = Outline::new(edges).unwrap();
    assert!(rounds.offset(-25.0, Join::Sharp).is_err());
    assert!(rounds.offset(-10.0, Join::Sharp).is_ok());
}

/// The part of a convex ring of points on the left of a line: plain clipping, the referee below.
fn left_of(ring: &[Point], from: Point, along: kurbo::Vec2) -> Vec<Point> {
    let side = |p: Point| along.cross(p - from);
    let next = ring.iter().cycle().skip(1);
    let mut kept = Vec::new();
    for (&a, &b) in ring.iter().zip(next) {
        let (s, t) = (side(a), side(b));
        if s >= 0.0 {
            kept.push(a);
        }
        if s * t < 0.0 {
            kept.push(a.lerp(b, s / (s - t)));
        }
    }
    kept
}

proptest::proptest! {
    // A convex outline with every edge moved inwards by its own distance is what is left of all
    // the moved lines; where an edge vanishes, an error.
    #[test]
    fn unequal_inward_moves_agree_with_clipping(
        radii in proptest::collection::vec((100.0..300.0, 0.0..120.0), 4..9), squash in 0.2..1.0,
    ) {
        let count = radii.len() as f64;
        let corners: Vec<Point> = radii
            .iter()
            .enumerate()
            .map(|(i, (r, _))| {
                // Corners on an ellipse, unevenly spaced.
                let turn: f64 = (i as f64 + (r - 200.0) / 250.0) * TAU / count;
                Point::new(300.0 * turn.cos(), 300.0 * squash * turn.sin())
            })
            .collect();
        let shape = Outline::polygon(&corners).unwrap();
        let by: Vec<f64> = radii.iter().map(|(_, d)| -d).collect();
        let mut left = corners.clone();
        for (edge, d) in shape.edges().iter().zip(&by) {
            let Some(Edge::Line(line)) = edge.shifted(*d) else { panic!("a line") };
            left = left_of(&left, line.p0, line.p1 - line.p0);
        }
        let clipped = Outline::polygon(&left).map_or(0.0, |left| left.area());
        if let Ok(moved) = shape.offset_each(&by, Join::Sharp) {
            proptest::prop_assert!((moved.area() - clipped).abs() < 1e-6);
        } else {
            // Some line must no longer touch what is left.
            let idle = shape.edges().iter().zip(&by).any(|(edge, d)| {
                let line = edge.shifted(*d).unwrap();
                let along = line.direction(0.0);
                let on = left.iter().filter(|p| along.cross(**p - line.start()).abs() < 1e-6);
                on.count() < 2
            });
            proptest::prop_assert!(idle);
        }
    }
}

#[test]
fn too_large_an_inward_move_is_an_error() {
    let strip = Outline::rectangle(Rect::new(0.0, 0.0, 400.0, 8.0)).unwrap();
    assert!(matches!(strip.offset(-5.0, Join::Sharp), Err(OffsetError::Collapsed(_))));
    assert_eq!(strip.offset(f64::NAN, Join::Sharp), Err(OffsetError::Distances));
}

// A chamfer of 1 mm is gone 1.71 mm inside, and a square of 80 mm is left 10 mm inside.
#[test]
fn a_chamfer_that_vanishes_leaves_a_square() {
    let corners = [(1.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0), (0.0, 1.0)];
    let chamfered = Outline::polygon(&corners.map(Point::from)).unwrap();
    assert!(chamfered.offset(-10.0, Join::Round).is_err());
    let inner = chamfered.inset(10.0).unwrap();
    assert_eq!(inner.edges().len(), 4);
    assert_relative_eq!(inner.area(), 6400.0, epsilon = 1e-9);
    assert_eq!(chamfered.inset(1.0), chamfered.offset(-1.0, Join::Round));
    assert!(chamfered.inset(50.0).is_err());
}

// A quarter turn of a circle of 100 mm drawn in two arcs, one of them a degree long, and its chord. The
// segment 5 mm inside is one of a circle of 95 mm whose chord lies 5 mm further out.
#[test]
fn arcs_of_one_circle_are_one_edge() {
    let arc = |start: f64, sweep: f64| {
        Edge::Arc(Arc { centre: Point::ZERO, radius: 100.0, start, sweep })
    };
    let short = 1.0_f64.to_radians();
    let (first, second) = (arc(0.0, FRAC_PI_2 - short), arc(FRAC_PI_2 - short, short));
    let chord = Edge::line(second.end(), first.start());
    let segment = Outline::new(vec![first, second, chord]).unwrap();
    assert!(segment.offset(-5.0, Join::Round).is_err());
    let (radius, away) = (95.0_f64, 100.0 / 2.0_f64.sqrt() + 5.0);
    let half = (away / radius).acos();
    let area = radius * radius * (half - half.sin() * half.cos());
    assert_relative_eq!(segment.inset(5.0).unwrap().area(), area, max_relative = 1e-9);
}

#[test]
fn circles_and_rectangles_are_moved_as_ever() {
    let round = circle(100.0).unwrap().outline().clone();
    assert_eq!(round.inset(20.0), round.offset(-20.0, Join::Round));
    assert!(round.inset(50.0).is_err());
    let sheet = Outline::rectangle(Rect::new(0.0, 0.0, 400.0, 300.0)).unwrap();
    assert_relative_eq!(sheet.inset(20.0).unwrap().area(), 360.0 * 260.0);
}

// Closed form: four corners lack (4 − π) r².
#[test]
fn a_rectangle_loses_its_corners() {
    let rect = Outline::rectangle(Rect::new(0.0, 0.0, 400.0, 600.0)).unwrap();
    let round = rect.filleted(12.0);
    assert_eq!(round.edges().len(), 8);
    assert_relative_eq!(round.area(), 240_000.0 - (4.0 - PI) * 144.0, epsilon = 1e-6);
}

// A corner between an arch and a jamb: every fillet touches both, and the arc is concentric with the
// one that lies further out.
#[test]
fn a_corner_between_arch_and_jamb_is_touched_on_both_sides() {
    let head = Arc::from_bulge(Point::new(800.0, 900.0), Point::new(0.0, 900.0), 0.25).unwrap();
    let shape = Outline::new(vec![
        Edge::line(Point::ZERO, Point::new(800.0, 0.0)),
        Edge::line(Point::new(800.0, 0.0), Point::new(800.0, 900.0)),
        Edge::Arc(head),
        Edge::line(Point::new(0.0, 900.0), Point::ZERO),
    ])
    .unwrap();
    let round = shape.filleted(12.0);
    assert_eq!(round.edges().len(), 8);
    let next = round.edges().iter().cycle().skip(1);
    for (into, out) in round.edges().iter().zip(next) {
        assert!(into.direction(1.0).cross(out.direction(0.0)).abs() < 1e-9);
    }
    let inner = shape.offset(-6.0, super::super::Join::Sharp).unwrap().filleted(6.0);
    for edge in inner.edges() {
        assert_relative_eq!(round.distance_to(edge.at(0.4)), 6.0, epsilon = 1e-6);
    }
}

#[test]
fn corners_too_close_for_the_arc_stay_sharp() {
    let thin = Outline::rectangle(Rect::new(0.0, 0.0, 10.0, 400.0)).unwrap();
    let round = thin.filleted(8.0);
    assert!(round.area() > 0.0 && round.area() <= thin.area());
    assert!(round.bounds().width() <= 10.0 + 1e-9);
}

// By hand: at a turn of 30° of which one side stays and the other moves by 10 mm, the two lines meet 10/sin 30° =
// 20 mm from the corner, twice the move. At 29° they would meet further off, and a step of 10 mm joins them.
#[test]
fn neighbours_that_meet_far_away_are_joined_by_a_step() {
    let moved = |turn: f64| {
        let (corner, on) = (Point::new(300.0, 0.0), kurbo::Vec2::from_angle(turn.to_radians()));
        let corners = [Point::ZERO, corner, corner + 200.0 * on, Point::new(0.0, 400.0)];
        let sheet = Outline::polygon(&corners).unwrap();
        sheet.offset_each(&[0.0, 10.0, 0.0, 0.0], Join::Sharp).unwrap()
    };
    assert_eq!(moved(31.0).edges().len(), 4);
    let stepped = moved(29.0);
    assert_eq!(stepped.edges().len(), 5);
    let step = stepped.edges().iter().find(|edge| edge.length() < 11.0).unwrap();
    assert_relative_eq!(step.length(), 10.0, epsilon = 1e-9);
    assert_relative_eq!(step.start().x, 300.0, epsilon = 1e-9);
}
