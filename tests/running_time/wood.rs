//! The wood that is to go, on a grid of one millimetre: which moves meet any, and how wide a bite.

use super::program::Leg;
use fillister::geometry::{Edge, Placement};
use fillister::job::Work;
use fillister::sash::Solid;
use kurbo::{Point, Rect};
use std::collections::VecDeque;

/// Wood lower than this is none, mm.
const NONE: f64 = 0.02;

/// A piece of a cell that is to go: from its top down to its bottom.
type Piece = (f64, f64);

/// Cells of 1 mm.
pub(super) struct Wood {
    corner: Point,
    columns: usize,
    cells: Vec<Vec<Piece>>,
    solids: Vec<Solid>,
}

/// What feed moves met, mm.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Met {
    pub(super) fed: f64,
    /// Of these without any wood.
    pub(super) idle: f64,
    /// Largest section of the wood that is met, mm²: volume a mm of way, over three diameters of the cutter.
    pub(super) largest: f64,
    pub(super) at: Point,
}

impl Wood {
    pub(super) fn new(work: &Work) -> Wood {
        let around: Rect = work.sash.outer;
        let columns = around.width().ceil() as usize + 1;
        let rows = around.height().ceil() as usize + 1;
        // No edge of round numbers runs through centres.
        let corner = around.origin() - kurbo::Vec2::new(0.27, 0.27);
        let mut wood = Wood {
            corner,
            columns,
            cells: vec![Vec::new(); columns * rows],
            solids: work.rebate.go.clone(),
        };
        for solid in &work.rebate.go {
            wood.add(solid);
        }
        wood
    }

    fn add(&mut self, solid: &Solid) {
        let bounds = solid.region.outline.bounds();
        for index in self.indices(bounds) {
            if solid.region.contains(self.centre(index)) {
                self.cells[index].push((solid.top, solid.bottom));
            }
        }
    }

    fn centre(&self, index: usize) -> Point {
        let (column, row) = (index % self.columns, index / self.columns);
        self.corner + kurbo::Vec2::new(column as f64 + 0.5, row as f64 + 0.5)
    }

    fn indices(&self, around: Rect) -> Vec<usize> {
        let rows = self.cells.len() / self.columns;
        let span = |from: f64, to: f64, most: usize| {
            let from = from.floor().max(0.0) as usize;
            from..(to.ceil().max(0.0) as usize).min(most)
        };
        let around = around - self.corner.to_vec2();
        let across = span(around.x0, around.x1, self.columns);
        let up = span(around.y0, around.y1, rows);
        up.flat_map(|row| across.clone().map(move |column| row * self.columns + column)).collect()
    }

    /// Plan area that has any wood between two heights, mm².
    pub(super) fn area(&self, top: f64, bottom: f64) -> f64 {
        let met =
            |pieces: &&Vec<Piece>| pieces.iter().any(|&(a, b)| a.min(top) - b.max(bottom) > NONE);
        self.cells.iter().filter(met).count() as f64
    }

    /// How wide the wood between two depths lies along an edge of a wall, mm: the median of some places, for bars end
    /// here and there.
    pub(super) fn width_along(&self, edge: &Edge, from: f64, to: f64) -> f64 {
        let thick = |solid: &&Solid| solid.top.min(-from) - solid.bottom.max(-to) > NONE;
        let solids: Vec<&Solid> = self.solids.iter().filter(thick).collect();
        let width = |t: f64| {
            let along = edge.direction(t);
            let inwards = kurbo::Vec2::new(-along.y, along.x);
            let met = |by: &f64| {
                let at = edge.at(t) + *by * inwards;
                solids.iter().any(|solid| solid.region.contains(at))
            };
            (0..400).map(|step| 0.125 + 0.25 * f64::from(step)).take_while(met).count() as f64
                * 0.25
        };
        let mut widths: Vec<f64> = (1..20).map(|step| width(f64::from(step) / 20.0)).collect();
        widths.sort_by(f64::total_cmp);
        widths[widths.len() / 2]
    }

    /// Sweeps the cutter along feed moves; what they meet is gone.
    pub(super) fn cut(&mut self, legs: &[Leg], place: &Placement, radius: f64) -> Met {
        let mut met = Met::default();
        let mut lately: VecDeque<f64> = VecDeque::new();
        let stretch = (6.0 * radius).ceil();
        for leg in legs.iter().filter(|leg| !leg.rapid) {
            let length = leg.length();
            let count = length.ceil().max(1.0);
            met.fed += length / leg.feed;
            let back = place.inverse();
            for step in 1..=count as usize {
                let (at, z) = leg.at(step as f64 / count);
                let at = back.local(at);
                let taken = self.lower(at, radius, z);
                if taken == 0.0 {
                    met.idle += length / count / leg.feed;
                }
                lately.push_back(taken / (length / count).max(0.5));
                if lately.len() > stretch as usize {
                    lately.pop_front();
                }
                let section = lately.iter().sum::<f64>() / stretch;
                if section > met.largest {
                    (met.largest, met.at) = (section, at);
                }
            }
        }
        met
    }

    /// The wood lost, mm³.
    fn lower(&mut self, at: Point, radius: f64, z: f64) -> f64 {
        let mut taken = 0.0;
        if z >= 0.0 {
            return taken;
        }
        for index in self.indices(Rect::from_center_size(at, (2.0 * radius, 2.0 * radius))) {
            if self.cells[index].is_empty() || self.centre(index).distance(at) > radius {
                continue;
            }
            for piece in &mut self.cells[index] {
                let top = piece.0.min(z);
                let lost = piece.0 - top.max(piece.1);
                taken += if lost > NONE { lost } else { 0.0 };
                piece.0 = top;
            }
            self.cells[index].retain(|piece| piece.0 - piece.1 > NONE);
        }
        taken
    }
}
