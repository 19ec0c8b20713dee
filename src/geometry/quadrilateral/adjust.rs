//! Least squares over measured lengths.

use super::stretch::stretch;
use super::{Measured, Quadrilateral, Span};
use crate::geometry::least_squares::{Orthogonal, dot};
use crate::geometry::tolerance::{CHECKED, STILL};
use kurbo::Point;
use std::fmt;

/// Most measures in one go: [`Adjusted::stretch`] looks at all ways to choose six of them.
const MOST: usize = 16;

/// Most steps towards the solution; a dozen do where one exists.
const MOST_STEPS: usize = 200;

/// Why some lengths give no quadrilateral.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AdjustError {
    /// This many more lengths are needed, of other kinds than those given.
    TooFew(usize),
    /// More lengths than this are too many.
    TooMany(usize),
    /// The length with this index, or its tolerance, is not a positive number.
    NotALength(usize),
    /// No quadrilateral that turns the same way at each corner comes near these lengths.
    NoShape,
}

impl fmt::Display for AdjustError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            AdjustError::TooFew(more) => {
                write!(f, "{more} more lengths of another kind are needed")
            }
            AdjustError::TooMany(most) => write!(f, "at most {most} lengths can be used"),
            AdjustError::NotALength(i) => write!(f, "length {i} is not a positive number"),
            AdjustError::NoShape => write!(f, "no quadrilateral has lengths like these"),
        }
    }
}

impl std::error::Error for AdjustError {}

/// How one measure stands to the quadrilateral.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Residual {
    /// Measured less adjusted length, mm.
    pub value: f64,
    /// The distance between the measure and where the others put it, over what can be expected of
    /// that distance if every length is off by its tolerance (as a root of squares); none where no
    /// other length checks this one.
    pub misfit: Option<f64>,
}

/// The most likely quadrilateral.
#[derive(Debug, Clone, PartialEq)]
pub struct Adjusted {
    /// Lower left corner at zero, lower edge along +X.
    pub quadrilateral: Quadrilateral,
    /// What it was worked out from.
    pub measured: Vec<Measured>,
    /// One for each measure.
    pub residuals: Vec<Residual>,
    /// How many measures there are beyond those needed.
    pub spare: usize,
    /// The least factor on all tolerances with which all measures can be true at once; above 1, at
    /// least one of them is off by more than its tolerance, whatever the others are.
    pub stretch: f64,
}

impl Adjusted {
    /// The largest misfit of a measure; zero where none is checked.
    pub fn worst(&self) -> f64 {
        self.residuals.iter().filter_map(|r| r.misfit).map(f64::abs).fold(0.0, f64::max)
    }
}

/// The most likely quadrilateral from `measured` lengths, which may stand in any order.
///
/// # Errors
/// Where a length is no length, where they leave a corner free, or where they belong to no convex
/// quadrilateral.
pub fn adjust(measured: &[Measured]) -> Result<Adjusted, AdjustError> {
    let positive = |value: f64| value.is_finite() && value > 0.0;
    let sound = |m: &Measured| positive(m.length) && positive(m.tolerance);
    if let Some(index) = measured.iter().position(|m| !sound(m)) {
        return Err(AdjustError::NotALength(index));
    }
    if measured.len() > MOST {
        return Err(AdjustError::TooMany(MOST));
    }
    let quadrilateral = search(measured);
    let columns = columns(&quadrilateral, measured);
    let basis = Orthogonal::new(&columns);
    if basis.open() > 0 {
        return Err(AdjustError::TooFew(basis.open()));
    }
    if !quadrilateral.is_convex() {
        return Err(AdjustError::NoShape);
    }
    let values = differences(&quadrilateral, measured);
    let leverage = basis.leverage(measured.len());
    let residuals = measured
        .iter()
        .zip(&values)
        .zip(leverage)
        .map(|((m, &value), leverage)| {
            let free = 1.0 - leverage;
            let misfit = (free > CHECKED).then(|| value / free.sqrt());
            Residual { value: value * m.tolerance, misfit }
        })
        .collect();
    Ok(Adjusted {
        quadrilateral,
        measured: measured.to_vec(),
        residuals,
        spare: measured.len().saturating_sub(columns.len()),
        stretch: stretch(&columns, &values),
    })
}

/// Gauss-Newton steps from a rectangle, damped (Levenberg-Marquardt) while a step would not help.
fn search(measured: &[Measured]) -> Quadrilateral {
    let mut at = start(measured);
    let mut damping = 1e-3;
    let mut wanted = differences(&at, measured);
    for _ in 0..MOST_STEPS {
        let step = step(&at, measured, &wanted, damping);
        let length = dot(&step, &step).sqrt();
        let next = moved(&at, &step);
        let left = differences(&next, measured);
        if dot(&left, &left) <= dot(&wanted, &wanted) {
            (at, wanted) = (next, left);
            damping = if damping < 1e-12 { 0.0 } else { damping / 10.0 };
            if length < STILL {
                break;
            }
        } else if length < STILL {
            break;
        } else {
            damping = if damping == 0.0 { 1e-9 } else { damping * 10.0 };
        }
    }
    at
}

/// A rectangle of the mean width and height.
fn start(measured: &[Measured]) -> Quadrilateral {
    let mean = |wanted: fn(Span) -> bool| {
        let lengths = measured.iter().filter(|m| wanted(m.span)).map(|m| m.length);
        let (sum, count) = lengths.fold((0.0, 0.0), |(sum, count), l| (sum + l, count + 1.0));
        if count > 0.0 { sum / count } else { 1.0 }
    };
    let width = mean(|span| matches!(span, Span::Across(_)));
    let height = mean(|span| matches!(span, Span::Up(_)));
    let corners = [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)].map(Point::from);
    Quadrilateral { corners }
}

/// Measured less present length of each measure, in tolerances.
fn differences(at: &Quadrilateral, measured: &[Measured]) -> Vec<f64> {
    measured.iter().map(|m| (m.length - at.length(m.span)) / m.tolerance).collect()
}

/// How each length, in tolerances, grows with each unknown: X of the lower right corner, X and Y of
/// the upper right, X and Y of the upper left. A span's length grows with a corner by the corner's
/// weight times the span's direction.
fn columns(at: &Quadrilateral, measured: &[Measured]) -> Vec<Vec<f64>> {
    let rows: Vec<[f64; 5]> = measured
        .iter()
        .map(|m| {
            let vector = at.vector(m.span);
            let along = vector / (vector.hypot().max(f64::MIN_POSITIVE) * m.tolerance);
            let [_, b, c, d] = m.span.weights();
            [b * along.x, c * along.x, c * along.y, d * along.x, d * along.y]
        })
        .collect();
    (0..5).map(|column| rows.iter().filter_map(|row| row.get(column).copied()).collect()).collect()
}

fn step(at: &Quadrilateral, measured: &[Measured], wanted: &[f64], damping: f64) -> Vec<f64> {
    let mut columns = columns(at, measured);
    for (index, column) in columns.iter_mut().enumerate() {
        column.extend((0..5).map(|other| if other == index { damping.sqrt() } else { 0.0 }));
    }
    Orthogonal::new(&columns).solve(wanted)
}

fn moved(at: &Quadrilateral, step: &[f64]) -> Quadrilateral {
    let [a, mut b, mut c, mut d] = at.corners;
    if let [bx, cx, cy, dx, dy] = *step {
        b.x += bx;
        c += (cx, cy);
        d += (dx, dy);
    }
    Quadrilateral { corners: [a, b, c, d] }
}
