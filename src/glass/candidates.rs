//! Make-ups that a sash is tried with when asking which unit it can take.

/// A make-up to try.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Candidate {
    /// Panes and cavity, as on an order.
    pub build_up: &'static str,
    /// Nominal overall thickness, mm.
    pub overall: f64,
}

const fn candidate(build_up: &'static str, overall: f64) -> Candidate {
    Candidate { build_up, overall }
}

/// Two panes of float, one make-up for each overall thickness, thinnest first.
///
/// Common practice: 4 mm panes with a cavity of 4 to 20 mm, which are the cavities that the tables of
/// EN ISO 10077-1 start and end with and the heritage thicknesses 12, 14 and 16 mm between; and for
/// the thinnest bars 3 mm panes. Wider cavities are no warmer, since the gas begins to turn over.
pub const CANDIDATES: &[Candidate] = &[
    candidate("3-4-3", 10.0),
    candidate("4-4-4", 12.0),
    candidate("4-6-4", 14.0),
    candidate("4-8-4", 16.0),
    candidate("4-10-4", 18.0),
    candidate("4-12-4", 20.0),
    candidate("4-16-4", 24.0),
    candidate("4-20-4", 28.0),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::BuildUp;

    #[test]
    fn every_candidate_reads_as_its_overall_thickness_and_they_rise() {
        for candidate in CANDIDATES {
            let read: BuildUp = candidate.build_up.parse().unwrap();
            assert_eq!(read.thickness(), candidate.overall, "{}", candidate.build_up);
        }
        assert!(CANDIDATES.is_sorted_by(|a, b| a.overall < b.overall));
    }
}
