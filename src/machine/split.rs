//! The part of a path that lies in one window: runs cut off at its edges, each begun and ended at an entry
//! point in an open light.

use super::route::Path;
use super::{MARGIN, NoWay};
use crate::geometry::{COINCIDENT, Edge, MOVED, Outline, backwards, distance_between};
use crate::passes::{Cut, Pass, Ring};
use crate::sash::{Light, PlacedBar, Sash};
use kurbo::{Point, Rect};
use std::sync::{Arc, OnceLock, PoisonError, RwLock};

/// What a set-up sees of the sash in one round of cuts.
pub(super) struct View {
    pub window: Outline,
    /// The windows of the other set-ups in the same round.
    pub others: Vec<Rect>,
    /// Height of rapid moves.
    pub clear: f64,
}

/// The paths of a pass, and their parts in the windows that were asked for: passes of any depth share them.
#[derive(Debug)]
pub(super) struct Whole {
    pub paths: Vec<Path>,
    entries: OnceLock<EntryPoints>,
    parts: RwLock<Vec<(Rect, Arc<Vec<Part>>)>>,
}

/// A run of a path inside a window.
#[derive(Debug)]
pub(super) struct Part {
    run: Vec<Edge>,
    /// The run with its ways in and out; none where the window holds no place to come down.
    reached: Option<Path>,
}

impl Part {
    pub(super) fn reached(&self) -> Option<&Path> {
        self.reached.as_ref()
    }

    pub(super) fn lies_in(&self, window: Rect) -> bool {
        self.run.iter().all(|edge| window.contains_rect(edge.bounds()))
    }
}

impl Whole {
    pub(super) fn new(paths: Vec<Path>) -> Whole {
        Whole { paths, entries: OnceLock::new(), parts: RwLock::default() }
    }

    /// Around all of the paths.
    pub(super) fn bounds(&self) -> Option<Rect> {
        self.paths.iter().map(Path::bounds).reduce(|all, path| all.union(path))
    }

    /// What of the paths, which are those of `pass`, lies within the view. What cannot be reached from a light in
    /// view, but lies whole in another window, is left to that.
    ///
    /// # Errors
    /// Where no light of the window takes the cutter.
    pub(super) fn within(
        &self,
        view: &View,
        sash: &Sash,
        pass: &Pass,
        radius: f64,
    ) -> Result<Arc<Vec<Part>>, NoWay> {
        let entries = || self.entries.get_or_init(|| EntryPoints::new(sash, pass, radius));
        let parts = self.parts(&view.window, entries);
        let elsewhere = |part: &Part| view.others.iter().any(|other| part.lies_in(*other));
        let lost = parts.iter().any(|part| part.reached.is_none() && !elsewhere(part));
        if lost { Err(NoWay::Entry(0.0)) } else { Ok(parts) }
    }

    fn parts<'a>(
        &self,
        window: &Outline,
        entries: impl FnOnce() -> &'a EntryPoints,
    ) -> Arc<Vec<Part>> {
        let bounds = window.bounds();
        let known = self.parts.read().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, parts)) = known.iter().find(|(window, _)| *window == bounds) {
            return Arc::clone(parts);
        }
        drop(known);
        let entries = entries();
        let part = |run: Vec<Edge>| Part { reached: entries.reach(window, &run), run };
        let runs = self.paths.iter().flat_map(|path| runs(window, path));
        let parts = Arc::new(runs.map(part).collect());
        // Another thread may have worked out the same meanwhile: either serves.
        let mut known = self.parts.write().unwrap_or_else(PoisonError::into_inner);
        known.push((bounds, Arc::clone(&parts)));
        parts
    }
}

/// The stretches of a path inside a window, each without a break. Of loops that are cut off nothing is left of what leads
/// to them: each goes on over where it began.
fn runs(window: &Outline, path: &Path) -> Vec<Vec<Edge>> {
    if path.loops().next().is_none() || window.bounds().contains_rect(path.bounds()) {
        return stretches(window, path.edges());
    }
    let cut_off = path.loops().map(|round| {
        let mut runs = stretches(window, round);
        if let [first, .., last] = runs.as_mut_slice()
            && goes_on(last, first.first().copied())
        {
            last.append(first);
            runs.swap_remove(0);
        }
        runs
    });
    cut_off.flatten().collect()
}

/// Whether a run ends where an edge begins.
fn goes_on(run: &[Edge], edge: Option<Edge>) -> bool {
    let ends = run.last().zip(edge);
    ends.is_some_and(|(last, edge)| (edge.start() - last.end()).hypot() <= MOVED)
}

/// The stretches of edges one after another inside a window, each without a break.
fn stretches(window: &Outline, edges: &[Edge]) -> Vec<Vec<Edge>> {
    let mut runs: Vec<Vec<Edge>> = Vec::new();
    for piece in edges.iter().flat_map(|edge| window.stretches_inside(edge)) {
        match runs.last_mut() {
            Some(run) if goes_on(run, Some(piece)) => run.push(piece),
            _ => runs.push(vec![piece]),
        }
    }
    runs
}

/// Where a cutter of any depth meets no wood of a sash before it is cut.
pub(super) struct Open {
    places: Vec<Outline>,
}

impl Open {
    pub(super) fn new(sash: &Sash, radius: f64) -> Open {
        // Paths begin and end at the margin itself.
        let room = radius + MARGIN / 2.0;
        let places = sash.lights.iter().map(|light| light.outline.outline().inset(room));
        Open { places: places.filter_map(Result::ok).collect() }
    }

    /// Straight from one place to another in the same light, if that is.
    pub(super) fn way(&self, from: Point, to: Point) -> Option<Vec<Edge>> {
        let way = Edge::line(from, to);
        self.holds(&way).then(|| vec![way])
    }

    fn holds(&self, way: &Edge) -> bool {
        self.places.iter().any(|place| {
            place.contains(way.start()) && place.length_inside(way) >= way.length() - MOVED
        })
    }
}

/// Where the cutter's centre may be in each light, with room beside it.
fn places<'a>(lights: impl Iterator<Item = &'a Light>, radius: f64) -> Vec<Outline> {
    lights.filter_map(|light| light.outline.outline().inset(radius + MARGIN).ok()).collect()
}

/// Where the cutter may come down for a pass.
#[derive(Debug)]
pub(super) struct EntryPoints {
    /// Where its centre may be in each light that the pass may be entered from.
    places: Vec<Outline>,
    /// Bars that no way may lead through: their wood is for other passes.
    standing: Vec<PlacedBar>,
    radius: f64,
    /// Whether the cutter goes up where it is at the end of a cut.
    rises: bool,
    /// How far along a run that was cut off at its beginning the cutter comes to it, to go back from there, mm.
    along: f64,
}

impl EntryPoints {
    fn new(sash: &Sash, pass: &Pass, radius: f64) -> EntryPoints {
        match &pass.cut {
            Cut::Ring(ring) => EntryPoints::of_ring(sash, ring, radius),
            Cut::Clean { ring, .. } => {
                let own = EntryPoints::of_ring(sash, ring, radius);
                EntryPoints { rises: true, ..own.once_bars_are_down() }
            }
            Cut::Strip(_) | Cut::Corners { .. } => EntryPoints {
                places: places(sash.lights.iter(), radius),
                standing: Vec::new(),
                radius,
                rises: true,
                // A bar may be begun at either end: what stands between the round ends of lanes at the window's edge is
                // met by no way in from the side then, whichever layer it was left by.
                along: radius,
            },
        }
    }

    /// From another light than its own the way would lead through the bar between.
    pub(super) fn of_ring(sash: &Sash, ring: &Ring, radius: f64) -> EntryPoints {
        let lights = sash.lights.iter().filter(|light| ring.serves(light));
        EntryPoints {
            places: places(lights, radius),
            standing: sash.cut_bars().to_vec(),
            radius,
            rises: false,
            along: 0.0,
        }
    }

    /// The same once no bar stands any more.
    pub(super) fn once_bars_are_down(self) -> EntryPoints {
        EntryPoints { standing: Vec::new(), ..self }
    }

    /// The nearest place on the rim of a light, if the way from there is free.
    pub(super) fn beside(&self, point: Point) -> Option<Point> {
        let rims = self.places.iter().map(|place| place.nearest_on(point).0);
        let near = rims.min_by(|a, b| a.distance(point).total_cmp(&b.distance(point)))?;
        self.is_free(&Edge::line(near, point)).then_some(near)
    }

    /// A run with its ways in and out; none where the window holds no place to come down.
    fn reach(&self, window: &Outline, run: &[Edge]) -> Option<Path> {
        let way_in = self.way_in(window, run)?;
        // From a strip it rises where it ends: on the way to a light the bar itself may stand.
        let way_out = if self.rises { Vec::new() } else { self.way_in(window, &backwards(run))? };
        let mut path = Path::from(way_in.first()?.start());
        path.follow(&way_in);
        path.follow(run);
        path.follow(&backwards(&way_out));
        Some(path)
    }

    /// Straight to the beginning of the run; or, where a bar lies on that way or it was cut off at its beginning, straight
    /// to the first place of the run that has none and is so far on, and back along the run.
    fn way_in(&self, window: &Outline, run: &[Edge]) -> Option<Vec<Edge>> {
        let begin = run.first()?.start();
        let cut_off = window.distance_to(begin) <= MOVED;
        let (mut gone, least) = (0.0, if cut_off { self.along - COINCIDENT } else { 0.0 });
        for (index, edge) in run.iter().enumerate() {
            let count = (edge.length() / self.radius).ceil().max(1.0);
            let mut step = 0.0;
            while step < count {
                let at = edge.at(step / count);
                let straight = Edge::line(self.nearest(window, at)?, at);
                if gone + edge.length() * step / count >= least && self.is_free(&straight) {
                    let walked = run.iter().take(index).copied();
                    let part = (step > 0.0).then(|| edge.part(0.0, step / count));
                    let walked: Vec<Edge> = walked.chain(part).collect();
                    return Some([vec![straight], backwards(&walked)].concat());
                }
                step += 1.0;
            }
            gone += edge.length();
        }
        Some(vec![Edge::line(self.nearest(window, begin)?, begin)])
    }

    /// Whether the cutter meets no standing bar on a way from a light.
    fn is_free(&self, way: &Edge) -> bool {
        let away = |bar: &PlacedBar| bar.measured.width / 2.0 + self.radius - COINCIDENT;
        let clears = |bar: &PlacedBar| distance_between(way, &bar.path) >= away(bar);
        way.length() <= COINCIDENT || self.standing.iter().all(clears)
    }

    /// The place in the window where the cutter can come down nearest to `point`: on the same side of
    /// every bar, if there is one.
    fn nearest(&self, window: &Outline, point: Point) -> Option<Point> {
        let here =
            |place: &Outline| place.contains(point) || place.distance_to(point) <= COINCIDENT;
        if self.places.iter().any(here) {
            return Some(point);
        }
        let edges = self.places.iter().flat_map(Outline::edges);
        let rims = edges.flat_map(|edge| window.stretches_inside(edge));
        let crosses = |at: Point| {
            let way = Edge::line(at, point);
            self.standing.iter().any(|bar| !bar.path.crossings(&way).is_empty())
        };
        rims.map(|rim| rim.at(rim.nearest(point)))
            .map(|at| (crosses(at), (at - point).hypot2(), at))
            .min_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)))
            .map(|(_, _, at)| at)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::placed;

    fn square(x0: f64, y0: f64, x1: f64, y1: f64) -> Outline {
        Outline::rectangle(Rect::new(x0, y0, x1, y1)).unwrap()
    }

    fn entries(places: Vec<Outline>) -> EntryPoints {
        EntryPoints { places, standing: Vec::new(), radius: 5.0, rises: false, along: 0.0 }
    }

    // Round a square of 100 mm, cut off at x = 50: up the left side from there and back.
    #[test]
    fn a_loop_is_cut_off_at_the_window() {
        let mut whole = Path::from(Point::new(80.0, 20.0));
        whole.line_to(Point::new(80.0, 0.0));
        for (x, y) in [(0.0, 0.0), (0.0, 100.0), (100.0, 100.0), (100.0, 0.0), (80.0, 0.0)] {
            whole.line_to(Point::new(x, y));
        }
        whole.line_to(Point::new(80.0, 20.0));
        let window = square(-1.0, -1.0, 50.0, 101.0);
        let [run] = &runs(&window, &whole)[..] else { panic!("one run") };
        let points: Vec<Point> = run.iter().map(Edge::end).collect();
        assert_eq!(run[0].start(), Point::new(50.0, 0.0));
        assert_eq!(points, [(0.0, 0.0), (0.0, 100.0), (50.0, 100.0)].map(Point::from));
    }

    // Round the same square from (30, 0), in and out from above it: one run from the window's edge over where the loop
    // began, and nothing of what leads there.
    #[test]
    fn a_loop_that_is_cut_off_goes_on_over_where_it_began() {
        let mut whole = Path::from(Point::new(30.0, 20.0));
        whole.line_to(Point::new(30.0, 0.0));
        let corners =
            [(30.0, 0.0), (0.0, 0.0), (0.0, 100.0), (100.0, 100.0), (100.0, 0.0), (30.0, 0.0)];
        let line = |pair: &[(f64, f64)]| Edge::line(Point::from(pair[0]), Point::from(pair[1]));
        let round: Vec<Edge> = corners.windows(2).map(line).collect();
        whole.once_round(&round);
        whole.line_to(Point::new(30.0, 20.0));
        let [run] = &runs(&square(-1.0, -1.0, 50.0, 101.0), &whole)[..] else { panic!("one run") };
        let points: Vec<Point> = run.iter().map(Edge::end).collect();
        assert_eq!(run[0].start(), Point::new(50.0, 0.0));
        assert_eq!(points, [(30.0, 0.0), (0.0, 0.0), (0.0, 100.0), (50.0, 100.0)].map(Point::from));
        // Whole in the window it is as it was.
        let all = runs(&square(-1.0, -1.0, 101.0, 101.0), &whole);
        assert_eq!(all, [whole.edges().to_vec()]);
    }

    /// A bar 10 mm wide, upright at x = 50.
    fn bar() -> PlacedBar {
        placed(0, Edge::line(Point::new(50.0, 0.0), Point::new(50.0, 110.0)), 10.0)
    }

    #[test]
    fn the_nearest_place_lies_in_the_window() {
        let window = square(-1.0, -1.0, 50.0, 101.0);
        let light = entries(vec![square(20.0, 20.0, 80.0, 80.0)]);
        let above = Point::new(50.0, 100.0);
        assert_eq!(light.nearest(&window, above), Some(Point::new(50.0, 80.0)));
        let inside = Point::new(30.0, 30.0);
        assert_eq!(light.nearest(&window, inside), Some(inside));
        let beyond = entries(vec![square(60.0, 20.0, 80.0, 80.0)]);
        assert_eq!(beyond.nearest(&window, above), None);
        assert_eq!(beyond.reach(&window, &[Edge::line(above, Point::new(0.0, 100.0))]), None);
    }

    // The light beyond the bar is nearer, and a way from it would lead through the bar.
    #[test]
    fn no_way_leads_through_a_bar_that_stands() {
        let window = square(-1.0, -1.0, 101.0, 101.0);
        let mut lights = entries(vec![square(5.0, 5.0, 40.0, 60.0), square(60.0, 5.0, 95.0, 95.0)]);
        let point = Point::new(45.0, 100.0);
        assert_eq!(lights.nearest(&window, point), Some(Point::new(60.0, 95.0)));
        lights.standing.push(bar());
        assert_eq!(lights.nearest(&window, point), Some(Point::new(40.0, 60.0)));
    }

    // By hand: the run begins at the window's edge, at x = 50, and is come to a radius of 5 mm on; not so one that begins
    // inside the window.
    #[test]
    fn a_run_that_was_cut_off_is_come_to_from_within() {
        let window = square(-1.0, -1.0, 50.0, 101.0);
        let lights = EntryPoints { along: 5.0, ..entries(vec![square(5.0, 5.0, 48.0, 60.0)]) };
        let run = |x: f64| [Edge::line(Point::new(x, 70.0), Point::new(0.0, 70.0))];
        let straight = |x: f64| Edge::line(Point::new(x, 60.0), Point::new(x, 70.0));
        let back = Edge::line(Point::new(45.0, 70.0), Point::new(50.0, 70.0));
        assert_eq!(lights.way_in(&window, &run(50.0)).unwrap(), [straight(45.0), back]);
        assert_eq!(lights.way_in(&window, &run(40.0)).unwrap(), [straight(40.0)]);
    }

    // By hand: 10 mm is half the bar and the radius of the cutter. From x = 50 the run leads left in steps
    // of 5 mm; from 40 on nothing is in the way.
    #[test]
    fn beside_a_bar_the_cutter_goes_along_the_run() {
        let window = square(-1.0, -1.0, 101.0, 101.0);
        let mut lights = entries(vec![square(5.0, 5.0, 40.0, 60.0)]);
        let run = [Edge::line(Point::new(50.0, 70.0), Point::new(0.0, 70.0))];
        let straight = |x: f64| Edge::line(Point::new(40.0, 60.0), Point::new(x, 70.0));
        assert_eq!(lights.way_in(&window, &run).unwrap(), [straight(50.0)]);
        lights.standing.push(bar());
        let back = Edge::line(Point::new(40.0, 70.0), Point::new(50.0, 70.0));
        assert_eq!(lights.way_in(&window, &run).unwrap(), [straight(40.0), back]);
        // Where all of the run lies beside the bar, the straight way is all there is.
        let short = [Edge::line(Point::new(50.0, 70.0), Point::new(48.0, 70.0))];
        assert_eq!(lights.way_in(&window, &short).unwrap(), [straight(50.0)]);
    }
}
