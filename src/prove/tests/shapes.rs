//! The clean cut: proven, and its numbers are those of the closed forms.

use super::fixture::*;
use approx::assert_relative_eq;
use std::f64::consts::PI;

#[test]
fn the_clean_cut_of_a_full_sash_is_proven_and_measured() {
    let (width, height) = (820.0, 930.0);
    let rebate = frame(width, height);
    let proof = proof(&programs(width, height), &rebate, &setup());
    assert_eq!(proof.faults, [], "{:#?}", proof.faults);
    assert!(proof.is_proven());

    // Waste in a corner: R²(1 − π/4) and R(√2 − 1); R 6: 7.7257 mm², 2.4853 mm.
    assert_eq!(proof.chisel.len(), 4);
    for chisel in &proof.chisel {
        assert_relative_eq!(chisel.expected_area, 36.0 * (1.0 - PI / 4.0), epsilon = 1e-9);
        assert_relative_eq!(chisel.area, chisel.expected_area, epsilon = 0.02);
        assert_relative_eq!(chisel.expected_diagonal, 2.4853, epsilon = 1e-4);
        assert_relative_eq!(chisel.diagonal.unwrap(), chisel.expected_diagonal, epsilon = 1e-9);
        assert_eq!(chisel.needed, chisel.at[1] < 0.0);
    }

    // All that must go has gone, but for the fillets.
    let fillets = 4.0 * 36.0 * (1.0 - PI / 4.0) * 27.0;
    let must_go = 27.0 * (848.0 * 960.0 - 838.0 * 948.0) + 10.0 * (838.0 * 948.0 - 820.0 * 930.0);
    assert_relative_eq!(proof.volumes.must_go, must_go, epsilon = 1e-6);
    assert_relative_eq!(proof.volumes.gone, must_go - fillets, epsilon = 1.0);
    assert_eq!(proof.volumes.stay_gone, 0.0);
    assert!(proof.margins.side.as_ref().unwrap().distance.abs() < 1e-9);
    assert_eq!(proof.margins.floor.as_ref().unwrap().distance, 0.0);
    assert_relative_eq!(proof.margins.tallest_step, 4.0);
    // Two rings at 1200 mm/min, some 3.6 m each: about three minutes a lap.
    assert!((30.0..40.0).contains(&proof.minutes()), "{}", proof.minutes());
    assert!(proof.rows < 2500, "{}", proof.rows);
}

#[test]
fn equal_input_gives_an_equal_proof_that_serialises() {
    let rebate = frame(100.0, 80.0);
    let texts = programs(100.0, 80.0);
    let (a, b) = (proof(&texts, &rebate, &setup()), proof(&texts, &rebate, &setup()));
    assert_eq!(a, b);
    let json = serde_json::to_string(&a).unwrap();
    assert_eq!(json, serde_json::to_string(&b).unwrap());
    assert!(json.contains("\"swept\":true"));
    assert!(!a.map.strips.is_empty());
}
