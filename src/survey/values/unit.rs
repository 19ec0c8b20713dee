//! The unit to fit: its panes and cavities as they are written on an order, its gas, spacer and glass, how
//! much thicker than nominal it may come, and what it is set in.

use super::pane::{Pane, PaneMake};
use crate::geometry::{PerSide, Side};
use std::fmt;
use std::str::FromStr;

/// Panes and cavities of a unit, from the outside in, all in mm.
#[derive(Debug, Clone, PartialEq)]
pub enum BuildUp {
    /// Panes and the cavities between them: one pane more than cavities, at least two panes.
    Panes {
        /// How thick they are and what they are made of.
        panes: Vec<Pane>,
        /// Cavity widths.
        cavities: Vec<f64>,
    },
    /// Only the overall thickness is known.
    Bare(f64),
}

/// Why a text is not a build-up.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BuildUpError;

impl fmt::Display for BuildUpError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a build-up such as 4-6-4 (pane, cavity, pane) or one overall thickness in mm, each part over 0 and at most \
             100; a laminated pane as 33.1 or 6.4 lam.")
    }
}

impl std::error::Error for BuildUpError {}

impl BuildUp {
    /// Nominal overall thickness, mm.
    pub fn thickness(&self) -> f64 {
        match self {
            BuildUp::Panes { panes, cavities } => {
                panes.iter().map(Pane::thickness).chain(cavities.iter().copied()).sum()
            }
            BuildUp::Bare(thickness) => *thickness,
        }
    }

    /// The first pane that does not say whether it is laminated.
    pub fn unclear(&self) -> Option<&Pane> {
        let BuildUp::Panes { panes, .. } = self else { return None };
        panes.iter().find(|pane| pane.make() == PaneMake::Unstated)
    }
}

impl FromStr for BuildUp {
    type Err = BuildUpError;

    /// Reads `4-6-4`, `4-8-4-8-4`, `44.2-12-4`, `6.4 lam.-6-4` or `14`.
    fn from_str(text: &str) -> Result<Self, BuildUpError> {
        let parts: Vec<&str> = text.split('-').map(str::trim).collect();
        let length = |part: &&str| -> Result<f64, BuildUpError> {
            let length = part.parse().map_err(|_| BuildUpError)?;
            if length > 0.0 && length <= 100.0 { Ok(length) } else { Err(BuildUpError) }
        };
        let pane = |part: &&str| part.parse().map_err(|()| BuildUpError);
        match parts.as_slice() {
            [thickness] => Ok(BuildUp::Bare(length(thickness)?)),
            many if many.len() % 2 == 1 => Ok(BuildUp::Panes {
                panes: many.iter().step_by(2).map(pane).collect::<Result<_, _>>()?,
                cavities: many.iter().skip(1).step_by(2).map(length).collect::<Result<_, _>>()?,
            }),
            _ => Err(BuildUpError),
        }
    }
}

impl fmt::Display for BuildUp {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            BuildUp::Bare(thickness) => write!(f, "{thickness}"),
            BuildUp::Panes { panes, cavities } => {
                for (index, pane) in panes.iter().enumerate() {
                    match index.checked_sub(1).and_then(|before| cavities.get(before)) {
                        Some(cavity) => write!(f, "-{cavity}-{pane}")?,
                        None => write!(f, "{pane}")?,
                    }
                }
                Ok(())
            }
        }
    }
}

/// A gas of EN 673.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Gas {
    /// Dry air.
    Air,
    /// Argon.
    Argon,
    /// Krypton.
    Krypton,
    /// Xenon.
    Xenon,
}

/// What keeps the panes apart at the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spacer {
    /// Aluminium or steel.
    Metal,
    /// Thermally improved (warm edge).
    Improved,
}

/// How a pane is treated.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Treatment {
    /// Float as it comes.
    Annealed,
    /// Heat strengthened.
    HeatStrengthened,
    /// Thermally toughened.
    Toughened,
}

/// What is known of a unit's gas, coat, spacer and glass; none where the survey does not say.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Make {
    /// What fills the cavities.
    pub gas: Option<Gas>,
    /// Its share by volume, 0 to 1; the rest is air. Default 0.9 (EN ISO 10077-1, table C.2).
    pub share: f64,
    /// Normal emissivity of the one coated face in each cavity, as the maker states it.
    pub emissivity: Option<f64>,
    /// What keeps the panes apart.
    pub spacer: Option<Spacer>,
    /// How the panes are treated.
    pub glass: Option<Treatment>,
}

/// The unit to fit.
#[derive(Debug, Clone, PartialEq)]
pub struct Unit {
    /// Panes and cavities.
    pub build_up: BuildUp,
    /// How far the unit reaches behind the sight edge, each side. Default 12.
    pub cover: f64,
    /// Height of spacer and seal, from the unit's edge to where daylight begins. Default: the cover.
    pub spacer_height: f64,
    /// Thickness may exceed the nominal by this much. Default by EN 1279-1 and build-up.
    pub over: f64,
    /// Thickness of edge tape added on each edge, 0 for none.
    pub tape: f64,
    /// Width of internal bars behind glazing bars. Default: the cover.
    pub internal_bar: f64,
    /// Whether the glass is a rectangle or follows the daylight. Default: square, but shaped behind a
    /// head, a round sash or a free outline.
    pub shape: UnitShape,
    /// The order size is rounded down to a whole number of these. Default 1.
    pub order_step: f64,
    /// Gas, coat, spacer and glass.
    pub make: Make,
}

/// What outline the glass has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum UnitShape {
    /// A rectangle, whatever the daylight is.
    Square,
    /// The daylight's own outline, larger by the cover.
    Shaped,
}

/// What closes the rebate over the unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeldBy {
    /// Wooden beads.
    Beads,
    /// Sprigs, and face putty over them.
    Putty,
}

/// How water that gets in beside a unit is kept from its edge seal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WaterOut {
    /// The gap round the unit stays open: drained, and aired.
    Drained,
    /// The gap is filled without voids.
    Bedded,
}

/// Bed, and what closes the rebate over the unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// Sealant or tape between platform and unit. Default 2.
    pub bed: f64,
    /// Height of the bead, or of the face putty, over the unit. Default 10.
    pub bead: f64,
    /// How far the bead may stand proud of the glazing face. Default 0; putty ends flush.
    pub proud: f64,
    /// What closes the rebate. Default beads.
    pub held_by: HeldBy,
    /// How water is kept from the edge seal; none where the survey does not say, and always bedded in putty.
    pub water: Option<WaterOut>,
}

impl Finish {
    /// Whether face putty closes the rebate.
    pub fn is_puttied(&self) -> bool {
        self.held_by == HeldBy::Putty
    }

    /// Whether the gap round the unit is filled.
    pub fn fills_gap(&self) -> bool {
        self.water == Some(WaterOut::Bedded)
    }
}

/// The highest setting blocks that a unit goes in on, mm: the gaps at bottom and top together. An old rebate that is
/// wider than the unit reaches leaves a gap of its own, `spare`.
pub fn most_block_height(clearance: &PerSide<f64>, spare: impl Fn(Side) -> f64) -> f64 {
    [Side::Bottom, Side::Top].map(|side| clearance.get(side).max(spare(side))).iter().sum()
}

/// How far above its nominal thickness EN 1279-1:2018 lets a build-up come, mm: 1.0 for two panes of float, 1.5 where
/// one is laminated or heat treated; 1.4 and 2.8 for three.
///
/// A pane that could be laminated (6.4 with nothing beside it) has the wider value too. Patterned
/// panes cannot be told from a build-up: the maker's word goes before this one. A bare
/// thickness could be anything of two panes, so it gets the wider of their two values. Four panes
/// and more lie beyond the standard and get the widest value of three.
pub fn thickness_tolerance(build_up: &BuildUp, make: &Make) -> f64 {
    let heated = matches!(make.glass, Some(Treatment::HeatStrengthened | Treatment::Toughened));
    let BuildUp::Panes { panes, .. } = build_up else { return 1.5 };
    let laminated = panes.iter().any(|pane| pane.make() != PaneMake::Float);
    match (panes.len(), laminated || heated) {
        (0..=2, false) => 1.0,
        (0..=2, true) => 1.5,
        (3, false) => 1.4,
        _ => 2.8,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_it_writes() {
        for text in ["4-6-4", "14", "4-8-4-8-4", "6.4-6-4", "33.1-6-44.2", "6.4 lam.-6-4", "33.1"] {
            assert_eq!(text.parse::<BuildUp>().unwrap().to_string(), text);
        }
        assert_eq!("4-6-4".parse::<BuildUp>().unwrap().thickness(), 14.0);
    }

    #[test]
    fn refuses_what_is_no_build_up() {
        for text in [
            "",
            "4-",
            "4-6",
            "-4",
            "4-0-4",
            "NaN",
            "inf",
            "4-x-4",
            "1e9",
            "4--4",
            "4-6 lam.-4",
            "6.4 lam.",
        ] {
            assert_eq!(text.parse::<BuildUp>(), Err(BuildUpError), "{text}");
        }
    }

    // EN 1279-1:2018 (published, reproduced).
    #[test]
    fn tolerance_follows_panes_and_lamination() {
        let rows = [
            ("4-6-4", 1.0),
            ("33.1-6-4", 1.5),
            ("6.4 lam.-6-4", 1.5),
            ("6.4-6-4", 1.5),
            ("6.4 float-6-4", 1.0),
            ("3.2-6-3.2", 1.0),
            ("4-8-4-8-4", 1.4),
            ("33.1-8-4-8-4", 2.8),
            ("14", 1.5),
            ("4-8-4-8-4-8-4", 2.8),
        ];
        for (text, over) in rows {
            let tolerance = thickness_tolerance(&text.parse().unwrap(), &Make::default());
            assert_eq!(tolerance, over, "{text}");
        }
        let toughened = Make { glass: Some(Treatment::Toughened), ..Make::default() };
        assert_eq!(thickness_tolerance(&"4-6-4".parse().unwrap(), &toughened), 1.5);
    }
}
