//! The part of a pass that lies in one window: runs cut off at its edges, each begun and ended in an
//! open light.

use super::NoWay;
use super::doors::Doors;
use super::route::{Move, Pace, Route, Step};
use crate::geometry::{Edge, Outline, SAME};
use crate::passes::Pass;
use kurbo::{Point, Rect};

/// Edges one after another at one depth, without a break.
#[derive(Debug, Clone, PartialEq)]
struct Run {
    edges: Vec<Edge>,
    z: f64,
}

/// What a set-up sees of the sash in one round of cuts.
pub(super) struct View {
    pub window: Outline,
    /// The windows of the other set-ups in the same round.
    pub others: Vec<Rect>,
    /// Height of rapid moves.
    pub clear: f64,
}

impl Run {
    fn lies_in(&self, window: Rect) -> bool {
        self.edges.iter().all(|edge| window.contains_rect(edge.bounds()))
    }
}

/// Adds to `route` what of `whole`, the way of `pass`, lies within the view. What cannot be reached from
/// a light in view, but lies whole in another window, is left to that.
///
/// # Errors
/// Where no light of the window takes the cutter.
pub(super) fn within(
    view: &View,
    whole: &Route,
    pass: &Pass,
    doors: &Doors,
    route: &mut Route,
) -> Result<(), NoWay> {
    let View { window, others, clear } = view;
    let mut told = false;
    for run in runs(window, whole) {
        let (way_in, way_out) = match doors.ways(window, &run.edges) {
            Some(ways) => ways,
            _ if others.iter().any(|other| run.lies_in(*other)) => continue,
            _ => return Err(NoWay::Entry(0.0)),
        };
        if !told {
            let place = &pass.place;
            route.remark(format!("{place}: {} to {:.2} mm deep", pass.stage, pass.to_depth));
            told = true;
        }
        let Some(entrance) = way_in.first() else { continue };
        route.come_down(entrance.start(), *clear, run.z);
        route.follow(&way_in);
        route.follow(&run.edges);
        route.follow(&way_out);
        route.up(*clear);
    }
    Ok(())
}

/// The bounds of everything that is cut.
pub(super) fn reach<'r>(routes: impl Iterator<Item = &'r Route>) -> Option<Rect> {
    let edges = routes.flat_map(chains).flat_map(|run| run.edges);
    edges.map(|edge| edge.bounds()).reduce(|a, b| a.union(b))
}

/// What is cut at one depth without a break.
fn chains(route: &Route) -> Vec<Run> {
    let mut chains: Vec<Run> = Vec::new();
    let mut open = false;
    for step in route.steps() {
        match step {
            Step::Remark(_) => {}
            Step::Move(Move::Z { to, .. }) => {
                chains.push(Run { edges: Vec::new(), z: *to });
                open = true;
            }
            Step::Move(Move::Plane { pace: Pace::Rapid, .. }) => open = false,
            // A route is bent to the face only after it is split.
            Step::Move(Move::Plane { along, .. } | Move::Slope { along, .. }) => {
                if let Some(chain) = chains.last_mut().filter(|_| open) {
                    chain.edges.push(*along);
                }
            }
        }
    }
    chains.retain(|chain| !chain.edges.is_empty());
    chains
}

fn runs(window: &Outline, route: &Route) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for chain in chains(route) {
        let mut end: Option<Point> = None;
        for piece in chain.edges.iter().flat_map(|edge| window.stretches_inside(edge)) {
            let goes_on = end.is_some_and(|end| (piece.start() - end).hypot() <= 10.0 * SAME);
            end = Some(piece.end());
            match runs.last_mut() {
                Some(run) if goes_on => run.edges.push(piece),
                _ => runs.push(Run { edges: vec![piece], z: chain.z }),
            }
        }
    }
    runs
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(x0: f64, y0: f64, x1: f64, y1: f64) -> Outline {
        Outline::rectangle(Rect::new(x0, y0, x1, y1)).unwrap()
    }

    // Round a square of 100 mm, cut off at x = 50: up the left side from there and back.
    #[test]
    fn a_loop_is_cut_off_at_the_window() {
        let mut whole = Route::default();
        whole.come_down(Point::new(80.0, 20.0), 8.0, -3.0);
        whole.line_to(Point::new(80.0, 0.0));
        for (x, y) in [(0.0, 0.0), (0.0, 100.0), (100.0, 100.0), (100.0, 0.0), (80.0, 0.0)] {
            whole.line_to(Point::new(x, y));
        }
        whole.line_to(Point::new(80.0, 20.0));
        whole.up(8.0);
        let window = square(-1.0, -1.0, 50.0, 101.0);
        let [run] = &runs(&window, &whole)[..] else { panic!("one run") };
        let points: Vec<Point> = run.edges.iter().map(Edge::end).collect();
        assert_eq!(run.edges[0].start(), Point::new(50.0, 0.0));
        assert_eq!(points, [(0.0, 0.0), (0.0, 100.0), (50.0, 100.0)].map(Point::from));
    }
}
