//! Outlines as edges that run one way in Y, so that a row meets each at most once.

use crate::geometry::{Arc, Edge, Outline, Region};
use crate::prove::tolerance::ROUNDING;
use kurbo::Rect;
use std::f64::consts::{FRAC_PI_2, PI};

/// A piece of a boundary that only rises or only falls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct MonotoneEdge {
    /// Least Y.
    pub low: f64,
    /// Greatest Y.
    pub high: f64,
    line: Line,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Line {
    /// X at the low end, and how X changes with Y.
    Straight { x: f64, lean: f64 },
    /// Half circle: centre, radius, and the side of the centre it lies on.
    Round { arc: Arc, side: f64 },
}

impl MonotoneEdge {
    /// X on the row `y`, within the edge's range of Y.
    pub(super) fn x_at(&self, y: f64) -> f64 {
        match self.line {
            Line::Straight { x, lean } => x + (y - self.low) * lean,
            Line::Round { arc, side } => {
                let up = y - arc.centre.y;
                arc.centre.x + side * (arc.radius * arc.radius - up * up).max(0.0).sqrt()
            }
        }
    }

    /// Whether X is the same on every row.
    pub(super) fn is_upright(&self) -> bool {
        matches!(self.line, Line::Straight { lean, .. } if lean == 0.0)
    }

    /// Whether the row `y` meets the edge; each end belongs to one neighbour only.
    pub(super) fn meets(&self, y: f64) -> bool {
        self.low <= y && y < self.high
    }
}

/// The monotone_edges of every edge of `region`; level edges have none.
///
/// An edge ends on the very Y at which the next one starts: where the two differ by rounding, a row or a
/// point just there would meet both or neither.
pub(super) fn monotone_edges(region: &Region) -> Vec<MonotoneEdge> {
    let mut monotone_edges = Vec::new();
    for outline in std::iter::once(&region.outline).chain(&region.holes) {
        let next = outline.edges().iter().cycle().skip(1);
        for (edge, next) in outline.edges().iter().zip(next) {
            let ends = [edge.start().y, next.start().y];
            match edge {
                Edge::Line(line) => monotone_edges.extend(straight([line.p0.x, line.p1.x], ends)),
                Edge::Arc(arc) => monotone_edges.extend(halves(arc, ends)),
            }
        }
    }
    monotone_edges
}

fn straight([x0, x1]: [f64; 2], [y0, y1]: [f64; 2]) -> Option<MonotoneEdge> {
    let ((x, low), (top_x, high)) =
        if y0 < y1 { ((x0, y0), (x1, y1)) } else { ((x1, y1), (x0, y0)) };
    // What leans by rounding alone is upright: or no two rows beside it would be alike.
    let lean = if (top_x - x).abs() > ROUNDING { (top_x - x) / (high - low) } else { 0.0 };
    (high > low).then_some(MonotoneEdge { low, high, line: Line::Straight { x, lean } })
}

/// The arc, parted where its tangent is level; its ends at those Y.
fn halves(arc: &Arc, [y0, y1]: [f64; 2]) -> Vec<MonotoneEdge> {
    let (from, to, first, last) = if arc.sweep >= 0.0 {
        (arc.start, arc.start + arc.sweep, y0, y1)
    } else {
        (arc.start + arc.sweep, arc.start, y1, y0)
    };
    let y_at = |angle: f64| match angle {
        _ if angle <= from => first,
        _ if angle >= to => last,
        _ => arc.on_circle(angle).y,
    };
    let mut monotone_edges = Vec::new();
    let mut at = from;
    // Next odd multiple of a quarter turn above `at`; the ends are taken as they are, so that the
    // monotone_edges of neighbouring edges share their ends exactly.
    while at < to {
        let turn = ((at - FRAC_PI_2) / PI).floor() + 1.0;
        let next = (turn.mul_add(PI, FRAC_PI_2)).min(to);
        let side = f64::midpoint(at, next).cos().signum();
        let (a, b) = (y_at(at), y_at(next));
        if (a - b).abs() > 0.0 {
            let line = Line::Round { arc: *arc, side };
            monotone_edges.push(MonotoneEdge { low: a.min(b), high: a.max(b), line });
        }
        if next <= at {
            break;
        }
        at = next;
    }
    monotone_edges
}

/// Where the row `y` lies inside, as pairs of X, into `crossings`.
pub(super) fn crossings(monotone_edges: &[MonotoneEdge], y: f64, crossings: &mut Vec<f64>) {
    crossings.clear();
    crossings.extend(monotone_edges.iter().filter(|edge| edge.meets(y)).map(|edge| edge.x_at(y)));
    crossings.sort_unstable_by(f64::total_cmp);
}

/// What lies under an outline, row by row.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::prove) struct Footprint {
    bounds: Rect,
    edges: Vec<MonotoneEdge>,
}

impl Footprint {
    /// Of an outline.
    pub(in crate::prove) fn new(outline: &Outline) -> Footprint {
        let region = Region::solid(outline.clone());
        Footprint { bounds: outline.bounds(), edges: monotone_edges(&region) }
    }

    /// The rectangle around it.
    pub(in crate::prove) fn bounds(&self) -> Rect {
        self.bounds
    }

    /// Whether it is the same on every row between two Y.
    pub(in crate::prove) fn is_even(&self, low: f64, high: f64) -> bool {
        let near = self.edges.iter().filter(|edge| edge.low < high && edge.high > low);
        near.into_iter().all(|edge| edge.is_upright() && edge.low <= low && edge.high >= high)
    }

    /// Where the row `y` lies inside, as pairs of X, into `pairs`.
    pub(in crate::prove) fn on_row(&self, y: f64, pairs: &mut Vec<f64>) {
        crossings(&self.edges, y, pairs);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Outline;
    use approx::assert_relative_eq;
    use kurbo::{Point, Rect};
    use std::f64::consts::TAU;

    #[test]
    fn a_frame_is_crossed_four_times_in_its_middle() {
        let frame = Region {
            outline: Outline::rectangle(Rect::new(0.0, 0.0, 100.0, 80.0)).unwrap(),
            holes: vec![Outline::rectangle(Rect::new(20.0, 20.0, 70.0, 60.0)).unwrap()],
        };
        let mut found = Vec::new();
        crossings(&monotone_edges(&frame), 40.0, &mut found);
        assert_eq!(found, [0.0, 20.0, 70.0, 100.0]);
        crossings(&monotone_edges(&frame), 10.0, &mut found);
        assert_eq!(found, [0.0, 100.0]);
    }

    #[test]
    fn a_disc_made_of_two_arcs_has_the_chord_of_pythagoras() {
        for start in [0.0, 0.3, -2.0, 5.0, 40.0] {
            let half = |start| {
                Edge::Arc(Arc {
                    centre: Point::new(3.0, 4.0),
                    radius: 5.0,
                    start,
                    sweep: TAU / 2.0,
                })
            };
            let disc =
                Region::solid(Outline::new(vec![half(start), half(start + TAU / 2.0)]).unwrap());
            let mut found = Vec::new();
            crossings(&monotone_edges(&disc), 8.0, &mut found);
            assert_eq!(found.len(), 2, "{start}");
            assert_relative_eq!(found[0], 0.0, epsilon = 1e-12);
            assert_relative_eq!(found[1], 6.0, epsilon = 1e-12);
        }
    }

    // A wall found where two lines cross leans by its last digit: it is upright all the same, and rows beside it are
    // alike.
    #[test]
    fn a_wall_that_leans_by_rounding_is_upright() {
        let wall = |off: f64| {
            let corners = [(0.0, 0.0), (60.0, 0.0), (60.0, 1050.0), (off, 1050.0)];
            let outline = Outline::polygon(&corners.map(Point::from)).unwrap();
            monotone_edges(&Region::solid(outline)).iter().all(MonotoneEdge::is_upright)
        };
        assert!(wall(0.0) && wall(7e-15) && wall(-7e-15));
        assert!(!wall(1e-6) && !wall(-1e-6));
    }

    // The end of one edge and the start of the next differ by rounding, and a row lies between them.
    #[test]
    fn a_row_through_a_corner_meets_an_even_number_of_flanks() {
        for off in [0.0, 1e-14, -1e-14, 1e-9, -1e-9] {
            let level = 40.0 + off;
            let outline = Outline::new(vec![
                Edge::line(Point::new(0.0, 0.0), Point::new(90.0, 0.0)),
                Edge::line(Point::new(90.0, 0.0), Point::new(90.0, 40.0)),
                Edge::line(Point::new(90.0, level), Point::new(60.0, 40.0)),
                Edge::Arc(Arc {
                    centre: Point::new(50.0, level),
                    radius: 10.0,
                    start: 0.0,
                    sweep: PI,
                }),
                Edge::line(Point::new(40.0, 40.0), Point::new(0.0, level)),
                Edge::line(Point::new(0.0, 40.0), Point::new(0.0, 0.0)),
            ]);
            let monotone_edges = monotone_edges(&Region::solid(outline.unwrap()));
            for edge_y in monotone_edges.iter().flat_map(|edge| [edge.low, edge.high]) {
                for by in [0.0, 1e-15, -1e-15, 1e-10, -1e-10] {
                    let mut found = Vec::new();
                    crossings(&monotone_edges, edge_y + by, &mut found);
                    assert_eq!(found.len() % 2, 0, "{off} {edge_y} {by}: {found:?}");
                }
            }
        }
    }
}
