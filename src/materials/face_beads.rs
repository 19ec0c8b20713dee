//! Flat beads on the outer pane over bars that were cut down: uprights run through, cross pieces lie between
//! them.

use crate::geometry::{COINCIDENT, Edge, Outline};
use crate::sash::{PlacedBar, Sash};
use crate::survey::{Bar, Course, Runs};
use kurbo::Point;
use schemars::JsonSchema;
use serde::Serialize;

/// Ends that lie closer than this along a bar are level, mm: no saw cuts closer.
const LEVEL: f64 = 0.01;

/// A flat bead on the outer pane, where a bar was cut down.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
pub struct FaceBead {
    /// Its number, as the elevation shows it.
    pub label: String,
    /// Which bar.
    pub bar: String,
    /// Along its longest side, mm.
    pub length: f64,
    /// As wide as the bar, mm.
    pub width: f64,
    /// Square to the glass, mm.
    pub height: f64,
    /// Radius of its middle line, mm; none of a straight one.
    pub radius: Option<f64>,
    /// Whether both ends are square.
    pub square: bool,
    /// Its middle line on the elevation, from end to end.
    #[serde(skip)]
    pub line: [Point; 2],
}

/// Longest side and middle line of a piece, and whether its ends are square.
type Piece = (f64, [Point; 2], bool);

/// Every face bead, bar by bar; none where each light has a unit of its own.
pub(super) fn face_beads(sash: &Sash) -> Vec<FaceBead> {
    let mut found: Vec<FaceBead> = Vec::new();
    for bar in sash.cut_bars() {
        let radius = match bar.path {
            Edge::Arc(arc) => Some(arc.radius),
            Edge::Line(_) => None,
        };
        let pieces = if sash.is_square_bar(bar) {
            over_square(sash, &bar.measured)
        } else {
            over_any(sash, bar)
        };
        for (length, line, square) in pieces {
            found.push(FaceBead {
                label: format!("F{}", found.len() + 1),
                bar: bar.name(),
                length,
                width: bar.measured.width,
                height: sash.measured.finish.bead,
                radius,
                square,
                line,
            });
        }
    }
    found
}

/// Over a bar that runs square in a rectangle.
fn over_square(sash: &Sash, bar: &Bar) -> Vec<Piece> {
    match bar.runs {
        Runs::Upright => {
            let line = [sash.sight.y0, sash.sight.y1].map(|y| Point::new(bar.centre, y));
            vec![(sash.sight.height(), line, true)]
        }
        Runs::Cross => {
            // The lights right under the bar are as wide as the pieces between the uprights.
            let low = bar.centre - bar.width / 2.0;
            let under =
                sash.lights.iter().filter(|light| (light.sight.y1 - low).abs() < COINCIDENT);
            under
                .map(|light| {
                    let ends = [light.sight.x0, light.sight.x1];
                    (light.sight.width(), ends.map(|x| Point::new(x, bar.centre)), true)
                })
                .collect()
        }
    }
}

/// Over any bar: what its own strip leaves of the daylight beside the bars that own their crossings with it.
fn over_any(sash: &Sash, bar: &PlacedBar) -> Vec<Piece> {
    let daylight = sash.outline.outline();
    let owners = sash.bars_by_owner().take_while(|other| other.index != bar.index);
    let bends = |bar: &PlacedBar| bar.measured.course != Course::Through;
    let crossing =
        |other: &&PlacedBar| bar.measured.runs != other.measured.runs || bends(bar) || bends(other);
    let crossing: Vec<&PlacedBar> = owners.filter(crossing).collect();
    let pieces = |path: &Edge| {
        let mut pieces = daylight.stretches_inside(path);
        for over in &crossing {
            let Ok(strip) = over.strip(over.measured.width) else { continue };
            pieces = pieces.iter().flat_map(|piece| outside(piece, &strip)).collect();
        }
        pieces
    };
    let half = bar.measured.width / 2.0;
    let sides: Vec<Vec<Edge>> = [-half, half]
        .into_iter()
        .filter_map(|by| bar.path.shifted(by))
        .map(|e| pieces(&e))
        .collect();
    let middle = pieces(&bar.path);
    let whole = sides.iter().filter(|side| side.len() == middle.len());
    let found = middle.iter().enumerate().map(|(place, edge)| {
        let beside: Vec<&Edge> = whole.clone().filter_map(|side| side.get(place)).collect();
        let long = beside.iter().map(|edge| edge.length()).fold(edge.length(), f64::max);
        let level = |t: f64| {
            let off = |other: &&Edge| (other.at(t) - edge.at(t)).dot(edge.direction(t)).abs();
            beside.iter().all(|other| off(other) <= LEVEL)
        };
        let square = beside.len() == sides.len() && level(0.0) && level(1.0);
        (long, [edge.start(), edge.end()], square)
    });
    found.collect()
}

/// The pieces of an edge outside an outline.
fn outside(edge: &Edge, strip: &Outline) -> Vec<Edge> {
    let inside = strip.stretches_inside(edge);
    let mut from = 0.0;
    let mut left = Vec::with_capacity(inside.len() + 1);
    for piece in &inside {
        let (start, end) = (edge.nearest(piece.start()), edge.nearest(piece.end()));
        left.push((from, start));
        from = end;
    }
    left.push((from, 1.0));
    let pieces = left.into_iter().map(|(from, to)| edge.part(from, to));
    pieces.filter(|piece| piece.length() > COINCIDENT).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sash::tests::casement;
    use approx::assert_relative_eq;

    fn lengths(found: &[FaceBead]) -> Vec<(&str, f64, bool)> {
        found.iter().map(|bead| (bead.label.as_str(), bead.length, bead.square)).collect()
    }

    // By hand: bars of 22 mm at 268 and 552 in a daylight of 820 by 930 leave lights of 257, 262 and 257.
    #[test]
    fn uprights_run_through_and_cross_pieces_lie_between_them() {
        let mut survey = casement();
        survey.bars.push(Bar { runs: Runs::Cross, centre: 465.0, ..survey.bars[0].clone() });
        let found = face_beads(&Sash::new(&survey).unwrap());
        assert_eq!(
            lengths(&found),
            [
                ("F1", 930.0, true),
                ("F2", 930.0, true),
                ("F3", 257.0, true),
                ("F4", 262.0, true),
                ("F5", 257.0, true)
            ]
        );
        assert!(found.iter().all(|bead| bead.width == 22.0 && bead.height == 10.0));
        survey.bars_as = crate::survey::BarsAs::UnitPerLight;
        assert_eq!(face_beads(&Sash::new(&survey).unwrap()), []);
    }

    // By hand: a 3-4-5 course from (0, 200) to (820, 815) is 1025 mm long on its middle line; its ends lie on
    // the upright sight edges, so either side is as long, 22 · 3/4 further along, and no end is square.
    #[test]
    fn a_slanting_bar_has_slanting_ends() {
        let mut survey = casement();
        survey.bars.truncate(1);
        let line = Edge::line(Point::new(0.0, 200.0), Point::new(820.0, 815.0));
        survey.bars[0].course = Course::Between(line);
        survey.bars[0].runs = Runs::Cross;
        let found = face_beads(&Sash::new(&survey).unwrap());
        let [bead] = found.as_slice() else { panic!("one piece: {found:?}") };
        assert_relative_eq!(bead.length, 1025.0, epsilon = 1e-9);
        assert!(!bead.square && bead.radius.is_none());
    }
}
