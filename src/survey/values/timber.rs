//! Timbers by name, with the stiffness and weight that the judgements use.
//!
//! Strength classes carry the values of EN 338:2016 (published, reproduced). The stiffness of a
//! species is that of clear wood at 12 % moisture; its density is from memory where the source
//! says so, and only weighs on weight. Old stock was never graded: Scots pine and softwood of no
//! known kind take the values of C16, the lowest common class, whatever the wood might really bear.

/// Timber, by what matters for stiffness and weight.
#[derive(Debug, Clone, PartialEq)]
pub struct Timber {
    /// The name as the survey writes it.
    pub name: &'static str,
    /// Mean modulus of elasticity along the grain, N/mm².
    pub modulus: f64,
    /// Mean density, kg/m³.
    pub density: f64,
    /// Source of the two values.
    pub source: &'static str,
}

const CLASS: &str = "EN 338:2016";
const UNGRADED: &str = "EN 338:2016 class C16, since old stock is ungraded";
const SEEN: &str = "E: Wood Handbook, clear wood at 12 %; density from memory";
const MEMORY: &str = "from memory: Wood Handbook, clear wood at 12 %";

/// The timber of a sash whose own is not known.
pub(crate) const UNKNOWN_SOFTWOOD: Timber = timber("unknown-softwood", 8_000.0, 370.0, UNGRADED);

/// Every timber a survey may name.
pub const TIMBERS: [Timber; 12] = [
    timber("scots-pine", 8_000.0, 370.0, UNGRADED),
    UNKNOWN_SOFTWOOD,
    timber("c16", 8_000.0, 370.0, CLASS),
    timber("c24", 11_000.0, 420.0, CLASS),
    timber("d30", 11_000.0, 640.0, CLASS),
    timber("douglas-fir", 13_400.0, 530.0, SEEN),
    timber("ponderosa-pine", 8_900.0, 450.0, SEEN),
    timber("eastern-white-pine", 8_500.0, 390.0, MEMORY),
    timber("sitka-spruce", 10_800.0, 430.0, MEMORY),
    timber("western-redcedar", 7_700.0, 360.0, MEMORY),
    timber("white-oak", 12_300.0, 760.0, MEMORY),
    timber("mahogany", 10_300.0, 540.0, MEMORY),
];

const fn timber(name: &'static str, modulus: f64, density: f64, source: &'static str) -> Timber {
    Timber { name, modulus, density, source }
}

/// The timber of that name; case is no difference.
pub(crate) fn by_name(name: &str) -> Option<Timber> {
    TIMBERS.into_iter().find(|timber| timber.name.eq_ignore_ascii_case(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn classes_bear_the_published_values() {
        // EN 338:2016 (P, reproduced): E0,mean and mean density.
        for (name, modulus, density) in
            [("C16", 8e3, 370.0), ("c24", 11e3, 420.0), ("D30", 11e3, 640.0)]
        {
            let timber = by_name(name).unwrap();
            assert_eq!((timber.modulus, timber.density), (modulus, density));
        }
        assert_eq!(by_name("scots-pine").unwrap().modulus, by_name("c16").unwrap().modulus);
    }

    #[test]
    fn names_are_unique() {
        let mut names: Vec<&str> = TIMBERS.iter().map(|timber| timber.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), TIMBERS.len());
    }
}
