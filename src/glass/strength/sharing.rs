//! How the panes of a sealed unit share a load through the gas between them.
//!
//! Each pane gives way in proportion to the difference of pressure on it, and the gas in each cavity
//! presses the harder the smaller its room becomes. For two panes this is what EN 16612 writes as
//! stiffness shares δ and the insulating unit factor φ = 1/(1 + (a/a*)⁴) with
//! a* = 28.9 (s t₁³t₂³/((t₁³ + t₂³) χ))^¼; the factor 28.9 is ⁴√(E/p) for glass and air.
//! An open facade calculator has the same shares, and says that they are those of DIN 18008-1, annex A.

use super::plate::Coefficients;

/// Stiffness of glass, N/mm². EN 572-1 (published, reproduced).
pub const STIFFNESS: f64 = 70_000.0;

/// Pressure of the air, N/mm²: 100 kPa, as the same calculator has it.
const AIR: f64 = 0.1;

/// A sealed unit as the sharing sees it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sealed<'a> {
    /// t³ of each pane, mm³, from the outside in.
    pub cubes: &'a [f64],
    /// Width of each cavity, mm.
    pub cavities: &'a [f64],
    /// Short side, mm.
    pub short: f64,
    /// Of its shape.
    pub plate: Coefficients,
}

impl Sealed<'_> {
    /// Mean deflection of a pane under one N/mm², mm.
    fn gives(&self, cube: f64) -> f64 {
        self.plate.mean * self.short.powi(4) / (STIFFNESS * cube)
    }

    /// What each pane carries, from the outside in, in the unit of the loads; towards the room is
    /// positive. `outside` acts on the outermost pane, `sealed_in` is the pressure in every cavity if
    /// no pane gave way.
    ///
    /// In cavity j of width s: p = p₀ − (P/s)(dⱼ₊₁ − dⱼ), with d the mean deflection of the panes on
    /// either side; a row for each cavity, solved from the outside in and back.
    pub fn loads(&self, outside: f64, sealed_in: f64) -> Vec<f64> {
        // Forward: every cavity's pressure as constant + factor × the next cavity's.
        let mut rows: Vec<(f64, f64)> = Vec::with_capacity(self.cavities.len());
        let mut before = (outside, 0.0);
        let pairs = self.cubes.iter().zip(self.cubes.iter().skip(1));
        for (&cavity, (&outer, &inner)) in self.cavities.iter().zip(pairs) {
            let spring = AIR / cavity;
            let (outer, inner) = (spring * self.gives(outer), spring * self.gives(inner));
            let pivot = 1.0 + inner + outer * (1.0 - before.1);
            before = ((sealed_in + outer * before.0) / pivot, inner / pivot);
            rows.push(before);
        }
        // Back: the room's pressure is nought.
        let mut next = 0.0;
        let mut loads: Vec<f64> = Vec::with_capacity(self.cubes.len());
        for (constant, factor) in rows.into_iter().rev() {
            let pressure = constant + factor * next;
            loads.push(pressure - next);
            next = pressure;
        }
        loads.push(outside - next);
        loads.reverse();
        loads
    }
}

/// The insulating unit factor φ of two panes: the share of the sealed-in pressure that stays when
/// they give way. Near 1 they are too stiff to give way.
pub fn unit_factor(sealed: &Sealed<'_>) -> Option<f64> {
    match (sealed.cubes, sealed.cavities) {
        ([_, _], [_]) => sealed.loads(0.0, 1.0).last().copied(),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::super::plate::coefficients;
    use super::*;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    fn sealed<'a>(cubes: &'a [f64], cavities: &'a [f64], short: f64, long: f64) -> Sealed<'a> {
        Sealed { cubes, cavities, short, plate: coefficients(long / short, 0.22) }
    }

    // Separate arithmetic, the series to 200 terms: χ of a square is 0.01944 for ν 0.22; δ, φ and a* as at the head
    // of this file.
    #[test]
    fn two_panes_share_as_the_standard_writes_it() {
        assert_relative_eq!(coefficients(1.0, 0.22).mean, 0.0194, epsilon = 1e-4);
        for (first, second, gap, short, long) in [
            (4.0_f64, 4.0_f64, 6.0_f64, 250.0, 400.0),
            (6.0, 4.0, 16.0, 800.0, 1000.0),
            (3.0, 3.0, 4.0, 300.0, 300.0),
        ] {
            let cubes = [first.powi(3), second.powi(3)];
            let cavities = [gap];
            let unit = sealed(&cubes, &cavities, short, long);
            let [one, other] = cubes;
            let both = gap * one * other / ((one + other) * unit.plate.mean);
            let length = 28.9 * both.powf(0.25);
            let phi = 1.0 / (1.0 + (short / length).powi(4));
            // 28.9 is rounded from 28.925.
            assert_relative_eq!(unit_factor(&unit).unwrap(), phi, max_relative = 4e-3);
            let (stiff, rest) = (one / (one + other), other / (one + other));
            let loads = unit.loads(1.0, 0.0);
            assert_relative_eq!(loads[0], stiff + phi * rest, max_relative = 4e-3);
            assert_relative_eq!(loads[1], (1.0 - phi) * rest, epsilon = 4e-3);
            // What is sealed in bears on both alike, outwards and inwards.
            let climate = unit.loads(0.0, 1.0);
            assert_relative_eq!(climate[0], -climate[1], epsilon = 1e-12);
        }
    }

    #[test]
    fn one_pane_carries_all_and_three_settle_as_a_row_of_springs() {
        assert_eq!(sealed(&[64.0], &[], 500.0, 500.0).loads(2.0, 9.0), vec![2.0]);
        let (cubes, cavities) = ([64.0, 27.0, 216.0], [8.0, 12.0]);
        let unit = sealed(&cubes, &cavities, 400.0, 700.0);
        let loads = unit.loads(1.0, 3.0);
        // Put back into the gas law of each cavity.
        let mut outer = 1.0;
        for (index, gap) in cavities.iter().enumerate() {
            let pressure = outer - loads[index];
            let moved = |pane: usize| loads[pane] * unit.gives(cubes[pane]);
            let law = 3.0 - AIR / gap * (moved(index + 1) - moved(index));
            assert_relative_eq!(pressure, law, epsilon = 1e-9);
            outer = pressure;
        }
        assert_relative_eq!(loads[2], outer, epsilon = 1e-12);
        assert_eq!(unit_factor(&unit), None);
    }

    proptest! {
        #[test]
        fn wind_is_carried_whole_and_stiffer_or_smaller_panes_give_way_less(
            panes in prop::collection::vec(3.0..10.0_f64, 2..5), gap in 4.0..20.0_f64,
            short in 100.0..1500.0_f64, ratio in 1.0..5.0_f64, stiffer in 1.0..3.0_f64,
        ) {
            let cubes: Vec<f64> = panes.iter().map(|pane| pane.powi(3)).collect();
            let cavities = vec![gap; cubes.len() - 1];
            let unit = sealed(&cubes, &cavities, short, short * ratio);
            let wind = unit.loads(1.0, 0.0);
            prop_assert!((wind.iter().sum::<f64>() - 1.0).abs() < 1e-9);
            prop_assert!(wind.iter().all(|&load| (0.0..=1.0 + 1e-12).contains(&load)));
            let inner = |unit: &Sealed<'_>| unit.loads(0.0, 1.0).last().copied().unwrap();
            let stiff: Vec<f64> = cubes.iter().map(|cube| cube * stiffer.powi(3)).collect();
            prop_assert!(inner(&sealed(&stiff, &cavities, short, short * ratio)) >= inner(&unit) - 1e-12);
            prop_assert!(inner(&sealed(&cubes, &cavities, short / stiffer, short / stiffer * ratio)) >= inner(&unit) - 1e-12);
        }
    }
}
