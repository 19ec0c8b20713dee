//! Sheets of sashes that are no rectangles: true to their outlines, told so that they can be made.

use crate::paper::joined::{assembled, off, tiles, together};
use crate::paper::{self, Page};
use crate::shaped;
use fillister::drawing::{Document, Item, pdf};
use fillister::finding::Verdict;
use fillister::geometry::{Edge, Outline};
use fillister::job::check;
use fillister::number::NotFinite;
use fillister::report::{Report, UnitLine};
use fillister::sheets::{self, SheetError};
use fillister::survey::TemplateAs;
use kurbo::Point;
use std::f64::consts::PI;

fn along(outline: &Outline) -> Vec<Point> {
    let places = |edge: &Edge| {
        let count = edge.length().ceil().max(1.0);
        let mut places = Vec::new();
        let mut step = 0.0;
        while step < count {
            places.push(edge.at(step / count));
            step += 1.0;
        }
        places
    };
    outline.edges().iter().flat_map(places).collect()
}

// Issue: tiles put together reproduce the outline within 0.1 mm. Each outline is laid beside the tiles by
// its lower left corner alone.
#[test]
fn tiles_laid_mark_on_mark_give_every_shape_again() {
    let mut house = shaped::house();
    house.workshop.printer.template = TemplateAs::Whole;
    for work in shaped::works(&house) {
        let subject = shaped::subject(&house, &work);
        let id = &work.sash.measured.id;
        let document = sheets::template::document(&subject).unwrap();
        let tiles = tiles(paper::pages(&pdf::write(&document).unwrap()));
        assert_eq!(assembled(&tiles).len(), tiles.len());
        let timber = together(&tiles, "timber");
        let corner = |points: &mut dyn Iterator<Item = Point>| {
            points.fold(Point::new(f64::INFINITY, f64::INFINITY), |a, b| {
                Point::new(a.x.min(b.x), a.y.min(b.y))
            })
        };
        let outer = work.sash.outer_outline.bounds().origin();
        let shift = corner(&mut timber.iter().flat_map(|line| [line.p0, line.p1])) - outer;
        let mut asked = 0;
        let wanted = [
            ("timber", vec![work.sash.outer_outline.outline()]),
            ("new rebate", work.rebate.pockets.iter().map(|pocket| &pocket.wall).collect()),
            ("sight", work.sash.lights.iter().map(|light| light.outline.outline()).collect()),
            ("unit", work.fit.units.iter().map(|unit| unit.outlines.unit.outline()).collect()),
        ];
        for (layer, outlines) in wanted {
            let lines = together(&tiles, layer);
            for point in outlines.iter().flat_map(|outline| along(outline)) {
                let away = off(&lines, point + shift);
                assert!(away < 0.1, "{id} {layer}: {away} at {point:?}");
                asked += 1;
            }
        }
        assert!(asked > 5000, "{asked}");
    }
}

/// X and Y that a tile says its frame has in the sash.
fn said_to_lie(page: &Page) -> Point {
    let words = "lower left corner of this frame: X ";
    let said = page.words.iter().find_map(|word| word.text.strip_prefix(words)).unwrap();
    let (x, rest) = said.split_once(" mm, Y ").unwrap();
    let y = rest.split(' ').next().unwrap();
    Point::new(x.parse().unwrap(), y.parse().unwrap())
}

// Tiles of corners are laid where they say. What none of them shows is straight, and both its ends are on tiles.
#[test]
fn corners_and_a_straightedge_give_every_shape_again() {
    let house = shaped::house();
    let mut saved = 0;
    for work in shaped::works(&house) {
        let subject = shaped::subject(&house, &work);
        let id = &work.sash.measured.id;
        let document = sheets::template::document(&subject).unwrap();
        let tiles = tiles(paper::pages(&pdf::write(&document).unwrap()));
        let placed: Vec<_> = tiles
            .values()
            .map(|page| {
                let frame = page.on("tiles").map(paper::Path::bounds).next().unwrap();
                let shift = said_to_lie(page) - frame.origin();
                (frame + shift, shift, page)
            })
            .collect();
        let on_tile = |point: Point| placed.iter().any(|(frame, ..)| frame.contains(point));
        for (layer, outlines) in [
            ("timber", vec![work.sash.outer_outline.outline()]),
            ("new rebate", work.rebate.pockets.iter().map(|pocket| &pocket.wall).collect()),
            ("unit", work.fit.units.iter().map(|unit| unit.outlines.unit.outline()).collect()),
        ] {
            for edge in outlines.iter().flat_map(|outline| outline.edges()) {
                for step in 0..=100 {
                    let point = edge.at(f64::from(step) / 100.0);
                    if !on_tile(point) {
                        let straight = matches!(edge, Edge::Line(_));
                        assert!(
                            straight && on_tile(edge.start()) && on_tile(edge.end()),
                            "{id} {layer}"
                        );
                        saved += 1;
                        continue;
                    }
                    // Tenths are what a tile says of its place.
                    for (_, shift, page) in placed
                        .iter()
                        .filter(|(frame, ..)| frame.inflate(-0.1, -0.1).contains(point))
                    {
                        let lines: Vec<_> = page
                            .on(layer)
                            .filter(|path| path.clip.is_some())
                            .flat_map(paper::Path::visible)
                            .collect();
                        let away = off(&lines, point - *shift);
                        assert!(away < 0.15, "{id} {layer}: {away} at {point:?}");
                    }
                }
            }
        }
    }
    assert!(saved > 500, "{saved}");
}

#[test]
fn no_text_of_any_sheet_of_a_shape_covers_another_or_leaves_its_page() {
    let house = shaped::house();
    let report = check(&house);
    for (work, told) in shaped::works(&house).iter().zip(&report.sashes) {
        let subject = shaped::subject(&house, work);
        let documents = [
            sheets::template::document(&subject).unwrap(),
            sheets::workshop::document(&subject, told).unwrap(),
        ];
        for document in documents {
            clear(&document);
        }
    }
    let order = sheets::glass::document(&report, &house.workshop.printer).unwrap();
    clear(&order);
}

/// No word of what the PDF pen wrote covers another or leaves its page.
fn clear(document: &Document) {
    for (index, page) in paper::pages(&pdf::write(document).unwrap()).iter().enumerate() {
        let troubles = page.troubles();
        assert!(troubles.is_empty(), "{} {}: {troubles:?}", document.title, index + 1);
    }
}

fn unit<'a>(report: &'a Report, id: &str) -> &'a UnitLine {
    &report.sashes.iter().find(|sash| sash.id == id).unwrap().units[0]
}

// Closed forms: two panes of 4 mm weigh 20 kg a square metre (EN 572-1).
#[test]
fn areas_and_weights_are_those_of_the_shapes() {
    let report = check(&shaped::house());
    let told = |id: &str| {
        let unit = unit(&report, id);
        (unit.shape.as_ref().unwrap().area, unit.weight.unwrap())
    };
    let segment = |radius: f64, half: f64| {
        let turn = 2.0 * (half / radius).asin();
        radius * radius * (turn - turn.sin()) / 2.0
    };
    // Arch over 620 with a rise of 110: R = (s²/4 + h²)/2h; the glass reaches 12 mm beyond.
    let radius = (310.0_f64.powi(2) + 110.0_f64.powi(2)) / 220.0 + 12.0;
    let springing = {
        let centre = 900.0 + 12.0 - radius;
        centre + (radius.powi(2) - 322.0_f64.powi(2)).sqrt() + 12.0
    };
    let arched = 644.0 * springing + segment(radius, 322.0);
    // A pointed arch of two arcs of 480 over 480, and 12 mm beyond.
    let springing = 1000.0 - 480.0 * 3.0_f64.sqrt() / 2.0 + 12.0;
    // Half of it: a sector of 492 less the triangle beyond the middle.
    let turn = (240.0_f64 / 492.0).acos();
    let half = 492.0_f64.powi(2) * turn / 2.0 - 240.0 * 492.0 * turn.sin() / 2.0;
    let pointed = 504.0 * springing + 2.0 * half;
    let round = PI * 312.0_f64.powi(2);
    for (id, area) in [("arched", arched), ("pointed", pointed), ("round", round)] {
        let (found, weight) = told(id);
        assert!((found * 1e6 - area).abs() < 1e-3, "{id}: {found} {area}");
        assert!((weight - 20.0 * area / 1e6).abs() < 1e-6, "{id}: {weight}");
    }
}

// What stands in the report gives back the outline that the rebate was made for.
#[test]
fn a_unit_can_be_made_from_the_order_alone() {
    let house = shaped::house();
    let report = check(&house);
    let mut shapes = 0;
    for (work, told) in shaped::works(&house).iter().zip(&report.sashes) {
        for (unit, line) in work.fit.units.iter().zip(&told.units) {
            let Some(shape) = &line.shape else { continue };
            let order = unit.outlines.order.outline();
            let back = shape.outline().unwrap().moved(order.bounds().origin().to_vec2());
            assert!((back.area() - order.area()).abs() < 1e-6);
            for point in along(order) {
                assert!(back.distance_to(point) < 1e-6, "{} {point:?}", told.id);
            }
            shapes += 1;
        }
    }
    assert!(shapes >= 6);
    let csv = String::from_utf8(sheets::order::csv(&report).unwrap()).unwrap();
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    let head = reader.headers().unwrap().clone();
    let column = |name: &str| head.iter().position(|head| head == name).unwrap();
    for row in reader.records().map(Result::unwrap) {
        let (shape, given) = (&row[column("shape")], &row[column("how the shape is given")]);
        assert_eq!(shape == "rectangle", !given.starts_with("ORDER size"), "{given}");
        if shape == "segmental head" {
            assert!(given.contains("arc R 503.82"), "{given}");
        }
    }
}

#[test]
fn a_sheet_refuses_a_number_that_is_not_finite() {
    let house = shaped::house();
    let mut report = check(&house);
    let able = report.sashes.iter_mut().find(|sash| sash.verdict != Verdict::Stop);
    able.unwrap().units[0].thickest = f64::NAN;
    let refusals = [
        sheets::order::csv(&report).err(),
        sheets::glass::document(&report, &house.workshop.printer).err(),
    ];
    for refusal in refusals {
        assert!(matches!(refusal, Some(SheetError::Number(NotFinite))), "{refusal:?}");
    }
}

// Closed form: every point of the aperture lies (24 − 12)/2 = 6 mm from the wall that the cutter leaves,
// corners of radius 6 included, since an offset keeps the centre of an arc; every screw stands in wood.
#[test]
fn the_aperture_of_every_shape_lies_half_a_difference_beyond_the_wall() {
    let house = shaped::house();
    for work in shaped::works(&house) {
        let subject = shaped::subject(&house, &work);
        let template = work.materials.template.as_ref().unwrap();
        let outer = work.sash.outer_outline.outline();
        for (aperture, pocket) in template.apertures.iter().zip(&work.rebate.pockets) {
            let cut = pocket.wall.filleted(6.0);
            for point in along(aperture) {
                assert!((cut.distance_to(point) - 6.0).abs() < 1e-6, "{}", work.sash.measured.id);
                assert!(!pocket.wall.contains(point));
            }
            for screw in template.screws.iter().map(|&[x, y]| Point::new(x, y)) {
                assert!(outer.contains(screw) && outer.distance_to(screw) > 8.0 - 1e-6);
                assert!(!aperture.contains(screw) && aperture.distance_to(screw) > 8.0 - 1e-6);
            }
        }
        assert!(template.screws.len() >= 4, "{}", work.sash.measured.id);
        let drawing = sheets::guide::drawing(&subject).unwrap().unwrap();
        let boards = drawing.layers().find(|(layer, _)| layer.name == "boards");
        let shaped = |item: &Item| matches!(item, Item::Outline(board) if board.area() > 0.0);
        let count = boards.map_or(0, |(_, items)| items.iter().filter(|item| shaped(item)).count());
        assert!(count > 0, "{}", work.sash.measured.id);
    }
}

/// Where the sash is a rectangle nothing is said of shapes.
#[test]
fn crooked_daylights_behind_square_units_are_ordered_by_two_sizes() {
    let report = check(&shaped::house());
    let crooked = unit(&report, "crooked");
    assert_eq!(crooked.shape, None);
    let area = crooked.order.width * crooked.order.height / 1e6;
    assert!((crooked.area - area).abs() < 1e-12);
    assert!((crooked.weight.unwrap() - 20.0 * area).abs() < 1e-9);
}
