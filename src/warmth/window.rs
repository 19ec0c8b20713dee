//! EN ISO 10077-1: from glass, frame and edge to the whole.

use super::Areas;
use super::model::wood;
use crate::survey::{Spacer, Timber};

/// Ψ along the edge of glass in a timber frame, W/(m K); `None` stands for single glass, which has no
/// spacer. Belgian decree on the energy performance of buildings, annex VII, as EN ISO 10077-1 (published).
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

/// U-value of timber frames by thickness, mm: softwood and hardwood, W/(m²K). Belgian decree on the energy
/// performance of buildings, annex VII, table D.1 (published).
const FRAMES: [(f64, f64, f64); 11] = [
    (50.0, 2.00, 2.36),
    (60.0, 1.93, 2.20),
    (70.0, 1.78, 2.08),
    (80.0, 1.67, 1.96),
    (90.0, 1.58, 1.86),
    (100.0, 1.48, 1.75),
    (110.0, 1.40, 1.68),
    (120.0, 1.32, 1.58),
    (130.0, 1.25, 1.50),
    (140.0, 1.18, 1.40),
    (150.0, 1.12, 1.34),
];

/// U-value of stiles, rails and bars of `thickness` mm, W/(m²K): the table, straight lines between its rows.
/// A thinner frame lacks the resistance d/λ of the wood that it lacks of 50 mm, worked out here; a thicker
/// one than 150 mm counts as that.
pub fn frame_u(timber: &Timber, thickness: f64) -> f64 {
    let hard = timber.species.hardwood;
    let of = |(at, soft, hardwood): (f64, f64, f64)| (at, if hard { hardwood } else { soft });
    let rows = FRAMES.map(of);
    let [(thinnest, first), ..] = rows;
    if thickness <= thinnest {
        let lacks = (thinnest - thickness) / 1000.0 / wood(timber);
        return 1.0 / (1.0 / first - lacks).max(SURFACES);
    }
    let between = rows.windows(2).find_map(|pair| {
        let [(thin, more), (thick, less)] = *pair else { return None };
        let share = (thickness - thin) / (thick - thin);
        (thickness <= thick).then_some(more + share * (less - more))
    });
    let [.., (_, thickest)] = rows;
    between.unwrap_or(thickest)
}

/// Uw = (Ag Ug + Af Uf + lg Ψ)/(Ag + Af), W/(m²K). EN ISO 10077-1 (published).
pub fn whole_window(areas: &Areas, glass_u: f64, frame_u: f64, linear: f64) -> f64 {
    let heat = areas.glass * glass_u + areas.frame * frame_u + areas.perimeter * linear;
    heat / areas.whole()
}

/// Sun on a window in the heating season, kWh/m² a year, and degree hours with it, thousands of kelvin hours, of the
/// British window rating: 218.6 g − 68.5 (U + L). A facade-technology centre's page (published). A mean of all ways
/// that windows look.
const RATING: (f64, f64) = (218.6, 68.5);

/// What the sun gives over a year by what it gives square to the glass (from memory, as the rating's authors have it).
const SLANT: f64 = 0.9;

/// Sun that a year brings through `area` m² of glass with g, kWh: as much as the rating has with its degree hours.
pub fn yearly_sun(g: f64, area: f64, degree_hours: f64) -> f64 {
    let (sun, hours) = RATING;
    SLANT * g * area * sun * degree_hours / hours
}

/// British window rating of a sash, kWh/m² a year: what it brings less what it loses, draughts left out.
pub fn rating(areas: &Areas, g: f64, whole_u: f64) -> f64 {
    let (sun, hours) = RATING;
    sun * SLANT * g * areas.glass / areas.whole() - hours * whole_u
}

/// Heat that passes in a year, kWh: U A × degree hours, of U in W/(m²K), `area` in m² and
/// `degree_hours` in thousands of kelvin hours a year.
pub fn yearly_heat(u: f64, area: f64, degree_hours: f64) -> f64 {
    u * area * degree_hours
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::species;
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

    // The decree's table: 50 mm is 2.00 of softwood, 2.36 of hardwood; 100 mm is 1.48 and 1.75.
    #[test]
    fn frames_are_those_of_the_table_and_mahogany_is_a_hardwood() {
        for species in species() {
            let timber = Timber { species, class: None };
            let at = |thickness| frame_u(&timber, thickness);
            let known = if species.hardwood { (2.36, 1.75) } else { (2.00, 1.48) };
            assert_eq!((at(50.0), at(100.0)), known, "{}", species.name);
            assert_relative_eq!(at(55.0), at(50.0).midpoint(at(60.0)), epsilon = 1e-12);
            assert!(at(45.0) > at(50.0) && at(0.0) <= 1.0 / SURFACES && at(400.0) == at(150.0));
        }
        let hard = |name| species().find(|species| species.name == name).unwrap().hardwood;
        assert!(hard("mahogany") && hard("iroko") && !hard("larch"));
    }

    #[test]
    fn a_year_of_heat_by_hand() {
        // 5 W/(m²K) × 2 m² × 84 000 K h = 840 kWh.
        assert_relative_eq!(yearly_heat(5.0, 2.0, 84.0), 840.0);
    }

    // By hand: g_window 0.45, U 1.6, no draught: 218.6 × 0.45 − 68.5 × 1.6 = −11.23.
    #[test]
    fn the_rating_is_sun_less_loss() {
        let areas = Areas { glass: 1.0, frame: 0.0, perimeter: 4.0 };
        assert_relative_eq!(rating(&areas, 0.5, 1.6), -11.23, epsilon = 1e-9);
        assert_relative_eq!(yearly_sun(0.5, 2.0, 68.5), 2.0 * 0.45 * 218.6, epsilon = 1e-9);
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
