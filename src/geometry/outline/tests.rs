//! What is an outline, what lies inside it, and how its pieces are put together.

use super::*;
use crate::geometry::circle;
use approx::assert_relative_eq;
use kurbo::Shape;
use proptest::prelude::*;

#[test]
fn a_clockwise_chain_is_turned_round() {
    let points = [(0.0, 0.0), (0.0, 3.0), (4.0, 3.0), (4.0, 0.0)].map(Point::from);
    let outline = Outline::polygon(&points).unwrap();
    assert_relative_eq!(outline.area(), 12.0);
    assert_relative_eq!(outline.perimeter(), 14.0);
    assert!(outline.contains(Point::new(1.0, 1.0)));
}

#[test]
fn open_and_empty_chains_are_refused() {
    let gap = [
        Edge::line(Point::ZERO, Point::new(1.0, 0.0)),
        Edge::line(Point::new(1.0, 0.5), Point::ZERO),
    ];
    assert_eq!(Outline::new(gap.to_vec()), Err(OutlineError::Open(1)));
    assert_eq!(Outline::rectangle(Rect::ZERO), Err(OutlineError::Degenerate(0)));
    let flat = [(0.0, 0.0), (4.0, 0.0), (2.0, 0.0)].map(Point::from);
    assert_eq!(Outline::polygon(&flat), Err(OutlineError::Empty));
}

#[test]
fn numbers_that_are_none_are_refused() {
    let corners = [(0.0, 0.0), (f64::NAN, 0.0), (4.0, 3.0)].map(Point::from);
    assert_eq!(Outline::polygon(&corners), Err(OutlineError::Degenerate(0)));
    let wide = [(0.0, 0.0), (f64::INFINITY, 0.0), (4.0, 3.0)].map(Point::from);
    assert_eq!(Outline::polygon(&wide), Err(OutlineError::Degenerate(0)));
    for (radius, sweep) in [(-5.0, 3.0), (f64::NAN, 3.0), (5.0, 7.0), (5.0, f64::NAN)] {
        let arc = Edge::Arc(Arc { centre: Point::ZERO, radius, start: 0.0, sweep });
        let closed = vec![arc, Edge::line(arc.end(), arc.start())];
        assert_eq!(Outline::new(closed), Err(OutlineError::Degenerate(0)));
    }
}

#[test]
fn a_frame_is_distant_from_a_path_in_its_opening_only() {
    let frame = Region {
        outline: Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 100.0)).unwrap(),
        holes: vec![Outline::rectangle(Rect::new(20.0, 20.0, 80.0, 80.0)).unwrap()],
    };
    let inside = Edge::line(Point::new(30.0, 40.0), Point::new(70.0, 40.0));
    assert_relative_eq!(frame.distance_to(&inside), 10.0);
    let across = Edge::line(Point::new(30.0, 40.0), Point::new(90.0, 40.0));
    assert_eq!(frame.distance_to(&across), 0.0);
    let within = Edge::line(Point::new(5.0, 5.0), Point::new(9.0, 9.0));
    assert_eq!(frame.distance_to(&within), 0.0);
    assert_relative_eq!(frame.area(), 6400.0);
}

fn keyhole() -> Outline {
    // Three quarters of a circle, closed by two straight edges to its centre.
    let arc = Arc { centre: Point::ZERO, radius: 10.0, start: PI / 2.0, sweep: 1.5 * PI };
    Outline::new(vec![
        Edge::line(Point::ZERO, Point::new(0.0, 10.0)),
        Edge::Arc(arc),
        Edge::line(Point::new(10.0, 0.0), Point::ZERO),
    ])
    .unwrap()
}

#[test]
fn more_than_half_a_circle_is_inside() {
    let shape = keyhole();
    assert!(shape.contains(Point::new(-5.0, 5.0)));
    assert!(shape.contains(Point::new(5.0, -5.0)));
    assert!(!shape.contains(Point::new(5.0, 5.0)));
    assert!(!shape.contains(Point::new(9.0, 9.0)));
    let (on, index) = shape.nearest_on(Point::new(-20.0, 0.0));
    assert_relative_eq!(on.x, -10.0, epsilon = 1e-9);
    assert_eq!(index, 1);
}

/// The angle, radians, by which the ray from `point` to a traveller along the edge turns: the slow judge.
fn turn_about(edge: &Edge, point: Point) -> f64 {
    let (from, to) = (edge.start() - point, edge.end() - point);
    let side = from.cross(to);
    let chord_turn = side.atan2(from.dot(to));
    let Edge::Arc(arc) = edge else { return chord_turn };
    let in_circle = (point - arc.centre).hypot() < arc.radius;
    if arc.sweep.abs() >= TAU - 1e-9 {
        return if in_circle { TAU * arc.sweep.signum() } else { 0.0 };
    }
    let beyond = side.is_sign_negative() == (arc.sweep > 0.0);
    chord_turn + if in_circle && beyond { TAU * arc.sweep.signum() } else { 0.0 }
}

fn turned_about(outline: &Outline, point: Point) -> bool {
    outline.edges().iter().map(|edge| turn_about(edge, point)).sum::<f64>().abs() > PI
}

/// A ring of six edges, each straight or bent either way.
fn rings() -> impl Strategy<Value = Outline> {
    let corner = (20_u32..100, -0.9..0.9, any::<bool>());
    prop::array::uniform6(corner).prop_map(|corners| {
        let at = |(n, away): (usize, u32)| {
            let way = Vec2::from_angle(n as f64 * PI / 3.0);
            (f64::from(away) * way).round().to_point()
        };
        let places: Vec<Point> = corners.iter().map(|c| c.0).enumerate().map(at).collect();
        let next = places.iter().cycle().skip(1);
        let edges = places.iter().zip(next).zip(corners).map(|((&a, &b), (_, bulge, bent))| {
            let arc = Arc::from_bulge(a, b, if bent { bulge } else { 0.0 });
            arc.map_or(Edge::line(a, b), Edge::Arc)
        });
        Outline::new(edges.collect()).unwrap()
    })
}

proptest! {
    // The sum of the angles by which every edge turns about a point tells the same, and on an edge too.
    #[test]
    fn inside_is_what_the_turns_add_up_to(
        shape in rings(), x in -120_i32..120, y in -120_i32..120, t in 0.01..0.99, on in 0_usize..6,
    ) {
        let level = Point::new(f64::from(x), shape.edges()[on].start().y);
        let grid = Point::new(f64::from(x), f64::from(y));
        let ons = [t, 0.25, 0.5, 0.75].map(|t| shape.edges()[on].at(t));
        for point in [grid, level].into_iter().chain(ons) {
            let corner = shape.corners().any(|corner| (corner - point).hypot() < 1e-9);
            prop_assert!(corner || shape.contains(point) == turned_about(&shape, point), "{:?}", point);
        }
    }

    // The distance is the least over all edges.
    #[test]
    fn the_distance_is_the_least_of_all_edges(shape in rings(), x in -150.0..150.0, y in -150.0..150.0) {
        let point = Point::new(x, y);
        let least = shape.edges().iter().map(|edge| edge.distance_to(point)).fold(f64::INFINITY, f64::min);
        assert_relative_eq!(shape.distance_to(point), least, epsilon = 1e-9);
    }

    // The winding of kurbo's path through the same points is the judge.
    #[test]
    fn inside_agrees_with_the_path(x in -12.0..12.0, y in -12.0..12.0) {
        let (shape, point) = (keyhole(), Point::new(x, y));
        prop_assume!(shape.distance_to(point) > 1e-6);
        prop_assert_eq!(shape.contains(point), shape.to_path().winding(point) != 0);
    }
}

#[test]
fn a_circle_is_one_arc_and_a_halved_side_one_line() {
    let [Edge::Arc(arc)] = circle(800.0).unwrap().outline().merged()[..] else { panic!("arc") };
    assert_relative_eq!(arc.sweep, TAU);
    assert_relative_eq!(arc.radius, 400.0);
    let corners = [(0.0, 0.0), (4.0, 0.0), (9.0, 0.0), (9.0, 5.0), (0.0, 5.0), (0.0, 2.0)];
    let outline = Outline::polygon(&corners.map(Point::from)).unwrap();
    let merged = outline.merged();
    assert_eq!(merged.len(), 4);
    let length: f64 = merged.iter().map(Edge::length).sum();
    assert_relative_eq!(length, outline.perimeter());
}

#[test]
fn the_sharpest_corner_is_the_least_angle() {
    let corners = [(0.0, 0.0), (400.0, 0.0), (0.0, 300.0)].map(Point::from);
    let triangle = Outline::polygon(&corners).unwrap();
    assert_relative_eq!(triangle.sharpest_corner(), (300.0_f64 / 400.0).atan(), epsilon = 1e-12);
}
