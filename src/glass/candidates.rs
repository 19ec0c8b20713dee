//! Units that a sash is tried with when asking which it can take.

use crate::survey::{Gas, Make, Offered, Spacer, Treatment};

/// A unit to try.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// Panes and cavities, as on an order.
    pub build_up: &'static str,
    /// What fills it.
    pub gas: Gas,
    /// How its panes are treated.
    pub glass: Treatment,
}

impl Candidate {
    /// As it stands in a survey: 90 % gas, one face of normal emissivity 0.03 in each cavity, an improved
    /// spacer.
    pub fn offered(&self) -> Option<Offered> {
        Some(Offered {
            build_up: self.build_up.parse().ok()?,
            make: Make {
                gas: Some(self.gas),
                emissivity: Some(COAT),
                spacer: Some(Spacer::Improved),
                glass: Some(self.glass),
                ..Make::default()
            },
            cover: None,
            spacer_height: None,
            over: None,
        })
    }
}

/// Normal emissivity of a good soft coat: the least in the table of EN 673 (published, reproduced).
const COAT: f64 = 0.03;

const fn unit(build_up: &'static str, gas: Gas, glass: Treatment) -> Candidate {
    Candidate { build_up, gas, glass }
}

/// Generic units, thinnest first.
///
/// Common practice: 4 mm panes with a cavity of 4 to 20 mm, which are the cavities that the tables of
/// EN ISO 10077-1 start and end with and the heritage thicknesses 12, 14 and 16 mm between; krypton
/// where the cavity is thin, argon where it is wide; for the thinnest bars 3 mm panes; laminated panes
/// of two plies of 3 mm outside; toughened panes; and three panes where there is depth for them. Wider cavities
/// are no warmer, since the gas begins to turn over.
pub const CANDIDATES: &[Candidate] = &[
    // Thin, heritage.
    unit("3-4-3", Gas::Krypton, Treatment::Annealed),
    unit("4-4-4", Gas::Krypton, Treatment::Annealed),
    unit("4-6-4", Gas::Argon, Treatment::Annealed),
    unit("4-6-4", Gas::Krypton, Treatment::Annealed),
    unit("4-6-4", Gas::Krypton, Treatment::Toughened),
    unit("4-8-4", Gas::Krypton, Treatment::Annealed),
    // Laminated outside, for quiet and for safety on that side.
    unit("33.1-6-4", Gas::Krypton, Treatment::Annealed),
    // Standard.
    unit("4-10-4", Gas::Krypton, Treatment::Annealed),
    unit("4-12-4", Gas::Argon, Treatment::Annealed),
    unit("4-12-4", Gas::Argon, Treatment::Toughened),
    unit("3-6-3-6-3", Gas::Krypton, Treatment::Annealed),
    unit("4-16-4", Gas::Argon, Treatment::Annealed),
    unit("4-16-4", Gas::Argon, Treatment::Toughened),
    unit("33.1-16-4", Gas::Argon, Treatment::Annealed),
    unit("4-20-4", Gas::Argon, Treatment::Annealed),
    // Three panes.
    unit("4-8-4-8-4", Gas::Krypton, Treatment::Annealed),
    unit("4-12-4-12-4", Gas::Argon, Treatment::Annealed),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_candidate_reads_and_they_rise() {
        let thickness = |candidate: &Candidate| candidate.offered().unwrap().build_up.thickness();
        assert!(CANDIDATES.is_sorted_by(|a, b| thickness(a) <= thickness(b)));
    }
}
