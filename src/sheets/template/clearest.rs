//! Words where the fewest lines strike them through.

use super::tiles::runs_through;
use crate::drawing::Text;
use crate::geometry::Edge;

/// What a line keeps away from words, mm.
const AWAY: f64 = 0.3;

/// The first of the places for some words that as few of `edges` as can be run through.
pub(super) fn clearest(first: Text, others: impl Iterator<Item = Text>, edges: &[Edge]) -> Text {
    let struck = |text: &Text| {
        let bounds = text.bounds().inflate(AWAY, AWAY);
        edges.iter().filter(|edge| runs_through(edge, bounds)).count()
    };
    let mut best = (struck(&first), first);
    for text in others {
        if best.0 == 0 {
            break;
        }
        let met = struck(&text);
        if met < best.0 {
            best = (met, text);
        }
    }
    best.1
}

#[cfg(test)]
mod tests {
    use super::*;
    use kurbo::Point;

    #[test]
    fn words_stay_unless_a_line_strikes_them() {
        let at = |y: f64| Text::new("1a", Point::new(0.0, y), 2.5);
        let lines = [1.0, 1.5, 11.0].map(|y| Edge::line(Point::new(-50.0, y), Point::new(50.0, y)));
        let placed = |others: &[f64], lines: &[Edge]| {
            clearest(at(0.0), others.iter().map(|y| at(*y)), lines).at.y
        };
        assert_eq!(placed(&[10.0, 20.0], &[]), 0.0);
        assert_eq!(placed(&[10.0, 20.0], &lines), 20.0);
        assert_eq!(placed(&[10.0], &lines), 10.0);
        assert_eq!(placed(&[0.5], &lines), 0.0);
    }
}
