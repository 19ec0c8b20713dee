//! How timber moves with the water in it.

/// Moisture contents between which the formula holds, per cent. Wood Handbook FPL-GTR-190, chapter 13.
pub const HOLDS: (f64, f64) = (6.0, 14.0);

/// Change coefficients of a species, a part per per cent of moisture.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Shrinkage {
    /// The name as the survey writes it.
    pub name: &'static str,
    /// C_R, square to the growth rings.
    pub radial: f64,
    /// C_T, along them: the greater.
    pub tangential: f64,
    /// Where the values come from.
    pub source: &'static str,
}

const HANDBOOK: &str = "Wood Handbook FPL-GTR-190, table 13-5";
const MEMORY: &str = "Wood Handbook FPL-GTR-190, table 13-5 (from memory)";

const fn species(
    name: &'static str,
    radial: f64,
    tangential: f64,
    source: &'static str,
) -> Shrinkage {
    Shrinkage { name, radial, tangential, source }
}

/// Every species whose coefficients are known.
pub const SPECIES: [Shrinkage; 7] = [
    species("white-oak", 0.001_80, 0.003_65, HANDBOOK),
    species("douglas-fir", 0.001_65, 0.002_67, HANDBOOK),
    species("western-redcedar", 0.001_11, 0.002_34, MEMORY),
    species("eastern-white-pine", 0.000_71, 0.002_12, MEMORY),
    species("ponderosa-pine", 0.001_33, 0.002_16, MEMORY),
    species("sitka-spruce", 0.001_48, 0.002_63, MEMORY),
    species("mahogany", 0.001_72, 0.002_38, MEMORY),
];

/// Softwood of no known coefficients: as the softwood of the table that moves most.
const SOFTWOOD: Shrinkage = species(
    "softwood",
    0.001_65,
    0.002_67,
    "as Douglas-fir, which of the softwoods known moves most",
);

/// Hardwood of no known coefficients: as the one of the table that moves most.
const HARDWOOD: Shrinkage =
    species("hardwood", 0.001_80, 0.003_65, "as white oak, which of the timbers known moves most");

impl Shrinkage {
    /// Of the timber of that name in a survey.
    pub fn of(name: &str) -> Shrinkage {
        let known = SPECIES.into_iter().find(|species| species.name.eq_ignore_ascii_case(name));
        known.unwrap_or(if name.eq_ignore_ascii_case("d30") { HARDWOOD } else { SOFTWOOD })
    }
}

/// ΔD = D C (M_F − M_I), mm: what a piece `across` mm wide gains when its moisture goes from `from` to
/// `to` per cent. Wood Handbook FPL-GTR-190, equation 13-2 (published). Outside [`HOLDS`] wood moves
/// less regularly, and the value is a guess.
pub fn swells(across: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    across * coefficient * (to - from)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::TIMBERS;
    use approx::assert_relative_eq;

    // Wood Handbook, chapter 13: 232 mm of white fir from 8 to 11 % gain 1.7 mm (result published;
    // C_T 0.00245 from memory).
    #[test]
    fn the_worked_example_of_the_handbook() {
        assert_relative_eq!(swells(232.0, 0.002_45, 8.0, 11.0), 1.7, epsilon = 0.01);
        assert_relative_eq!(swells(232.0, 0.002_45, 11.0, 8.0), -1.7, epsilon = 0.01);
    }

    #[test]
    fn every_timber_of_the_survey_moves_more_along_the_rings() {
        for timber in TIMBERS {
            let shrinkage = Shrinkage::of(timber.name);
            assert!(shrinkage.tangential > shrinkage.radial && shrinkage.radial > 0.0);
        }
        assert_eq!(Shrinkage::of("scots-pine"), SOFTWOOD);
        assert_eq!(Shrinkage::of("d30"), HARDWOOD);
        assert_relative_eq!(Shrinkage::of("white-oak").tangential, 0.003_65);
    }

    #[test]
    fn timbers_unknown_move_as_the_worst_known() {
        let soft = SPECIES.iter().filter(|s| s.name != "white-oak" && s.name != "mahogany");
        let worst = soft.map(|species| species.tangential).fold(0.0, f64::max);
        assert_eq!(SOFTWOOD.tangential, worst);
        let worst = SPECIES.iter().map(|species| species.tangential).fold(0.0, f64::max);
        assert_eq!(HARDWOOD.tangential, worst);
    }
}
