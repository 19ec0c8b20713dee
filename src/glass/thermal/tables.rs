//! U-values by closed forms, and how they answer to change. `tests/published.rs` holds them against tables.

use super::*;
use approx::assert_relative_eq;
use proptest::prelude::*;

/// A unit of 4 mm panes filled to 90 %, or with air alone.
fn unit(gas: Gas, share: f64, emissivity: f64, cavities: &[f64]) -> f64 {
    let filling = Filling::in_air(gas, share).unwrap();
    let cavity = |&width: &f64| Cavity { width, filling, emissivities: [emissivity, UNCOATED] };
    let cavities: Vec<Cavity> = cavities.iter().map(cavity).collect();
    Glazing::new(vec![4.0; cavities.len() + 1], cavities).unwrap().u_value()
}

#[test]
fn unlike_cavities_share_the_difference_and_pass_one_heat() {
    let wide = Cavity { width: 20.0, filling: Gas::Air.filling(), emissivities: [UNCOATED; 2] };
    let coated = Cavity { width: 6.0, emissivities: [corrected(0.03).unwrap(), UNCOATED], ..wide };
    let glazing = Glazing::new(vec![4.0; 3], vec![wide, coated]).unwrap();
    let resistances = glazing.resistances();
    let total: f64 = resistances.iter().sum();
    for (cavity, resistance) in glazing.cavities.iter().zip(&resistances) {
        let share = DIFFERENCE * resistance / total;
        assert_relative_eq!(1.0 / cavity.conductance(share), *resistance, max_relative = 1e-9);
    }
    // Seen from the other side it is the same.
    let turned = Glazing::new(vec![4.0; 3], vec![coated, wide]).unwrap();
    assert_relative_eq!(turned.u_value(), glazing.u_value(), max_relative = 1e-12);
}

#[test]
fn the_room_side_is_colder_than_the_room_by_the_closed_form() {
    let pane = Glazing::single(4.0).unwrap();
    // 1/U = 0.04 + 0.004 + 1/7.7, and 20 − 20 U/7.7.
    assert_relative_eq!(pane.room_surface(20.0, 0.0), 5.061_25, epsilon = 1e-4);
}

#[test]
fn what_is_no_glazing_is_refused() {
    let cavity = Cavity { width: 6.0, filling: Gas::Air.filling(), emissivities: [UNCOATED; 2] };
    let new = Glazing::new;
    assert_eq!(new(vec![4.0], vec![cavity]), Err(GlazingError));
    assert_eq!(new(vec![], vec![]), Err(GlazingError));
    for width in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert_eq!(new(vec![4.0, 4.0], vec![Cavity { width, ..cavity }]), Err(GlazingError));
        assert_eq!(Glazing::single(width), Err(GlazingError));
    }
    let black = Cavity { emissivities: [1.01, 0.8], ..cavity };
    assert_eq!(new(vec![4.0, 4.0], vec![black]), Err(GlazingError));
    assert_eq!(Glazing::of(&BuildUp::Bare(14.0), Gas::Air.filling(), UNCOATED), None);
    let read = Glazing::of(&"4-6-4".parse().unwrap(), Gas::Air.filling(), UNCOATED);
    assert_eq!(read, Some(new(vec![4.0, 4.0], vec![cavity])));
}

fn gas() -> impl Strategy<Value = Gas> {
    prop_oneof![Just(Gas::Air), Just(Gas::Argon), Just(Gas::Krypton), Just(Gas::Xenon)]
}

proptest! {
    #[test]
    fn up_to_the_best_width_a_wider_cavity_is_warmer(
        gas in gas(), share in 0.0..=1.0_f64, normal in 0.01..0.9_f64, a in 0.01..1.0_f64, b in 0.01..1.0_f64,
    ) {
        let best = Filling::in_air(gas, share).unwrap().widest_still(DIFFERENCE);
        let emissivity = corrected(normal).unwrap();
        let (narrow, wide) = (a.min(b) * best, a.max(b) * best);
        let u = |width| unit(gas, share, emissivity, &[width]);
        prop_assert!(u(wide) <= u(narrow) + 1e-12);
    }

    #[test]
    fn a_better_coat_another_pane_and_thicker_glass_never_let_more_heat_out(
        gas in gas(), a in 0.01..1.0_f64, b in 0.01..1.0_f64, width in 2.0..30.0_f64,
    ) {
        let (low, high) = (corrected(a.min(b)).unwrap(), corrected(a.max(b)).unwrap());
        prop_assert!(unit(gas, 0.9, low, &[width]) <= unit(gas, 0.9, high, &[width]) + 1e-12);
        prop_assert!(unit(gas, 0.9, low, &[width, width]) < unit(gas, 0.9, low, &[width]));
        let cavity = Cavity { width, filling: gas.filling(), emissivities: [high, UNCOATED] };
        let panes = |thickness| Glazing::new(vec![thickness; 2], vec![cavity]).unwrap().u_value();
        prop_assert!(panes(6.0) < panes(3.0));
    }

    #[test]
    fn every_glazing_has_a_u_value_between_none_and_bare_surfaces(
        gas in gas(), widths in prop::collection::vec(0.1..100.0_f64, 0..5), normal in 0.001..=1.0_f64,
    ) {
        let u = unit(gas, 0.9, corrected(normal).unwrap(), &widths);
        prop_assert!(u > 0.0 && u < 1.0 / (1.0 / OUTSIDE + 1.0 / INSIDE));
    }
}
