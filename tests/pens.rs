//! One scene through every pen, read back by other readers than wrote it.

use crate::paper;
use crate::sample;
use crate::shaped;
use dxf::entities::EntityType;
use fillister::drawing::{Document, Mark, Page, Placed, Scene, dxf as dxf_pen, pdf, svg};
use fillister::geometry::{Arc, Edge};
use kurbo::{Point, Rect};
use std::path::Path;

/// A drawn thing, whatever the pen: layer, box around it, and length.
type Drawn = (String, Rect, f64);

/// Box and length of each stroke and outline of the scene itself.
fn from_scene(scene: &Scene) -> Vec<Drawn> {
    let mut drawn = Vec::new();
    for (layer, marks) in scene.marks() {
        for mark in marks {
            let (bounds, length) = match mark {
                Mark::Stroke(edge) | Mark::Hatching(edge) => (edge.bounds(), edge.length()),
                Mark::Closed(outline) => (outline.bounds(), outline.perimeter()),
                _ => continue,
            };
            drawn.push((layer.name.to_string(), bounds, length));
        }
    }
    drawn
}

fn edges_drawn(layer: &str, edges: &[Edge]) -> Drawn {
    let bounds = edges.iter().map(Edge::bounds).reduce(|a, b| a.union(b)).unwrap();
    (layer.into(), bounds, edges.iter().map(Edge::length).sum())
}

/// The same from a DXF, read by the `dxf` crate.
fn from_dxf(text: &str) -> Vec<Drawn> {
    let drawing = dxf::Drawing::load(&mut text.as_bytes()).unwrap();
    let xy = |p: &dxf::Point| Point::new(p.x, p.y);
    let chain = |vertices: Vec<(Point, f64)>| -> Vec<Edge> {
        let next = vertices.iter().cycle().skip(1);
        vertices
            .iter()
            .zip(next)
            .map(|(&(from, bulge), &(to, _))| {
                Arc::from_bulge(from, to, bulge).map_or(Edge::line(from, to), Edge::Arc)
            })
            .collect()
    };
    let mut drawn = Vec::new();
    for entity in drawing.entities() {
        let edges = match &entity.specific {
            EntityType::Line(line) => vec![Edge::line(xy(&line.p1), xy(&line.p2))],
            EntityType::Circle(circle) => {
                let sweep = std::f64::consts::TAU;
                let centre = xy(&circle.center);
                vec![Edge::Arc(Arc { centre, radius: circle.radius, start: 0.0, sweep })]
            }
            EntityType::Arc(arc) => {
                let sweep = (arc.end_angle - arc.start_angle).rem_euclid(360.0).to_radians();
                let (centre, start) = (xy(&arc.center), arc.start_angle.to_radians());
                vec![Edge::Arc(Arc { centre, radius: arc.radius, start, sweep })]
            }
            EntityType::LwPolyline(line) => {
                assert!(line.is_closed());
                chain(line.vertices.iter().map(|v| (Point::new(v.x, v.y), v.bulge)).collect())
            }
            EntityType::Polyline(line) => {
                assert!(line.is_closed());
                chain(line.vertices().map(|v| (xy(&v.location), v.bulge)).collect())
            }
            EntityType::Text(_) => continue,
            other => panic!("unexpected {other:?}"),
        };
        drawn.push(edges_drawn(&entity.common.layer, &edges));
    }
    drawn
}

fn attribute<'a>(tag: &'a str, name: &str) -> Option<&'a str> {
    let rest = tag.split_once(&format!("{name}=\""))?.1;
    rest.split_once('"').map(|(value, _)| value)
}

/// Reads one path of move, line, arc and close words; Y still runs down.
fn edges_of_path(data: &str) -> Vec<Edge> {
    let spaced: String = data
        .chars()
        .flat_map(|c| if c.is_alphabetic() { vec![' ', c, ' '] } else { vec![c] })
        .collect();
    let mut words = spaced.split_whitespace();
    let (mut at, mut start, mut edges) = (Point::ZERO, Point::ZERO, Vec::new());
    while let Some(word) = words.next() {
        let mut number = || words.next().unwrap().parse::<f64>().unwrap();
        let to = match word {
            "M" | "L" => Point::new(number(), number()),
            "A" => {
                let [radius, same, turn, large, with] = [(); 5].map(|()| number());
                assert!(radius == same && turn == 0.0 && large == 0.0);
                let to = Point::new(number(), number());
                let sweep = 2.0 * ((to - at).hypot() / (2.0 * radius)).asin();
                let bulge = (sweep / 4.0).tan() * if with == 1.0 { 1.0 } else { -1.0 };
                edges.push(Edge::Arc(Arc::from_bulge(at, to, bulge).unwrap()));
                to
            }
            "Z" => start,
            other => panic!("unexpected {other}"),
        };
        match word {
            "M" => start = to,
            "A" => {}
            _ if (to - at).hypot() > 0.0 => edges.push(Edge::line(at, to)),
            _ => {}
        }
        at = to;
    }
    edges
}

/// The same from an SVG. Y is turned up again.
fn from_svg(text: &str, scene: &Scene) -> Vec<Drawn> {
    let scene = scene.extents().inflate(5.0, 5.0);
    let (mut layer, mut drawn) = (String::new(), Vec::new());
    for line in text.lines() {
        if line.starts_with("<g data-layer") {
            layer = attribute(line, "data-layer").unwrap().into();
        } else if line.starts_with("<path ") && !line.contains("fill=") {
            let edges = edges_of_path(attribute(line, " d").unwrap());
            let (layer, b, length) = edges_drawn(&layer, &edges);
            let (left, top) = (scene.x0, scene.y1);
            let bounds = Rect::new(b.x0 + left, top - b.y1, b.x1 + left, top - b.y0);
            drawn.push((layer, bounds, length));
        }
    }
    drawn
}

/// The same from a PDF, where the scene's lower left corner lies at (10, 10).
fn from_pdf(bytes: &[u8], scene: &Scene) -> Vec<Drawn> {
    let scene = scene.extents();
    let back = scene.origin() - Point::new(10.0, 10.0);
    let [page] = paper::pages(bytes).try_into().unwrap();
    let strokes = page.paths.into_iter().filter(|path| !path.filled);
    strokes.map(|path| (path.layer.clone(), path.bounds() + back, path.length())).collect()
}

fn on_paper() -> Vec<u8> {
    placed(sample::scene())
}

fn placed(scene: Scene) -> Vec<u8> {
    let bounds = scene.extents();
    let at = Point::new(10.0, 10.0) - bounds.origin().to_vec2();
    let placed = vec![Placed { scene, scale: 1.0, at, clip: None }];
    let size = bounds.size() + kurbo::Size::new(20.0, 20.0);
    let pages = vec![Page { size, placed }];
    pdf::write(&Document { title: "Окно".into(), pages }).unwrap()
}

fn same(reference: &[Drawn], other: &[Drawn], tolerance: f64, rename: impl Fn(&str) -> String) {
    assert_eq!(reference.len(), other.len());
    for ((layer, bounds, length), (layer2, bounds2, length2)) in reference.iter().zip(other) {
        assert_eq!(&rename(layer), layer2);
        let apart = [
            bounds.x0 - bounds2.x0,
            bounds.y0 - bounds2.y0,
            bounds.x1 - bounds2.x1,
            bounds.y1 - bounds2.y1,
            // A length adds up the rounding of both ends of every piece.
            (length - length2) / 10.0,
        ];
        assert!(apart.iter().all(|d| d.abs() <= tolerance), "{bounds:?} {bounds2:?} {apart:?}");
    }
}

#[test]
fn dxf_svg_and_pdf_carry_the_geometry_of_the_scene() {
    let scene = sample::scene();
    let reference = from_scene(&scene);
    assert!(reference.len() > 200);
    let dxf = dxf_pen::write(&scene).unwrap();
    same(&reference, &from_dxf(&dxf), 1e-8, str::to_owned);
    let svg = svg::write(&scene, svg::Look::default()).unwrap();
    same(&reference, &from_svg(&svg, &scene), 2e-4, str::to_owned);
    // PDF numbers are single precision.
    same(&reference, &from_pdf(&on_paper(), &scene), 1e-3, str::to_owned);
    // For the audit by another program, and for a look.
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    for (name, text) in [("sample.dxf", &dxf), ("sample.svg", &svg)] {
        std::fs::write(folder.join(name), text).unwrap();
    }
}

// Every shape of sash: what the pens write is what the outlines are, arcs kept as arcs.
#[test]
fn outlines_of_every_shape_come_back_from_every_pen() {
    let house = shaped::house();
    for work in shaped::works(&house) {
        let scene = fillister::sheets::outlines(
            &work.sash,
            &work.fit,
            &work.rebate,
            fillister::sheets::kit::Voice::plain(),
        )
        .unwrap();
        let reference = from_scene(&scene);
        let dxf = dxf_pen::write(&scene).unwrap();
        same(&reference, &from_dxf(&dxf), 1e-8, str::to_owned);
        let svg = svg::write(&scene, svg::Look::default()).unwrap();
        same(&reference, &from_svg(&svg, &scene), 2e-4, str::to_owned);
        same(&reference, &from_pdf(&placed(scene.clone()), &scene), 1e-3, str::to_owned);
        // The daylight itself, not only what was drawn of it.
        let sight = work.sash.outline.outline();
        let seen = reference.iter().filter(|(layer, ..)| layer == "sight");
        let bounds = seen.map(|(_, bounds, _)| *bounds).reduce(|a, b| a.union(b)).unwrap();
        for (a, b) in [(bounds.x1, sight.bounds().x1), (bounds.y0, sight.bounds().y0)] {
            assert!((a - b).abs() < 1e-6, "{}: {a} {b}", work.sash.measured.id);
        }
        let wall = work.fit.units[0].outlines.wall.outline();
        let cut = reference.iter().find(|(layer, ..)| layer == "new rebate").unwrap();
        assert!((cut.2 - wall.perimeter()).abs() < 1e-6);
    }
}

#[test]
fn texts_of_every_script_come_back_as_they_were() {
    let scene = sample::scene();
    let text = dxf_pen::write(&scene).unwrap();
    assert!(text.is_ascii());
    let drawing = dxf::Drawing::load(&mut text.as_bytes()).unwrap();
    let read: Vec<String> = drawing
        .entities()
        .filter_map(|entity| match &entity.specific {
            // A reader shows %%% as one percent sign; this one leaves that to its caller.
            EntityType::Text(text) => Some(text.value.replace("%%%", "%")),
            _ => None,
        })
        .collect();
    for expected in sample::TEXTS {
        assert!(read.iter().any(|value| value == expected), "{expected:?} in {read:?}");
    }
    let [page] = paper::pages(&on_paper()).try_into().unwrap();
    for expected in sample::TEXTS {
        let word = page.says(expected).unwrap_or_else(|| panic!("{expected:?}"));
        let text = fillister::drawing::Text::new(expected, Point::ZERO, 10.0);
        // The face in the file is as wide as the scene reckoned.
        assert!((word.length - text.width()).abs() < 0.01);
    }
    assert_eq!(paper::title(&on_paper()), "Окно");
    let svg = svg::write(&scene, svg::Look::default()).unwrap();
    for plain in ["Παράθυρο κουζίνας", "Окно на кухне, 12 × 14 мм", "&lt;&amp;&quot;'&gt; ^ ^J"]
    {
        assert!(svg.contains(&format!(">{plain}</text>")));
    }
}

#[test]
#[should_panic(expected = "no 3 0 obj where the file says")]
fn what_reads_a_pdf_here_mends_none() {
    let mut bytes = on_paper();
    let place = bytes.windows(9).position(|at| at == b"\n3 0 obj\n").unwrap();
    bytes[place + 1] = b'4';
    paper::pages(&bytes);
}

#[test]
fn equal_scenes_give_equal_bytes() {
    let once = dxf_pen::write(&sample::scene()).unwrap();
    std::thread::sleep(std::time::Duration::from_millis(20));
    assert_eq!(once, dxf_pen::write(&sample::scene()).unwrap());
    assert!(on_paper() == on_paper());
    let look = svg::Look::default();
    assert_eq!(svg::write(&sample::scene(), look), svg::write(&sample::scene(), look));
}

#[test]
fn an_empty_scene_is_still_a_drawing() {
    let scene = fillister::drawing::Scene::new("", "", &[]);
    assert!(from_dxf(&dxf_pen::write(&scene).unwrap()).is_empty());
    assert!(svg::write(&scene, svg::Look::default()).unwrap().ends_with("</svg>\n"));
}
