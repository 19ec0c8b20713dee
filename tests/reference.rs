//! Outlines and sections against general-purpose libraries. `tests/reference/make_reference.py` made
//! the results in `fixtures/reference`; their versions stand in the files.

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

#[derive(Deserialize)]
struct AnySize {
    outlines: Vec<AnySizeCase>,
}

#[derive(Deserialize)]
struct AnySizeCase {
    kind: String,
    vertices: Vec<[f64; 3]>,
    area: f64,
    perimeter: f64,
    /// Distance, area, length of the boundary, and 1 where edges only move.
    offsets: [[f64; 4]; 2],
}

/// The greatest deviation so far, and where.
#[derive(Default)]
struct Worst(f64, String);

impl Worst {
    fn seen(&mut self, deviation: f64, place: &str) {
        if deviation > self.0 {
            *self = Worst(deviation, place.to_owned());
        }
    }
}

/// Offsets of any size, of which many make edges vanish: the outline that the reference library finds,
/// or an error; an error only where edges do not merely move.
#[test]
fn offsets_of_any_size_agree_or_are_refused() {
    let cases = read::<AnySize>("offsets.json").outlines;
    assert!(cases.len() >= 500);
    let (mut areas, mut moved_areas, mut lengths) =
        (Worst::default(), Worst::default(), Worst::default());
    let (mut agreed, mut refused, mut faults) = (0, 0, Vec::new());
    for case in &cases {
        let outline = outline(&case.vertices);
        assert!(!outline.crosses_itself(), "{:?}", case.vertices);
        areas.seen((outline.area() - case.area).abs() / case.perimeter, &case.kind);
        for [distance, area, length, only_moves] in case.offsets {
            let words = format!("{} by {distance}: {:?}", case.kind, case.vertices);
            match outline.offset(distance, Join::Round) {
                Ok(moved) => {
                    agreed += 1;
                    // As a distance: how far the whole boundary would have to move.
                    let off = (moved.area() - area).abs() / length;
                    moved_areas.seen(off, &words);
                    lengths.seen((moved.perimeter() - length).abs() / length, &words);
                    if off > 5e-4 {
                        faults.push(format!("{off:.4} mm {words}"));
                    }
                }
                Err(error) => {
                    refused += 1;
                    if only_moves > 0.5 {
                        faults.push(format!("{error} {words}"));
                    }
                }
            }
        }
    }
    let found = format!(
        "{agreed} agreed, {refused} refused; greatest deviations as a distance: areas {:.6} mm \
         ({}), offsets {:.6} mm ({}); of lengths {:.1e} ({})",
        areas.0, areas.1, moved_areas.0, moved_areas.1, lengths.0, lengths.1
    );
    println!("{found}");
    assert!(faults.is_empty(), "{} faults; {found}\n{}", faults.len(), faults.join("\n"));
    assert!(agreed >= 900 && refused >= 30, "{found}");
    assert!(areas.0 < 2e-4, "{found}");
}
