//! Outlines and sections against general-purpose libraries. `tests/reference/make_reference.py` made
//! the results in `fixtures/reference`; their versions stand in the files.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::float_cmp,
    reason = "a test may stop at the first surprise"
)]

use fillister::geometry::{Arc, Edge, Join, Outline};
use fillister::timber::Moments;
use kurbo::Point;
use serde::Deserialize;
use serde::de::DeserializeOwned;
use std::path::Path;

#[derive(Deserialize)]
struct Outlines {
    outlines: Vec<OutlineCase>,
}

#[derive(Deserialize)]
struct OutlineCase {
    kind: String,
    vertices: Vec<[f64; 3]>,
    area: f64,
    perimeter: f64,
    offsets: Vec<Offset>,
}

#[derive(Deserialize)]
struct Offset {
    distance: f64,
    join: String,
    area: f64,
    perimeter: f64,
    bounds: [f64; 4],
}

#[derive(Deserialize)]
struct Sections {
    sections: Vec<SectionCase>,
}

#[derive(Deserialize)]
struct SectionCase {
    name: String,
    points: Vec<[f64; 2]>,
    area: f64,
    centroid: [f64; 2],
    ixx: f64,
    iyy: f64,
    ixy: f64,
}

fn read<T: DeserializeOwned>(name: &str) -> T {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/reference").join(name);
    serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn outline(vertices: &[[f64; 3]]) -> Outline {
    let next = vertices.iter().cycle().skip(1);
    let edges = vertices.iter().zip(next).map(|(&[x, y, bulge], &[to_x, to_y, _])| {
        let (from, to) = (Point::new(x, y), Point::new(to_x, to_y));
        Arc::from_bulge(from, to, bulge).map_or(Edge::line(from, to), Edge::Arc)
    });
    Outline::new(edges.collect()).unwrap()
}

fn near(found: f64, expected: f64, tolerance: f64) -> bool {
    (found - expected).abs() <= tolerance * expected.abs().max(1.0)
}

// Chords leave a few parts in ten million of an arc's area and length.
const CHORDS: f64 = 2e-6;

// The reference library straightens hollow arcs by up to a hundredth of the distance before it moves
// them; of an area of 10⁵ mm² this is 1 mm², or 0.001 mm of distance.
const HOLLOWS: f64 = 1e-5;

#[test]
fn areas_and_perimeters_agree() {
    let cases = read::<Outlines>("outlines.json").outlines;
    assert!(cases.len() >= 100);
    for case in cases {
        let outline = outline(&case.vertices);
        assert!(near(outline.area(), case.area, CHORDS), "{:?}", case.vertices);
        assert!(near(outline.perimeter(), case.perimeter, CHORDS), "{:?}", case.vertices);
    }
}

#[test]
fn offsets_agree() {
    let (mut checked, mut faults) = (0, Vec::new());
    for case in read::<Outlines>("outlines.json").outlines {
        let outline = outline(&case.vertices);
        for expected in &case.offsets {
            checked += 1;
            let join = if expected.join == "sharp" { Join::Sharp } else { Join::Round };
            let words = format!("{} {} {:?}", case.kind, expected.distance, join);
            let moved = match outline.offset(expected.distance, join) {
                Ok(moved) => moved,
                Err(error) => {
                    faults.push(format!("{words}: {error} {:?}", case.vertices));
                    continue;
                }
            };
            let b = moved.bounds();
            let [x0, y0, x1, y1] = expected.bounds;
            let straight = case.vertices.iter().all(|vertex| vertex[2] == 0.0);
            let tolerance = if straight { CHORDS } else { HOLLOWS };
            let same = near(moved.area(), expected.area, tolerance)
                && near(moved.perimeter(), expected.perimeter, tolerance)
                && [b.x0 - x0, b.y0 - y0, b.x1 - x1, b.y1 - y1].iter().all(|d| d.abs() < 1e-3);
            if !same {
                let found = (moved.area(), moved.perimeter(), b);
                let wanted = (expected.area, expected.perimeter, expected.bounds);
                faults.push(format!("{words}: {found:?} {wanted:?} {:?}", case.vertices));
            }
        }
    }
    assert!(checked >= 300, "{checked}");
    assert!(faults.is_empty(), "{} of {checked}:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn sections_agree() {
    let cases = read::<Sections>("sections.json").sections;
    assert!(cases.len() >= 20);
    for case in cases {
        let ring: Vec<Point> = case.points.iter().map(|&[x, y]| Point::new(x, y)).collect();
        let found = Moments::of_ring(&ring).section();
        let pairs = [
            (found.area, case.area),
            (found.x, case.centroid[0]),
            (found.y, case.centroid[1]),
            (found.ix, case.ixx),
            (found.iy, case.iyy),
        ];
        for (value, expected) in pairs {
            assert!(near(value, expected, 1e-6), "{}: {value} {expected}", case.name);
        }
        // The product moment may be nearly nothing beside the others.
        assert!((found.ixy - case.ixy).abs() < 1e-7 * case.ixx, "{}: {found:?}", case.name);
    }
}
