//! Outlines as edges that run one way in Y, so that a row meets each at most once.

use crate::geometry::{Arc, Edge, Region};
use std::f64::consts::{FRAC_PI_2, PI};

/// A piece of a boundary that only rises or only falls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Flank {
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

impl Flank {
    /// X on the row `y`, within the flank's range of Y.
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

    /// Whether the row `y` meets the flank; each end belongs to one neighbour only.
    pub(super) fn meets(&self, y: f64) -> bool {
        self.low <= y && y < self.high
    }
}

/// The flanks of every edge of `region`; level edges have none.
pub(super) fn flanks(region: &Region) -> Vec<Flank> {
    let mut flanks = Vec::new();
    for edge in region.edges() {
        match edge {
            Edge::Line(line) => {
                let (a, b) =
                    if line.p0.y < line.p1.y { (line.p0, line.p1) } else { (line.p1, line.p0) };
                if b.y > a.y {
                    let lean = (b.x - a.x) / (b.y - a.y);
                    let line = Line::Straight { x: a.x, lean };
                    flanks.push(Flank { low: a.y, high: b.y, line });
                }
            }
            Edge::Arc(arc) => flanks.extend(halves(arc)),
        }
    }
    flanks
}

/// The arc, parted where its tangent is level.
fn halves(arc: &Arc) -> Vec<Flank> {
    let (from, to) = if arc.sweep >= 0.0 {
        (arc.start, arc.start + arc.sweep)
    } else {
        (arc.start + arc.sweep, arc.start)
    };
    let mut flanks = Vec::new();
    let mut at = from;
    // Next odd multiple of a quarter turn above `at`; the ends are taken as they are, so that the
    // flanks of neighbouring edges share their ends exactly.
    while at < to {
        let turn = ((at - FRAC_PI_2) / PI).floor() + 1.0;
        let next = (turn.mul_add(PI, FRAC_PI_2)).min(to);
        let side = f64::midpoint(at, next).cos().signum();
        let (a, b) = (arc.on_circle(at).y, arc.on_circle(next).y);
        if (a - b).abs() > 0.0 {
            let line = Line::Round { arc: *arc, side };
            flanks.push(Flank { low: a.min(b), high: a.max(b), line });
        }
        if next <= at {
            break;
        }
        at = next;
    }
    flanks
}

/// Where the row `y` lies inside, as pairs of X, into `crossings`.
pub(super) fn crossings(flanks: &[Flank], y: f64, crossings: &mut Vec<f64>) {
    crossings.clear();
    crossings.extend(flanks.iter().filter(|flank| flank.meets(y)).map(|flank| flank.x_at(y)));
    crossings.sort_unstable_by(f64::total_cmp);
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
        crossings(&flanks(&frame), 40.0, &mut found);
        assert_eq!(found, [0.0, 20.0, 70.0, 100.0]);
        crossings(&flanks(&frame), 10.0, &mut found);
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
            crossings(&flanks(&disc), 8.0, &mut found);
            assert_eq!(found.len(), 2, "{start}");
            assert_relative_eq!(found[0], 0.0, epsilon = 1e-12);
            assert_relative_eq!(found[1], 6.0, epsilon = 1e-12);
        }
    }
}
