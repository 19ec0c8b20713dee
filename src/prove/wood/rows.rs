//! Where the rows lie.
//!
//! A row stands for the band of wood around it. Where all boundaries in a band are upright, the
//! row is exact and the band may be as high as the sash. Where a boundary leans by k mm of X a mm
//! of Y, a band of height h shows it displaced by at most k h / 2 along X; and whatever it is, by
//! at most h / 2 along Y. So every boundary *demands* bands of at most pitch / k, or of the pitch
//! itself where that is less; it is then shown within half the pitch. Level boundaries, where straight
//! level moves pass or level edges of the wood lie, part the bands exactly.
//!
//! Demands are rounded outwards to multiples of the pitch, so that the number of bands, and with
//! it the cost of a move, does not grow with the length of the programs.

use super::Piece;
use crate::geometry::Edge;
use crate::prove::motion::Move;
use kurbo::Rect;

/// Most level boundaries that part bands exactly; further ones lie within the pitch like all else.
const MOST_LEVELS: usize = 4000;
/// Bands grow in steps of two from the pitch up to 2²⁰ of it: more than any sash.
const GRADES: usize = 20;

/// A band of wood along X.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Band {
    /// Least Y.
    pub low: f64,
    /// Greatest Y.
    pub high: f64,
}

/// Collects what the boundaries demand.
#[derive(Debug)]
pub(super) struct Demands {
    pitch: f64,
    /// Least and greatest Y of the wood.
    low: f64,
    high: f64,
    /// Y, grade and whether the demand begins there.
    turns: Vec<(f64, usize, bool)>,
    levels: Vec<f64>,
}

impl Demands {
    /// No demands yet on wood within `bounds`.
    pub(super) fn new(bounds: Rect, pitch: f64) -> Self {
        let levels = vec![bounds.y0, bounds.y1];
        Demands { pitch, low: bounds.y0, high: bounds.y1, turns: Vec::new(), levels }
    }

    /// Adds the boundaries of a piece of wood.
    pub(super) fn add_piece(&mut self, piece: &Piece) {
        for edge in piece.solid.region.edges() {
            let bounds = edge.bounds();
            match edge {
                Edge::Line(line) => self.lean(bounds.y0, bounds.y1, line.p1 - line.p0),
                Edge::Arc(_) => self.demand(bounds.y0, bounds.y1, 0),
            }
            self.levels.extend([edge.start().y, edge.end().y]);
        }
    }

    /// Adds the boundaries of what `mv` sweeps with a cutter of `radius`.
    pub(super) fn add_move(&mut self, mv: &Move, radius: f64) {
        let bounds = mv.path.bounds();
        let whole = bounds.inflate(0.0, radius);
        if whole.y0 >= self.high || whole.y1 <= self.low {
            return;
        }
        match &mv.path {
            Edge::Line(line) if mv.is_level() || mv.is_upright() => {
                self.lean(whole.y0, whole.y1, line.p1 - line.p0);
                for end in [line.p0.y, line.p1.y] {
                    self.demand(end - radius, end + radius, 0);
                }
                if (line.p1 - line.p0).y == 0.0 {
                    self.levels.extend([whole.y0, whole.y1]);
                }
            }
            // Ramps and arcs have bent boundaries all along.
            _ => self.demand(whole.y0, whole.y1, 0),
        }
    }

    /// Demands what a straight boundary along `along` needs.
    fn lean(&mut self, y0: f64, y1: f64, along: kurbo::Vec2) {
        if along.x == 0.0 || along.y == 0.0 {
            return;
        }
        let height = (along.y / along.x).abs().max(1.0);
        // Rounded down to a power of two.
        let grade =
            (0..GRADES).take_while(|&grade| 2.0_f64.powi(exponent(grade) + 1) <= height).count();
        self.demand(y0, y1, grade);
    }

    fn demand(&mut self, y0: f64, y1: f64, grade: usize) {
        let grade = grade.min(GRADES);
        if grade == GRADES || y0 >= self.high || y1 <= self.low {
            return;
        }
        let from = (y0.max(self.low) / self.pitch).floor() * self.pitch;
        let to = (y1.min(self.high) / self.pitch).ceil() * self.pitch;
        self.turns.push((from, grade, true));
        self.turns.push((to, grade, false));
    }

    /// The bands, upwards, without gaps.
    pub(super) fn bands(mut self) -> Vec<Band> {
        // Ends before beginnings is not needed: equal Y leave no band between them.
        self.turns
            .sort_unstable_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)).then(a.2.cmp(&b.2)));
        self.levels.sort_unstable_by(f64::total_cmp);
        self.levels.dedup_by(|a, b| (*a - *b).abs() < crate::geometry::SAME);
        let levels =
            if self.levels.len() > MOST_LEVELS { vec![self.low, self.high] } else { self.levels };
        let mut active = [0_i32; GRADES];
        let mut bands = Vec::new();
        let mut at = self.low;
        let (mut turns, mut levels) =
            (self.turns.into_iter().peekable(), levels.into_iter().peekable());
        loop {
            let turn = turns.peek().map_or(f64::INFINITY, |turn| turn.0);
            let level = levels.peek().copied().unwrap_or(f64::INFINITY);
            let next = turn.min(level).min(self.high);
            if next > at + crate::geometry::SAME {
                let grade = active.iter().position(|&count| count > 0);
                part(
                    at,
                    next,
                    grade.map(|grade| self.pitch * 2.0_f64.powi(exponent(grade))),
                    &mut bands,
                );
                at = next;
            }
            if turn <= level {
                let Some((_, grade, begins)) = turns.next() else { break };
                if let Some(count) = active.get_mut(grade) {
                    *count += if begins { 1 } else { -1 };
                }
            } else {
                levels.next();
            }
        }
        bands
    }
}

fn exponent(grade: usize) -> i32 {
    i32::try_from(grade).unwrap_or(i32::MAX)
}

/// Parts the stretch from `low` to `high` into equal bands of at most `height`.
fn part(low: f64, high: f64, height: Option<f64>, bands: &mut Vec<Band>) {
    let count = height.map_or(1.0, |height| ((high - low) / height - 1e-9).ceil().max(1.0));
    let step = (high - low) / count;
    let mut index = 0.0;
    while index < count {
        bands.push(Band { low: low + index * step, high: low + (index + 1.0) * step });
        index += 1.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::prove::motion::{Pace, Spindle};
    use kurbo::Point;

    fn level(from: (f64, f64), to: (f64, f64)) -> Move {
        Move {
            line: 1,
            pace: Pace::Feed(1.0),
            path: Edge::line(Point::from(from), Point::from(to)),
            from_z: -1.0,
            to_z: -1.0,
            spindle: Spindle::Still,
            slack: 0.0,
            arrival: false,
        }
    }

    fn bands(moves: &[Move]) -> Vec<Band> {
        let mut demands = Demands::new(Rect::new(0.0, 0.0, 100.0, 1000.0), 0.05);
        for mv in moves {
            demands.add_move(mv, 6.0);
        }
        let bands = demands.bands();
        assert_eq!((bands[0].low, bands[bands.len() - 1].high), (0.0, 1000.0));
        assert!(bands.windows(2).all(|w| (w[0].high - w[1].low).abs() < 1e-9));
        bands
    }

    #[test]
    fn between_the_ends_of_upright_moves_one_band_is_enough() {
        let bands = bands(&[level((50.0, 100.0), (50.0, 900.0))]);
        assert!(bands.iter().any(|b| b.high - b.low > 780.0));
        assert!(bands.len() < 500, "{}", bands.len());
        let near = bands.iter().filter(|b| b.low >= 94.0 && b.high <= 106.0);
        assert!(near.clone().count() >= 239 && near.clone().all(|b| b.high - b.low < 0.0501));
    }

    #[test]
    fn a_lean_of_two_in_a_thousand_needs_bands_of_half_its_inverse() {
        let bands = bands(&[level((50.0, 100.0), (51.6, 900.0))]);
        let middle = bands.iter().find(|b| b.low < 500.0 && b.high >= 500.0).unwrap();
        let height = middle.high - middle.low;
        // 0.05 mm of X are reached after 25 mm of Y; the power of two below 500 is 256.
        assert!((10.0..=25.0).contains(&height), "{height}");
    }

    #[test]
    fn level_moves_part_the_bands_exactly() {
        let bands = bands(&[level((10.0, 333.333), (90.0, 333.333))]);
        assert!(bands.iter().any(|b| (b.high - 327.333).abs() < 1e-9));
        assert!(bands.iter().any(|b| (b.low - 339.333).abs() < 1e-9));
    }

    #[test]
    fn a_long_program_in_one_place_needs_no_more_bands_than_a_short_one() {
        let moves: Vec<Move> = (0..20_000)
            .map(|i| {
                level((50.0, 500.0 + f64::from(i) * 1e-4), (60.0, 500.01 + f64::from(i) * 1e-4))
            })
            .collect();
        assert!(bands(&moves).len() < 1000);
    }
}
