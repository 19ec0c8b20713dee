//! From an open light to a run that a window cuts off, and from its end back to one.

use super::MARGIN;
use crate::geometry::{Edge, Outline, SAME, distance_between};
use crate::passes::{Bite, Pass};
use crate::sash::{PlacedBar, Sash};
use crate::survey::BarsAs;
use kurbo::Point;

/// Where the cutter may come down for a pass.
pub(super) struct Doors {
    /// Where its centre may be in each light that the pass may be entered from.
    places: Vec<Outline>,
    /// Bars that no way may lead through: their wood is for other passes.
    standing: Vec<PlacedBar>,
    radius: f64,
}

/// Ways to the beginning of a run and from its end.
type Ways = (Vec<Edge>, Vec<Edge>);

impl Doors {
    pub(super) fn new(sash: &Sash, pass: &Pass, radius: f64) -> Doors {
        let lights = sash.lights.iter().filter(|light| match &pass.bite {
            // From another light the way would lead through the bar between.
            Bite::Ring(ring) => ring.serves(light),
            Bite::Strip(_) | Bite::Corners { .. } => true,
        });
        let places = lights.filter_map(|light| light.outline.outline().inset(radius + MARGIN).ok());
        let across = sash.measured.bars_as == BarsAs::OneUnit;
        let standing = match &pass.bite {
            Bite::Ring(_) if across => sash.bars.clone(),
            _ => Vec::new(),
        };
        Doors { places: places.collect(), standing, radius }
    }

    /// The ways in and out of a run; none where the window holds no place to come down.
    pub(super) fn ways(&self, window: &Outline, run: &[Edge]) -> Option<Ways> {
        let way_in = self.way_in(window, run)?;
        let way_out = self.way_in(window, &reversed(run))?;
        Some((way_in, reversed(&way_out)))
    }

    /// Straight to the beginning of the run; or, where a bar lies on that way, straight to the first place
    /// of the run that has none, and back along the run.
    fn way_in(&self, window: &Outline, run: &[Edge]) -> Option<Vec<Edge>> {
        let begin = run.first()?.start();
        for (index, edge) in run.iter().enumerate() {
            let count = (edge.length() / self.radius).ceil().max(1.0);
            let mut step = 0.0;
            while step < count {
                let at = edge.at(step / count);
                let straight = Edge::line(self.nearest(window, at)?, at);
                if self.is_free(&straight) {
                    let walked = run.iter().take(index).copied();
                    let part = (step > 0.0).then(|| edge.part(0.0, step / count));
                    let walked: Vec<Edge> = walked.chain(part).collect();
                    return Some([vec![straight], reversed(&walked)].concat());
                }
                step += 1.0;
            }
        }
        Some(vec![Edge::line(self.nearest(window, begin)?, begin)])
    }

    /// Whether the cutter meets no standing bar on a way from a light.
    fn is_free(&self, way: &Edge) -> bool {
        let away = |bar: &PlacedBar| bar.width / 2.0 + self.radius - SAME;
        let clears = |bar: &PlacedBar| distance_between(way, &bar.path) >= away(bar);
        way.length() <= SAME || self.standing.iter().all(clears)
    }

    /// The place in the window where the cutter can come down nearest to `point`: on the same side of
    /// every bar, if there is one.
    fn nearest(&self, window: &Outline, point: Point) -> Option<Point> {
        let here = |place: &Outline| place.contains(point) || place.distance_to(point) <= SAME;
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

fn reversed(run: &[Edge]) -> Vec<Edge> {
    run.iter().rev().map(Edge::reversed).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Rect;

    fn square(x0: f64, y0: f64, x1: f64, y1: f64) -> Outline {
        Outline::rectangle(Rect::new(x0, y0, x1, y1)).unwrap()
    }

    fn doors(places: Vec<Outline>) -> Doors {
        Doors { places, standing: Vec::new(), radius: 5.0 }
    }

    /// A bar 10 mm wide, upright at x = 50.
    fn bar() -> PlacedBar {
        let path = Edge::line(Point::new(50.0, 0.0), Point::new(50.0, 110.0));
        PlacedBar { path, width: 10.0, web: 4.0, through: true }
    }

    #[test]
    fn the_nearest_place_lies_in_the_window() {
        let window = square(-1.0, -1.0, 50.0, 101.0);
        let light = doors(vec![square(20.0, 20.0, 80.0, 80.0)]);
        let above = Point::new(50.0, 100.0);
        assert_eq!(light.nearest(&window, above), Some(Point::new(50.0, 80.0)));
        let inside = Point::new(30.0, 30.0);
        assert_eq!(light.nearest(&window, inside), Some(inside));
        let beyond = doors(vec![square(60.0, 20.0, 80.0, 80.0)]);
        assert_eq!(beyond.nearest(&window, above), None);
        assert_eq!(beyond.ways(&window, &[Edge::line(above, Point::new(0.0, 100.0))]), None);
    }

    // The light beyond the bar is nearer, and a way from it would lead through the bar.
    #[test]
    fn no_way_leads_through_a_bar_that_stands() {
        let window = square(-1.0, -1.0, 101.0, 101.0);
        let mut lights = doors(vec![square(5.0, 5.0, 40.0, 60.0), square(60.0, 5.0, 95.0, 95.0)]);
        let point = Point::new(45.0, 100.0);
        assert_eq!(lights.nearest(&window, point), Some(Point::new(60.0, 95.0)));
        lights.standing.push(bar());
        assert_eq!(lights.nearest(&window, point), Some(Point::new(40.0, 60.0)));
    }

    // By hand: 10 mm is half the bar and the radius of the cutter. From x = 50 the run leads left in steps
    // of 5 mm; from 40 on nothing is in the way.
    #[test]
    fn beside_a_bar_the_cutter_goes_along_the_run() {
        let window = square(-1.0, -1.0, 101.0, 101.0);
        let mut lights = doors(vec![square(5.0, 5.0, 40.0, 60.0)]);
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
