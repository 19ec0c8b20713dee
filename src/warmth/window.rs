//! EN ISO 10077-1: from glass, frame and edge to the whole.

use super::Areas;
use crate::survey::{Spacer, Timber};

/// Ψ along the edge of glass in a timber frame, W/(m K); `None` stands for single glass, which has no
/// spacer. EN ISO 10077-1, annex tables of the 2006 and 2017 editions (from memory).
pub fn linear(spacer: Option<Spacer>, coated: bool) -> f64 {
    let (plain, low) = match spacer {
        None => (0.0, 0.0),
        Some(Spacer::Metal) => (0.06, 0.08),
        Some(Spacer::Improved) => (0.05, 0.06),
    };
    if coated { low } else { plain }
}

/// Resistances of both surfaces of a frame, m²K/W. EN ISO 10077-1.
const SURFACES: f64 = 0.13 + 0.04;

/// Thickness for which the U-value of a frame is known, mm.
const KNOWN: f64 = 60.0;

/// Mean density between softwood (500) and hardwood (700 kg/m³) of EN ISO 10077-2 (from memory).
const HARD: f64 = 600.0;

/// U-value of stiles, rails and bars of `thickness` mm, W/(m²K).
///
/// EN ISO 10077-1 gives 2.0 for softwood and 2.2 for hardwood 60 mm thick (from memory). Other
/// thicknesses follow as if wood of the conductivity that gives those values lay between the two
/// surfaces, 1/Uf = 0.17 + d/λ: worked out here, no table. Timber counts as hard by its density.
pub fn frame_u(timber: &Timber, thickness: f64) -> f64 {
    let known = if timber.density >= HARD { 2.2 } else { 2.0 };
    let wood = (1.0 / known - SURFACES) * (thickness / KNOWN).max(0.0);
    1.0 / (SURFACES + wood)
}

/// Uw = (Ag Ug + Af Uf + lg Ψ)/(Ag + Af), W/(m²K). EN ISO 10077-1 (published).
pub fn whole_window(areas: &Areas, glass_u: f64, frame_u: f64, linear: f64) -> f64 {
    let heat = areas.glass * glass_u + areas.frame * frame_u + areas.perimeter * linear;
    heat / areas.whole()
}

/// Heat that passes in a year, kWh: U A × degree hours, of U in W/(m²K), `area` in m² and
/// `degree_hours` in thousands of kelvin hours a year.
pub fn yearly_heat(u: f64, area: f64, degree_hours: f64) -> f64 {
    u * area * degree_hours
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::TIMBERS;
    use approx::assert_relative_eq;
    use proptest::prelude::*;

    // EN ISO 10077-1: a window of 1.23 by 1.48 m (published) with 30 % frame (worked out).
    #[test]
    fn a_window_of_the_standard_size() {
        let width = 0.10963;
        let (across, up) = (1.23 - 2.0 * width, 1.48 - 2.0 * width);
        let areas = Areas {
            glass: across * up,
            frame: 1.23 * 1.48 - across * up,
            perimeter: 2.0 * (across + up),
        };
        assert_relative_eq!(areas.glass, 1.2743, epsilon = 1e-4);
        assert_relative_eq!(areas.perimeter, 4.5430, epsilon = 1e-3);
        assert_relative_eq!(areas.frame / areas.whole(), 0.3, epsilon = 1e-4);
        for (glass, whole) in [(2.8, 2.700), (1.1, 1.510)] {
            assert_relative_eq!(whole_window(&areas, glass, 1.8, 0.08), whole, epsilon = 1e-3);
        }
    }

    #[test]
    fn frames_pass_through_the_known_points() {
        for timber in TIMBERS {
            let known = if timber.name == "d30" || timber.name == "white-oak" { 2.2 } else { 2.0 };
            assert_relative_eq!(frame_u(&timber, 60.0), known, epsilon = 1e-12);
            assert!(frame_u(&timber, 45.0) > known && frame_u(&timber, 70.0) < known);
        }
    }

    #[test]
    fn a_year_of_heat_by_hand() {
        // 5 W/(m²K) × 2 m² × 84 000 K h = 840 kWh.
        assert_relative_eq!(yearly_heat(5.0, 2.0, 84.0), 840.0);
    }

    proptest! {
        #[test]
        fn the_whole_lies_between_its_parts_but_for_the_edge(
            glass in 0.1..5.0_f64, frame in 0.1..5.0_f64, a in 0.5..6.0_f64, b in 0.5..6.0_f64,
        ) {
            let areas = Areas { glass, frame, perimeter: 4.0 };
            let whole = whole_window(&areas, a, b, 0.0);
            prop_assert!(whole >= a.min(b) - 1e-12 && whole <= a.max(b) + 1e-12);
            prop_assert!(whole_window(&areas, a, b, 0.08) > whole);
        }
    }
}
