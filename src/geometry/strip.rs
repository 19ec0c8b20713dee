//! A band of even width along an edge.

use super::{Edge, Outline, OutlineError};

impl Edge {
    /// The band of that width, mm, along the whole edge; its ends are square to it.
    ///
    /// # Errors
    /// Where the width is not above zero, or an arc is too tight for it.
    pub fn strip(&self, width: f64) -> Result<Outline, OutlineError> {
        let aside = |by| self.shifted(by).ok_or(OutlineError::Empty);
        let (right, left) = (aside(width / 2.0)?, aside(-width / 2.0)?);
        Outline::new(vec![
            right,
            Edge::line(right.end(), left.end()),
            left.reversed(),
            Edge::line(left.start(), right.start()),
        ])
    }
}
