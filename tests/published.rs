//! U-values, plates and the pressure of air against printed tables and a series of its own. Beside each
//! stands its source, and whether it was seen or is from memory. `--nocapture` shows how far we lie from
//! each; `physics.rs` does the same for libraries.

use crate::support::deviation::deviation;
use fillister::glass::strength::{Air, Coefficients, coefficients};
use fillister::glass::thermal::{Filling, Gas, Glazing, UNCOATED, corrected};
use std::f64::consts::PI;

/// U-value of 4 mm panes with one face of `emissivity` in each cavity.
fn unit(gas: Gas, share: f64, emissivity: f64, build_up: &str) -> f64 {
    let filling = Filling::in_air(gas, share).unwrap();
    Glazing::of(&build_up.parse().unwrap(), filling, emissivity).unwrap().unwrap().u_value()
}

/// Rows of the tables, by normal emissivity of the one treated face in each cavity.
const EMISSIVITIES: [Option<f64>; 5] = [None, Some(0.20), Some(0.15), Some(0.10), Some(0.05)];

/// Half of the last digit that a table of one decimal prints, and what `f64` adds.
const HALF_A_TENTH: f64 = 0.05 + 1e-9;

/// Compares a table of cells `air/argon/krypton`, gas 90 %, with what we print at one decimal.
fn cells_agree<const N: usize>(what: &str, table: [[&str; N]; 5], build_ups: [&str; N]) {
    let mut rows = Vec::new();
    for (row, normal) in table.into_iter().zip(EMISSIVITIES) {
        let emissivity = normal.map_or(UNCOATED, |normal| corrected(normal).unwrap());
        for (cell, build_up) in row.into_iter().zip(build_ups) {
            let fills = [(Gas::Air, 1.0), (Gas::Argon, 0.9), (Gas::Krypton, 0.9)];
            for ((gas, share), printed) in fills.into_iter().zip(cell.split('/')) {
                let u = unit(gas, share, emissivity, build_up);
                let place = format!("{build_up}, {}, ε {emissivity:.3}", gas.name());
                assert_eq!(format!("{u:.1}"), printed, "{place}: {u}");
                rows.push((place, u, printed.parse().unwrap()));
            }
        }
    }
    deviation(what, rows).of(15 * N).within(HALF_A_TENTH);
}

// EN ISO 10077-1:2006, table C.2, double glazing: from memory.
#[test]
fn all_75_cells_of_double_glazing() {
    let table = [
        ["3.3/3.0/2.8", "3.1/2.9/2.7", "2.8/2.7/2.6", "2.7/2.6/2.6", "2.7/2.6/2.6"],
        ["2.7/2.3/1.9", "2.4/2.1/1.7", "2.0/1.8/1.6", "1.8/1.6/1.6", "1.8/1.7/1.6"],
        ["2.6/2.3/1.8", "2.3/2.0/1.6", "1.9/1.6/1.5", "1.7/1.5/1.5", "1.7/1.5/1.5"],
        ["2.6/2.2/1.7", "2.2/1.9/1.4", "1.8/1.5/1.3", "1.6/1.4/1.3", "1.6/1.4/1.4"],
        ["2.5/2.1/1.5", "2.1/1.7/1.3", "1.7/1.3/1.1", "1.4/1.2/1.2", "1.5/1.2/1.2"],
    ];
    let build_ups = ["4-6-4", "4-8-4", "4-12-4", "4-16-4", "4-20-4"];
    cells_agree("U-value, EN ISO 10077-1 table C.2, double", table, build_ups);
}

// The same table, triple glazing, both cavities alike: from memory.
#[test]
fn all_45_cells_of_triple_glazing() {
    let table = [
        ["2.3/2.1/1.8", "2.1/1.9/1.7", "1.9/1.8/1.6"],
        ["1.8/1.5/1.1", "1.5/1.3/1.0", "1.2/1.0/0.8"],
        ["1.7/1.4/1.1", "1.5/1.2/0.9", "1.2/1.0/0.7"],
        ["1.7/1.3/1.0", "1.4/1.1/0.8", "1.1/0.9/0.6"],
        ["1.6/1.3/0.9", "1.3/1.0/0.7", "1.0/0.8/0.5"],
    ];
    let build_ups = ["4-6-4-6-4", "4-8-4-8-4", "4-12-4-12-4"];
    cells_agree("U-value, EN ISO 10077-1 table C.2, triple", table, build_ups);
}

// French dwelling method 3CL-2021, 3.3.1, upright double glazing (published): of its coat ε 0.03 is the usual, its argon
// 90 %.
#[test]
fn all_36_cells_of_the_french_dwelling_method() {
    let low = corrected(0.03).unwrap();
    let cavities = [6, 8, 10, 12, 14, 15, 16, 18, 20];
    let table = [
        (Gas::Air, 1.0, UNCOATED, [3.3, 3.1, 2.9, 2.8, 2.8, 2.7, 2.7, 2.7, 2.7]),
        (Gas::Air, 1.0, low, [2.45, 2.1, 1.8, 1.6, 1.5, 1.4, 1.4, 1.4, 1.4]),
        (Gas::Argon, 0.9, UNCOATED, [3.0, 2.9, 2.8, 2.7, 2.6, 2.6, 2.6, 2.6, 2.6]),
        (Gas::Argon, 0.9, low, [2.0, 1.7, 1.4, 1.3, 1.2, 1.1, 1.1, 1.1, 1.1]),
    ];
    let rows = table.into_iter().flat_map(|(gas, share, emissivity, printed)| {
        cavities.into_iter().zip(printed).map(move |(cavity, printed)| {
            let build_up = format!("4-{cavity}-4");
            let u = unit(gas, share, emissivity, &build_up);
            (format!("{build_up}, {}, ε {emissivity:.3}", gas.name()), u, printed)
        })
    });
    deviation("U-value, 3CL-2021", rows.collect::<Vec<_>>()).of(36).within(HALF_A_TENTH);
}

// Worked out from the formula by a separate program, to four figures.
#[test]
fn four_figures_of_separate_arithmetic() {
    let low = corrected(0.03).unwrap();
    let units = [
        (Gas::Air, 1.0, UNCOATED, "4-12-4", 2.850),
        (Gas::Air, 1.0, UNCOATED, "4-4-4", 3.591),
        (Gas::Argon, 0.9, low, "4-4-4", 2.5299),
        (Gas::Argon, 0.9, low, "4-6-4", 2.0101),
        (Gas::Argon, 0.9, low, "4-16-4", 1.1242),
        (Gas::Krypton, 0.9, low, "4-4-4", 1.8850),
        (Gas::Krypton, 0.9, low, "4-8-4", 1.1911),
    ];
    let rows = units.map(|(gas, share, emissivity, build_up, theirs)| {
        (format!("{build_up}, {}", gas.name()), unit(gas, share, emissivity, build_up), theirs)
    });
    deviation("U-value of units, separate arithmetic", rows).of(7).within(1e-3);
    let rows = [(3.0, 5.785), (4.0, 5.751), (6.0, 5.686)].map(|(thickness, theirs)| {
        (format!("{thickness} mm"), Glazing::single(thickness).unwrap().u_value(), theirs)
    });
    deviation("U-value of single panes, separate arithmetic", rows).of(3).within(1e-3);
}

// Roark's Formulas, table 11.4 case 1a, ν 0.3 (published): β and α at the ratios of the handbook.
#[test]
fn plates_lie_within_six_in_a_thousand_of_the_handbook() {
    let handbook = [
        (1.0, 0.2874, 0.0444),
        (1.2, 0.3762, 0.0616),
        (1.4, 0.4530, 0.0770),
        (1.6, 0.5172, 0.0906),
        (1.8, 0.5688, 0.1017),
        (2.0, 0.6102, 0.1110),
        (3.0, 0.7134, 0.1335),
        (4.0, 0.7410, 0.1400),
        (5.0, 0.7476, 0.1417),
        (f64::INFINITY, 0.7500, 0.1421),
    ];
    let ours = |ratio| coefficients(ratio, 0.3);
    let stress = handbook.map(|(ratio, beta, _)| (format!("{ratio}"), ours(ratio).stress, beta));
    deviation("β, Roark table 11.4 case 1a", stress).of(10).within_share(6e-3);
    let give =
        handbook.map(|(ratio, _, alpha)| (format!("{ratio}"), ours(ratio).deflection, alpha));
    deviation("α, Roark table 11.4 case 1a", give).of(10).within_share(6e-3);
}

// Timoshenko, table 8, ν 0.3 (from memory): w = α q b⁴/D and M = β q b². The table cuts its last
// digit off in places, so a whole one is allowed.
#[test]
fn plates_lie_within_a_digit_of_another_table() {
    let table = [
        (1.0, 0.00406, 0.0479),
        (1.2, 0.00564, 0.0627),
        (1.5, 0.00772, 0.0812),
        (2.0, 0.01013, 0.1017),
        (3.0, 0.01223, 0.1189),
        (5.0, 0.01297, 0.1246),
    ];
    let ours = |ratio| coefficients(ratio, 0.3);
    let rigidity = 12.0 * 0.91;
    let give =
        table.map(|(ratio, w, _)| (format!("{ratio}"), ours(ratio).deflection / rigidity, w));
    deviation("w D/(q b⁴), Timoshenko table 8", give).of(6).within(1.1e-5);
    let moment = table.map(|(ratio, _, m)| (format!("{ratio}"), ours(ratio).stress / 6.0, m));
    deviation("M/(q b²), Timoshenko table 8", moment).of(6).within(1.1e-4);
}

/// Navier's double series, which shares no step with Lévy's: deflection, stress, mean.
fn navier(ratio: f64, poisson: f64) -> Coefficients {
    let (mut deflection, mut moment, mut mean) = (0.0, 0.0, 0.0);
    for i in 0..400_u32 {
        for j in 0..400_u32 {
            let (m, n) = (f64::from(2 * i + 1), f64::from(2 * j + 1) / ratio);
            let order = f64::from(2 * i + 1) * f64::from(2 * j + 1);
            let sign = if (i + j) % 2 == 0 { 1.0 } else { -1.0 };
            let bend = 1.0 / (order * (m * m + n * n).powi(2));
            deflection += sign * bend;
            moment += sign * (m * m + poisson * n * n) * bend;
            mean += bend / order;
        }
    }
    let rigidity = 12.0 * (1.0 - poisson * poisson);
    Coefficients {
        deflection: rigidity * 16.0 / PI.powi(6) * deflection,
        stress: 6.0 * 16.0 / PI.powi(4) * moment,
        mean: rigidity * 64.0 / PI.powi(8) * mean,
    }
}

/// One figure of a plate.
type Part = fn(Coefficients) -> f64;

#[test]
fn plates_lie_within_one_in_ten_thousand_of_the_double_series() {
    let each: [(&str, Part); 3] =
        [("α", |c| c.deflection), ("β", |c| c.stress), ("mean", |c| c.mean)];
    let shapes =
        [0.2, 0.3].into_iter().flat_map(|nu| [1.0, 1.3, 2.0, 3.7].map(|ratio| (ratio, nu)));
    let pairs: Vec<_> =
        shapes.map(|(ratio, nu)| (ratio, coefficients(ratio, nu), navier(ratio, nu))).collect();
    for (name, of) in each {
        let rows =
            pairs.iter().map(|&(ratio, ours, exact)| (format!("{ratio}"), of(ours), of(exact)));
        deviation(format!("{name}, Navier's double series"), rows).of(8).within_share(1e-4);
    }
}

// ISO 2533, standard atmosphere (published): hPa by height over the sea.
#[test]
fn air_thins_as_the_standard_atmosphere() {
    let table = [(0.0, 1013.25), (500.0, 954.61), (1000.0, 898.76)];
    let rows = table.map(|(altitude, theirs)| {
        let air = Air { temperature: 20.0, altitude, barometer: 1013.25 };
        (format!("{altitude} m"), air.pressure() / 100.0, theirs)
    });
    deviation("pressure of the air, hPa, ISO 2533", rows).of(3).within(0.03);
}
