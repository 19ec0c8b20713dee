//! What a unit is made of beside its panes and cavities, and the units that a workshop can order.

use super::BuildUp;

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

impl Default for Make {
    fn default() -> Self {
        Make { gas: None, share: 0.9, emissivity: None, spacer: None, glass: None }
    }
}

/// A unit that can be ordered. What it leaves open is as in the sash that it is tried with.
#[derive(Debug, Clone, PartialEq)]
pub struct Offered {
    /// Panes and cavities.
    pub build_up: BuildUp,
    /// Gas, coat, spacer and glass.
    pub make: Make,
    /// How far it must reach behind the sight edge, mm.
    pub cover: Option<f64>,
    /// Height of spacer and seal, mm.
    pub spacer_height: Option<f64>,
    /// By how much it may come thicker, mm. Default by EN 1279-1 and build-up.
    pub over: Option<f64>,
}

/// The units to try each sash with.
#[derive(Debug, Clone, PartialEq)]
pub struct Candidates {
    /// Whether the built-in list is tried.
    pub usual: bool,
    /// Units tried besides, or instead.
    pub units: Vec<Offered>,
}

impl Default for Candidates {
    fn default() -> Self {
        Candidates { usual: true, units: Vec::new() }
    }
}
