//! What fills a cavity.
//!
//! Values at 10 °C from EN 673, table 1 (published, reproduced). A mixture takes each property in
//! proportion to volume, as EN 673 lets one do for shares of a usual fill.

use crate::geometry::ROUNDING;
use crate::survey::Gas;
use std::fmt;

/// Mean temperature of a cavity, K. EN 673: 10 °C.
pub(super) const MEAN_TEMPERATURE: f64 = 283.0;

/// Acceleration of free fall as EN 673 writes it, m/s²: the weight of a kilogram, N.
pub(crate) const FREE_FALL: f64 = 9.81;

/// Constants of an upright cavity, Nu = A (Gr Pr)^n. EN 673.
const UPRIGHT: (f64, f64) = (0.035, 0.38);

impl Gas {
    /// Every gas, commonest first.
    pub const ALL: [Gas; 4] = [Gas::Air, Gas::Argon, Gas::Krypton, Gas::Xenon];

    /// The name in small letters.
    pub fn name(self) -> &'static str {
        match self {
            Gas::Air => "air",
            Gas::Argon => "argon",
            Gas::Krypton => "krypton",
            Gas::Xenon => "xenon",
        }
    }

    /// Its properties at 10 °C.
    pub fn filling(self) -> Filling {
        let (density, viscosity, conductivity, heat) = match self {
            Gas::Air => (1.232, 1.761e-5, 2.496e-2, 1008.0),
            Gas::Argon => (1.699, 2.164e-5, 1.684e-2, 519.0),
            Gas::Krypton => (3.560, 2.400e-5, 0.900e-2, 245.0),
            Gas::Xenon => (5.689, 2.226e-5, 0.529e-2, 161.0),
        };
        Filling { density, viscosity, conductivity, heat }
    }
}

/// A gas or a mixture, by what matters for the passage of heat.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Filling {
    /// ρ, kg/m³.
    density: f64,
    /// μ, kg/(m s).
    viscosity: f64,
    /// λ, W/(m K).
    conductivity: f64,
    /// c, J/(kg K).
    heat: f64,
}

/// Why shares do not make a mixture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MixtureError;

impl fmt::Display for MixtureError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("shares by volume from 0 to 1 that sum to 1")
    }
}

impl std::error::Error for MixtureError {}

impl Filling {
    /// A mixture of gases by shares of volume.
    ///
    /// # Errors
    /// Where a share lies outside 0 to 1 or they do not sum to 1.
    pub fn mixture(shares: &[(Gas, f64)]) -> Result<Filling, MixtureError> {
        let total: f64 = shares.iter().map(|(_, share)| share).sum();
        let each = shares.iter().all(|(_, share)| (0.0..=1.0).contains(share));
        if !each || (total - 1.0).abs() > ROUNDING {
            return Err(MixtureError);
        }
        let mean = |property: fn(&Filling) -> f64| {
            shares.iter().map(|(gas, share)| share * property(&gas.filling())).sum()
        };
        Ok(Filling {
            density: mean(|gas| gas.density),
            viscosity: mean(|gas| gas.viscosity),
            conductivity: mean(|gas| gas.conductivity),
            heat: mean(|gas| gas.heat),
        })
    }

    /// `share` of `gas` by volume, the rest air: units are filled to 90 %, seldom more.
    ///
    /// # Errors
    /// Where the share lies outside 0 to 1.
    pub fn in_air(gas: Gas, share: f64) -> Result<Filling, MixtureError> {
        Filling::mixture(&[(gas, share), (Gas::Air, 1.0 - share)])
    }

    /// Conductance of an upright layer `width` mm wide with `difference` K across it, W/(m²K):
    /// hg = Nu λ/s, Nu = max(1, A (Gr Pr)^n), Gr = 9.81 s³ ΔT ρ²/(Tm μ²), Pr = μ c/λ. EN 673.
    pub fn conductance(&self, width: f64, difference: f64) -> f64 {
        let metres = width / 1000.0;
        let (factor, power) = UPRIGHT;
        let turning = metres.powi(3) * difference * self.turning_over();
        let nusselt = (factor * turning.powf(power)).max(1.0);
        nusselt * self.conductivity / metres
    }

    /// Gr Pr for a cavity one metre wide and a difference of 1 K.
    fn turning_over(&self) -> f64 {
        let grashof =
            FREE_FALL * self.density.powi(2) / (MEAN_TEMPERATURE * self.viscosity.powi(2));
        let prandtl = self.viscosity * self.heat / self.conductivity;
        grashof * prandtl
    }

    /// Widest upright cavity in which the gas still stands, mm: up to here a wider one is warmer,
    /// beyond it hardly or no more. Closed form: A (Gr Pr)^n = 1.
    pub fn widest_still(&self, difference: f64) -> f64 {
        let (factor, power) = UPRIGHT;
        let onset = factor.powf(-1.0 / power);
        1000.0 * (onset / (difference * self.turning_over())).cbrt()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    #[test]
    fn mixtures_are_linear_and_refuse_what_is_no_whole() {
        let half = Filling::mixture(&[(Gas::Argon, 0.5), (Gas::Krypton, 0.5)]).unwrap();
        // By hand from the table.
        assert_relative_eq!(half.density, 2.6295, epsilon = 1e-12);
        assert_relative_eq!(half.conductivity, 1.292e-2, epsilon = 1e-12);
        assert_eq!(Filling::in_air(Gas::Xenon, 1.0).unwrap(), Gas::Xenon.filling());
        for wrong in [-0.1, 1.1, f64::NAN] {
            assert_eq!(Filling::in_air(Gas::Argon, wrong), Err(MixtureError));
        }
        assert_eq!(Filling::mixture(&[(Gas::Argon, 0.9)]), Err(MixtureError));
        assert_eq!(Filling::mixture(&[]), Err(MixtureError));
    }

    #[test]
    fn gas_stands_up_to_the_widest_still_cavity() {
        for gas in Gas::ALL {
            let (filling, difference) = (gas.filling(), 15.0);
            let edge = filling.widest_still(difference);
            let plain = |width: f64| filling.conductivity / (width / 1000.0);
            assert_relative_eq!(
                filling.conductance(0.999 * edge, difference),
                plain(0.999 * edge),
                max_relative = 1e-12
            );
            assert!(filling.conductance(1.01 * edge, difference) > plain(1.01 * edge) * 1.001);
        }
        // French dwelling method 3CL-2021 (published): in air nothing is gained beyond 15 to 16 mm. A national heritage
        // body's Technical Paper 9 (published): krypton is best at about 10 mm.
        assert!((14.0..18.0).contains(&Gas::Air.filling().widest_still(15.0)));
        assert!((8.0..12.0).contains(&Gas::Krypton.filling().widest_still(15.0)));
    }
}
