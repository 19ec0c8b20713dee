//! Plates, gases and dew points against general-purpose libraries. `tests/reference/make_physics.py`
//! made the results in `fixtures/reference/physics.json`; their versions stand in the file.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a test may stop at the first surprise"
)]

use fillister::glass::strength::coefficients;
use fillister::glass::thermal::{Cavity, Gas, Glazing, UNCOATED};
use fillister::warmth::dew_point;
use serde::Deserialize;

#[derive(Deserialize)]
struct Physics {
    plates: Vec<Plate>,
    gases: Vec<Properties>,
    dew: Vec<[f64; 3]>,
}

#[derive(Deserialize)]
struct Plate {
    ratio: f64,
    poisson: f64,
    deflection: f64,
    moment: f64,
    mean: f64,
}

#[derive(Deserialize)]
struct Properties {
    gas: String,
    still: f64,
    u: Vec<[f64; 3]>,
}

fn physics() -> Physics {
    serde_json::from_str(include_str!("../fixtures/reference/physics.json")).unwrap()
}

/// `ours` within `share` of `theirs`.
fn near(ours: f64, theirs: f64, share: f64, what: &str) {
    assert!((ours - theirs).abs() <= share * theirs.abs(), "{what}: {ours} against {theirs}");
}

// Finite elements: deflection and mean to 0.01 %, the moment, a second derivative, to 0.1 %.
#[test]
fn plates_agree_with_finite_elements() {
    let plates = physics().plates;
    assert_eq!(plates.len(), 12);
    for plate in plates {
        let ours = coefficients(plate.ratio, plate.poisson);
        let rigidity = 12.0 * (1.0 - plate.poisson * plate.poisson);
        let what = format!("{} {}", plate.ratio, plate.poisson);
        near(ours.deflection / rigidity, plate.deflection, 1e-4, &what);
        near(ours.mean / rigidity, plate.mean, 1e-4, &what);
        near(ours.stress / 6.0, plate.moment, 1e-3, &what);
    }
}

// The standard's rounded properties of air and argon give the U-values of measured ones within 0.02.
#[test]
fn u_values_agree_with_measured_gases() {
    let mut worst = 0.0_f64;
    for properties in physics().gases {
        let gas = Gas::ALL.into_iter().find(|gas| gas.name() == properties.gas).unwrap();
        near(gas.filling().widest_still(15.0), properties.still, 0.02, &properties.gas);
        for [width, emissivity, theirs] in properties.u {
            let emissivities = [emissivity, UNCOATED];
            let cavity = Cavity { width, filling: gas.filling(), emissivities };
            let ours = Glazing::new(vec![4.0; 2], vec![cavity]).unwrap().u_value();
            worst = worst.max((ours - theirs).abs());
        }
    }
    assert!(worst < 0.02, "{worst}");
}

// Over ice the library takes another formula, so only dew points above freezing compare.
#[test]
fn dew_points_agree_with_a_library_of_moist_air() {
    let rows: Vec<_> = physics().dew.into_iter().filter(|row| row[2] > 0.0).collect();
    assert!(rows.len() > 10);
    for [temperature, humidity, theirs] in rows {
        let ours = dew_point(temperature, humidity).unwrap();
        assert!((ours - theirs).abs() < 0.05, "{temperature} {humidity}: {ours} against {theirs}");
    }
}
