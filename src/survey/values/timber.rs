//! Timbers: what a species weighs, how it moves, and how stiff it is by its strength class.
//!
//! A species and a class are two things. Wood is weighed with the mean density of its species at 12 %
//! moisture; a class of EN 338 (published, reproduced) is a sorter's word on stiffness, and its density is
//! that of the lightest pieces which pass. Old stock was never graded: a timber of no class is as stiff as
//! the lowest class here of its kind, C16 or D30, or as clear wood of its species where that is limper.

/// A species, by what matters for weight, warmth and movement.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Species {
    /// The name as the survey writes it.
    pub name: &'static str,
    /// Whether it is a hardwood.
    pub hardwood: bool,
    /// Mean density at 12 % moisture, kg/m³.
    pub density: f64,
    /// Where it comes from.
    pub source: &'static str,
    /// Mean modulus of elasticity of clear wood along the grain, N/mm², where one is published.
    pub clear: Option<f64>,
    /// What it moves.
    pub moves: Swelling,
}

/// What a width of timber gains for each per cent of moisture, as a part of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Swelling {
    /// Square to the growth rings.
    pub radial: f64,
    /// Along them: the greater.
    pub tangential: f64,
    /// Where the values come from.
    pub source: &'static str,
}

/// A strength class.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Class {
    /// The name as the survey writes it.
    pub name: &'static str,
    /// Mean modulus of elasticity along the grain, N/mm². EN 338:2016.
    pub modulus: f64,
}

/// Timber of a sash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timber {
    /// What it is.
    pub species: Species,
    /// What it was graded as; none of old stock.
    pub class: Option<Class>,
}

impl Timber {
    /// Mean modulus of elasticity along the grain, N/mm².
    pub fn modulus(&self) -> f64 {
        let lowest = if self.species.hardwood { D30 } else { C16 };
        let ungraded = self.species.clear.unwrap_or(f64::INFINITY).min(lowest.modulus);
        self.class.map_or(ungraded, |class| class.modulus)
    }
}

pub(crate) const C16: Class = Class { name: "c16", modulus: 8_000.0 };
pub(crate) const C24: Class = Class { name: "c24", modulus: 11_000.0 };
pub(crate) const D30: Class = Class { name: "d30", modulus: 11_000.0 };

/// Every class a survey may name.
pub const CLASSES: [Class; 3] = [C16, C24, D30];

const EUROPEAN: &str = "European Wood initiative, species pages";
const HANDBOOK: &str = "Wood Handbook, table 5-3a, 1120 times the specific gravity";
const FPL: &str = "US Forest Products Laboratory, fact sheet";

/// Differential swelling of DIN 68100, as quoted, per cent a per cent.
const fn din(radial: f64, tangential: f64) -> Swelling {
    Swelling {
        radial: radial / 100.0,
        tangential: tangential / 100.0,
        source: "DIN 68100, as quoted",
    }
}

/// Change coefficients C_R and C_T, a part a per cent (published).
const fn table_13_5(radial: f64, tangential: f64) -> Swelling {
    Swelling { radial, tangential, source: "Wood Handbook FPL-GTR-190, table 13-5" }
}

const fn softwood(
    name: &'static str,
    density: f64,
    source: &'static str,
    clear: Option<f64>,
    moves: Swelling,
) -> Species {
    Species { name, hardwood: false, density, source, clear, moves }
}

const fn hardwood(
    name: &'static str,
    density: f64,
    source: &'static str,
    clear: Option<f64>,
    moves: Swelling,
) -> Species {
    Species { name, hardwood: true, density, source, clear, moves }
}

/// What a softwood of no known kind is taken as: heavy as Scots pine, moving as spruce, the most of the
/// softwoods here.
const ANY_SOFTWOOD: Species =
    softwood("unknown-softwood", 520.0, "as Scots pine", None, din(0.19, 0.39));

/// What a hardwood of no known kind is taken as: of the mean density of D30 (EN 338:2016), moving as beech.
const ANY_HARDWOOD: Species = hardwood(
    "unknown-hardwood",
    640.0,
    "EN 338:2016, mean of class D30",
    None,
    table_13_5(0.001_90, 0.004_31),
);

const SPECIES: [Species; 16] = [
    ANY_SOFTWOOD,
    softwood("scots-pine", 520.0, EUROPEAN, None, din(0.19, 0.36)),
    softwood("norway-spruce", 441.0, EUROPEAN, Some(12_500.0), din(0.19, 0.39)),
    softwood("larch", 583.0, EUROPEAN, Some(13_800.0), din(0.14, 0.30)),
    softwood("douglas-fir", 538.0, HANDBOOK, Some(13_400.0), table_13_5(0.001_65, 0.002_67)),
    softwood("ponderosa-pine", 448.0, HANDBOOK, Some(8_900.0), table_13_5(0.001_33, 0.002_16)),
    softwood("eastern-white-pine", 392.0, HANDBOOK, Some(8_500.0), table_13_5(0.000_71, 0.002_12)),
    softwood("sitka-spruce", 448.0, HANDBOOK, Some(10_800.0), table_13_5(0.001_48, 0.002_63)),
    softwood(
        "western-redcedar",
        380.0,
        "Queensland Government, properties of timbers",
        Some(7_700.0),
        table_13_5(0.001_11, 0.002_34),
    ),
    ANY_HARDWOOD,
    hardwood("european-oak", 702.0, EUROPEAN, Some(13_000.0), din(0.16, 0.36)),
    hardwood("white-oak", 762.0, HANDBOOK, Some(12_300.0), table_13_5(0.001_80, 0.003_65)),
    hardwood("sapele", 673.0, FPL, Some(11_700.0), din(0.24, 0.32)),
    hardwood("iroko", 640.0, "CIRAD, species sheet", Some(12_840.0), din(0.19, 0.28)),
    hardwood("teak", 655.0, "mean of 610 to 690, second hand", Some(12_300.0), din(0.16, 0.26)),
    // The fact sheet's range is 480 to 833.
    hardwood("mahogany", 656.0, FPL, Some(10_300.0), table_13_5(0.001_72, 0.002_38)),
];

/// The timber of a sash whose own is not known.
pub(crate) const UNKNOWN_SOFTWOOD: Timber = Timber { species: ANY_SOFTWOOD, class: None };

/// Every species a survey may name.
pub fn species() -> impl Iterator<Item = Species> {
    SPECIES.into_iter()
}

/// The timber of that name, a species or, as surveys once wrote, a class alone; case is no difference.
pub(crate) fn by_name(name: &str) -> Option<Timber> {
    let species = species().find(|species| species.name.eq_ignore_ascii_case(name));
    let of_class = |class: Class| Timber {
        species: if class == D30 { ANY_HARDWOOD } else { ANY_SOFTWOOD },
        class: Some(class),
    };
    species
        .map(|species| Timber { species, class: None })
        .or_else(|| class_by_name(name).map(of_class))
}

/// The class of that name.
pub(crate) fn class_by_name(name: &str) -> Option<Class> {
    CLASSES.into_iter().find(|class| class.name.eq_ignore_ascii_case(name))
}

#[cfg(test)]
mod tests {
    use super::*;

    // European Wood initiative and Wood Handbook (published): pine 520, spruce 441, larch 583, oak 702;
    // ponderosa of specific gravity 0.40, coast Douglas-fir 0.48.
    #[test]
    fn wood_is_weighed_by_its_species_whatever_its_class() {
        for (name, density) in [
            ("scots-pine", 520.0),
            ("norway-spruce", 441.0),
            ("larch", 583.0),
            ("european-oak", 702.0),
            ("ponderosa-pine", 1120.0 * 0.40),
            ("douglas-fir", 1120.0 * 0.48),
        ] {
            let timber = by_name(name).unwrap();
            assert!((timber.species.density - density).abs() < 0.5, "{name}");
            for class in CLASSES {
                let graded = Timber { class: Some(class), ..timber };
                assert_eq!(graded.species.density, timber.species.density);
                assert_eq!(graded.modulus(), class.modulus);
            }
        }
    }

    // EN 338:2016 (published, reproduced): E0,mean of C16, C24, D30.
    #[test]
    fn stiffness_is_that_of_the_class_and_old_stock_has_the_lowest() {
        for (name, modulus) in [("C16", 8e3), ("c24", 11e3), ("D30", 11e3)] {
            let timber = by_name(name).unwrap();
            assert_eq!(timber.modulus(), modulus);
            assert_eq!(timber.species.hardwood, name == "D30");
        }
        for species in species() {
            let old = Timber { species, class: None };
            let lowest = if species.hardwood { 11e3 } else { 8e3 };
            assert!(old.modulus() <= lowest && old.modulus() > 7e3, "{}", species.name);
        }
        assert_eq!(by_name("western-redcedar").unwrap().modulus(), 7_700.0);
    }

    #[test]
    fn every_timber_moves_more_along_the_rings_and_an_unknown_one_as_much_as_any() {
        for known in species() {
            assert!(known.moves.tangential > known.moves.radial && known.moves.radial > 0.0);
            let unknown = if known.hardwood { ANY_HARDWOOD } else { ANY_SOFTWOOD };
            assert!(unknown.moves.tangential >= known.moves.tangential, "{}", known.name);
        }
    }

    #[test]
    fn names_are_unique() {
        let mut names: Vec<&str> = species().map(|species| species.name).collect();
        names.extend(CLASSES.map(|class| class.name));
        let all = names.len();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), all);
    }
}
