//! Small dense least squares: columns made square to each other, one after the other.

use super::tolerance::DEPENDENT;

/// Columns made square to each other and of length one (modified Gram-Schmidt, each taken twice
/// against rounding), with how each is made of the columns given.
#[derive(Debug, Clone)]
pub(super) struct Orthogonal {
    parts: Vec<Part>,
    columns: usize,
}

#[derive(Debug, Clone)]
struct Part {
    column: Vec<f64>,
    made_of: Vec<f64>,
}

impl Orthogonal {
    pub(super) fn new(columns: &[Vec<f64>]) -> Orthogonal {
        let mut parts: Vec<Part> = Vec::with_capacity(columns.len());
        for (index, given) in columns.iter().enumerate() {
            let mut column = given.clone();
            let mut made_of: Vec<f64> =
                (0..columns.len()).map(|other| if other == index { 1.0 } else { 0.0 }).collect();
            for _ in 0..2 {
                for part in &parts {
                    let share = dot(&part.column, &column);
                    add(&mut column, -share, &part.column);
                    add(&mut made_of, -share, &part.made_of);
                }
            }
            let length = dot(&column, &column).sqrt();
            if length > DEPENDENT * dot(given, given).sqrt() {
                scale(&mut column, 1.0 / length);
                scale(&mut made_of, 1.0 / length);
                parts.push(Part { column, made_of });
            }
        }
        Orthogonal { parts, columns: columns.len() }
    }

    /// How many of the unknowns the rows leave open.
    pub(super) fn open(&self) -> usize {
        self.columns - self.parts.len()
    }

    /// The unknowns whose columns add up nearest to `wanted`; an open one stays at zero.
    pub(super) fn solve(&self, wanted: &[f64]) -> Vec<f64> {
        let mut unknowns = vec![0.0; self.columns];
        for part in &self.parts {
            add(&mut unknowns, dot(&part.column, wanted), &part.made_of);
        }
        unknowns
    }

    /// How far each row decides its own outcome, 0 to 1: at 1 no other row checks it.
    pub(super) fn leverage(&self, rows: usize) -> Vec<f64> {
        let mut leverage = vec![0.0; rows];
        for part in &self.parts {
            for (sum, value) in leverage.iter_mut().zip(&part.column) {
                *sum += value * value;
            }
        }
        leverage
    }

    /// What is left of `rows` once everything the columns can make is taken out.
    pub(super) fn remainder(&self, rows: &[f64]) -> Vec<f64> {
        let mut left = rows.to_vec();
        for _ in 0..2 {
            for part in &self.parts {
                let share = dot(&part.column, &left);
                add(&mut left, -share, &part.column);
            }
        }
        left
    }
}

pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

fn add(to: &mut [f64], times: f64, what: &[f64]) {
    for (to, what) in to.iter_mut().zip(what) {
        *to += times * what;
    }
}

fn scale(values: &mut [f64], by: f64) {
    for value in values {
        *value *= by;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Closed form: the line through (0, 1), (1, 3), (2, 4), (3, 4) by least squares is 1.5 + x.
    #[test]
    fn a_line_is_fitted_as_by_the_closed_form() {
        let basis = Orthogonal::new(&[vec![1.0; 4], vec![0.0, 1.0, 2.0, 3.0]]);
        let fitted = basis.solve(&[1.0, 3.0, 4.0, 4.0]);
        assert_relative_eq!(fitted[0], 1.5, epsilon = 1e-12);
        assert_relative_eq!(fitted[1], 1.0, epsilon = 1e-12);
        // Closed form: 1/n + (x − mean)² / Σ(x − mean)².
        let leverage = basis.leverage(4);
        assert_relative_eq!(leverage[0], 0.7, epsilon = 1e-12);
        assert_relative_eq!(leverage[1], 0.3, epsilon = 1e-12);
        assert_eq!(basis.open(), 0);
    }

    #[test]
    fn a_column_that_says_nothing_new_is_open() {
        let basis = Orthogonal::new(&[vec![1.0, 2.0, 3.0], vec![2.0, 4.0, 6.0], vec![0.0; 3]]);
        assert_eq!(basis.open(), 2);
        let left = basis.remainder(&[1.0, 2.0, 4.0]);
        assert_relative_eq!(dot(&left, &[1.0, 2.0, 3.0]), 0.0, epsilon = 1e-12);
    }
}
