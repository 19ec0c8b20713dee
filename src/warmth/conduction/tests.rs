use super::grid::{Fineness, lines};
use super::*;
use proptest::prelude::*;
use std::f64::consts::PI;

fn even(length: f64, cells: u32) -> Vec<f64> {
    (0..=cells).map(|n| length * f64::from(n) / f64::from(cells)).collect()
}

fn nearest(lines: &[f64], at: f64) -> usize {
    let off = |index: &usize| (lines[*index] - at).abs();
    (0..lines.len()).min_by(|a, b| off(a).total_cmp(&off(b))).unwrap()
}

// ISO 10211:2007, case A.1 (published): half a square column, 20 °C above, 0 °C left and below, no heat to the
// right; temperatures on a grid of a quarter of its width, rows from the top. 0.1 °C is allowed.
const COLUMN: [[f64; 4]; 7] = [
    [9.7, 13.4, 14.7, 15.1],
    [5.3, 8.6, 10.3, 10.8],
    [3.2, 5.6, 7.0, 7.5],
    [2.0, 3.6, 4.7, 5.0],
    [1.3, 2.3, 3.0, 3.2],
    [0.7, 1.4, 1.8, 1.9],
    [0.3, 0.6, 0.8, 0.9],
];

/// The exact series: θ = 20 Σ 2/(a l) sin(l x) sinh(l y)/sinh(2 a l), l = (2n + 1) π/(2 a), a = 1.
fn series(x: f64, y: f64) -> f64 {
    let term = |n: u32| {
        let l = f64::from(2 * n + 1) * PI / 2.0;
        // sinh(l y)/sinh(2 l), without overflow.
        let grows = (l * (y - 2.0)).exp() * (1.0 - (-2.0 * l * y).exp()) / (1.0 - (-4.0 * l).exp());
        20.0 * 2.0 / l * (l * x).sin() * grows
    };
    (0..400).map(term).sum()
}

fn column(cells: u32) -> (Body, Field) {
    let body = Body {
        xs: even(1000.0, cells),
        ys: even(2000.0, 2 * cells),
        conductivity: vec![1.0; 2 * (cells * cells) as usize],
    };
    let held = |temperature| Some(Film { conductance: 1e9, temperature });
    let field = body.solve(|_, out| match (out.x, out.y) {
        (_, 1.0) => held(20.0),
        (-1.0, _) | (_, -1.0) => held(0.0),
        _ => None,
    });
    (body, field.unwrap())
}

#[test]
fn case_a1_of_iso_10211() {
    let (body, field) = column(40);
    for (row, wanted) in COLUMN.iter().enumerate() {
        for (column, wanted) in wanted.iter().enumerate() {
            let (x, y) = (0.25 * (column as f64 + 1.0), 2.0 - 0.25 * (row as f64 + 1.0));
            let at =
                field.at(nearest(&body.xs, 1000.0 * x), nearest(&body.ys, 1000.0 * y)).unwrap();
            assert!((at - series(x, y)).abs() < 0.02, "{x} {y}: {at}");
            assert!((at - wanted).abs() < 0.1, "{x} {y}: {at}, {wanted}");
        }
    }
}

#[test]
fn a_finer_grid_is_nearer_the_series() {
    let off = |cells: u32| {
        let (body, field) = column(cells);
        let at = field.at(nearest(&body.xs, 500.0), nearest(&body.ys, 1500.0)).unwrap();
        (at - series(0.5, 1.5)).abs()
    };
    // Of second order: a quarter of the error for each halving.
    let (coarse, fine) = (off(8), off(16));
    assert!(fine < 0.3 * coarse && off(32) < 0.3 * fine, "{coarse} {fine}");
}

// ISO 10211:2007, case A.2 (published): 9.5 W/m, 0.1 allowed; temperatures, 0.1 °C allowed.
#[test]
fn case_a2_of_iso_10211() {
    let fineness = Fineness { beside: 0.5, growth: 1.3 };
    let xs = lines([0.0, 1.5, 15.0, 500.0], fineness);
    let ys = lines([0.0, 1.5, 35.0, 36.5, 41.5, 47.5], fineness);
    let of = |x: f64, z: f64| match (x, z) {
        (_, 41.5..) => 1.15,
        (..15.0, 36.5..) => 0.12,
        (..15.0, 35.0..) | (..1.5, _) | (_, ..1.5) => 230.0,
        _ => 0.029,
    };
    let middles = |all: &[f64]| -> Vec<f64> {
        all.windows(2).map(|pair| f64::midpoint(pair[0], pair[1])).collect()
    };
    let conductivity = middles(&xs)
        .into_iter()
        .flat_map(|x| middles(&ys).into_iter().map(move |z| of(x, z)))
        .collect();
    let body = Body { xs, ys, conductivity };
    let field = body
        .solve(|_, out| match out.y {
            1.0 => Some(Film { conductance: 1.0 / 0.06, temperature: 0.0 }),
            -1.0 => Some(Film { conductance: 1.0 / 0.11, temperature: 20.0 }),
            _ => None,
        })
        .unwrap();
    assert!((field.heat - 9.5).abs() < 0.1, "{}", field.heat);
    for (x, z, wanted) in [
        (0.0, 47.5, 7.1),
        (500.0, 47.5, 0.8),
        (0.0, 41.5, 7.9),
        (15.0, 41.5, 6.3),
        (500.0, 41.5, 0.8),
        (0.0, 36.5, 16.4),
        (15.0, 36.5, 16.3),
        (0.0, 0.0, 16.8),
        (500.0, 0.0, 18.3),
    ] {
        let at = field.at(nearest(&body.xs, x), nearest(&body.ys, z)).unwrap();
        assert!((at - wanted).abs() < 0.1, "{x} {z}: {at}, {wanted}");
    }
}

proptest! {
    // Closed form: layers in a row, U = 1/(Σ d/λ + Σ 1/h), on any grid.
    #[test]
    fn layers_are_exact(
        layers in prop::collection::vec((0.5..30.0_f64, 0.02..200.0_f64), 1..5),
        inside in 2.0..20.0_f64, outside in 10.0..40.0_f64, beside in 0.5..20.0_f64,
    ) {
        let mut ends = vec![0.0];
        for (thick, _) in &layers {
            ends.push(ends[ends.len() - 1] + thick);
        }
        let fineness = Fineness { beside, growth: 1.4 };
        let (xs, ys) = (even(100.0, 3), lines(ends.iter().copied(), fineness));
        let of = |y: f64| layers[ends.iter().filter(|end| **end <= y).count() - 1].1;
        let row: Vec<f64> = ys.windows(2).map(|pair| of(f64::midpoint(pair[0], pair[1]))).collect();
        let body = Body { xs, ys, conductivity: [row.as_slice(); 3].concat() };
        let field = body.solve(|_, out| match out.y {
            1.0 => Some(Film { conductance: outside, temperature: 0.0 }),
            -1.0 => Some(Film { conductance: inside, temperature: 20.0 }),
            _ => None,
        }).unwrap();
        let resists: f64 = layers.iter().map(|(thick, conducts)| thick / 1000.0 / conducts).sum();
        let heat = 0.1 * 20.0 / (resists + 1.0 / inside + 1.0 / outside);
        prop_assert!((field.heat - heat).abs() < 1e-6 * heat);
    }

    #[test]
    fn lines_hold_every_place_and_widen_no_faster_than_asked(
        places in prop::collection::vec(-200.0..200.0_f64, 2..8), beside in 0.3..3.0_f64, growth in 1.1..2.0_f64,
    ) {
        let lines = lines(places.iter().copied(), Fineness { beside, growth });
        prop_assert!(lines.is_sorted_by(|a, b| a < b));
        for place in places {
            prop_assert!(lines.iter().any(|line| (line - place).abs() < 1e-5), "{place}");
        }
    }

    // No place is warmer or colder than all air around, whatever the wood; one that nothing holds has no answer.
    #[test]
    fn heat_flows_from_warm_to_cold(cells in prop::collection::vec(prop_oneof![Just(0.0), 0.02..5.0_f64], 36)) {
        let body = Body { xs: even(60.0, 6), ys: even(40.0, 6), conductivity: cells };
        let field = body.solve(|at, _| {
            Some(Film { conductance: 8.0, temperature: if at.y > 20.0 { -5.0 } else { 20.0 } })
        });
        if let Some(field) = field {
            for at in field.temperatures.iter().flatten() {
                prop_assert!((-5.0 - 1e-9..=20.0 + 1e-9).contains(at), "{at}");
            }
        }
        prop_assert!(body.conductivity.iter().all(|c| *c == 0.0) || body.solve(|_, _| None).is_none());
    }
}
