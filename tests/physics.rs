//! Plates, gases, dew points and the pressure of air against general-purpose libraries.
//! `tests/reference/make_physics.py` made the results in `fixtures/reference/physics.json`; their
//! versions stand in the file. `--nocapture` shows how far we lie from each; `published.rs` does the
//! same for printed tables.

use crate::support::deviation::deviation;
use fillister::glass::strength::{Air, Climate, Coefficients, coefficients, round, shaped};
use fillister::glass::thermal::{Cavity, Gas, Glazing, UNCOATED};
use fillister::warmth::dew_point;
use serde::Deserialize;
use std::collections::BTreeMap;

#[derive(Deserialize)]
struct Physics {
    made_with: BTreeMap<String, String>,
    plates: Vec<Plate>,
    shapes: Vec<Plate>,
    gases: Vec<Properties>,
    /// °C, humidity, dew point by `PsychroLib`, by `CoolProp`.
    dew: Vec<[f64; 4]>,
    /// m over the sea, Pa.
    heights: Vec<[f64; 2]>,
    /// Gas, °C, Pa.
    sealed: Vec<(String, f64, f64)>,
}

#[derive(Deserialize)]
struct Plate {
    #[serde(default)]
    name: String,
    ratio: f64,
    poisson: f64,
    deflection: f64,
    moment: f64,
    mean: f64,
}

#[derive(Deserialize)]
struct Properties {
    library: String,
    gas: String,
    still: f64,
    u: Vec<[f64; 3]>,
}

fn physics() -> Physics {
    serde_json::from_str(include_str!("../fixtures/reference/physics.json")).unwrap()
}

impl Physics {
    fn library(&self, name: &str) -> String {
        format!("{name} {}", self.made_with[name])
    }
}

impl Plate {
    fn place(&self) -> String {
        format!("{} {} ν {}", self.name, self.ratio, self.poisson).trim_start().to_owned()
    }

    /// w D/(q b⁴), M/(q b²), mean w D/(q b⁴) as the library writes them.
    fn ours(&self, ours: Coefficients) -> [f64; 3] {
        let rigidity = 12.0 * (1.0 - self.poisson * self.poisson);
        [ours.deflection / rigidity, ours.stress / 6.0, ours.mean / rigidity]
    }

    fn theirs(&self) -> [f64; 3] {
        [self.deflection, self.moment, self.mean]
    }
}

const QUANTITIES: [&str; 3] = ["deflection", "moment", "mean deflection"];

/// Compares each quantity of `plates` with what `ours` makes of them, within a share each.
fn plates_agree(what: &str, plates: &[Plate], ours: fn(&Plate) -> Coefficients, share: [f64; 3]) {
    for (index, quantity) in QUANTITIES.into_iter().enumerate() {
        let row =
            |plate: &Plate| (plate.place(), plate.ours(ours(plate))[index], plate.theirs()[index]);
        deviation(format!("{what}, {quantity}"), plates.iter().map(row))
            .of(plates.len())
            .within_share(share[index]);
    }
}

// Finite elements: deflection and mean to 0.01 %, the moment, a second derivative, to 0.1 %.
#[test]
fn plates_agree_with_finite_elements() {
    let physics = physics();
    assert_eq!(physics.plates.len(), 12);
    let ours = |plate: &Plate| coefficients(plate.ratio, plate.poisson);
    let what = format!("rectangular plates, {}", physics.library("scikit-fem"));
    plates_agree(&what, &physics.plates, ours, [1e-4, 1e-3, 1e-4]);
}

// Elements with straight edges along a circle: coarser.
#[test]
fn round_plates_agree_with_finite_elements() {
    let mut physics = physics();
    let what = format!("round plates, {}", physics.library("scikit-fem"));
    physics.shapes.retain(|plate| plate.name == "circle");
    assert_eq!(physics.shapes.len(), 2);
    plates_agree(&what, &physics.shapes, |plate| round(plate.poisson), [1e-3; 3]);
}

// What a pane of another shape is judged by is never less than what it bears, and of a round pane no more.
#[test]
fn shaped_panes_are_judged_on_the_safe_side() {
    let physics = physics();
    let mut rows = Vec::new();
    for shape in physics.shapes.iter().filter(|shape| shape.poisson < 0.25) {
        let judged = coefficients(shape.ratio, 0.2).stress * shaped(0.2) / 6.0;
        assert!(judged >= 0.9999 * shape.moment, "{}: {judged}", shape.place());
        if shape.name == "circle" {
            assert!(judged <= 1.001 * shape.moment, "{judged}");
        }
        rows.push((shape.place(), judged, shape.moment));
    }
    let what = format!("shaped panes by their rectangles, {}", physics.library("scikit-fem"));
    deviation(what, rows).of(15);
    // The rectangle alone would not do: the round pane, the ovals and most arched heads bear more.
    let more = |shape: &&Plate| shape.moment > coefficients(shape.ratio, 0.2).stress / 6.0;
    assert!(physics.shapes.iter().filter(more).count() > 7);
}

fn gas(name: &str) -> Gas {
    Gas::ALL.into_iter().find(|gas| gas.name() == name).unwrap()
}

// The standard's rounded properties give the U-values of measured ones within 0.02. The second library
// estimates: krypton's conductivity 2 % and xenon's 4 % over the standard's.
#[test]
fn u_values_agree_with_measured_gases() {
    let physics = physics();
    assert_eq!(physics.gases.len(), 5);
    for properties in &physics.gases {
        let filling = gas(&properties.gas).filling();
        let what = format!("{}, {}", properties.gas, physics.library(&properties.library));
        let still = (what.clone(), filling.widest_still(15.0), properties.still);
        deviation(format!("widest still cavity, {what}"), [still]).within_share(0.025);
        let rows = properties.u.iter().map(|&[width, emissivity, theirs]| {
            let cavity = Cavity { width, filling, emissivities: [emissivity, UNCOATED] };
            let ours = Glazing::new(vec![4.0; 2], vec![cavity]).unwrap().u_value();
            (format!("4-{width}-4, ε {emissivity}"), ours, theirs)
        });
        let bound = match (properties.library.as_str(), properties.gas.as_str()) {
            ("thermo", "krypton") => 0.025,
            ("thermo", "xenon") => 0.04,
            _ => 0.02,
        };
        deviation(format!("U-value, {what}"), rows).of(6).within(bound);
    }
}

// Over ice one library takes another formula, so only dew points above freezing compare.
#[test]
fn dew_points_agree_with_libraries_of_moist_air() {
    let physics = physics();
    let thawed: Vec<_> = physics.dew.iter().filter(|row| row[2] > 0.0).collect();
    for (column, library) in [(2, "psychrolib"), (3, "CoolProp")] {
        let rows = thawed.iter().map(|row| {
            let ours = dew_point(row[0], row[1]).unwrap();
            (format!("{} °C, {}", row[0], row[1]), ours, row[column])
        });
        deviation(format!("dew point, {}", physics.library(library)), rows).of(12).within(0.05);
    }
}

const CALM: Air = Air { temperature: 20.0, altitude: 0.0, barometer: 1013.25 };

// The library counts with height as the geoid has it, we with height as surveyed.
#[test]
fn the_pressure_of_air_agrees_with_a_library_of_the_atmosphere() {
    let physics = physics();
    let rows = physics.heights.iter().map(|&[altitude, theirs]| {
        (format!("{altitude} m"), Air { altitude, ..CALM }.pressure(), theirs)
    });
    let what = format!("pressure of the air, Pa, {}", physics.library("fluids"));
    deviation(what, rows).of(8).within_share(2e-4);
}

// We take a gas as an ideal one at constant volume; the library takes it as it is.
#[test]
fn gas_shut_in_agrees_with_a_library_of_real_gases() {
    let physics = physics();
    let rows = physics.sealed.iter().map(|(gas, temperature, theirs)| {
        let meets = Air { temperature: *temperature, ..CALM };
        let ours = Climate { name: "", sealed: CALM, meets }.isochoric();
        (format!("{gas} {temperature} °C"), ours, theirs - 101_325.0)
    });
    let what = format!("pressure of gas shut in, Pa over the air, {}", physics.library("CoolProp"));
    deviation(what, rows).of(24).within_share(0.015);
}
