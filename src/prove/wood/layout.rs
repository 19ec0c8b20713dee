//! Lays solids out in rows before anything is cut.

use super::Piece;
use super::row::{Layer, Row, Stack, Stretch};
use super::rows::Band;
use super::shape::{MonotoneEdge, crossings, monotone_edges};
use crate::geometry::COINCIDENT;
use kurbo::Rect;
use std::collections::BTreeMap;
use std::rc::Rc;

/// Lays solids out in rows.
pub(super) struct Layout {
    bounds: Rect,
    pieces: Vec<(Layer, Rect, Vec<MonotoneEdge>)>,
    stacks: Vec<Stack>,
    known: BTreeMap<Vec<usize>, usize>,
    crossings: Vec<f64>,
    turns: Vec<(f64, usize)>,
    /// The stretches last laid, and the Y up to which nothing changes.
    last: Rc<Vec<Stretch>>,
    same_until: f64,
}

impl Layout {
    /// Nothing laid yet.
    pub(super) fn new(pieces: &[Piece], bounds: Rect) -> Self {
        let mut pieces: Vec<_> = pieces
            .iter()
            .map(|Piece { solid, part }| {
                let layer = Layer { top: solid.top, bottom: solid.bottom, part: *part };
                (layer, solid.region.outline.bounds(), monotone_edges(&solid.region))
            })
            .collect();
        // From the top down, so that a sorted set of indices is a stack.
        pieces.sort_by(|a, b| b.0.top.total_cmp(&a.0.top));
        let known = BTreeMap::from([(Vec::new(), 0)]);
        Layout {
            bounds,
            pieces,
            stacks: vec![Stack::new()],
            known,
            crossings: Vec::new(),
            turns: Vec::new(),
            last: Rc::default(),
            same_until: f64::NEG_INFINITY,
        }
    }

    /// Every stack that stands somewhere.
    pub(super) fn into_stacks(self) -> Vec<Stack> {
        self.stacks
    }

    /// The row of one band, higher up than those before it.
    pub(super) fn row(&mut self, band: Band) -> Row {
        let y = f64::midpoint(band.low, band.high);
        if y >= self.same_until {
            self.last = Rc::new(self.stretches(y));
            self.same_until = self.same_until(y);
        }
        let stretches = Rc::clone(&self.last);
        Row { y, height: band.high - band.low, start: self.bounds.x0, stretches }
    }

    /// Up to which Y the wood is laid as it is on the row `y`.
    fn same_until(&self, y: f64) -> f64 {
        let monotone_edges = self.pieces.iter().flat_map(|(_, _, monotone_edges)| monotone_edges);
        let until = |edge: &MonotoneEdge| match (edge.low > y, edge.high > y) {
            (true, _) => edge.low,
            (false, true) if edge.is_upright() => edge.high,
            (false, true) => y,
            (false, false) => f64::INFINITY,
        };
        monotone_edges.map(until).fold(f64::INFINITY, f64::min)
    }

    fn stretches(&mut self, y: f64) -> Vec<Stretch> {
        self.turns.clear();
        for (index, (_, bounds, monotone_edges)) in self.pieces.iter().enumerate() {
            if bounds.y0 <= y && y < bounds.y1 {
                crossings(monotone_edges, y, &mut self.crossings);
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
            if x > begin + COINCIDENT {
                let stack = self.stack(&standing);
                match stretches.last_mut() {
                    Some(last) if last.stack == stack => last.end = x,
                    _ => {
                        let empty = standing.is_empty();
                        let cut = if empty { f64::NEG_INFINITY } else { f64::INFINITY };
                        stretches.push(Stretch { end: x, cut, lean: 0.0, stack });
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
        stretches
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
