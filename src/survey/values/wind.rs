//! The wind that a sash must bear, and where its figure comes from.

use crate::language::{Text, text};

/// Pressure that is assumed where nothing is stated, Pa: test pressure P1 of class 2, EN 12210 (published). It
/// tells nothing of the place.
const ASSUMED: f64 = 800.0;

/// Density of air, kg/m³. EN 1991-1-4, 4.5.
const DENSITY: f64 = 1.25;

/// Wind on a sash.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Wind {
    /// Nothing is known of it.
    Assumed,
    /// A pressure that somebody stated, Pa.
    Stated(f64),
    /// What the place meets.
    Site(Site),
}

/// Where a house stands in the wind, EN 1991-1-4.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Site {
    /// Basic wind speed v_b, m/s.
    pub speed: f64,
    /// What stands around.
    pub terrain: Terrain,
    /// Height z of the house over the ground, m.
    pub height: f64,
    /// Net pressure coefficient: outer less inner.
    pub coefficient: f64,
}

/// Terrain categories 0 to IV of EN 1991-1-4.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Terrain {
    /// 0: the open sea or its coast.
    Sea,
    /// I: lakes, or flat ground without obstacles.
    Flat,
    /// II: grass and single obstacles.
    Country,
    /// III: villages, suburbs, woods.
    Suburb,
    /// IV: a town with high buildings.
    Town,
}

impl Terrain {
    /// The key of what it is called.
    fn key(self) -> &'static str {
        match self {
            Terrain::Sea => "terrain-sea",
            Terrain::Flat => "terrain-flat",
            Terrain::Country => "terrain-country",
            Terrain::Suburb => "terrain-suburb",
            Terrain::Town => "terrain-town",
        }
    }

    /// Roughness length z₀ and least height z_min, m. EN 1991-1-4 table 4.1, as an open library of the Eurocodes
    /// has it.
    fn roughness(self) -> (f64, f64) {
        match self {
            Terrain::Sea => (0.003, 1.0),
            Terrain::Flat => (0.01, 1.0),
            Terrain::Country => (0.05, 2.0),
            Terrain::Suburb => (0.3, 5.0),
            Terrain::Town => (1.0, 10.0),
        }
    }
}

impl Site {
    /// Peak velocity pressure q_p at the height z, Pa: (1 + 7 I_v) ½ ρ v_m², with the mean speed v_m = c_r v_b,
    /// c_r = k_r ln(z/z₀), k_r = 0.19 (z₀/0.05)^0.07 and the turbulence I_v = 1/ln(z/z₀). EN 1991-1-4, 4.3 to
    /// 4.5, with its recommended values, on flat ground; a national annex may have others.
    pub fn peak_pressure(&self) -> f64 {
        let (roughness, least) = self.terrain.roughness();
        let logarithm = (self.height.max(least) / roughness).ln();
        let mean = 0.19 * (roughness / 0.05_f64).powf(0.07) * logarithm * self.speed;
        (1.0 + 7.0 / logarithm) * 0.5 * DENSITY * mean.powi(2)
    }
}

impl Wind {
    /// Pressure on the sash, Pa.
    pub fn pressure(&self) -> f64 {
        match self {
            Wind::Assumed => ASSUMED,
            Wind::Stated(pressure) => *pressure,
            Wind::Site(site) => site.coefficient * site.peak_pressure(),
        }
    }
}

impl Wind {
    /// `800 Pa, assumed`: the pressure and where it comes from.
    pub fn told(&self) -> Text {
        let pressure = format!("{:.0}", self.pressure());
        match self {
            Wind::Assumed => text!("wind-assumed", pressure),
            Wind::Stated(_) => text!("wind-stated", pressure),
            Wind::Site(Site { speed, terrain, height, coefficient }) => {
                let [speed, height, times] = [speed, height, coefficient].map(f64::to_string);
                text!(
                    "wind-site",
                    pressure,
                    speed,
                    terrain = Text::of(terrain.key()),
                    height,
                    times
                )
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    // A worked example in public: 26 m/s, category IV, 10 m: 0.497 kN/m².
    #[test]
    fn the_pressure_of_a_published_example() {
        let site = Site { speed: 26.0, terrain: Terrain::Town, height: 10.0, coefficient: 1.6 };
        assert_relative_eq!(site.peak_pressure(), 497.0, epsilon = 0.5);
        // No more than at the least height below it.
        let low = Site { height: 9.0, ..site };
        assert_relative_eq!(low.peak_pressure(), site.peak_pressure());
        assert_relative_eq!(Wind::Site(site).pressure(), 1.6 * 497.0, epsilon = 1.0);
    }

    // Closed form: in category II k_r is 0.19, and at z = z₀ e⁵ = 7.42 m the mean speed 0.95 v_b, I_v 0.2:
    // q_p = 2.4 · 0.625 · 0.9025 · 25² = 846.1 Pa.
    #[test]
    fn the_pressure_of_a_closed_form() {
        let height = 0.05 * 5.0_f64.exp();
        let site = Site { speed: 25.0, terrain: Terrain::Country, height, coefficient: 1.0 };
        assert_relative_eq!(site.peak_pressure(), 846.09, epsilon = 0.01);
    }

    #[test]
    fn an_assumption_is_called_one() {
        assert_eq!(Wind::Assumed.told().to_string(), "800 Pa, assumed");
        assert_eq!(Wind::Stated(800.0).told().to_string(), "800 Pa, as stated");
        let site = Site { speed: 26.0, terrain: Terrain::Town, height: 10.0, coefficient: 1.6 };
        assert_eq!(
            Wind::Site(site).told().to_string(),
            "795 Pa by EN 1991-1-4: 26 m/s, town, 10 m up, 1.6 times"
        );
    }
}
