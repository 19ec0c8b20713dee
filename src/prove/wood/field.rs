//! The whole wood as rows, cut move by move.

use super::chord::chords;
use super::row::{Layer, Row, Stack, Stretch};
use super::rows::{Band, Demands};
use super::shape::{Flank, crossings, flanks};
use super::{Part, Piece};
use crate::geometry::Edge;
use crate::prove::motion::Move;
use kurbo::{Point, Rect};
use std::collections::{BTreeMap, VecDeque};

/// The tallest wood that a move met.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::prove) struct Met {
    /// Its height above the cutter's tip, mm.
    pub height: f64,
    /// Where.
    pub at: Point,
}

impl Met {
    fn taller(a: Option<Met>, b: Option<Met>) -> Option<Met> {
        match (a, b) {
            (Some(a), Some(b)) => Some(if b.height > a.height { b } else { a }),
            (a, b) => a.or(b),
        }
    }
}

/// A disc that sweeps along a path.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::prove) struct Sweep {
    /// The path of its centre.
    pub path: Edge,
    /// Radius of the part that must not meet tall wood.
    pub core: f64,
    /// Radius of the part that cuts.
    pub radius: f64,
    /// Z from which the height of wood is measured.
    pub measure_z: f64,
    /// Z down to which wood is cut.
    pub cut_z: f64,
}

impl Sweep {
    /// Whether nothing can stand above `measure_z` under `later` once this sweep is made: its
    /// straight path lies on this one, as on the way back of a stroke, no deeper and no wider.
    fn holds(&self, later: &Sweep) -> bool {
        let on = |end: Point| self.path.distance_to(end) <= 1e-9;
        self.radius >= later.radius
            && self.cut_z <= later.measure_z
            && matches!((&self.path, &later.path), (Edge::Line(_), Edge::Line(_)))
            && on(later.path.start())
            && on(later.path.end())
    }
}

/// The wood as rows.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::prove) struct Field {
    /// Rows upwards.
    pub rows: Vec<Row>,
    /// Every stack of solids that stands somewhere; the first is empty.
    pub stacks: Vec<Stack>,
    /// Z of the highest wood.
    pub top: f64,
    /// The last straight sweeps: nothing stands where one of them went.
    recent: VecDeque<Sweep>,
}

/// How many straight sweeps are remembered: enough for the ways to and fro of one lap.
const RECENT: usize = 8;

impl Field {
    /// Sets up `pieces` as they are before any cut, with rows fit for `moves`.
    pub(in crate::prove) fn new<'m>(
        pieces: &[Piece],
        moves: impl Iterator<Item = &'m Move>,
        radius: f64,
        pitch: f64,
    ) -> Field {
        let top = pieces.iter().map(|piece| piece.solid.top).fold(f64::NEG_INFINITY, f64::max);
        let mut empty =
            Field { rows: Vec::new(), stacks: vec![Stack::new()], top, recent: VecDeque::new() };
        let bounds = pieces.iter().map(|piece| piece.solid.region.outline.bounds());
        let Some(bounds) = bounds.reduce(|a, b| a.union(b)) else { return empty };
        let mut demands = Demands::new(bounds, pitch);
        for piece in pieces {
            demands.add_piece(piece);
        }
        moves.filter(|mv| mv.low() < top).for_each(|mv| demands.add_move(mv, radius));
        let mut laying = Laying::new(pieces, bounds);
        empty.rows = demands.bands().into_iter().map(|band| laying.row(band)).collect();
        empty.stacks = laying.stacks;
        empty
    }

    /// Cuts, and tells the tallest wood above `measure_z` that stood under the core of the sweep.
    pub(in crate::prove) fn sweep(&mut self, sweep: &Sweep) -> Option<Met> {
        if sweep.measure_z >= self.top || self.recent.iter().any(|before| before.holds(sweep)) {
            return None;
        }
        if matches!(sweep.path, Edge::Line(_)) {
            self.recent.truncate(RECENT - 1);
            self.recent.push_front(*sweep);
        }
        let (from, to) = self.within(sweep.path.bounds(), sweep.radius);
        let mut most: Option<Met> = None;
        for row in self.rows.get_mut(from..to).unwrap_or_default() {
            let swept = chords(&sweep.path, sweep.radius, row.y);
            // Most of most programs runs where the wood is gone already.
            if !swept.as_slice().iter().any(|&(a, b)| row.stands(a, b, sweep.measure_z)) {
                continue;
            }
            most = Met::taller(most, tallest(row, &self.stacks, sweep));
            for &(a, b) in swept.as_slice() {
                row.lower(a, b, sweep.cut_z);
            }
        }
        most
    }

    /// Indices of the rows that `bounds`, grown by `radius`, may touch.
    fn within(&self, bounds: Rect, radius: f64) -> (usize, usize) {
        let from = self.rows.partition_point(|row| row.y <= bounds.y0 - radius);
        let to = self.rows.partition_point(|row| row.y < bounds.y1 + radius);
        (from, to.max(from))
    }
}

/// The tallest wood of one row under the core of the sweep.
fn tallest(row: &Row, stacks: &[Stack], sweep: &Sweep) -> Option<Met> {
    if sweep.core <= 0.0 {
        return None;
    }
    let mut most: Option<Met> = None;
    for &(a, b) in chords(&sweep.path, sweep.core, row.y).as_slice() {
        let met = row.tallest(stacks, a, b, sweep.measure_z);
        most = Met::taller(most, met.map(|(height, x)| Met { height, at: Point::new(x, row.y) }));
    }
    most
}

/// Lays solids out in rows.
struct Laying {
    bounds: Rect,
    pieces: Vec<(Layer, Rect, Vec<Flank>)>,
    stacks: Vec<Stack>,
    known: BTreeMap<Vec<usize>, usize>,
    crossings: Vec<f64>,
    turns: Vec<(f64, usize)>,
}

impl Laying {
    fn new(pieces: &[Piece], bounds: Rect) -> Self {
        let mut pieces: Vec<_> = pieces
            .iter()
            .map(|Piece { solid, part }| {
                let layer = Layer { top: solid.top, bottom: solid.bottom, part: *part };
                (layer, solid.region.outline.bounds(), flanks(&solid.region))
            })
            .collect();
        // From the top down, so that a sorted set of indices is a stack.
        pieces.sort_by(|a, b| b.0.top.total_cmp(&a.0.top));
        let known = BTreeMap::from([(Vec::new(), 0)]);
        Laying {
            bounds,
            pieces,
            stacks: vec![Stack::new()],
            known,
            crossings: Vec::new(),
            turns: Vec::new(),
        }
    }

    fn row(&mut self, band: Band) -> Row {
        let y = f64::midpoint(band.low, band.high);
        self.turns.clear();
        for (index, (_, bounds, flanks)) in self.pieces.iter().enumerate() {
            if bounds.y0 <= y && y < bounds.y1 {
                crossings(flanks, y, &mut self.crossings);
                self.turns.extend(self.crossings.iter().map(|&x| (x, index)));
            }
        }
        self.turns.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let mut standing: Vec<usize> = Vec::new();
        let mut stretches: Vec<Stretch> = Vec::new();
        let mut begin = self.bounds.x0;
        let mut turns = std::mem::take(&mut self.turns);
        turns.push((self.bounds.x1, usize::MAX));
        for &(x, index) in &turns {
            // Walls that differ by rounding only are one wall.
            if x > begin + crate::geometry::SAME {
                let stack = self.stack(&standing);
                match stretches.last_mut() {
                    Some(last) if last.stack == stack => last.end = x,
                    _ => {
                        let empty = standing.is_empty();
                        let cut = if empty { f64::NEG_INFINITY } else { f64::INFINITY };
                        stretches.push(Stretch { end: x, cut, stack });
                    }
                }
                begin = x;
            }
            // Each crossing enters or leaves.
            match standing.binary_search(&index) {
                Ok(at) => {
                    standing.remove(at);
                }
                Err(at) => standing.insert(at, index),
            }
        }
        self.turns = turns;
        Row { y, height: band.high - band.low, start: self.bounds.x0, stretches }
    }

    /// Index of the stack of the solids `standing`.
    fn stack(&mut self, standing: &[usize]) -> usize {
        if let Some(&known) = self.known.get(standing) {
            return known;
        }
        let layers = standing.iter().filter_map(|&index| self.pieces.get(index));
        self.stacks.push(layers.map(|(layer, ..)| *layer).collect());
        self.known.insert(standing.to_vec(), self.stacks.len() - 1);
        self.stacks.len() - 1
    }
}

/// Volumes of wood cut away, mm³, by what might happen to it.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(in crate::prove) struct Removed {
    /// Of what must go.
    pub go: f64,
    /// Of what may go.
    pub may_go: f64,
    /// Of what must stay.
    pub stay: f64,
}

impl Field {
    /// How much wood has been cut away so far.
    pub(in crate::prove) fn removed(&self) -> Removed {
        let mut removed = Removed::default();
        for row in &self.rows {
            for (begin, stretch) in row.iter() {
                if stretch.cut == f64::INFINITY {
                    continue;
                }
                let area = (stretch.end - begin) * row.height;
                for layer in self.stacks.get(stretch.stack).map_or(&[][..], Vec::as_slice) {
                    let volume = area * (layer.top - layer.bottom.max(stretch.cut)).max(0.0);
                    match layer.part {
                        Part::Go(_) => removed.go += volume,
                        Part::MayGo => removed.may_go += volume,
                        Part::Stay => removed.stay += volume,
                    }
                }
            }
        }
        removed
    }
}

mod probe;
#[cfg(test)]
mod tests;

pub(in crate::prove) use probe::Slice;
