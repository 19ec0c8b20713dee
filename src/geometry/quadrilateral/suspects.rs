//! Which measure disagrees with the others.

use super::{Adjusted, adjust};
use crate::geometry::tolerance::ALIKE;

/// A measure that, taken alone to be wrong, explains every disagreement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Suspect {
    /// Its index among the measures.
    pub index: usize,
    /// Measured length less what the others make of it, mm: positive where it was read too long.
    pub error: f64,
    /// How far the shape without it is out of square, radians.
    pub out_of_square: f64,
}

/// What the measures say of each other.
#[derive(Debug, Clone, PartialEq)]
pub enum Verdict {
    /// Every measure lies as near to where the others put it as can be expected.
    Agree,
    /// One measure is wrong: any of these can be it, the likeliest first. Never empty.
    OneWrong(Vec<Suspect>),
    /// No single measure explains it.
    SeveralWrong,
}

impl Adjusted {
    /// Tells whether the measures agree, taking a misfit above `limit` for a disagreement, and if one
    /// of them is wrong, which: each is left out in turn, and is suspect where the rest then agree.
    ///
    /// The likeliest is the one with the largest misfit. Measures can be bound to have the same: with
    /// one measure to spare all have it, and of a near rectangle both diagonals always do. Then the
    /// likeliest is the one without which the shape is nearest to square, since frames are made so.
    pub fn verdict(&self, limit: f64) -> Verdict {
        let worst = self.worst();
        if worst <= limit {
            return Verdict::Agree;
        }
        let mut found: Vec<(bool, Suspect)> = Vec::new();
        for (index, residual) in self.residuals.iter().enumerate() {
            let Some(misfit) = residual.misfit else { continue };
            let mut rest = self.measured.clone();
            let wrong = rest.remove(index);
            let Ok(without) = adjust(&rest) else { continue };
            if without.worst() <= limit {
                let error = wrong.length - without.quadrilateral.length(wrong.span);
                let out_of_square = without.quadrilateral.out_of_square();
                let less_likely = misfit.abs() < ALIKE * worst;
                found.push((less_likely, Suspect { index, error, out_of_square }));
            }
        }
        found.sort_by(|(a_less, a), (b_less, b)| {
            a_less.cmp(b_less).then(a.out_of_square.total_cmp(&b.out_of_square))
        });
        if found.is_empty() {
            return Verdict::SeveralWrong;
        }
        Verdict::OneWrong(found.into_iter().map(|(_, suspect)| suspect).collect())
    }
}
