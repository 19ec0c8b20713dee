//! Regions with level and upright edges cut into rectangles, with nothing of the program's own geometry.

use fillister::geometry::Region;
use kurbo::{Point, Rect};

/// Ends of edges closer than this are one, mm.
const ONE: f64 = 1e-6;

/// The rectangles that make up `region`, by its area all of it.
pub(crate) fn rectangles(region: &Region, name: &str) -> Vec<Rect> {
    let edges: Vec<(Point, Point)> =
        region.edges().map(|edge| (edge.start(), edge.end())).collect();
    let sorted = |of: fn(&Point) -> f64| {
        let mut all: Vec<f64> = edges.iter().map(|(from, _)| of(from)).collect();
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| (*a - *b).abs() < ONE);
        all
    };
    let (xs, ys) = (sorted(|at| at.x), sorted(|at| at.y));
    let inside = |at: Point| {
        // Uprights to the right of the place, level with it.
        let right = edges
            .iter()
            .filter(|(from, to)| from.x.min(to.x) > at.x && (from.y > at.y) != (to.y > at.y));
        right.count() % 2 == 1
    };
    let rows = || ys.windows(2);
    let cells = xs.windows(2).flat_map(|x| rows().map(|y| Rect::new(x[0], y[0], x[1], y[1])));
    let found: Vec<Rect> = cells.filter(|cell| inside(cell.center())).collect();
    let area: f64 = found.iter().map(Rect::area).sum();
    assert!((area - region.area()).abs() < 1e-3, "{name} has slanting or round edges");
    found
}
