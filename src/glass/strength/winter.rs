//! How a cavity closes in the cold, and what its U-value is then.

use super::pane::Plies;
use super::{Climate, GlassUnit, PASCAL, sharing};
use crate::glass::thermal::Glazing;
use schemars::JsonSchema;
use serde::Serialize;

/// A unit on the coldest day under the highest pressure.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, JsonSchema)]
pub struct Winter {
    /// Pressure in the cavities over the air outside if no pane gave way, Pa; negative draws the panes together.
    pub pressure: f64,
    /// Mean width of the narrowest cavity, mm.
    pub cavity: f64,
    /// Width in its middle, mm.
    pub middle: f64,
    /// Ug with the cavities as wide as that on the mean, W/(m²K), under the conditions of EN 673.
    pub glass_u: f64,
}

impl GlassUnit {
    /// Mean width and width in the middle of every cavity, mm, under `sealed_in` Pa if no pane gave way. Laminated
    /// panes are taken with plies loose, which give way more; a pane that is no rectangle as that around it.
    fn cavities_under(&self, sealed_in: f64) -> Vec<(f64, f64)> {
        let (cubes, short, plate) = (self.cubes(Plies::Loose), self.size.min_side(), self.plate);
        let loads = self.sealed(&cubes).loads(0.0, sealed_in);
        let gives = |(load, cube): (&f64, &f64)| {
            load * PASCAL * short.powi(4) / (sharing::STIFFNESS * cube)
        };
        let moved: Vec<f64> = loads.iter().zip(&cubes).map(gives).collect();
        let opened = moved.iter().zip(moved.iter().skip(1)).map(|(outer, inner)| inner - outer);
        let wide = self.cavities.iter().zip(opened);
        wide.map(|(width, by)| (width + plate.mean * by, width + plate.deflection * by)).collect()
    }

    /// On the coldest of those days; `None` where none draws the panes together, or where they would touch.
    pub fn winter(&self, climates: &[Climate], glazing: &Glazing) -> Option<Winter> {
        let pressures = climates.iter().map(Climate::isochoric);
        let pressure = pressures.min_by(f64::total_cmp).filter(|pressure| *pressure < 0.0)?;
        let cavities = self.cavities_under(pressure);
        let means: Vec<f64> = cavities.iter().map(|(mean, _)| *mean).collect();
        let glass_u = glazing.with_widths(&means).ok()?.u_value();
        let (cavity, middle) = cavities.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
        Some(Winter { pressure, cavity, middle, glass_u })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::glass::strength::{Air, Treatment};
    use crate::glass::thermal::{Filling, Gas, corrected};
    use approx::assert_relative_eq;
    use kurbo::Size;
    use proptest::prelude::*;

    fn unit(build_up: &str, size: (f64, f64)) -> GlassUnit {
        let size = Size::new(size.0, size.1);
        GlassUnit::new(&build_up.parse().unwrap(), Treatment::Annealed, size).unwrap()
    }

    fn glazing(build_up: &str, gas: Gas) -> Glazing {
        let share = if gas == Gas::Air { 1.0 } else { 0.9 };
        let filling = Filling::in_air(gas, share).unwrap();
        Glazing::of(&build_up.parse().unwrap(), filling, corrected(0.03).unwrap()).unwrap().unwrap()
    }

    /// A day that would bring that much if no pane gave way, Pa.
    fn day(pressure: f64) -> Climate {
        let sealed = Air { temperature: 20.0, altitude: 0.0, barometer: 1013.25 };
        let meets = Air { barometer: sealed.barometer - pressure / 100.0, ..sealed };
        Climate { name: "a cold day", sealed, meets }
    }

    // Worked out apart from this program from the same sources: a linear plate, ν 0.2, and EN 673 at the mean width;
    // steps of TRLV 08/2006 without and with the height.
    #[test]
    fn narrow_cavities_close_and_are_colder() {
        for (build_up, gas, size, pressure, cavity, [calm, cold]) in [
            ("4-6-4", Gas::Air, (300.0, 400.0), -12_500.0, 5.505, [2.451, 2.566]),
            ("4-6-4", Gas::Air, (300.0, 400.0), -16_100.0, 5.363, [2.451, 2.601]),
            ("4-6-4", Gas::Argon, (300.0, 400.0), -12_500.0, 5.505, [2.010, 2.116]),
            ("4-6-4", Gas::Argon, (300.0, 400.0), -16_100.0, 5.363, [2.010, 2.149]),
            ("4-12-4", Gas::Air, (500.0, 800.0), -12_500.0, 10.643, [1.615, 1.746]),
            ("4-12-4", Gas::Argon, (500.0, 800.0), -12_500.0, 10.643, [1.280, 1.389]),
        ] {
            let glazing = glazing(build_up, gas);
            assert_relative_eq!(glazing.u_value(), calm, epsilon = 1e-3);
            let winter =
                unit(build_up, size).winter(&[day(9000.0), day(pressure)], &glazing).unwrap();
            assert_relative_eq!(winter.pressure, pressure, epsilon = 1e-6);
            assert_relative_eq!(winter.cavity, cavity, epsilon = 5e-3);
            assert_relative_eq!(winter.glass_u, cold, epsilon = 2e-3);
            assert!(winter.middle < winter.cavity);
        }
    }

    proptest! {
        // The gas law: what is left of the pressure and of the width come to what was sealed in, to first order.
        #[test]
        fn stiffer_panes_close_less(
            short in 150.0..1200.0_f64, ratio in 1.0..3.0_f64, pressure in -20_000.0..-1.0_f64,
        ) {
            let of = |text: &str| unit(text, (short, short * ratio)).cavities_under(pressure)[0];
            let (thin, thick) = (of("4-12-4"), of("6-12-6"));
            prop_assert!(thin.0 < thick.0 && thick.0 < 12.0);
            // No more than the whole difference of pressure is made good: 12 mm × p/100 kPa.
            prop_assert!(12.0 - thin.0 <= 12.0 * -pressure / 100_000.0 + 1e-9);
            prop_assert!(unit("4-12-4", (short, short * ratio)).winter(&[day(-pressure)], &glazing("4-12-4", Gas::Air)).is_none());
        }
    }
}
