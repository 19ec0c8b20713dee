//! Where a cutter goes: a path seen from above, and a route of rapid moves at clear height and feed moves
//! below.

use super::{ABOVE, Feeds};
use crate::geometry::{COINCIDENT, Edge, MOVED, Placement, Surface, backwards};
use crate::sash::Sash;
use crate::survey::Workshop;
use kurbo::{Point, Rect};
use std::ops::Range;

/// Where the cutter's centre goes at one depth, seen from above, at feed: edges one after another without
/// a break.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Path {
    start: Point,
    edges: Vec<Edge>,
    /// Which of them go once round, loop by loop; the others lead there and back.
    loops: Vec<Range<usize>>,
}

impl Path {
    /// A path that begins there.
    pub(super) fn from(start: Point) -> Path {
        Path { start, edges: Vec::new(), loops: Vec::new() }
    }

    pub(super) fn start(&self) -> Point {
        self.start
    }

    pub(super) fn end(&self) -> Point {
        self.edges.last().map_or(self.start, Edge::end)
    }

    /// From a place to where it begins, by the nearest place within `floor` and the end of its first edge.
    pub(super) fn led_to(&self, from: Point, floor: Rect) -> Vec<Edge> {
        let within = |at: f64, (low, high): (f64, f64)| at.min(high).max(low);
        let (x, y) = (within(from.x, (floor.x0, floor.x1)), within(from.y, (floor.y0, floor.y1)));
        let first = self.edges.first().map(Edge::end);
        let mut way = Path::from(from);
        [Point::new(x, y)]
            .into_iter()
            .chain(first)
            .chain([self.start])
            .for_each(|at| way.line_to(at));
        way.edges
    }

    pub(super) fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// Around all of it.
    pub(super) fn bounds(&self) -> Rect {
        let start = Rect::from_points(self.start, self.start);
        self.edges.iter().map(Edge::bounds).fold(start, |all, edge| all.union(edge))
    }

    /// Straight; nothing where the path already ends there.
    pub(super) fn line_to(&mut self, to: Point) {
        let from = self.end();
        if from != to {
            self.edges.push(Edge::line(from, to));
        }
    }

    /// Along an edge that begins where the path ends.
    pub(super) fn along(&mut self, edge: &Edge) {
        match edge {
            Edge::Line(line) => self.line_to(line.p1),
            Edge::Arc(_) => self.edges.push(*edge),
        }
    }

    /// Along edges one after another.
    pub(super) fn follow(&mut self, edges: &[Edge]) {
        for edge in edges {
            self.along(edge);
        }
    }

    /// Once round, along edges that end where they begin.
    pub(super) fn once_round(&mut self, edges: &[Edge]) {
        let from = self.edges.len();
        self.follow(edges);
        self.loops.push(from..self.edges.len());
    }

    /// What goes once round, loop by loop.
    pub(super) fn loops(&self) -> impl Iterator<Item = &[Edge]> {
        self.loops.iter().filter_map(|of| self.edges.get(of.clone()))
    }

    /// Along `line` from one share of its length to another, either way.
    pub(super) fn stretch(&mut self, line: &Edge, from: f64, to: f64) {
        let stretch = line.part(from, to);
        if stretch.length() > COINCIDENT {
            self.along(&stretch);
        }
    }
}

/// A stretch of a path, and the depths that it is cut to one after the other before that of its pass, mm below the
/// face: from its beginning to its end and back each time.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Stretch {
    pub edges: Vec<Edge>,
    pub depths: Vec<f64>,
}

impl Stretch {
    /// All of a path, with no depth before that of its pass.
    pub(super) fn whole(path: &Path) -> Stretch {
        Stretch { edges: path.edges.clone(), depths: Vec::new() }
    }
}

/// How fast a move goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Pace {
    Rapid,
    /// In the plane.
    Cut,
    /// Up or down.
    Down,
}

/// One move of the cutter's tip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Move {
    /// Straight up or down to a Z.
    Z { to: f64, pace: Pace },
    /// In the plane, along an edge that begins where the cutter stands.
    Plane { along: Edge, pace: Pace },
    /// Along an edge seen from above while Z changes evenly to a new one.
    Slope { along: Edge, to: f64, pace: Pace },
}

/// Moves one after another, with remarks for the reader between them.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Route {
    steps: Vec<Step>,
    at: Option<Point>,
    /// Whether the cutter is below the height of rapid moves.
    down: bool,
}

/// Furthest that the cutter goes on below to where the next path begins over a face that is not flat, mm: there a long
/// way is many short ones.
const NEAR: f64 = 50.0;

/// How fast the cutter goes.
#[derive(Debug, Clone, Copy)]
pub(super) struct Speeds {
    feeds: Feeds,
    /// Of rapid moves, mm/min.
    rapid: f64,
    /// Furthest that it goes on below, mm.
    furthest: f64,
}

impl Speeds {
    pub(super) fn new(sash: &Sash, workshop: &Workshop) -> Speeds {
        let flat = sash.measured.warp().surface == Surface::FLAT;
        let furthest = if flat { f64::INFINITY } else { NEAR };
        Speeds { feeds: Feeds::new(workshop), rapid: workshop.machine.rapid, furthest }
    }

    /// Whether `below` mm at feed are quicker than up to `clear`, rapidly `straight` across and down to `z` again.
    fn stays_down(&self, (below, straight): (f64, f64), (clear, z): (f64, f64)) -> bool {
        let above = ABOVE.min(clear);
        let rapid = (clear - z) + straight + (clear - above);
        below <= self.furthest
            && below / self.feeds.cut <= rapid / self.rapid + (above - z) / self.feeds.down
    }
}

/// A part of a route.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Step {
    Remark(String),
    Move(Move),
}

impl Route {
    pub(super) fn steps(&self) -> &[Step] {
        &self.steps
    }

    /// A route of other steps.
    pub(super) fn with_steps(&self, steps: Vec<Step>) -> Route {
        Route { steps, ..*self }
    }

    pub(super) fn remark(&mut self, text: String) {
        self.steps.push(Step::Remark(text));
    }

    /// Up to `clear`, rapidly across to where the path begins, down to just above the face, and to `z` at feed, which
    /// wants to be free of wood, and along the path, stretch by stretch. From the end of the path before, where there is a
    /// `free` way from it at the depth that it has, it goes on by that instead if that is quicker.
    pub(super) fn cut(
        &mut self,
        (start, stretches): (Point, &[Stretch]),
        (clear, z): (f64, f64),
        speeds: Speeds,
        free: impl Fn(Point) -> Option<Vec<Edge>>,
    ) {
        let quicker = |link: &Vec<Edge>| {
            let below = link.iter().map(Edge::length).sum();
            let straight = self.at.map_or(0.0, |at| at.distance(start));
            speeds.stays_down((below, straight), (clear, z))
        };
        let link = self.at.filter(|_| self.down).and_then(free).filter(quicker);
        if let Some(link) = link {
            self.follow(&link.into_iter().filter(|edge| edge.length() > 0.0).collect::<Vec<_>>());
        } else {
            self.rapid_to(start, clear);
            self.push(Move::Z { to: ABOVE.min(clear), pace: Pace::Rapid });
        }
        self.push(Move::Z { to: z, pace: Pace::Down });
        (self.down, self.at) = (true, Some(start));
        for Stretch { edges, depths } in stretches {
            for (index, depth) in depths.iter().enumerate() {
                let pace = if index == 0 { Pace::Rapid } else { Pace::Down };
                self.push(Move::Z { to: -depth, pace });
                self.follow(edges);
                let begin = edges.first().map(Edge::start);
                let away = self.at.zip(begin).is_some_and(|(at, begin)| at.distance(begin) > MOVED);
                if away {
                    self.follow(&backwards(edges));
                }
            }
            if !depths.is_empty() {
                self.push(Move::Z { to: z, pace: Pace::Down });
            }
            self.follow(edges);
        }
    }

    /// Where the cutter stands, if that is known.
    pub(super) fn at(&self) -> Option<Point> {
        self.at
    }

    /// Down to `z`, and up to `clear` again.
    pub(super) fn touch(&mut self, z: f64, clear: f64) {
        self.push(Move::Z { to: z, pace: Pace::Down });
        self.up(clear);
    }

    /// Along edges from where the cutter stands, at the height it has; those that go on as the one before are one move.
    pub(super) fn follow(&mut self, edges: &[Edge]) {
        for &along in edges {
            if let Some(Step::Move(Move::Plane { along: last, pace: Pace::Cut })) =
                self.steps.last_mut()
                && let Some(both) = last.joined(&along)
            {
                *last = both;
            } else {
                self.push(Move::Plane { along, pace: Pace::Cut });
            }
        }
        self.at = edges.last().map(Edge::end).or(self.at);
    }

    /// Up to `clear` and rapidly across.
    pub(super) fn rapid_to(&mut self, at: Point, clear: f64) {
        self.up(clear);
        let from = self.at.unwrap_or(at);
        self.push(Move::Plane { along: Edge::line(from, at), pace: Pace::Rapid });
        self.at = Some(at);
    }

    pub(super) fn up(&mut self, clear: f64) {
        self.push(Move::Z { to: clear, pace: Pace::Rapid });
        self.down = false;
    }

    fn push(&mut self, step: Move) {
        self.steps.push(Step::Move(step));
    }

    /// The same in the frame of another place.
    pub(super) fn placed(&self, place: &Placement) -> Route {
        let placed = |step: &Step| match step {
            Step::Move(Move::Plane { along, pace }) => {
                Step::Move(Move::Plane { along: place.local_edge(along), pace: *pace })
            }
            Step::Move(Move::Slope { along, to, pace }) => {
                Step::Move(Move::Slope { along: place.local_edge(along), to: *to, pace: *pace })
            }
            other => other.clone(),
        };
        let steps = self.steps.iter().map(placed).collect();
        Route { steps, at: self.at.map(|at| place.local(at)), down: self.down }
    }

    /// Where its first move in the plane begins.
    pub(super) fn begin(&self) -> Option<Point> {
        self.steps.iter().find_map(|step| match step {
            Step::Move(Move::Plane { along, .. } | Move::Slope { along, .. }) => {
                Some(along.start())
            }
            _ => None,
        })
    }

    /// Lengths over feeds, in minutes; where the cutter comes from to its first place is not known.
    pub(super) fn minutes(&self, feeds: &Feeds, rapid: f64) -> f64 {
        let mut z = None;
        let mut rise = |to: f64| z.replace(to).map_or(0.0, |z: f64| to - z);
        let mut minutes = 0.0;
        for step in &self.steps {
            let Step::Move(step) = step else { continue };
            let (length, pace) = match step {
                Move::Z { to, pace } => (rise(*to).abs(), pace),
                Move::Plane { along, pace } => (along.length(), pace),
                Move::Slope { along, to, pace } => (along.length().hypot(rise(*to)), pace),
            };
            minutes += length
                / match pace {
                    Pace::Rapid => rapid,
                    Pace::Cut => feeds.cut,
                    Pace::Down => feeds.down,
                };
        }
        minutes
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Arc;
    use std::f64::consts::{FRAC_PI_2, FRAC_PI_4};

    /// Whether the cutter stays below on its way to a path that begins so far from the end of another at 17 mm.
    fn stays_down(away: f64) -> bool {
        let feeds = Feeds { speed: 8000.0, cut: 1500.0, down: 400.0 };
        let speeds = Speeds { feeds, rapid: 3000.0, furthest: f64::INFINITY };
        let mut route = Route::default();
        for start in [0.0, 100.0 + away] {
            let edges = vec![Edge::line(Point::new(start, 0.0), Point::new(start + 100.0, 0.0))];
            let stretches = [Stretch { edges, depths: Vec::new() }];
            let start = Point::new(start, 0.0);
            let free = |at| Some(vec![Edge::line(at, start)]);
            route.cut((start, &stretches), (30.0, -17.0), speeds, free);
        }
        let lifts = |step: &&Step| matches!(step, Step::Move(Move::Z { to: 30.0, .. }));
        route.steps().iter().filter(lifts).count() == 1
    }

    // There and back ends where it began, but for what arithmetic loses: twice the way at each of two depths, and no third.
    #[test]
    fn a_stretch_that_ends_where_it_began_is_not_gone_back_along() {
        let feeds = Feeds { speed: 8000.0, cut: 1500.0, down: 400.0 };
        let speeds = Speeds { feeds, rapid: 3000.0, furthest: f64::INFINITY };
        let (at, far) = (Point::ZERO, Point::new(20.0, 0.0));
        let ways = |to: Point| {
            let edges = vec![Edge::line(at, far), Edge::line(far, to)];
            let mut route = Route::default();
            let stretches = [Stretch { edges, depths: vec![2.0] }];
            route.cut((at, &stretches), (30.0, -4.0), speeds, |_| None);
            let cut =
                |step: &&Step| matches!(step, Step::Move(Move::Plane { pace: Pace::Cut, .. }));
            route.steps().iter().filter(cut).count()
        };
        assert_eq!(ways(Point::new(1e-9, 0.0)), 4);
        assert_eq!(ways(Point::new(5.0, 0.0)), 6);
    }

    // By hand: 20 mm in three parts are one move, and so is a quarter circle in two; what turns back is another.
    #[test]
    fn edges_that_go_on_as_the_one_before_are_one_move() {
        let at = |x: f64| Point::new(x, 0.0);
        let arc = |start: f64| {
            Edge::Arc(Arc { centre: Point::new(20.0, 5.0), radius: 5.0, start, sweep: FRAC_PI_4 })
        };
        let mut route = Route::default();
        route.rapid_to(at(0.0), 30.0);
        route.follow(&[Edge::line(at(0.0), at(4.0)), Edge::line(at(4.0), at(16.0))]);
        route.follow(&[Edge::line(at(16.0), at(20.0)), arc(-FRAC_PI_2), arc(-FRAC_PI_4)]);
        route.follow(&[Edge::line(Point::new(25.0, 5.0), at(20.0)), Edge::line(at(20.0), at(5.0))]);
        route.follow(&[Edge::line(at(5.0), at(8.0))]);
        let along = |step: &Step| match step {
            Step::Move(Move::Plane { along, pace: Pace::Cut }) => Some(along.length()),
            _ => None,
        };
        let lengths: Vec<f64> = route.steps().iter().filter_map(along).collect();
        let expected = [20.0, 5.0 * FRAC_PI_2, 50.0_f64.sqrt(), 15.0, 3.0];
        assert_eq!(lengths.len(), expected.len());
        assert!(lengths.iter().zip(expected).all(|(a, b)| (a - b).abs() < 1e-9), "{lengths:?}");
    }

    // By hand: L/1500 below; above 47 mm up, L across and 28 mm down at 3000, then 19 mm at 400: L = 217.5 mm.
    #[test]
    fn the_cutter_stays_below_as_long_as_that_is_quicker() {
        assert!(stays_down(217.0));
        assert!(!stays_down(218.0));
    }
}
