//! Drawings as other programs save them, and drawings that are no outline.

use super::*;
use crate::geometry::{Arc, Edge, Outline};
use approx::assert_relative_eq;
use dxf::entities::{Entity, EntityType, Line, LwPolyline};
use dxf::enums::{AcadVersion, Units};
use dxf::{Drawing, LwPolylineVertex, Point as Place};
use proptest::prelude::*;
use std::f64::consts::PI;

/// A drawing of the given entities (each a list of code and value) in millimetres.
fn drawing(entities: &[&[(i32, &str)]]) -> String {
    let mut text = "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n".to_owned();
    text += "0\nSECTION\n2\nENTITIES\n";
    for pair in entities.iter().copied().flatten() {
        for value in [&pair.0.to_string(), pair.1] {
            text += value;
            text += "\n";
        }
    }
    text + "0\nENDSEC\n0\nEOF\n"
}

fn read(text: &str) -> Result<Sided, TraceError> {
    traced(text.as_bytes(), &Reading::default())
}

fn line(
    x0: &'static str,
    y0: &'static str,
    x1: &'static str,
    y1: &'static str,
) -> [(i32, &'static str); 6] {
    [(0, "LINE"), (8, "0"), (10, x0), (20, y0), (11, x1), (21, y1)]
}

/// An arched light 800 wide, springing at 900: R 850 about (400, 150), from 61.93° to 118.07°.
fn arched() -> String {
    // Out of order, one line drawn the other way, ends rounded to two decimals.
    let arc = [
        (0, "ARC"),
        (8, "0"),
        (10, "400"),
        (20, "150"),
        (40, "850"),
        (50, "61.9275"),
        (51, "118.0725"),
    ];
    drawing(&[
        &line("0", "0", "800", "0"),
        &arc,
        &line("0", "900", "0", "0"),
        &line("800", "900", "800.004", "0"),
    ])
}

#[test]
fn loose_lines_and_an_arc_make_one_outline() {
    let shape = read(&arched()).unwrap();
    assert_eq!(shape.edges().count(), 4);
    // Rectangle and segment, closed form of the segmental arch.
    assert_relative_eq!(shape.outline().area(), 773_994.168, epsilon = 5.0);
    assert_relative_eq!(shape.bounds().y1, 1000.0, epsilon = 0.02);
}

/// Written by a library that had no part in the reader, in inches.
#[test]
fn a_polyline_with_bulges_is_read_in_its_unit() {
    let mut file = Drawing::new();
    // Older versions have no unit.
    file.header.version = AcadVersion::R2000;
    file.header.default_drawing_units = Units::Inches;
    let vertex = |x, y, bulge| LwPolylineVertex { x, y, bulge, ..LwPolylineVertex::default() };
    let mut polyline = LwPolyline {
        vertices: vec![
            vertex(0.0, 0.0, 0.0),
            vertex(30.0, 0.0, 0.0),
            vertex(30.0, 40.0, 1.0),
            vertex(0.0, 40.0, 0.0),
        ],
        ..LwPolyline::default()
    };
    polyline.set_is_closed(true);
    file.add_entity(Entity::new(EntityType::LwPolyline(polyline)));
    let mut bytes = Vec::new();
    file.save(&mut bytes).unwrap();
    let shape = traced(&bytes, &Reading::default()).unwrap();
    let area = (30.0 * 40.0 + PI * 15.0 * 15.0 / 2.0) * 25.4 * 25.4;
    assert_relative_eq!(shape.outline().area(), area, epsilon = 1e-6);
    // A stray line on another layer is named, unless one layer is asked for.
    let stray = Line::new(Place::new(0.0, 0.0, 0.0), Place::new(9.0, 9.0, 0.0));
    let mut stray = Entity::new(EntityType::Line(stray));
    stray.common.layer = "notes".to_owned();
    file.add_entity(stray);
    let mut bytes = Vec::new();
    file.save(&mut bytes).unwrap();
    let error = traced(&bytes, &Reading::default()).unwrap_err();
    assert!(matches!(&error.fault, Fault::Layers(a, _, b) if a == "0" && b == "notes"), "{error}");
    let only = Reading { layer: Some("0".to_owned()), unit: None };
    assert_eq!(traced(&bytes, &only).unwrap(), shape);
}

#[test]
fn circles_and_old_polylines_are_read() {
    let circle = [(0, "CIRCLE"), (10, "5"), (20, "7"), (40, "250")];
    let shape = read(&drawing(&[&circle])).unwrap();
    assert_relative_eq!(shape.outline().area(), PI * 62_500.0, epsilon = 1e-6);
    let head = [(0, "POLYLINE"), (66, "1"), (70, "1"), (30, "0")];
    let corners = [
        [(0, "VERTEX"), (10, "0"), (20, "0"), (42, "0")],
        [(0, "VERTEX"), (10, "600"), (20, "0"), (42, "1")],
        [(0, "VERTEX"), (10, "600"), (20, "300"), (42, "0")],
    ];
    let end = [(0, "SEQEND"), (8, "0")];
    let [a, b, c] = &corners;
    let shape = read(&drawing(&[&head, a, b, c, &end])).unwrap();
    // Triangle and half a circle of radius 150.
    assert_relative_eq!(shape.outline().area(), 90_000.0 + PI * 11_250.0, epsilon = 1e-6);
}

#[test]
fn what_is_no_outline_is_named_with_its_place() {
    let text = arched();
    let fault = |text: &str| read(text).unwrap_err().fault;
    // The arc ends at (0.02, 900.0) and the left line no longer reaches it.
    let open = text.replacen("0\n20\n900\n", "0\n20\n890\n", 1);
    let Fault::OpenEnd(_, _, gap) = fault(&open) else { panic!("{:?}", fault(&open)) };
    assert_relative_eq!(gap, 10.0, epsilon = 0.05);
    let square = [
        line("0", "0", "9", "0"),
        line("9", "0", "9", "9"),
        line("9", "9", "0", "9"),
        line("0", "9", "0", "0"),
    ];
    let [a, b, c, d] = &square;
    let far = [(0, "CIRCLE"), (10, "500"), (20, "0"), (40, "50")];
    let error = read(&drawing(&[a, b, c, d, &far])).unwrap_err();
    assert_eq!(error, TraceError { line: 63, fault: Fault::Second(15) });
    let twice = fault(&drawing(&[a, b, c, d, a]));
    assert_eq!(twice, Fault::Branch(0.0, 0.0));
    let tie = [
        line("0", "0", "9", "9"),
        line("9", "9", "9", "0"),
        line("9", "0", "0", "8"),
        line("0", "8", "0", "0"),
    ];
    let [e, f, g, h] = &tie;
    assert!(matches!(fault(&drawing(&[e, f, g, h])), Fault::Crosses(15)));
    assert_eq!(fault(&drawing(&[])), Fault::Nothing);
    let spline = [(0, "SPLINE"), (70, "8")];
    let error = read(&drawing(&[a, b, &spline])).unwrap_err();
    assert_eq!(error.fault, Fault::Unknown("SPLINE".to_owned()));
    assert!(error.to_string().starts_with("line 39: SPLINE cannot be read"), "{error}");
    let behind = [(0, "CIRCLE"), (10, "5"), (20, "7"), (40, "250"), (230, "-1.0")];
    assert_eq!(fault(&drawing(&[&behind])), Fault::NotFlat("CIRCLE".to_owned()));
    let point = [(0, "CIRCLE"), (10, "5"), (20, "7"), (40, "0")];
    assert_eq!(fault(&drawing(&[&point])), Fault::Radius(0.0));
    let lacking = [(0, "CIRCLE"), (10, "5"), (40, "9")];
    assert_eq!(fault(&drawing(&[&lacking])), Fault::Missing("CIRCLE".to_owned(), 20));
    let nan = [(0, "CIRCLE"), (10, "NaN"), (20, "1"), (40, "9")];
    assert_eq!(fault(&drawing(&[&nan])), Fault::NotANumber("NaN".to_owned()));
}

#[test]
fn what_the_library_would_pass_over_is_refused() {
    let fault = |entity: &[(i32, &str)]| read(&drawing(&[entity])).unwrap_err().fault;
    let name = |name: &str| name.to_owned();
    // It takes zero for what is missing, the last of what stands twice, and the largest short number for
    // flags that are none.
    let triangle =
        [(0, "LWPOLYLINE"), (70, "1"), (10, "0"), (20, "0"), (10, "9"), (20, "0"), (10, "9")];
    assert_eq!(fault(&triangle), Fault::Missing(name("LWPOLYLINE"), 20));
    let twice = [(0, "CIRCLE"), (10, "5"), (20, "7"), (40, "250"), (40, "260")];
    assert_eq!(fault(&twice), Fault::Twice(name("CIRCLE"), 40));
    let flags = [(0, "LWPOLYLINE"), (70, "70001"), (10, "0"), (20, "0"), (10, "9"), (20, "9")];
    assert_eq!(fault(&flags), Fault::Lost(name("LWPOLYLINE")));
    // It stops without a word at a value that it cannot read, and leaves out what it does not know.
    let comma = [(0, "CIRCLE"), (10, "5"), (20, "7"), (40, "2,5")];
    assert_eq!(fault(&comma), Fault::NotANumber(name("2,5")));
    assert_eq!(fault(&[(0, "HELIX")]), Fault::Unknown(name("HELIX")));
    assert_eq!(fault(&[(0, "NONSENSE"), (10, "x")]), Fault::Unknown(name("NONSENSE")));
    let early = [(0, "LWPOLYLINE"), (20, "5"), (10, "7")];
    assert_eq!(fault(&early), Fault::Missing(name("LWPOLYLINE"), 10));
}

#[test]
fn every_number_of_a_shape_changes_the_outline_or_is_refused() {
    let head =
        [(0, "LWPOLYLINE"), (70, "1"), (10, "0"), (20, "0"), (42, "0.1"), (10, "900"), (20, "1")];
    let rest =
        [(10, "880"), (20, "700"), (42, "0.2"), (10, "1"), (20, "690"), (42, "0.3"), (230, "1")];
    for text in [arched(), drawing(&[&[&head[..], &rest].concat()])] {
        let whole = read(&text).unwrap();
        let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let mut changed = 0;
        for at in (1..lines.len()).step_by(2) {
            let code: i32 = lines[at - 1].parse().unwrap();
            let shape = [10, 20, 11, 21, 40, 42, 50, 51].contains(&code);
            let Some(number) = lines[at].parse::<f64>().ok().filter(|_| shape) else { continue };
            let kept = std::mem::replace(&mut lines[at], format!("{}", number + 0.25));
            let other = read(&lines.join("\n"));
            lines[at] = kept;
            assert_ne!(other.as_ref(), Ok(&whole), "line {}", at + 1);
            changed += 1;
        }
        assert!(changed > 10, "{changed} numbers");
    }
}

#[test]
fn units_and_other_files() {
    let text = arched().replace("800.004", "800");
    let unit = |code: &str| text.replacen("70\n4\n", &format!("70\n{code}\n"), 1);
    assert_relative_eq!(read(&unit("5")).unwrap().bounds().x1, 8000.0, epsilon = 0.1);
    assert_eq!(read(&unit("0")).unwrap_err(), TraceError { line: 8, fault: Fault::NoUnit });
    let said = Reading { unit: Some(1.0), layer: None };
    assert_eq!(traced(unit("0").as_bytes(), &said).unwrap(), read(&text).unwrap());
    assert_eq!(read(&unit("3")).unwrap_err().fault, Fault::Unit(3));
    assert_eq!(traced(b"\0\x01", &said).unwrap_err().fault, Fault::Binary);
    assert!(matches!(read("house = \"x\"\n").unwrap_err().fault, Fault::NotDxf(_)));
    assert_eq!(traced(b"", &said).unwrap_err().fault, Fault::Nothing);
}

/// Lines and arcs of an outline, shuffled and turned, as separate entities.
fn scattered(outline: &Outline, turned: &[bool], shift: usize) -> String {
    let mut entities: Vec<Vec<(i32, String)>> = Vec::new();
    for (edge, turned) in outline.edges().iter().zip(turned) {
        let edge = if *turned { edge.reversed() } else { *edge };
        let number = |value: f64| format!("{value:.4}");
        entities.push(match edge {
            Edge::Line(l) => vec![
                (0, "LINE".into()),
                (10, number(l.p0.x)),
                (20, number(l.p0.y)),
                (11, number(l.p1.x)),
                (21, number(l.p1.y)),
            ],
            Edge::Arc(arc) => {
                let (from, to) = (arc.start, arc.start + arc.sweep);
                let (from, to) = if arc.sweep < 0.0 { (to, from) } else { (from, to) };
                let degrees = |angle: f64| format!("{:.8}", angle.to_degrees().rem_euclid(360.0));
                vec![
                    (0, "ARC".into()),
                    (10, number(arc.centre.x)),
                    (20, number(arc.centre.y)),
                    (40, number(arc.radius)),
                    (50, degrees(from)),
                    (51, degrees(to)),
                ]
            }
        });
    }
    let count = entities.len();
    entities.rotate_left(shift % count);
    let pairs: Vec<Vec<(i32, &str)>> = entities
        .iter()
        .map(|entity| entity.iter().map(|(code, value)| (*code, value.as_str())).collect())
        .collect();
    drawing(&pairs.iter().map(Vec::as_slice).collect::<Vec<_>>())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]
    #[test]
    fn an_outline_comes_back_from_its_scattered_edges(
        w in 100.0..900.0, h in 100.0..900.0, bulges in prop::array::uniform4(0.0..0.9),
        turned in prop::collection::vec(any::<bool>(), 4), shift in 0_usize..4,
    ) {
        let corners = [(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)].map(kurbo::Point::from);
        let next = corners.iter().cycle().skip(1);
        let edges = corners.iter().zip(next).zip(bulges).map(|((&a, &b), bulge)| {
            if bulge < 0.3 { Edge::line(a, b) } else { Edge::Arc(Arc::from_bulge(a, b, bulge).unwrap()) }
        });
        let outline = Outline::new(edges.collect()).unwrap();
        prop_assume!(!outline.crosses_itself());
        let back = read(&scattered(&outline, &turned, shift)).unwrap();
        prop_assert_eq!(back.edges().count(), 4);
        prop_assert!((back.outline().area() - outline.area()).abs() < 1.0);
    }

    // Any bytes: an outline or an error, never a panic. Lines out of drawings make it go deep.
    #[test]
    fn anything_is_read_or_refused(
        lines in prop::collection::vec(prop_oneof![
            Just("0"), Just("10"), Just("20"), Just("40"), Just("42"), Just("70"), Just("1e999"),
            Just("LINE"), Just("ARC"), Just("LWPOLYLINE"), Just("POLYLINE"), Just("VERTEX"),
            Just("SECTION"), Just("ENTITIES"), Just("ENDSEC"), Just("2"), Just("-5"), Just(""),
        ], 0..60),
    ) {
        let text = format!("9\n$INSUNITS\n70\n4\n2\nENTITIES\n{}", lines.join("\n"));
        let _ = read(&text);
    }
}

#[test]
fn what_is_too_much_or_too_far_is_refused() {
    let fault = |text: &str| read(text).unwrap_err().fault;
    let long = vec![b' '; MOST_BYTES + 1];
    assert_eq!(traced(&long, &Reading::default()).unwrap_err().fault, Fault::TooLong);
    assert_eq!(fault(" \n\n"), Fault::Nothing);
    let far = [(0, "CIRCLE"), (10, "1e300"), (20, "7"), (40, "1e308")];
    assert_eq!(fault(&drawing(&[&far])), Fault::TooFar);
    // A polygon of 201 corners round a circle.
    let corners: Vec<[(i32, String); 2]> = (0..=MOST_EDGES)
        .map(|corner| {
            let turn = std::f64::consts::TAU * f64::from(u32::try_from(corner).unwrap()) / 201.0;
            [(10, format!("{}", 300.0 * turn.cos())), (20, format!("{}", 300.0 * turn.sin()))]
        })
        .collect();
    let polyline = |corners: &[[(i32, String); 2]]| {
        let mut pairs = vec![(0, "LWPOLYLINE"), (70, "1")];
        pairs.extend(corners.iter().flatten().map(|(code, value)| (*code, value.as_str())));
        drawing(&[&pairs])
    };
    assert_eq!(fault(&polyline(&corners)), Fault::TooMany(201));
    assert_eq!(read(&polyline(&corners[1..])).unwrap().edges().count(), MOST_EDGES);
}

#[test]
fn a_layer_or_unit_that_the_file_contradicts_is_named() {
    let text = arched();
    let asked = |layer: Option<&str>, unit| {
        let reading = Reading { layer: layer.map(str::to_owned), unit };
        traced(text.as_bytes(), &reading).unwrap_err().fault
    };
    let layers = vec!["0".to_owned()];
    assert_eq!(asked(Some("glass"), None), Fault::NoLayer("glass".to_owned(), layers));
    assert_eq!(asked(None, Some(25.4)), Fault::OtherUnit(1.0));
    let same = Reading { layer: None, unit: Some(1.0) };
    assert_eq!(traced(text.as_bytes(), &same), read(&text));
}
