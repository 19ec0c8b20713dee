//! Gas that is sealed in presses on the panes when the weather, the season or the height above the
//! sea is another than on the day it was sealed.

use crate::language::{Text, text};
use crate::survey::Weather;

/// Zero of the Celsius scale, K.
const ZERO: f64 = 273.15;

/// How far the house is taken to lie above the place where the unit is sealed on a hot day, and below it on a cold
/// one, until both heights are known, m. TRLV 08/2006, table 1 (published).
const UNKNOWN: [f64; 2] = [600.0, -300.0];

/// Where and in what weather a unit is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Air {
    /// Of the gas in the cavity, °C.
    pub temperature: f64,
    /// Above the sea, m.
    pub altitude: f64,
    /// As the weather report gives it, reduced to sea level, hPa.
    pub barometer: f64,
}

impl Air {
    /// Pressure of the air outside, Pa: the barometer times the standard atmosphere's share at that
    /// height, (1 − 0.0065 h/288.15)^5.255 88. ISO 2533.
    pub fn pressure(&self) -> f64 {
        let share = (1.0 - 0.0065 * self.altitude / 288.15).max(0.0);
        100.0 * self.barometer * share.powf(5.255_88)
    }
}

/// How a unit was sealed and what it meets.
#[derive(Debug, Clone, PartialEq)]
pub struct Climate {
    /// What it is called in a finding: `a hot day`.
    pub name: &'static str,
    /// On the day it was sealed.
    pub sealed: Air,
    /// What it meets.
    pub meets: Air,
}

impl Climate {
    /// Pressure over the air outside if no pane gave way at all, Pa: p T′/T − p′ (the gas law at
    /// constant volume). Positive blows the panes apart.
    pub fn isochoric(&self) -> f64 {
        let hotter = (self.meets.temperature + ZERO) / (self.sealed.temperature + ZERO);
        self.sealed.pressure() * hotter - self.meets.pressure()
    }

    /// What of [`Climate::isochoric`] stays for good, Pa: as if nothing but the height were another.
    pub fn lasting(&self) -> f64 {
        let meets = Air { altitude: self.meets.altitude, ..self.sealed };
        Climate { meets, ..self.clone() }.isochoric()
    }

    /// A hot day under low pressure and a cold one under high pressure, as `weather` states them.
    pub fn of(weather: &Weather) -> [Climate; 2] {
        let day = |name, above: f64, temperature, barometer| {
            let (sealed, house) = match (weather.sealed_altitude, weather.altitude) {
                (Some(sealed), Some(house)) => (sealed, house),
                (Some(sealed), None) => (sealed, sealed + above),
                (None, Some(house)) => (house - above, house),
                // The lower of the two at the sea, as the steps of the source are.
                (None, None) => ((-above).max(0.0), above.max(0.0)),
            };
            Climate {
                name,
                sealed: Air {
                    temperature: weather.sealed_temperature,
                    altitude: sealed,
                    barometer: weather.sealed_barometer,
                },
                meets: Air { temperature, altitude: house, barometer },
            }
        };
        let ([higher, lower], [hot, cold], [low, high]) = (UNKNOWN, weather.gas, weather.barometer);
        [day("a hot day", higher, hot, low), day("a cold day", lower, cold, high)]
    }

    /// From where to where the unit comes, in words; none where that is assumed.
    pub fn heights(weather: &Weather) -> Option<Text> {
        let above = weather.altitude? - weather.sealed_altitude?;
        Some(match above.round() {
            0.0 => text!("sealed-level"),
            above if above > 0.0 => text!("sealed-lower", metres = above.to_string()),
            above => text!("sealed-higher", metres = (-above).to_string()),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    const CALM: Air = Air { temperature: 20.0, altitude: 0.0, barometer: 1013.25 };

    fn step(meets: Air) -> f64 {
        Climate { name: "", sealed: CALM, meets }.isochoric() / 1000.0
    }

    #[test]
    fn above_the_air_there_is_none() {
        assert_eq!(Air { altitude: 1e9, ..CALM }.pressure(), 0.0);
    }

    // DIN 18008-1, as an open facade calculator has it (published): 0.34 kPa a kelvin, 0.012 kPa a metre, 1 kPa a kPa of barometer.
    #[test]
    fn small_steps_agree_with_the_rule_of_the_standard() {
        assert_relative_eq!(step(Air { temperature: 21.0, ..CALM }), 0.34, epsilon = 0.01);
        assert_relative_eq!(step(Air { altitude: 100.0, ..CALM }) / 100.0, 0.012, epsilon = 5e-4);
        assert_relative_eq!(step(Air { barometer: 1003.25, ..CALM }), 1.0, epsilon = 1e-9);
        assert_relative_eq!(step(CALM), 0.0);
    }

    #[test]
    fn heat_blows_apart_and_cold_draws_together() {
        let [hot, cold] = Climate::of(&Weather::default()).map(|climate| climate.isochoric());
        // TRLV 08/2006, table 1 (published): 16 kN/m² either way; linear steps there, the gas law here.
        assert_relative_eq!(hot, 16_000.0, max_relative = 0.02);
        assert_relative_eq!(cold, -16_000.0, max_relative = 0.02);
    }

    // At one height: 101.325 × 313.15/293.15 − 99.325, and × 268.15/293.15 − 105.325 kPa.
    #[test]
    fn known_heights_count_as_they_are() {
        let at = |sealed, house| Weather {
            sealed_altitude: Some(sealed),
            altitude: Some(house),
            ..Weather::default()
        };
        let level = Climate::of(&at(0.0, 0.0));
        let [hot, cold] = level.each_ref().map(Climate::isochoric);
        assert_relative_eq!(hot, 8_912.8, epsilon = 0.1);
        assert_relative_eq!(cold, -12_641.1, epsilon = 0.1);
        assert!(level.iter().all(|climate| climate.lasting().abs() < 1e-9));
        // Two thirds of what the published rule has for 600 m and no weather at all: 400 m.
        let up = Climate::of(&at(100.0, 500.0));
        let same = up.each_ref().map(Climate::lasting);
        assert_relative_eq!(same[0], 400.0 * 12.0, max_relative = 0.05);
        assert_relative_eq!(same[0], same[1]);
        let words = Climate::heights(&at(100.0, 500.0)).unwrap();
        assert_eq!(words, "sealed 400 m lower than the house");
        assert_eq!(Climate::heights(&Weather::default()), None);
    }
}
