//! Where the rows lie.
//!
//! A row stands for the band of wood around it. Where all boundaries in a band are upright, the
//! row is exact and the band may be as high as the sash. Where a boundary leans by k mm of X a mm
//! of Y, a band of height h shows it displaced by at most k h / 2 along X; and whatever it is, by
//! at most h / 2 along Y. So every boundary *demands* bands of at most pitch / k, or of the pitch
//! itself where that is less; it is then shown within half the pitch. Level boundaries, where straight
//! level moves pass or level edges of the wood lie, part the bands exactly.
//!
//! A ramp's depth changes along Y too: by no more than 2 m a mm, where it falls by m a mm, but
//! where it is so steep across the path that its contour leans by less than 2 k. Bands under a ramp
//! are therefore at most pitch / 2k and tolerance / 4m high: half of either is half the pitch along
//! X and a quarter of the tolerance along Z.
//!
//! Demands are rounded outwards to multiples of the pitch, so that the number of bands, and with
//! it the cost of a move, does not grow with the length of the programs.

use super::{Piece, Resolution};
use crate::geometry::{COINCIDENT, Edge};
use crate::prove::motion::Move;
use crate::prove::tolerance::{MOST_LEVELS, MOST_ROWS, ROUNDING};
use kurbo::{Rect, Vec2};

/// Bands grow in steps of two from the pitch up to 2²⁰ of it: more than any sash.
const GRADES: usize = 20;
/// Demands are merged once there are so many.
const MANY: usize = 1 << 15;

/// A band of wood along X.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Band {
    /// Least Y.
    pub low: f64,
    /// Greatest Y.
    pub high: f64,
}

/// Where a demand begins (1) or ends (−1).
#[derive(Debug, Clone, Copy, PartialEq)]
struct Turn {
    y: f64,
    grade: usize,
    step: i32,
}

/// Collects what the boundaries demand.
#[derive(Debug)]
pub(super) struct Demands {
    resolution: Resolution,
    /// Of the cutter whose moves are being added.
    radius: f64,
    /// Least and greatest Y of the wood.
    low: f64,
    high: f64,
    turns: Vec<Turn>,
    /// Demands that are merged once there are more than this.
    many: usize,
    /// Y of the discs at the ends of moves, rounded to the pitch.
    ends: Vec<f64>,
    /// Level edges of the wood.
    edges: Vec<f64>,
    /// Level boundaries of moves.
    levels: Vec<f64>,
}

impl Demands {
    /// No demands yet on wood within `bounds`.
    pub(super) fn new(bounds: Rect, resolution: Resolution) -> Self {
        Demands {
            resolution,
            radius: 0.0,
            low: bounds.y0,
            high: bounds.y1,
            turns: Vec::new(),
            many: MANY,
            ends: Vec::new(),
            edges: vec![bounds.y0, bounds.y1],
            levels: Vec::new(),
        }
    }

    /// Adds the boundaries of a piece of wood.
    pub(super) fn add_piece(&mut self, piece: &Piece) {
        for edge in piece.solid.region.edges() {
            let bounds = edge.bounds();
            match edge {
                Edge::Line(line) => {
                    self.most(bounds.y0, bounds.y1, 1.0 / lean(line.p1 - line.p0));
                }
                Edge::Arc(_) => self.demand(bounds.y0, bounds.y1, 0),
            }
            self.edges.extend([edge.start().y, edge.end().y]);
        }
    }

    /// Adds the boundaries of what `mv` sweeps with a cutter of `radius`.
    pub(super) fn add_move(&mut self, mv: &Move, radius: f64) {
        if self.radius.to_bits() != radius.to_bits() {
            self.demand_ends();
            self.radius = radius;
        }
        let whole = mv.path.bounds().inflate(0.0, self.radius);
        if whole.y0 >= self.high || whole.y1 <= self.low {
            return;
        }
        match &mv.path {
            Edge::Line(line) => {
                let along = line.p1 - line.p0;
                let mut pitches = 1.0 / lean(along);
                if !mv.is_level() && !mv.is_upright() {
                    let fall = (mv.to_z - mv.from_z).abs() / along.hypot();
                    let by_depth = self.resolution.depth / (4.0 * fall) / self.resolution.pitch;
                    pitches = (pitches / 2.0).min(by_depth);
                }
                self.most(whole.y0, whole.y1, pitches);
                self.end(line.p0.y);
                self.end(line.p1.y);
                if along.y == 0.0 {
                    self.level(whole.y0);
                    self.level(whole.y1);
                }
            }
            // Arcs have bent boundaries all along.
            Edge::Arc(_) => self.demand(whole.y0, whole.y1, 0),
        }
    }

    /// Notes a disc at the end of a move. The same ends come again and again.
    fn end(&mut self, y: f64) {
        if y + self.radius <= self.low || y - self.radius >= self.high {
            return;
        }
        let rounded = (y / self.resolution.pitch).round() * self.resolution.pitch;
        if self.ends.iter().rev().take(4).any(|end| end.to_bits() == rounded.to_bits()) {
            return;
        }
        self.ends.push(rounded);
        if self.ends.len() > MANY {
            self.demand_ends();
        }
    }

    /// Demands what the discs need: on the height u above its centre the rim of a disc leans by
    /// u / √(R² − u²), which is 2^−g at u = R / √(1 + 4^g).
    fn demand_ends(&mut self) {
        const GRADE: [f64; 4] = [1.0, 0.447_214, 0.242_536, 0.124_035];
        let mut ends = std::mem::take(&mut self.ends);
        ends.sort_unstable_by(f64::total_cmp);
        ends.dedup_by(|a, b| a.to_bits() == b.to_bits());
        // Half a pitch for the rounding of the ends.
        let rounding = self.resolution.pitch / 2.0;
        for y in ends {
            let mut outer = self.radius * GRADE[0] + rounding;
            for (grade, inner) in GRADE.iter().skip(1).enumerate() {
                let inner = self.radius * inner - rounding;
                self.demand(y - outer, y - inner, grade);
                self.demand(y + inner, y + outer, grade);
                outer = inner;
            }
            self.demand(y - outer, y + outer, GRADE.len() - 1);
        }
    }

    fn level(&mut self, y: f64) {
        if self.levels.len() <= 2 * MOST_LEVELS {
            self.levels.push(y);
            if self.levels.len() == 2 * MOST_LEVELS {
                once(&mut self.levels);
            }
        }
    }

    /// Demands bands of at most so many pitches, rounded down to a power of two.
    fn most(&mut self, y0: f64, y1: f64, pitches: f64) {
        let fits = |grade: &usize| 2.0_f64.powi(exponent(*grade) + 1) <= pitches;
        self.demand(y0, y1, (0..GRADES).take_while(fits).count());
    }

    fn demand(&mut self, y0: f64, y1: f64, grade: usize) {
        if grade >= GRADES || y0 >= self.high || y1 <= self.low || y0 >= y1 {
            return;
        }
        let pitch = self.resolution.pitch;
        let from = (y0.max(self.low) / pitch).floor() * pitch;
        let to = (y1.min(self.high) / pitch).ceil() * pitch;
        self.turns.push(Turn { y: from, grade, step: 1 });
        self.turns.push(Turn { y: to, grade, step: -1 });
        if self.turns.len() > self.many {
            self.turns = merged(std::mem::take(&mut self.turns));
            self.many = MANY.max(2 * self.turns.len());
        }
    }

    /// The bands, upwards, without gaps; `None` where they would be too many.
    pub(super) fn bands(mut self) -> Option<Vec<Band>> {
        self.demand_ends();
        self.turns.sort_unstable_by(|a, b| a.y.total_cmp(&b.y));
        once(&mut self.levels);
        if self.levels.len() <= MOST_LEVELS {
            self.edges.append(&mut self.levels);
        }
        once(&mut self.edges);
        let mut active = [0_i32; GRADES];
        let mut bands = Vec::new();
        let mut at = self.low;
        let mut turns = self.turns.into_iter().peekable();
        let mut levels = self.edges.into_iter().peekable();
        loop {
            let turn = turns.peek().map_or(f64::INFINITY, |turn| turn.y);
            let level = levels.peek().copied().unwrap_or(f64::INFINITY);
            let next = turn.min(level).min(self.high);
            if next > at + COINCIDENT {
                let grade = active.iter().position(|&count| count > 0);
                let most = grade.map(|grade| self.resolution.pitch * 2.0_f64.powi(exponent(grade)));
                part(at, next, most, &mut bands);
                if bands.len() > MOST_ROWS {
                    return None;
                }
                at = next;
            }
            if turn <= level {
                let Some(turn) = turns.next() else { break };
                if let Some(count) = active.get_mut(turn.grade) {
                    *count += turn.step;
                }
            } else {
                levels.next();
            }
        }
        Some(bands)
    }
}

/// How many mm of X a straight boundary along `along` leans a mm of Y, where bands matter for it:
/// nought for an upright one, and for a level one, which parts the bands; never more than one.
fn lean(along: Vec2) -> f64 {
    if along.y == 0.0 { 0.0 } else { (along.x / along.y).abs().min(1.0) }
}

/// Sorted, each once.
fn once(levels: &mut Vec<f64>) {
    levels.sort_unstable_by(f64::total_cmp);
    levels.dedup_by(|a, b| (*a - *b).abs() < COINCIDENT);
}

/// The same demands without overlaps.
fn merged(mut turns: Vec<Turn>) -> Vec<Turn> {
    // Beginnings first, so that what touches is one.
    turns.sort_unstable_by(|a, b| {
        a.grade.cmp(&b.grade).then(a.y.total_cmp(&b.y)).then(b.step.cmp(&a.step))
    });
    let mut open = 0;
    turns.retain(|turn| {
        let was = open;
        open += turn.step;
        was == 0 || open == 0
    });
    turns.shrink_to_fit();
    turns
}

fn exponent(grade: usize) -> i32 {
    i32::try_from(grade).unwrap_or(i32::MAX)
}

/// Parts the stretch from `low` to `high` into equal bands of at most `height`, and stops once they
/// are too many.
fn part(low: f64, high: f64, height: Option<f64>, bands: &mut Vec<Band>) {
    let count = height.map_or(1.0, |height| ((high - low) / height - ROUNDING).ceil().max(1.0));
    let step = (high - low) / count;
    let mut index = 0.0;
    while index < count && bands.len() <= MOST_ROWS {
        bands.push(Band { low: low + index * step, high: low + (index + 1.0) * step });
        index += 1.0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Outline, Region};
    use crate::prove::motion::{Pace, Spindle};
    use crate::prove::wood::Part;
    use crate::sash::Solid;
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
            dwell: 0.0,
        }
    }

    fn bands(moves: &[Move]) -> Vec<Band> {
        let resolution = Resolution { pitch: 0.05, depth: 0.05 };
        let mut demands = Demands::new(Rect::new(0.0, 0.0, 100.0, 1000.0), resolution);
        for mv in moves {
            demands.add_move(mv, 6.0);
        }
        let bands = demands.bands().unwrap();
        assert_eq!((bands[0].low, bands[bands.len() - 1].high), (0.0, 1000.0));
        assert!(bands.windows(2).all(|w| (w[0].high - w[1].low).abs() < 1e-9));
        bands
    }

    #[test]
    fn between_the_ends_of_upright_moves_one_band_is_enough() {
        let bands = bands(&[level((50.0, 100.0), (50.0, 900.0))]);
        assert!(bands.iter().any(|b| b.high - b.low > 780.0));
        assert!(bands.len() < 500, "{}", bands.len());
        // At the ends, each band is as high as the rim of the disc allows: where it leans by k mm
        // of X a mm of Y, no more than the pitch along Y or along X.
        for end in [100.0, 900.0] {
            let near: Vec<_> =
                bands.iter().filter(|b| b.low >= end - 5.99 && b.high <= end + 5.99).collect();
            for band in &near {
                let up = (band.low - end).abs().max((band.high - end).abs());
                let lean = up / (36.0 - up * up).sqrt();
                let height = band.high - band.low;
                assert!(height * lean.min(1.0) <= 0.0501, "{band:?}");
            }
            assert!((150..200).contains(&near.len()), "{}", near.len());
        }
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
    fn a_ramp_needs_bands_by_its_fall() {
        // Upright, falling 0.05 mm a mm: 0.05 / (4 · 0.05) = 0.25 mm; the power of two is 0.2.
        let ramp = Move { to_z: -41.0, ..level((50.0, 100.0), (50.0, 900.0)) };
        let bands = bands(&[ramp]);
        let middle = bands.iter().find(|b| b.low < 500.0 && b.high >= 500.0).unwrap();
        assert!((0.19..=0.25).contains(&(middle.high - middle.low)), "{middle:?}");
    }

    #[test]
    fn edges_of_the_wood_part_the_bands_whatever_the_moves_do() {
        let wood = Rect::new(10.0, 33.333, 90.0, 66.667);
        let region = Region::solid(Outline::rectangle(wood).unwrap());
        let solid =
            Solid { name: crate::language::Text::name("block"), region, top: 0.0, bottom: -9.0 };
        let resolution = Resolution { pitch: 0.05, depth: 0.05 };
        let mut demands = Demands::new(Rect::new(0.0, 0.0, 100.0, 1000.0), resolution);
        demands.add_piece(&Piece { solid: &solid, part: Part::Stay });
        for i in 0..20_000 {
            let y = 200.0 + f64::from(i) * 0.03;
            demands.add_move(&level((10.0, y), (90.0, y)), 6.0);
        }
        let bands = demands.bands().unwrap();
        assert!(bands.len() < 20_000);
        assert!(bands.iter().any(|b| (b.high - 33.333).abs() < 1e-9));
        assert!(bands.iter().any(|b| (b.high - 66.667).abs() < 1e-9));
    }

    #[test]
    fn too_many_bands_are_none() {
        let resolution = Resolution { pitch: 0.01, depth: 0.01 };
        let mut demands = Demands::new(Rect::new(0.0, 0.0, 100.0, 1e6), resolution);
        demands.add_move(&level((10.0, 0.0), (90.0, 1e6)), 6.0);
        assert!(demands.bands().is_some());
        let mut demands = Demands::new(Rect::new(0.0, 0.0, 1e6, 1e6), resolution);
        demands.add_move(&level((0.0, 0.0), (1e6, 1e6)), 6.0);
        assert_eq!(demands.bands(), None);
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
