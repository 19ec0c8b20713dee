//! A map of heights: for every cell the lowest Z of all the discs that cover its middle.

use crate::sweep_bound::programs::{
    BIT, BIT_BOTTOM, BOTTOM, FLOOR, HOLE, POST, RADIUS, Step, WHOLE,
};
use fillister::geometry::{Arc, Edge};
use fillister::prove::Proof;
use kurbo::{Line, Point};
use std::f64::consts::{PI, TAU};

/// Cells nearer to a wall than this are not looked at for gouges, mm.
pub(crate) const INSET: f64 = 0.01;

pub(crate) struct Heights {
    grid: f64,
    columns: usize,
    rows: usize,
    /// Row by row from below.
    cut: Vec<f64>,
}

impl Heights {
    pub(crate) fn new(grid: f64, steps: &[Step]) -> Heights {
        let cells = |length: f64| (length / grid).round() as usize;
        let (columns, rows) = (cells(WHOLE.width()), cells(WHOLE.height()));
        let mut heights = Heights { grid, columns, rows, cut: vec![f64::INFINITY; columns * rows] };
        for step in steps {
            heights.cut(step);
        }
        heights
    }

    fn cut(&mut self, step: &Step) {
        let bounds = step.path.bounds().inflate(RADIUS, RADIUS);
        let cells = |length: f64, most: usize| ((length / self.grid).max(0.0) as usize).min(most);
        let columns = cells(bounds.x0 - WHOLE.x0, self.columns)
            ..cells(bounds.x1 - WHOLE.x0 + self.grid, self.columns);
        let rows = cells(bounds.y0 - WHOLE.y0, self.rows)
            ..cells(bounds.y1 - WHOLE.y0 + self.grid, self.rows);
        for row in rows {
            for column in columns.clone() {
                let at = self.middle(column, row);
                let covered = match &step.path {
                    Edge::Line(line) => on_line(line, at),
                    Edge::Arc(arc) => on_arc(arc, at, step.to_z < step.from_z),
                };
                if let Some((first, last)) = covered {
                    let z = |t: f64| step.from_z + t * (step.to_z - step.from_z);
                    let cell = &mut self.cut[row * self.columns + column];
                    *cell = cell.min(z(first)).min(z(last));
                }
            }
        }
    }

    fn middle(&self, column: usize, row: usize) -> Point {
        let at = |index: usize| (index as f64 + 0.5) * self.grid;
        Point::new(WHOLE.x0 + at(column), WHOLE.y0 + at(row))
    }

    fn cells(&self) -> impl Iterator<Item = (Point, f64)> {
        let at = |index: usize| self.middle(index % self.columns, index / self.columns);
        self.cut.iter().enumerate().map(move |(index, &cut)| (at(index), cut))
    }

    /// The deepest cut into wood that must stay, sideways or down, whichever is less, among the cells
    /// that lie inside it by [`INSET`] or more; 0 where there is none.
    pub(crate) fn gouge(&self) -> f64 {
        let bite = |(at, cut): (Point, f64)| {
            let (side, top) = stays(at);
            if side < INSET { 0.0 } else { side.min(top - cut).max(0.0) }
        };
        self.cells().map(bite).fold(0.0, f64::max)
    }

    /// Whether a square of cells, `side` wide or one cell at least, of the bit stands higher than
    /// `height` above its underside.
    pub(crate) fn left_over(&self, side: f64, height: f64) -> bool {
        let count = (side / self.grid).ceil() as usize + 1;
        // How many cells in a row, downwards and to the left, and so how wide a square.
        let mut below = vec![0_usize; self.columns];
        for row in 0..self.rows {
            let (mut left, mut corner) = (0, 0);
            for (column, cell) in below.iter_mut().enumerate() {
                let at = self.middle(column, row);
                let high = self.cut[row * self.columns + column] > BIT_BOTTOM + height;
                let square =
                    if BIT.contains(at) && high { 1 + corner.min(left).min(*cell) } else { 0 };
                corner = *cell;
                (*cell, left) = (square, square);
                if square >= count {
                    return true;
                }
            }
        }
        false
    }

    /// Volume cut away, mm³, and the area on which anything was, mm².
    pub(crate) fn volume(&self) -> (f64, f64) {
        let cell = self.grid * self.grid;
        let depth = |(at, cut): (Point, f64)| -> f64 {
            let layers = wood(at).into_iter().flatten();
            layers.map(|(top, bottom)| (top - cut.max(bottom)).max(0.0)).sum()
        };
        let depths = self.cells().map(depth).filter(|depth| *depth > 0.0);
        depths.fold((0.0, 0.0), |(volume, area), depth| (volume + depth * cell, area + cell))
    }

    /// How far the surface of the proof lies below the lowest and above the highest surface within
    /// `away` along X and Y of the same place, at most, mm. Where the cut comes to an underside, whether the wood
    /// above it still stands turns on how exact the cut is: a surface that a cut `down` lower or `up` higher leaves
    /// is none of those.
    pub(crate) fn beyond(&self, proof: &Proof, away: f64, (down, up): (f64, f64)) -> (f64, f64) {
        // One more cell on either side, for middles that lie between.
        let cells = (away / self.grid).ceil() as usize + 1;
        let left = |off: f64| -> Vec<f64> {
            self.cells().map(|(at, cut)| surface(at, cut + off)).collect()
        };
        let lowest = self.around(&left(0.0), cells, f64::min);
        let highest = self.around(&left(0.0), cells, f64::max);
        let lowest_left = self.around(&left(-down), cells, f64::min);
        let highest_left = self.around(&left(up), cells, f64::max);
        let (mut low, mut high) = (0.0_f64, 0.0_f64);
        let mut strip = 0;
        for row in 0..self.rows {
            let y = self.middle(0, row).y;
            while proof.map.strips[strip].y1 <= y {
                strip += 1;
            }
            let spans = &proof.map.strips[strip].spans;
            let mut span = 0;
            for column in 0..self.columns {
                let x = self.middle(column, row).x;
                while span < spans.len() && spans[span].1 <= x {
                    span += 1;
                }
                let told = spans.get(span).filter(|s| s.0 <= x).map_or(BOTTOM, |s| s.2);
                let index = row * self.columns + column;
                let (under, over) = (lowest[index] - told, told - highest[index]);
                if under <= down || told < lowest_left[index] {
                    low = low.max(under);
                }
                if over <= up || told > highest_left[index] {
                    high = high.max(over);
                }
            }
        }
        (low, high)
    }

    /// The best of all values within so many cells.
    fn around(&self, values: &[f64], cells: usize, best: fn(f64, f64) -> f64) -> Vec<f64> {
        let within =
            |at: usize, count: usize| at.saturating_sub(cells)..(at + cells + 1).min(count);
        let mut along = values.to_vec();
        for row in 0..self.rows {
            let line = &values[row * self.columns..(row + 1) * self.columns];
            for column in 0..self.columns {
                let near = line[within(column, self.columns)].iter().copied();
                along[row * self.columns + column] = near.reduce(best).unwrap();
            }
        }
        let mut both = along.clone();
        for row in 0..self.rows {
            for other in within(row, self.rows) {
                for column in 0..self.columns {
                    let cell = &mut both[row * self.columns + column];
                    *cell = best(*cell, along[other * self.columns + column]);
                }
            }
        }
        both
    }
}

/// When the disc covers a place, by the quadratic of the times when its rim passes there.
fn on_line(line: &Line, at: Point) -> Option<(f64, f64)> {
    let along = line.p1 - line.p0;
    let (a, b) = (along.hypot2(), (line.p0 - at).dot(along));
    let c = (line.p0 - at).hypot2() - RADIUS * RADIUS;
    let root = b * b - a * c;
    if root < 0.0 || a == 0.0 {
        return (c <= 0.0).then_some((0.0, 1.0));
    }
    let (first, last) = ((-b - root.sqrt()) / a, (-b + root.sqrt()) / a);
    let (first, last) = (first.max(0.0), last.min(1.0));
    (first <= last).then_some((first, last))
}

/// When the disc first and last covers a place, by the angle under which it is seen from the arc's
/// centre; a place that is covered twice counts with its later time where the disc falls, with its
/// earlier one where it rises.
fn on_arc(arc: &Arc, at: Point, falls: bool) -> Option<(f64, f64)> {
    let out = at - arc.centre;
    let (rho, span) = (out.hypot(), arc.sweep.abs());
    let half = if rho == 0.0 {
        if arc.radius <= RADIUS { PI } else { return None }
    } else {
        let cos =
            (rho * rho + arc.radius * arc.radius - RADIUS * RADIUS) / (2.0 * rho * arc.radius);
        if cos > 1.0 {
            return None;
        }
        cos.max(-1.0).acos()
    };
    let middle = ((out.atan2() - arc.start) * arc.sweep.signum()).rem_euclid(TAU);
    let turns = [-TAU, 0.0, TAU].map(|turn| {
        let (first, last) = ((middle + turn - half).max(0.0), (middle + turn + half).min(span));
        (first <= last).then_some((first / span, last / span))
    });
    let later = |a: (f64, f64), b: (f64, f64)| if (b.1 > a.1) == falls { b } else { a };
    turns.into_iter().flatten().reduce(later)
}

/// Wood at a place, from the top down: top and underside.
fn wood(at: Point) -> [Option<(f64, f64)>; 2] {
    if !HOLE.contains(at) {
        [Some((0.0, BOTTOM)), None]
    } else if (at - POST.0).hypot() < POST.1 {
        [Some((POST.2, BOTTOM)), None]
    } else if BIT.contains(at) {
        [Some((0.0, BIT_BOTTOM)), Some((FLOOR, BOTTOM))]
    } else {
        [Some((FLOOR, BOTTOM)), None]
    }
}

/// Z of the highest wood left.
fn surface(at: Point, cut: f64) -> f64 {
    let layers = wood(at).into_iter().flatten();
    layers.filter(|layer| layer.1 < cut).map(|layer| layer.0.min(cut)).next().unwrap_or(BOTTOM)
}

/// How far a place lies inside the wood that must stay there, and the top of that wood.
fn stays(at: Point) -> (f64, f64) {
    let post = (at - POST.0).hypot() - POST.1;
    let out = (HOLE.x0 - at.x).max(at.x - HOLE.x1).max(HOLE.y0 - at.y).max(at.y - HOLE.y1);
    if out > 0.0 {
        (out, 0.0)
    } else if post < 0.0 {
        (-post, POST.2)
    } else {
        // The floor is all one with what stands around it, which is higher.
        (f64::INFINITY, FLOOR)
    }
}
