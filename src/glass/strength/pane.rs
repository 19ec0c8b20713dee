//! One pane: its plies, how it is treated, and what it may bear.

use crate::survey::{self, BuildUp, Treatment};

/// Characteristic strength of float glass, N/mm². EN 572-1 (published, reproduced).
const FLOAT: f64 = 45.0;

/// Partial factor of the float glass within any strength. EN 16612:2019, as engineers' open calculators have it.
const FLOAT_FACTOR: f64 = 1.8;

/// Partial factor of the strength that heat adds. EN 16612:2019, likewise.
const ADDED_FACTOR: f64 = 1.2;

impl Treatment {
    /// The name as the trade writes it.
    pub fn name(self) -> &'static str {
        match self {
            Treatment::Annealed => "annealed",
            Treatment::HeatStrengthened => "heat-strengthened",
            Treatment::Toughened => "toughened",
        }
    }

    /// Characteristic strength, N/mm². EN 572-1 (published, reproduced).
    fn characteristic(self) -> f64 {
        match self {
            Treatment::Annealed => FLOAT,
            Treatment::HeatStrengthened => 70.0,
            Treatment::Toughened => 120.0,
        }
    }

    /// Stress that a pane may bear for as long as `lasts`, N/mm².
    ///
    /// kmod × 45/1.8 + (f − 45)/1.2, with kmod = 0.663 t^(−1/16) for t hours: EN 16612:2019,
    /// as engineers' open calculators have it.
    pub fn permissible(self, lasts: Lasts) -> f64 {
        let added = (self.characteristic() - FLOAT) / ADDED_FACTOR;
        lasts.factor() * FLOAT / FLOAT_FACTOR + added
    }
}

/// How long a load lasts: glass tires.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lasts {
    /// A storm, taken as ten minutes at its worst.
    Storm,
    /// Weather and barometer, taken as eight hours.
    Weather,
    /// For good: a unit sealed at another height. Fifty years.
    Always,
}

impl Lasts {
    fn factor(self) -> f64 {
        let hours: f64 = match self {
            Lasts::Storm => 1.0 / 6.0,
            Lasts::Weather => 8.0,
            Lasts::Always => 50.0 * 365.25 * 24.0,
        };
        0.663 * hours.powf(-1.0 / 16.0)
    }
}

/// How the plies of a laminated pane act together.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Plies {
    /// Each for itself: the safe side where strength is wanted.
    Loose,
    /// As one: the safe side where stiffness does harm.
    Bonded,
}

/// One pane of glass.
#[derive(Debug, Clone, PartialEq)]
pub struct Pane {
    /// Thickness of each ply, mm: one for a plain pane.
    plies: Vec<f64>,
    /// Thickness if it acts as one sheet, mm.
    solid: f64,
    /// How it is treated.
    pub treatment: Treatment,
}

impl Pane {
    /// A pane as written on an order. The film of a laminated one bears nothing. One that does not say
    /// whether it is laminated is as weak as if it were and as stiff as if it were not.
    pub fn new(ordered: &survey::Pane, treatment: Treatment) -> Pane {
        Pane { plies: ordered.plies(), solid: ordered.solid(), treatment }
    }

    /// Glass in it, mm.
    pub(super) fn glass(&self) -> f64 {
        self.plies.iter().sum()
    }

    /// Every pane of a build-up, from the outside in, all of one treatment; `None` for a bare
    /// thickness.
    pub fn all(build_up: &BuildUp, treatment: Treatment) -> Option<Vec<Pane>> {
        match build_up {
            BuildUp::Panes { panes, .. } => {
                Some(panes.iter().map(|pane| Pane::new(pane, treatment)).collect())
            }
            BuildUp::Bare(_) => None,
        }
    }

    /// Whether it has more than one ply, or may have.
    pub fn plied(&self) -> bool {
        self.plies.len() > 1
    }

    /// t³ of the plain pane that bends as this one, mm³.
    pub fn stiffness(&self, plies: Plies) -> f64 {
        match plies {
            Plies::Loose => self.plies.iter().map(|ply| ply.powi(3)).sum(),
            Plies::Bonded => self.solid.powi(3),
        }
    }

    /// t² of the plain pane that is stressed as the worst ply of this one, mm²: loose plies share
    /// the moment as their t³, so σ = 6 M t/Σt³.
    pub fn resistance(&self, plies: Plies) -> f64 {
        let thickest = self.plies.iter().copied().fold(0.0, f64::max);
        match plies {
            Plies::Loose => self.stiffness(plies) / thickest,
            Plies::Bonded => self.solid.powi(2),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // EN 16612:2019, as above: kmod 0.74 for wind and 0.29 for good from its table; 0.58 for weather is worked
    // out of the formula.
    #[test]
    fn glass_tires_as_the_standard_says() {
        for (lasts, factor) in [(Lasts::Storm, 0.74), (Lasts::Weather, 0.58), (Lasts::Always, 0.29)]
        {
            assert_relative_eq!(lasts.factor(), factor, epsilon = 5e-3);
        }
        assert_relative_eq!(Treatment::Annealed.permissible(Lasts::Storm), 18.54, epsilon = 0.01);
        assert_relative_eq!(
            Treatment::Toughened.permissible(Lasts::Storm),
            18.54 + 62.5,
            epsilon = 0.01
        );
    }

    #[test]
    fn a_laminate_lies_between_its_plies_and_its_whole() {
        let pane = |text: &str, treatment| Pane::new(&text.parse().unwrap(), treatment);
        let laminate = pane("33.1", Treatment::Annealed);
        assert!(laminate.plied());
        assert_relative_eq!(laminate.stiffness(Plies::Loose), 2.0 * 27.0);
        assert_relative_eq!(laminate.stiffness(Plies::Bonded), 216.0);
        assert_relative_eq!(laminate.resistance(Plies::Loose), 18.0);
        assert_relative_eq!(laminate.resistance(Plies::Bonded), 36.0);
        // What may be either is weak as the one, stiff as the other.
        let either = pane("6.4", Treatment::Annealed);
        assert_relative_eq!(either.resistance(Plies::Loose), laminate.resistance(Plies::Loose));
        assert_relative_eq!(either.stiffness(Plies::Bonded), 262.144);
        let plain = pane("4", Treatment::Toughened);
        assert_eq!(plain.stiffness(Plies::Loose), plain.stiffness(Plies::Bonded));
        assert_relative_eq!(plain.resistance(Plies::Loose), 16.0);
        assert!(
            !pane("3.2", Treatment::Annealed).plied() && !pane("5.5", Treatment::Annealed).plied()
        );
    }
}
