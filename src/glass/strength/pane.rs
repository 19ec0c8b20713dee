//! One pane: its plies, how it is treated, and what it may bear.

use crate::survey::{BuildUp, Treatment};

/// Characteristic strength of float glass, N/mm². EN 572-1 (from memory).
const FLOAT: f64 = 45.0;

/// Partial factor of the float glass within any strength. EN 16612 (from memory).
const FLOAT_FACTOR: f64 = 1.8;

/// Partial factor of the strength that heat adds. EN 16612 (from memory).
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

    /// Characteristic strength, N/mm². EN 572-1, EN 1863-1, EN 12150-1 (from memory).
    fn characteristic(self) -> f64 {
        match self {
            Treatment::Annealed => FLOAT,
            Treatment::HeatStrengthened => 70.0,
            Treatment::Toughened => 120.0,
        }
    }

    /// Stress that a pane may bear for as long as `lasts`, N/mm².
    ///
    /// kmod × 45/1.8 + (f − 45)/1.2, with kmod = 0.663 t^(−1/16) for t hours: EN 16612 (from memory).
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
    /// How it is treated.
    pub treatment: Treatment,
}

impl Pane {
    /// A pane of `thickness` mm as written on an order. One that is no whole number of mm (6.4, 8.8)
    /// is read as laminated from two like plies, the rest being the interlayer, as for the
    /// tolerances of EN 1279-1. `None` where no glass is left.
    pub fn new(thickness: f64, treatment: Treatment) -> Option<Pane> {
        if !thickness.is_finite() || thickness <= 0.0 {
            return None;
        }
        let glass = thickness.floor();
        let plies = match glass {
            _ if thickness.fract() == 0.0 => vec![thickness],
            // Thinner than any laminate: taken as it is.
            _ if glass < 4.0 => vec![thickness],
            _ => vec![glass / 2.0; 2],
        };
        Some(Pane { plies, treatment })
    }

    /// Every pane of a build-up, from the outside in, all of one treatment; `None` for a bare
    /// thickness.
    pub fn all(build_up: &BuildUp, treatment: Treatment) -> Option<Vec<Pane>> {
        match build_up {
            BuildUp::Panes { panes, .. } => {
                panes.iter().map(|&thickness| Pane::new(thickness, treatment)).collect()
            }
            BuildUp::Bare(_) => None,
        }
    }

    /// Whether it has more than one ply.
    pub fn laminated(&self) -> bool {
        self.plies.len() > 1
    }

    /// t³ of the plain pane that bends as this one, mm³.
    pub fn stiffness(&self, plies: Plies) -> f64 {
        match plies {
            Plies::Loose => self.plies.iter().map(|ply| ply.powi(3)).sum(),
            Plies::Bonded => self.plies.iter().sum::<f64>().powi(3),
        }
    }

    /// t² of the plain pane that is stressed as the worst ply of this one, mm²: loose plies share
    /// the moment as their t³, so σ = 6 M t/Σt³.
    pub fn resistance(&self, plies: Plies) -> f64 {
        let thickest = self.plies.iter().copied().fold(0.0, f64::max);
        match plies {
            Plies::Loose => self.stiffness(plies) / thickest,
            Plies::Bonded => self.plies.iter().sum::<f64>().powi(2),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // EN 16612 (from memory): kmod 0.74 for wind, 0.58 for weather, 0.29 for good.
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
        let laminate = Pane::new(6.4, Treatment::Annealed).unwrap();
        assert!(laminate.laminated());
        assert_relative_eq!(laminate.stiffness(Plies::Loose), 2.0 * 27.0);
        assert_relative_eq!(laminate.stiffness(Plies::Bonded), 216.0);
        assert_relative_eq!(laminate.resistance(Plies::Loose), 18.0);
        assert_relative_eq!(laminate.resistance(Plies::Bonded), 36.0);
        let plain = Pane::new(4.0, Treatment::Toughened).unwrap();
        assert_eq!(plain.stiffness(Plies::Loose), plain.stiffness(Plies::Bonded));
        assert_relative_eq!(plain.resistance(Plies::Loose), 16.0);
        for wrong in [0.0, -4.0, f64::NAN, f64::INFINITY] {
            assert_eq!(Pane::new(wrong, Treatment::Annealed), None);
        }
    }
}
