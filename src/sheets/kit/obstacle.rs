//! Lines that words and squares keep clear of.

use crate::drawing::Text;
use crate::geometry::{COINCIDENT, Edge, Outline};
use kurbo::{Point, Rect};

/// A piece of an edge shorter than this in a window does not count, mm.
const SHORTEST: f64 = 0.1;
/// What a line keeps away from words, mm.
const AWAY: f64 = 0.3;

/// Parts of an arc that have boxes of their own.
const PARTS: u32 = 32;

/// An edge, made ready to be asked of many windows whether it runs through them.
#[derive(Debug, Clone)]
pub struct Obstacle {
    edge: Edge,
    bounds: Rect,
    /// Boxes of equal parts of an arc: most windows hold one of them, or none meets them.
    parts: Vec<Rect>,
    /// Length inside a window from which on the edge runs through it, mm.
    enough: f64,
}

impl Obstacle {
    /// Of an edge.
    pub fn new(edge: &Edge) -> Obstacle {
        let parts = match edge {
            Edge::Line(_) => Vec::new(),
            Edge::Arc(_) => (0..PARTS).map(|part| f64::from(part) / f64::from(PARTS)).collect(),
        };
        let part = |from: f64| edge.part(from, from + 1.0 / f64::from(PARTS)).bounds();
        let parts = parts.into_iter().map(part).collect();
        let enough = SHORTEST.min(edge.length() / 2.0);
        Obstacle { edge: *edge, bounds: edge.bounds(), parts, enough }
    }

    /// Of several.
    pub fn all<'a>(edges: impl IntoIterator<Item = &'a Edge>) -> Vec<Obstacle> {
        edges.into_iter().map(Obstacle::new).collect()
    }

    /// Both ends of a straight line.
    pub fn ends(&self) -> Option<[Point; 2]> {
        match &self.edge {
            Edge::Line(line) => Some([line.p0, line.p1]),
            Edge::Arc(_) => None,
        }
    }

    /// The smallest upright rectangle around it.
    pub fn bounds(&self) -> Rect {
        self.bounds
    }

    /// Whether a piece of the edge lies in `window`.
    pub fn runs_through(&self, window: Rect) -> bool {
        if !self.bounds.overlaps(window) {
            return false;
        }
        match &self.edge {
            Edge::Line(line) => length_inside(line.p0, line.p1, window) > self.enough,
            Edge::Arc(_) => {
                // Cutting an arc is dear, so far off and well inside are seen by its parts.
                let (outer, inner) =
                    (window.inflate(COINCIDENT, COINCIDENT), window.inset(-COINCIDENT));
                if !self.parts.iter().any(|part| part.overlaps(outer)) {
                    return false;
                }
                let long = self.edge.length() / f64::from(PARTS) > self.enough + COINCIDENT;
                if long && self.parts.iter().any(|part| inner.contains_rect(*part)) {
                    return true;
                }
                let Ok(frame) = Outline::rectangle(window) else { return false };
                let inside = frame.stretches_inside(&self.edge);
                inside.iter().map(Edge::length).sum::<f64>() > self.enough
            }
        }
    }
}

/// The first of the places for some words that as few of `obstacles` as can be run through.
pub fn clearest(first: Text, others: impl Iterator<Item = Text>, obstacles: &[Obstacle]) -> Text {
    // What meets as many as the best so far is no better, however many more it meets.
    let struck = |text: &Text, most: usize| {
        let bounds = text.bounds().inflate(AWAY, AWAY);
        obstacles.iter().filter(|obstacle| obstacle.runs_through(bounds)).take(most).count()
    };
    let mut best = (struck(&first, usize::MAX), first);
    for text in others {
        if best.0 == 0 {
            break;
        }
        let met = struck(&text, best.0);
        if met < best.0 {
            best = (met, text);
        }
    }
    best.1
}

/// Length of the straight line from `a` to `b` inside `window`, mm (Liang and Barsky 1984).
pub(super) fn length_inside(a: Point, b: Point, window: Rect) -> f64 {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let along = b - a;
    let bounds = [
        (-along.x, a.x - window.x0),
        (along.x, window.x1 - a.x),
        (-along.y, a.y - window.y0),
        (along.y, window.y1 - a.y),
    ];
    for (towards, room) in bounds {
        if towards == 0.0 {
            if room < 0.0 {
                return 0.0;
            }
        } else if towards < 0.0 {
            from = from.max(room / towards);
        } else {
            to = to.min(room / towards);
        }
    }
    (to - from).max(0.0) * along.hypot()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_line_that_only_touches_a_window_does_not_run_through_it() {
        let window = Rect::new(0.0, 0.0, 10.0, 10.0);
        let line = |a, b| Obstacle::new(&Edge::line(a, b)).runs_through(window);
        assert!(line(Point::new(-5.0, 5.0), Point::new(15.0, 5.0)));
        assert!(!line(Point::new(-5.0, 5.0), Point::new(5.0, 15.0)));
        assert!(!line(Point::new(-5.0, 11.0), Point::new(15.0, 11.0)));
        assert!(!line(Point::new(10.0, 5.0), Point::new(20.0, 5.0)));
    }

    // The arc cut by the window itself.
    proptest! {
        #[test]
        fn the_boxes_of_an_arc_change_no_answer(
            (x, y, radius) in (-150.0..150.0, -150.0..150.0, 0.05..300.0),
            (start, sweep) in (0.0..6.0, 0.01..6.2),
        ) {
            let window = Rect::new(-52.0, -52.0, 52.0, 52.0);
            let edge = Edge::Arc(crate::geometry::Arc { centre: Point::new(x, y), radius, start, sweep });
            let inside = Outline::rectangle(window).unwrap().stretches_inside(&edge);
            let obstacle = Obstacle::new(&edge);
            let through = inside.iter().map(Edge::length).sum::<f64>() > obstacle.enough;
            prop_assert_eq!(obstacle.runs_through(window), through);
        }
    }

    // Against chords of a thousandth of the arc.
    #[test]
    fn an_arc_runs_through_where_its_chords_do() {
        let window = Rect::new(-30.0, -20.0, 30.0, 20.0);
        for step in 0..400 {
            let x = f64::from(step % 20) * 7.0 - 70.0;
            let y = f64::from(step / 20) * 7.0 - 70.0;
            let arc = Edge::Arc(crate::geometry::Arc {
                centre: Point::new(x, y),
                radius: 11.0 + f64::from(step % 7) * 9.0,
                start: f64::from(step),
                sweep: 1.0 + f64::from(step % 5),
            });
            let piece = |k: u32| arc.at(f64::from(k) / 1000.0);
            let inside: f64 =
                (0..1000).map(|k| length_inside(piece(k), piece(k + 1), window)).sum();
            if (inside - SHORTEST).abs() > 0.01 {
                let through = Obstacle::new(&arc).runs_through(window);
                assert_eq!(through, inside > SHORTEST, "{arc:?}");
            }
        }
    }

    #[test]
    fn words_stay_unless_a_line_strikes_them() {
        let at = |y: f64| Text::new("1a", Point::new(0.0, y), 2.5);
        let lines = [1.0, 1.5, 11.0].map(|y| Edge::line(Point::new(-50.0, y), Point::new(50.0, y)));
        let placed = |others: &[f64], lines: &[Edge]| {
            clearest(at(0.0), others.iter().map(|y| at(*y)), &Obstacle::all(lines)).at.y
        };
        assert_eq!(placed(&[10.0, 20.0], &[]), 0.0);
        assert_eq!(placed(&[10.0, 20.0], &lines), 20.0);
        assert_eq!(placed(&[10.0], &lines), 10.0);
        assert_eq!(placed(&[0.5], &lines), 0.0);
    }
}
