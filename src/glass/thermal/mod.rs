//! How fast heat passes through the middle of a pane or a sealed unit: the U-value of EN 673.
//!
//! 1/U = 1/he + Σd/λ + Σ1/hs + 1/hi for upright glass, under the conditions of the standard (15 K
//! between the outermost panes, 10 °C in the middle), which are those a maker states. Promised: any
//! number of panes and cavities, any mixture of the four gases. Not promised: edges (Ψ of the room
//! [`warmth`](crate::warmth) is for those), sloping glass, sun, films and the interlayer of laminated
//! glass, which is counted as glass and so a little too well conducting.

mod emissivity;
mod gas;
#[cfg(test)]
mod tables;

pub use crate::survey::Gas;
pub use emissivity::{UNCOATED, corrected};
pub(crate) use gas::FREE_FALL;
pub use gas::{Filling, MixtureError};

use crate::survey::{BuildUp, Pane};
use gas::MEAN_TEMPERATURE;
use std::fmt;

/// Conductance of the outer surface, W/(m²K). EN 673.
pub const OUTSIDE: f64 = 25.0;

/// Conductance of the room-side surface, W/(m²K). EN 673.
pub const INSIDE: f64 = 7.7;

/// Conductivity of soda lime glass, W/(m K). EN 673.
pub const GLASS: f64 = 1.0;

/// Stefan and Boltzmann's constant as EN 673 writes it, W/(m²K⁴).
const RADIATION: f64 = 5.67e-8;

/// Difference between the outermost surfaces of the cavities, K. EN 673.
const DIFFERENCE: f64 = 15.0;

/// The shares of the difference have settled when none moves by more than this, K.
const SETTLED: f64 = 1e-10;

/// A bound for the settling, which takes some ten rounds.
const ROUNDS: usize = 200;

/// A cavity between two panes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Cavity {
    /// Width, mm.
    pub width: f64,
    /// What fills it.
    pub filling: Filling,
    /// Corrected emissivities of the two faces it lies between; which is which makes no difference.
    pub emissivities: [f64; 2],
}

impl Cavity {
    /// hs = hr + hg, W/(m²K), with `difference` K across it; hr = 4σTm³/(1/ε1 + 1/ε2 − 1).
    pub fn conductance(&self, difference: f64) -> f64 {
        let [one, other] = self.emissivities;
        let facing = 1.0 / one + 1.0 / other - 1.0;
        let radiant = 4.0 * RADIATION * MEAN_TEMPERATURE.powi(3) / facing;
        radiant + self.filling.conductance(self.width, difference)
    }
}

/// Panes and cavities, from the outside in.
#[derive(Debug, Clone, PartialEq)]
pub struct Glazing {
    panes: Vec<f64>,
    cavities: Vec<Cavity>,
}

/// Why panes and cavities make no glazing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct GlazingError;

impl fmt::Display for GlazingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(
            "one pane more than cavities, each over 0 mm, and emissivities over 0 and at most 1",
        )
    }
}

impl std::error::Error for GlazingError {}

impl Glazing {
    /// Panes of those thicknesses, mm, and the cavities between them.
    ///
    /// # Errors
    /// Where their numbers do not go together or a value is out of its range.
    pub fn new(panes: Vec<f64>, cavities: Vec<Cavity>) -> Result<Glazing, GlazingError> {
        let real = |length: f64| length > 0.0 && length.is_finite();
        let cavity = |cavity: &Cavity| {
            real(cavity.width) && cavity.emissivities.iter().all(|&e| e > 0.0 && e <= 1.0)
        };
        let good = panes.len() == cavities.len() + 1
            && panes.iter().all(|&pane| real(pane))
            && cavities.iter().all(cavity);
        if good { Ok(Glazing { panes, cavities }) } else { Err(GlazingError) }
    }

    /// One pane of `thickness` mm.
    ///
    /// # Errors
    /// Where it has no thickness.
    pub fn single(thickness: f64) -> Result<Glazing, GlazingError> {
        Glazing::new(vec![thickness], Vec::new())
    }

    /// A unit as ordered, the same `filling` in each cavity, and in each one face of `emissivity`
    /// (corrected) against one of plain glass; `None` for a bare thickness.
    ///
    /// # Errors
    /// As [`Glazing::new`].
    pub fn of(
        build_up: &BuildUp,
        filling: Filling,
        emissivity: f64,
    ) -> Option<Result<Glazing, GlazingError>> {
        let BuildUp::Panes { panes, cavities } = build_up else { return None };
        let cavity = |&width: &f64| Cavity { width, filling, emissivities: [emissivity, UNCOATED] };
        let panes = panes.iter().map(Pane::thickness).collect();
        Some(Glazing::new(panes, cavities.iter().map(cavity).collect()))
    }

    /// The same panes with cavities of other widths, mm, from the outside in.
    ///
    /// # Errors
    /// As [`Glazing::new`].
    pub fn with_widths(&self, widths: &[f64]) -> Result<Glazing, GlazingError> {
        let cavities = self.cavities.iter().zip(widths);
        let cavities = cavities.map(|(cavity, &width)| Cavity { width, ..*cavity }).collect();
        Glazing::new(self.panes.clone(), cavities)
    }

    /// Thickness of each pane, mm, from the outside in.
    pub fn panes(&self) -> &[f64] {
        &self.panes
    }

    /// Width of each cavity, mm, from the outside in.
    pub fn widths(&self) -> impl Iterator<Item = f64> {
        self.cavities.iter().map(|cavity| cavity.width)
    }

    /// U-value, W/(m²K).
    pub fn u_value(&self) -> f64 {
        let glass: f64 = self.panes.iter().map(|pane| pane / 1000.0 / GLASS).sum();
        let cavities: f64 = self.resistances().iter().sum();
        1.0 / (1.0 / OUTSIDE + glass + cavities + 1.0 / INSIDE)
    }

    /// Temperature of the room-side surface in the middle of the glass, °C.
    ///
    /// The heat that passes also passes the room-side surface: θi − U (θi − θe)/hi.
    pub fn room_surface(&self, inside: f64, outside: f64) -> f64 {
        inside - self.u_value() * (inside - outside) / INSIDE
    }

    /// Resistance of each cavity, m²K/W, once every one takes its share of the 15 K: the same heat
    /// passes them all, so each takes its share of the resistance. EN 673 begins with equal shares.
    pub fn resistances(&self) -> Vec<f64> {
        let mut shares = vec![DIFFERENCE / self.cavities.len().max(1) as f64; self.cavities.len()];
        let mut found = Vec::new();
        for _ in 0..ROUNDS {
            let pairs = self.cavities.iter().zip(&shares);
            found = pairs.map(|(cavity, &share)| 1.0 / cavity.conductance(share)).collect();
            let total: f64 = found.iter().sum();
            let next: Vec<f64> = found.iter().map(|one| DIFFERENCE * one / total).collect();
            let moved = next.iter().zip(&shares).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
            shares = next;
            if moved <= SETTLED {
                break;
            }
        }
        found
    }
}
