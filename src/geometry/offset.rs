//! Outlines moved outwards or inwards, each edge by its own distance.

use super::crossing::first_crossing;
use super::distance::{circle_circle, circle_on_line};
use super::edge::Arc;
use super::prepared::Prepared;
use super::tolerance::{BLUNT, COINCIDENT, FULL, MOVED, SMOOTH};
use super::{Edge, Outline, OutlineError};
use kurbo::{Line, Point};
use std::f64::consts::{PI, TAU};
use std::fmt;

/// How moved edges meet again at a corner that opens.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Join {
    /// Edges run on until they meet.
    Sharp,
    /// An arc round the old corner; both edges must move by the same distance.
    Round,
}

/// Why an outline could not be moved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum OffsetError {
    /// The number of distances differs from the number of edges, or one is not finite.
    Distances,
    /// The edge with this index vanishes or turns round: the move is too large for the shape.
    Collapsed(usize),
    /// The edges that meet at the start of this index have no common point after the move.
    Apart(usize),
    /// These edges would cross or touch after the move: too large for a neck, or for a curve between
    /// them.
    Crosses(usize, usize),
}

impl fmt::Display for OffsetError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            OffsetError::Distances => write!(f, "one finite distance an edge is needed"),
            OffsetError::Collapsed(i) => write!(f, "edge {i} vanishes: the offset is too large"),
            OffsetError::Apart(i) => write!(f, "edges no longer meet at corner {i}"),
            OffsetError::Crosses(i, j) => {
                write!(f, "edges {i} and {j} would cross: the offset is too large")
            }
        }
    }
}

impl std::error::Error for OffsetError {}

impl Outline {
    /// The outline moved outwards by `distance` mm everywhere (inwards where negative).
    ///
    /// ```
    /// use fillister::geometry::{Join, Outline};
    /// let sheet = Outline::rectangle(kurbo::Rect::new(0.0, 0.0, 400.0, 600.0))?;
    /// let wider = sheet.offset(10.0, Join::Sharp)?;
    /// assert!((wider.area() - 420.0 * 620.0).abs() < 1e-6);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # Errors
    /// Where an edge would vanish or neighbours would no longer meet.
    pub fn offset(&self, distance: f64, join: Join) -> Result<Outline, OffsetError> {
        self.offset_each(&vec![distance; self.edges().len()], join)
    }

    /// The outline with edge `i` moved outwards by `distances[i]` mm (inwards where negative).
    ///
    /// # Errors
    /// As [`Outline::offset`]; also where the number of distances is wrong.
    pub fn offset_each(&self, distances: &[f64], join: Join) -> Result<Outline, OffsetError> {
        let edges = self.moved_each(distances, join)?.into_iter().map(|(edge, _)| edge);
        Outline::new(edges.collect()).map_err(|error| match error {
            OutlineError::Empty => OffsetError::Collapsed(0),
            OutlineError::Open(i) => OffsetError::Apart(i),
            OutlineError::Degenerate(i) => OffsetError::Collapsed(i),
        })
    }

    /// The edges of [`Outline::offset_each`], each with the index of the edge it comes from; what joins
    /// two of them has none.
    pub(super) fn moved_each(
        &self,
        distances: &[f64],
        join: Join,
    ) -> Result<Vec<(Edge, Option<usize>)>, OffsetError> {
        let count = self.edges().len();
        if distances.len() != count || !distances.iter().all(|d| d.is_finite()) {
            return Err(OffsetError::Distances);
        }
        let mut moved = Vec::with_capacity(count);
        for (index, (edge, &distance)) in self.edges().iter().zip(distances).enumerate() {
            moved.push(edge.shifted(distance).ok_or(OffsetError::Collapsed(index))?);
        }
        let mut joints = Vec::with_capacity(count);
        let before = moved.iter().cycle().skip(count - 1);
        let by_before = distances.iter().cycle().skip(count - 1);
        let came_from = self.edges().iter().cycle().skip(count - 1);
        for (index, ((((edge, last), &by), &by_last), (old, old_last))) in moved
            .iter()
            .zip(before)
            .zip(distances)
            .zip(by_before)
            .zip(self.edges().iter().zip(came_from))
            .enumerate()
        {
            let opens = old_last.direction(1.0).cross(old.direction(0.0)) * by > 0.0;
            // At a smooth corner the edges still meet, and an arc between them would have no length.
            let parted = (last.end() - edge.start()).hypot() > COINCIDENT;
            if join == Join::Round && opens && parted && (by - by_last).abs() <= COINCIDENT {
                joints.push(Joint {
                    leave: last.end(),
                    enter: edge.start(),
                    round: Some(old.start()),
                });
            } else if (by - by_last).abs() > COINCIDENT && smooth(old_last, old) {
                // Neighbours that go on smoothly run side by side: a step joins them.
                joints.push(Joint { leave: last.end(), enter: edge.start(), round: None });
            } else {
                let found = meet(last, edge, old.start());
                let step = Joint { leave: last.end(), enter: edge.start(), round: None };
                let met = |at: Point| Joint { leave: at, enter: at, round: None };
                // At a blunt corner neighbours that moved by very different distances may miss each other.
                let blunt =
                    (by - by_last).abs() > COINCIDENT && turns_at_most(old_last, old, BLUNT);
                let joint = found.map(met).or(blunt.then_some(step));
                joints.push(joint.ok_or(OffsetError::Apart(index))?);
            }
        }
        let mut edges = Vec::with_capacity(2 * count);
        let after = joints.iter().cycle().skip(1);
        for (index, ((edge, joint), next)) in moved.iter().zip(&joints).zip(after).enumerate() {
            if let Some(centre) = joint.round {
                edges.push((round_joint(joint, centre), None));
            } else if (joint.enter - joint.leave).hypot() > COINCIDENT {
                edges.push((Edge::line(joint.leave, joint.enter), None));
            }
            let trimmed =
                trimmed(edge, joint.enter, next.leave).ok_or(OffsetError::Collapsed(index))?;
            edges.push((trimmed, Some(index)));
        }
        self.vouch_for(&edges, distances)?;
        Ok(edges)
    }

    /// Refuses moved edges that are no longer the outline moved, though each of them still runs forwards.
    fn vouch_for(
        &self,
        moved: &[(Edge, Option<usize>)],
        distances: &[f64],
    ) -> Result<(), OffsetError> {
        let edges: Vec<Prepared> = moved.iter().map(|(edge, _)| Prepared::new(*edge)).collect();
        let from =
            |index: usize| moved.iter().skip(index).find_map(|(_, from)| *from).unwrap_or_default();
        if edges.iter().map(|edge| edge.edge.area_share()).sum::<f64>() <= COINCIDENT {
            return Err(OffsetError::Collapsed(0));
        }
        if let Some((i, j)) = first_crossing(&edges) {
            return Err(OffsetError::Crosses(from(i), from(j)));
        }
        // Moved alike, every edge keeps its distance from the whole of the old outline.
        let by = distances.first().copied().unwrap_or_default();
        if distances.iter().all(|distance| (distance - by).abs() <= COINCIDENT) {
            let least = by.abs() - MOVED;
            let near = |edge: &Prepared| {
                [0.0, 0.5, 1.0].iter().any(|&t| self.distance_to(edge.edge.at(t)) < least)
            };
            if let Some(index) = edges.iter().position(near) {
                return Err(OffsetError::Collapsed(from(index)));
            }
        }
        Ok(())
    }
}

/// Whether `next` goes on smoothly where `edge` ends.
pub(super) fn smooth(edge: &Edge, next: &Edge) -> bool {
    turns_at_most(edge, next, SMOOTH)
}

fn turns_at_most(edge: &Edge, next: &Edge, sine: f64) -> bool {
    let (along, on) = (edge.direction(1.0), next.direction(0.0));
    along.dot(on) > 0.0 && along.cross(on).abs() < sine
}

/// A corner after the move: where the edge before leaves and the edge after enters.
struct Joint {
    leave: Point,
    enter: Point,
    round: Option<Point>,
}

fn round_joint(joint: &Joint, centre: Point) -> Edge {
    let (from, to) = (joint.leave - centre, joint.enter - centre);
    let turn = (to.atan2() - from.atan2() + PI).rem_euclid(TAU) - PI;
    Edge::Arc(Arc { centre, radius: from.hypot(), start: from.atan2(), sweep: turn })
}

/// Where the two moved edges, run on as far as needed, meet nearest to the old corner.
pub(super) fn meet(last: &Edge, next: &Edge, corner: Point) -> Option<Point> {
    if (last.end() - next.start()).hypot() <= COINCIDENT {
        return Some(next.start());
    }
    let places = match (last, next) {
        (Edge::Line(a), Edge::Line(b)) => a.crossing_point(*b).into_iter().collect(),
        (Edge::Line(line), Edge::Arc(arc)) | (Edge::Arc(arc), Edge::Line(line)) => {
            circle_on_line(line, arc).into_iter().map(|(_, point)| point).collect()
        }
        (Edge::Arc(a), Edge::Arc(b)) => circle_circle(a, b),
    };
    places
        .into_iter()
        .filter(|p| p.is_finite())
        .min_by(|p, q| (*p - corner).hypot2().total_cmp(&(*q - corner).hypot2()))
}

/// `edge` from `from` to `to` (both on its line or circle); `None` where it would turn round.
pub(super) fn trimmed(edge: &Edge, from: Point, to: Point) -> Option<Edge> {
    match edge {
        Edge::Line(line) => {
            let kept = Line::new(from, to);
            ((line.p1 - line.p0).dot(to - from) > 0.0).then_some(Edge::Line(kept))
        }
        Edge::Arc(arc) => {
            let (a, b) = ((from - arc.centre).atan2(), (to - arc.centre).atan2());
            let wrap = |angle: f64| (angle + PI).rem_euclid(TAU) - PI;
            // Each end slides by less than half a turn, so the sweep changes by the difference.
            let late = wrap(a - arc.start);
            let sweep = arc.sweep - late + wrap(b - arc.start - arc.sweep);
            (sweep * arc.sweep > 0.0 && sweep.abs() <= TAU - FULL).then_some(Edge::Arc(Arc {
                start: a,
                sweep,
                ..*arc
            }))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use kurbo::Rect;

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
        let Some(Edge::Arc(moved)) = wall.edges().get(2) else {
            panic!("the head must stay an arc")
        };
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
                let steiner =
                    plate.area() + plate.perimeter() * distance + PI * distance * distance;
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
            let (left, right) =
                (Point::new(200.0 - mouth, 300.0), Point::new(200.0 + mouth, 300.0));
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
        let half = |radius, start| {
            Edge::Arc(Arc { centre: Point::new(400.0, 0.0), radius, start, sweep: PI })
        };
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
}
