//! Steady heat by conduction through a plane section, on a grid of rectangles.
//!
//! ∂/∂x(λ ∂θ/∂x) + ∂/∂y(λ ∂θ/∂y) = 0 with λ, W/(m K), even in each cell, and q = h (θa − θ) through every
//! open face, h in W/(m²K). Each corner of the grid keeps the heat of the quarters of the cells around it,
//! as EN ISO 10211 lets a calculation be made; what results is symmetric and positive definite, and solved by
//! Cholesky's method. Promised: heat is kept to rounding, layers side by side are exact, and no place is
//! warmer or colder than all air around. Not promised: an error at inner corners below that of the grid.

pub mod grid;

use kurbo::{Point, Vec2};
use rsparse::data::Sprs;
use std::ops::Range;

/// Millimetres in a metre.
const MM: f64 = 1000.0;

/// Temperatures may leave those of the air around by this much, K.
const ROUNDING: f64 = 1e-6;

/// A section on a grid.
#[derive(Debug, Clone, PartialEq)]
pub struct Body {
    /// Grid lines, mm, rising.
    pub xs: Vec<f64>,
    /// Grid lines, mm, rising.
    pub ys: Vec<f64>,
    /// λ of every cell, W/(m K), column by column from the least x, each from the least y; 0 where there is nothing.
    pub conductivity: Vec<f64>,
}

/// What lies before an open face.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Film {
    /// h, W/(m²K).
    pub conductance: f64,
    /// θa, °C.
    pub temperature: f64,
}

/// Temperatures of a section.
#[derive(Debug, Clone, PartialEq)]
pub struct Field {
    /// θ at every corner of the grid, °C, in the order of [`Body::conductivity`] with one more each way; none
    /// where no cell touches it.
    pub temperatures: Vec<Option<f64>>,
    /// Heat that enters through open faces, W for each metre of length. As much leaves.
    pub heat: f64,
    rows: usize,
    faces: Vec<Face>,
    filled: Vec<bool>,
}

/// Sums over one line of the grid, upwards or to the right of each corner.
struct Sums {
    rows: usize,
    up: Vec<f64>,
    right: Vec<f64>,
    /// Open faces of each corner: h l, and h l θa.
    open: Vec<(f64, f64)>,
}

/// An open face: its two corners, its length, mm, and the film before it.
type Face = ([(usize, usize); 2], f64, Film);

fn add(to: &mut [f64], at: usize, value: f64) {
    if let Some(sum) = to.get_mut(at) {
        *sum += value;
    }
}

impl Body {
    /// λ of a cell; 0 outside.
    pub fn cell(&self, column: Option<usize>, row: Option<usize>) -> f64 {
        let rows = self.ys.len().saturating_sub(1);
        let (Some(column), Some(row)) = (column, row.filter(|row| *row < rows)) else { return 0.0 };
        self.conductivity.get(column * rows + row).copied().unwrap_or(0.0)
    }

    /// The cells that there is something in: column, row and their edges.
    fn cells(&self) -> impl Iterator<Item = (usize, usize, [f64; 4], f64)> {
        let columns = self.xs.iter().zip(self.xs.iter().skip(1)).enumerate();
        columns
            .flat_map(move |(column, (&x0, &x1))| {
                let rows = self.ys.iter().zip(self.ys.iter().skip(1)).enumerate();
                rows.map(move |(row, (&y0, &y1))| (column, row, [x0, y0, x1, y1]))
            })
            .zip(&self.conductivity)
            .map(|((column, row, edges), &conducts)| (column, row, edges, conducts))
            .filter(|(_, _, _, conducts)| *conducts > 0.0)
    }

    /// Every face between a cell and nothing, where `film` tells what lies before it; the others let no heat pass.
    /// `film` is given the middle of the face and which way is out.
    fn open_faces(&self, film: impl Fn(Point, Vec2) -> Option<Film>) -> Vec<Face> {
        let mut faces = Vec::new();
        for (column, row, [x0, y0, x1, y1], _) in self.cells() {
            let (right, above) = (column + 1, row + 1);
            let sides = [
                (
                    column.checked_sub(1),
                    Some(row),
                    [(x0, y0), (x0, y1)],
                    [(column, row), (column, above)],
                    (-1.0, 0.0),
                ),
                (
                    Some(right),
                    Some(row),
                    [(x1, y0), (x1, y1)],
                    [(right, row), (right, above)],
                    (1.0, 0.0),
                ),
                (
                    Some(column),
                    row.checked_sub(1),
                    [(x0, y0), (x1, y0)],
                    [(column, row), (right, row)],
                    (0.0, -1.0),
                ),
                (
                    Some(column),
                    Some(above),
                    [(x0, y1), (x1, y1)],
                    [(column, above), (right, above)],
                    (0.0, 1.0),
                ),
            ];
            for (beside, level, [from, to], corners, out) in sides {
                if self.cell(beside, level) > 0.0 {
                    continue;
                }
                let (from, to) = (Point::from(from), Point::from(to));
                let found = film(from.midpoint(to), Vec2::from(out));
                faces.extend(found.map(|film| (corners, (to - from).hypot(), film)));
            }
        }
        faces
    }

    fn sums(&self, faces: &[Face]) -> Sums {
        let rows = self.ys.len();
        let count = rows * self.xs.len();
        let mut sums = Sums {
            rows,
            up: vec![0.0; count],
            right: vec![0.0; count],
            open: vec![(0.0, 0.0); count],
        };
        for (column, row, [x0, y0, x1, y1], conducts) in self.cells() {
            let (wide, high) = (x1 - x0, y1 - y0);
            let at = column * rows + row;
            let (along, across) = (conducts * high / (2.0 * wide), conducts * wide / (2.0 * high));
            for corner in [at, at + 1] {
                add(&mut sums.right, corner, along);
            }
            for corner in [at, at + rows] {
                add(&mut sums.up, corner, across);
            }
        }
        for (corners, length, film) in faces {
            let half = film.conductance * length / MM / 2.0;
            for (column, row) in corners {
                if let Some((conducts, drives)) = sums.open.get_mut(column * rows + row) {
                    *conducts += half;
                    *drives += half * film.temperature;
                }
            }
        }
        sums
    }

    /// Temperatures where `film` tells what lies before each open face; `None` where nothing holds them.
    pub fn solve(&self, film: impl Fn(Point, Vec2) -> Option<Film>) -> Option<Field> {
        let faces = self.open_faces(film);
        let sums = self.sums(&faces);
        let temperatures = sums.solve()?;
        let rows = sums.rows;
        let filled = self.conductivity.iter().map(|conducts| *conducts > 0.0).collect();
        let mut field = Field { temperatures, heat: 0.0, rows, faces, filled };
        let enters = |(corners, length, film): &Face| -> f64 {
            let half = film.conductance * length / MM / 2.0;
            let at = corners.iter().filter_map(|&(column, row)| field.at(column, row));
            at.map(|own| (half * (film.temperature - own)).max(0.0)).sum()
        };
        field.heat = field.faces.iter().map(enters).sum();
        let air = field.faces.iter().map(|(_, _, film)| film.temperature);
        let (coldest, warmest) = air
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), one| {
                (least.min(one), most.max(one))
            });
        // A piece that no air holds may be any warmth: rounding then makes something of it.
        let held = (coldest - ROUNDING)..=(warmest + ROUNDING);
        field.temperatures.iter().flatten().all(|one| held.contains(one)).then_some(field)
    }
}

impl Field {
    /// The coldest corner, column and row, of all faces before air warmer than that, °C.
    pub fn coldest(&self, air: f64) -> Option<((usize, usize), f64)> {
        let before = self.faces.iter().filter(|(_, _, film)| film.temperature > air);
        let corners = before.flat_map(|(corners, _, _)| *corners);
        let known = corners.filter_map(|corner| Some((corner, self.at(corner.0, corner.1)?)));
        known.min_by(|a, b| a.1.total_cmp(&b.1))
    }

    /// θ at a corner of a cell that there is something in, °C.
    pub fn within(&self, cell: (usize, usize), corner: (usize, usize)) -> Option<f64> {
        let rows = self.rows.saturating_sub(1);
        let filled = self.filled.get(cell.0 * rows + cell.1).copied().unwrap_or_default();
        self.at(corner.0, corner.1).filter(|_| filled)
    }

    /// θ at a corner of the grid, °C.
    pub fn at(&self, column: usize, row: usize) -> Option<f64> {
        let at = (row < self.rows).then_some(column * self.rows + row)?;
        self.temperatures.get(at).copied().flatten()
    }
}

impl Sums {
    /// Solves for the corners that something touches.
    fn solve(&self) -> Option<Vec<Option<f64>>> {
        let rows = self.rows.max(1);
        let before = |of: &[f64], at: usize, by: usize| -> f64 {
            at.checked_sub(by).and_then(|at| of.get(at)).copied().unwrap_or(0.0)
        };
        let own = |of: &[f64], at: usize| of.get(at).copied().unwrap_or(0.0);
        let mut order = Vec::with_capacity(self.open.len());
        halved(0..self.open.len() / rows, 0..rows, rows, &mut order);
        let mut number = vec![None; self.open.len()];
        let (mut matrix, mut heat) = (Sprs::new(), Vec::new());
        matrix.p.push(0);
        for at in order {
            let (up, right) = (own(&self.up, at), own(&self.right, at));
            let (left, down) = (before(&self.right, at, rows), before(&self.up, at, 1));
            let (open, drives) = self.open.get(at).copied()?;
            let all = up + right + left + down + open;
            if all <= 0.0 {
                continue;
            }
            // The upper half of the matrix, column by column.
            let neighbours = [
                (left, at.checked_sub(rows)),
                (down, at.checked_sub(1)),
                (up, at.checked_add(1)),
                (right, at.checked_add(rows)),
            ];
            for (conducts, other) in neighbours.into_iter().filter(|(conducts, _)| *conducts > 0.0)
            {
                if let Some(other) = other.and_then(|other| *number.get(other)?) {
                    matrix.i.push(other);
                    matrix.x.push(-conducts);
                }
            }
            matrix.i.push(heat.len());
            matrix.x.push(all);
            matrix.p.push(isize::try_from(matrix.x.len()).ok()?);
            *number.get_mut(at)? = Some(heat.len());
            heat.push(drives);
        }
        (matrix.m, matrix.n, matrix.nzmax) = (heat.len(), heat.len(), matrix.x.len());
        rsparse::cholsol(&matrix, &mut heat, AS_GIVEN).ok()?;
        Some(number.into_iter().map(|at| heat.get(at?).copied()).collect())
    }
}

/// The matrix is taken in the order that its corners come in.
const AS_GIVEN: i8 = -1;

/// The corners of a part of the grid in the order in which they are best eliminated: both halves first, the line
/// between them last (nested dissection, A. George, SIAM J. Numer. Anal. 10, 1973: on a grid no order has less to do, but
/// for a factor). To find an order from the matrix alone takes longer than to solve it.
fn halved(columns: Range<usize>, lines: Range<usize>, rows: usize, order: &mut Vec<usize>) {
    let (wide, high) = (columns.len(), lines.len());
    if wide.min(high) <= 1 || wide.max(high) <= WHOLE {
        order.extend(columns.flat_map(|column| lines.clone().map(move |row| column * rows + row)));
    } else if wide >= high {
        let middle = columns.start + wide / 2;
        halved(columns.start..middle, lines.clone(), rows, order);
        halved(middle + 1..columns.end, lines.clone(), rows, order);
        halved(middle..middle + 1, lines, rows, order);
    } else {
        let middle = lines.start + high / 2;
        halved(columns.clone(), lines.start..middle, rows, order);
        halved(columns.clone(), middle + 1..lines.end, rows, order);
        halved(columns, middle..middle + 1, rows, order);
    }
}

/// A part of so many lines is taken as it lies.
const WHOLE: usize = 4;

#[cfg(test)]
mod tests;
