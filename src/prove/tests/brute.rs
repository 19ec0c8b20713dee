//! Random small programs against a plain map of heights that knows nothing of rows or chords.

use super::fixture::{proof, rules};
use crate::geometry::{Arc, Edge, Outline, Region};
use crate::prove::{Proof, Setup};
use crate::rebate::Rebate;
use crate::sash::Solid;
use kurbo::{Point, Rect};
use proptest::prelude::*;
use std::f64::consts::{PI, TAU};

const GRID: f64 = 0.2;
const RADIUS: f64 = 3.0;

/// Wood in the middle that must go, among wood that must stay.
fn rebate() -> Rebate {
    let rect = |x0, y0, x1, y1| Outline::rectangle(Rect::new(x0, y0, x1, y1)).unwrap();
    let half =
        |start| Edge::Arc(Arc { centre: Point::new(15.0, 9.0), radius: 4.0, start, sweep: PI });
    let post = Outline::new(vec![half(0.0), half(PI)]).unwrap();
    let solid = |name: &str, region, top, bottom| Solid {
        name: crate::language::Text::name(name),
        region,
        top,
        bottom,
    };
    let around =
        Region { outline: rect(-4.0, -4.0, 44.0, 34.0), holes: vec![rect(0.0, 0.0, 40.0, 30.0)] };
    Rebate {
        platform: -5.0,
        pockets: vec![],
        go: vec![solid("bit", Region::solid(rect(20.0, 16.0, 26.0, 20.0)), 0.0, -5.0)],
        may_go: vec![],
        stay: vec![
            solid("around", around, 0.0, -20.0),
            solid("post", Region::solid(post), -2.0, -20.0),
        ],
    }
}

#[derive(Debug, Clone, Copy)]
struct Step {
    path: Edge,
    z: f64,
}

/// Text of a program that runs through `steps`, each joined to the next at a safe height.
fn text(steps: &[Step]) -> String {
    use std::fmt::Write;
    let mut text = String::from("G21 G90 G17\nG0 Z8\nS5000 M3\nG0 X0 Y0\nF100\n");
    for Step { path, z } in steps {
        let (a, b) = (path.start(), path.end());
        write!(text, "G0 X{:.9} Y{:.9}\nG1 Z{z:.9}\n", a.x, a.y).unwrap();
        match path {
            Edge::Line(_) => writeln!(text, "G1 X{:.9} Y{:.9}", b.x, b.y).unwrap(),
            Edge::Arc(arc) => {
                let to = arc.centre - a;
                let word = if arc.sweep > 0.0 { "G3" } else { "G2" };
                writeln!(text, "{word} X{:.9} Y{:.9} I{:.9} J{:.9}", b.x, b.y, to.x, to.y).unwrap();
            }
        }
        text.push_str("G0 Z8\n");
    }
    text + "M5\nM2\n"
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    let (x, y) = (2.0..38.0, 2.0..28.0);
    let path = prop_oneof![
        (x.clone(), y.clone(), x.clone(), y.clone())
            .prop_map(|(a, b, c, d)| Edge::line(Point::new(a, b), Point::new(c, d))),
        (x.clone(), y.clone(), x.clone())
            .prop_map(|(a, b, c)| Edge::line(Point::new(a, b), Point::new(c, b))),
        (x, y, 1.0..9.0, -PI..PI, prop_oneof![0.3..6.0, -6.0..-0.3, Just(TAU)]).prop_map(
            |(x, y, radius, start, sweep): (f64, f64, f64, f64, f64)| {
                Edge::Arc(Arc { centre: Point::new(x, y), radius, start, sweep })
            }
        ),
    ];
    proptest::collection::vec((path, -6.0..-0.5).prop_map(|(path, z)| Step { path, z }), 1..9)
}

fn setup() -> Setup {
    Setup {
        cutter_diameter: 2.0 * RADIUS,
        shank_diameter: 1.0,
        step_depth: 100.0,
        skim: 0.0,
        ..Setup::default()
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred")]
fn cells(length: f64) -> u32 {
    (length / GRID).round() as u32
}

/// Samples of a grid over `bounds`, cells' middles.
fn grid(bounds: Rect) -> impl Iterator<Item = Point> {
    let (columns, rows) = (cells(bounds.width()), cells(bounds.height()));
    (0..rows).flat_map(move |row| {
        (0..columns).map(move |column| {
            let middle = |index| (f64::from(index) + 0.5) * GRID;
            Point::new(bounds.x0 + middle(column), bounds.y0 + middle(row))
        })
    })
}

/// Least Z that the cutter, with `radius`, reaches at `point`.
fn cut_at(steps: &[Step], point: Point, radius: f64) -> f64 {
    let reaches = |step: &&Step| step.path.distance_to(point) < radius;
    steps.iter().filter(reaches).map(|step| step.z).fold(f64::INFINITY, f64::min)
}

fn gouged(proof: &Proof) -> bool {
    rules(proof).contains(&"prove.gouge")
}

fn left_over(proof: &Proof) -> bool {
    rules(proof).contains(&"prove.leftover")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]
    #[test]
    fn random_programs_agree_with_a_map_of_heights(steps in steps()) {
        let (rebate, setup) = (rebate(), setup());
        let proof = proof(&[("random.ngc", text(&steps))], &rebate, &setup);
        prop_assert!(proof.swept, "{:?}", proof.faults);

        // Gouges: a sample inside the cutter by more than the tolerance must be reported, and where
        // one is reported, a sample must lie inside but for half a cell's diagonal.
        let mut deepest = f64::NEG_INFINITY;
        for solid in &rebate.stay {
            for point in grid(solid.region.outline.bounds()) {
                for step in steps.iter().filter(|step| step.z < solid.top - setup.tolerance) {
                    let depth = RADIUS - step.path.distance_to(point);
                    if depth > deepest && solid.region.contains(point) {
                        deepest = depth;
                    }
                }
            }
        }
        if deepest > setup.tolerance + 1e-6 {
            prop_assert!(gouged(&proof), "missed a gouge of {}", deepest);
        }
        if gouged(&proof) {
            prop_assert!(deepest > setup.tolerance - GRID * 0.71, "no gouge: {}", deepest);
        }

        // Wood left: five samples in a square are a square of four cells.
        let go = &rebate.go[0];
        let high = |point: Point| cut_at(&steps, point, RADIUS) > go.bottom + setup.tolerance;
        let bounds = go.region.outline.bounds().inset(-GRID);
        let left = grid(bounds).filter(|&p| {
            let square = [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0), (0.0, 0.0)];
            square.iter().all(|&(x, y)| high(p + GRID / 2.0 * kurbo::Vec2::new(x, y)))
        });
        if left.count() > 0 {
            prop_assert!(left_over(&proof), "missed wood left over");
        }
        if left_over(&proof) {
            let fault = proof.faults.iter().find(|f| f.finding.rule == "prove.leftover").unwrap();
            let [x, y, _] = fault.at.unwrap();
            let reached = cut_at(&steps, Point::new(x, y), RADIUS - setup.pitch());
            prop_assert!(reached > go.bottom + setup.tolerance - 1e-9, "{} {}", x, y);
        }

        // Volume of the whole, against the map.
        let mut volume = 0.0;
        for solid in rebate.stay.iter().chain(&rebate.go) {
            for point in grid(solid.region.outline.bounds()) {
                let depth = (solid.top - cut_at(&steps, point, RADIUS).max(solid.bottom)).max(0.0);
                if depth > 0.0 && solid.region.contains(point) {
                    volume += depth * GRID * GRID;
                }
            }
        }
        let measured = proof.volumes.gone + proof.volumes.stay_gone;
        // Half a cell along every boundary, at the greatest depth.
        let boundary = steps.iter().map(|step| 2.0 * step.path.length() + TAU * RADIUS).sum::<f64>();
        let bound = 0.5 * GRID * boundary * 6.0;
        prop_assert!((measured - volume).abs() <= bound, "{} {}", measured, volume);
    }
}
