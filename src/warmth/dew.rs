//! When water settles on the glass.

/// Magnus' formula over water, e = 6.112 hPa exp(17.62 t/(243.12 + t)): WMO-No. 8, annex 4.B, held
/// against two independent libraries: good to a few hundredths of a kelvin of dew point between −45 and 60 °C.
const MAGNUS: (f64, f64) = (17.62, 243.12);

/// Dew point, °C, of air of `temperature` °C and relative `humidity`; `None` where the humidity is not
/// over 0 and at most 1, or the temperature lies outside −45 to 60 °C.
pub fn dew_point(temperature: f64, humidity: f64) -> Option<f64> {
    let known = (-45.0..=60.0).contains(&temperature) && humidity > 0.0 && humidity <= 1.0;
    known.then(|| {
        let (factor, zero) = MAGNUS;
        let exponent = humidity.ln() + factor * temperature / (zero + temperature);
        zero * exponent / (factor - exponent)
    })
}

/// Relative humidity, 0 to 1, of air of `temperature` °C whose dew point is `dew` °C: what of its own pressure of
/// vapour it then has.
pub fn humidity(dew: f64, temperature: f64) -> f64 {
    let (factor, zero) = MAGNUS;
    let exponent = |at: f64| factor * at / (zero + at);
    (exponent(dew) - exponent(temperature)).exp()
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    #[test]
    fn damp_air_has_its_dew_point_at_its_temperature() {
        for temperature in [-10.0, 0.0, 20.0, 35.0] {
            assert_relative_eq!(dew_point(temperature, 1.0).unwrap(), temperature, epsilon = 1e-9);
        }
        for (temperature, humidity) in
            [(20.0, 0.0), (20.0, 1.1), (20.0, f64::NAN), (f64::NAN, 0.5), (90.0, 0.5)]
        {
            assert_eq!(dew_point(temperature, humidity), None);
        }
    }

    proptest! {
        #[test]
        fn humidity_is_the_dew_point_turned_round(t in -20.0..40.0_f64, damp in 0.01..1.0_f64) {
            prop_assert!((humidity(dew_point(t, damp).unwrap(), t) - damp).abs() < 1e-9);
        }

        #[test]
        fn damper_air_never_has_a_lower_dew_point(t in -20.0..40.0_f64, a in 0.01..1.0_f64, b in 0.01..1.0_f64) {
            let at = |humidity| dew_point(t, humidity).unwrap();
            prop_assert!(at(a.min(b)) <= at(a.max(b)) + 1e-9);
            prop_assert!(at(a) <= t + 1e-9);
        }
    }
}
