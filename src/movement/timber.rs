//! How timber moves with the water in it.

/// Moisture contents between which wood in a window lies, per cent: the driest of the Wood Handbook's
/// formula (FPL-GTR-190, chapter 13), and the dampest of external joinery (EN 942:2007, table B.1, as
/// quoted).
pub const HOLDS: (f64, f64) = (6.0, 19.0);

/// ΔD = D C (M_F − M_I), mm: what a piece `across` mm wide gains when its moisture goes from `from` to
/// `to` per cent. Wood Handbook FPL-GTR-190, equation 13-2 (published). Outside [`HOLDS`] wood moves
/// less regularly, and the value is a guess.
pub fn swells(across: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    across * coefficient * (to - from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // Wood Handbook, chapter 13 (published): 232 mm of white fir, C_T 0.00245, gain 1.7 mm from 8 to 11 %.
    #[test]
    fn the_worked_example_of_the_handbook() {
        assert_relative_eq!(swells(232.0, 0.002_45, 8.0, 11.0), 1.7, epsilon = 0.01);
        assert_relative_eq!(swells(232.0, 0.002_45, 11.0, 8.0), -1.7, epsilon = 0.01);
    }

    // Separate arithmetic: a rail of 95 mm of pine from 12 to 17 %, 95 × 0.0036 × 5.
    #[test]
    fn a_pine_rail_by_hand() {
        let pine = crate::survey::species().find(|species| species.name == "scots-pine").unwrap();
        assert_relative_eq!(swells(95.0, pine.moves.tangential, 12.0, 17.0), 1.71, epsilon = 1e-9);
    }
}
