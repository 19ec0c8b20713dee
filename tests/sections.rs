//! Sections as drawings: everything given is drawn, nothing covers anything, and the pens agree.

use fillister::drawing::{Mark, ValueAt, dxf, svg};
use fillister::geometry::Side;
use fillister::section::Glazing;
use fillister::sheets::kit::Voice;
use fillister::sheets::section::{Label, Measure, Notes, Section, of_parts};
use kurbo::{BezPath, Point, Rect, Shape};
use std::path::Path;

/// Profile of a stile: width and thickness, rebate width and depth, an ovolo on the room side.
fn stile(width: f64, thickness: f64, rebate: (f64, f64), ovolo: (f64, f64)) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((rebate.0, 0.0));
    path.line_to((width, 0.0));
    path.line_to((width, -thickness));
    path.line_to((ovolo.0, -thickness));
    // A quarter of an ellipse, round side out.
    let k = 0.5523;
    path.curve_to(
        (ovolo.0 - k * ovolo.0, -thickness),
        (0.0, -thickness + ovolo.1 - k * ovolo.1),
        (0.0, -thickness + ovolo.1),
    );
    path.line_to((0.0, -rebate.1));
    path.line_to((rebate.0, -rebate.1));
    path.close_path();
    path
}

fn polygon(points: &[(f64, f64)]) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(points[0]);
    points[1..].iter().for_each(|&point| path.line_to(point));
    path.close_path();
    path
}

fn measure(from: (f64, f64), to: (f64, f64), side: Side, words: &str) -> Measure {
    let (from, to, words) = (from.into(), to.into(), words.into());
    Measure { from, to, side, words, value_at: ValueAt::Middle }
}

fn label(at: (f64, f64), words: &str, on_left: bool) -> Label {
    Label { at: at.into(), words: words.into(), on_left }
}

/// A stile of 52 × 45 mm whose rebate of 9 × 17 mm becomes 14 × 26 mm for a 4-6-4 unit.
fn of_a_stile() -> Section {
    let (width, thickness, old, new) = (52.0, 45.0, (9.0, 17.0), (14.0, 26.0));
    let moulding = (8.0, 11.0);
    let (glass, edge) = (-26.0 + 2.0, 12.0);
    let pane = |low: f64| Rect::new(-16.0, low, edge, low + 4.0);
    Section {
        caption: "section, glazing face up".into(),
        title: "kitchen-1, left stile".into(),
        before: vec![stile(width, thickness, old, moulding)],
        removed: vec![polygon(&[
            (9.0, 0.0),
            (14.0, 0.0),
            (14.0, -26.0),
            (0.0, -26.0),
            (0.0, -17.0),
            (9.0, -17.0),
        ])],
        after: vec![stile(width, thickness, new, moulding)],
        glazing: Glazing {
            panes: vec![pane(glass), pane(glass + 10.0)],
            spacers: vec![Rect::new(0.0, glass + 4.0, edge, glass + 10.0)],
            bed: vec![Rect::new(0.0, -26.0, edge, glass)],
            beads: vec![polygon(&[(2.0, -10.0), (14.0, -10.0), (14.0, 0.0), (8.0, 0.0)])],
            blocks: vec![Rect::new(edge, glass - 2.0, 14.0, glass + 14.0)],
            ..Glazing::default()
        },
        sight: vec![0.0],
        notes_before: Notes {
            measures: vec![
                measure((0.0, -17.0), (9.0, 0.0), Side::Top, ""),
                measure((0.0, -17.0), (0.0, 0.0), Side::Left, ""),
                measure((0.0, -45.0), (52.0, -45.0), Side::Bottom, ""),
                measure((52.0, -45.0), (52.0, 0.0), Side::Right, ""),
            ],
            labels: vec![label((12.0, -12.0), "wood to be cut away", false)],
        },
        notes_after: Notes {
            measures: vec![
                measure((0.0, -26.0), (14.0, 0.0), Side::Top, ""),
                measure((14.0, 0.0), (52.0, 0.0), Side::Top, "beside"),
                measure((0.0, -26.0), (0.0, 0.0), Side::Left, ""),
                measure((0.0, -34.0), (0.0, -26.0), Side::Left, ""),
            ],
            labels: vec![
                label((9.0, -4.0), "bead", false),
                label((13.0, -14.0), "block", false),
                label((8.0, -17.0), "spacer", false),
                label((6.0, -25.0), "bed", false),
                label((-6.0, -12.0), "unit 4-6-4", true),
                label((0.0, -40.0), "sight edge", true),
            ],
        },
    }
}

/// A bar of 22 × 45 mm, cut down to 19 mm behind one unit of 4-6-4.
fn of_a_bar() -> Section {
    let curved = |x: f64, y: f64| Point::new(x, y);
    let room_side = |path: &mut BezPath| {
        // Ovolo of 7 × 10 mm on both arrises, from right to left.
        path.line_to((22.0, -35.0));
        path.curve_to(curved(22.0, -40.5), curved(18.9, -45.0), curved(15.0, -45.0));
        path.line_to((7.0, -45.0));
        path.curve_to(curved(3.1, -45.0), curved(0.0, -40.5), curved(0.0, -35.0));
    };
    let mut before = polygon(&[(0.0, -17.0), (6.0, -17.0), (6.0, 0.0), (16.0, 0.0)]);
    before.pop();
    before.line_to((16.0, -17.0));
    before.line_to((22.0, -17.0));
    room_side(&mut before);
    before.close_path();
    let mut after = BezPath::new();
    after.move_to((0.0, -26.0));
    after.line_to((22.0, -26.0));
    room_side(&mut after);
    after.close_path();
    let step = [(0.0, -26.0), (22.0, -26.0), (22.0, -17.0), (16.0, -17.0), (16.0, 0.0)];
    let removed = polygon(&[&step[..], &[(6.0, 0.0), (6.0, -17.0), (0.0, -17.0)]].concat());
    let pane = |low: f64| Rect::new(-14.0, low, 36.0, low + 4.0);
    Section {
        caption: "section, glazing face up".into(),
        title: "kitchen-1, upright bar 1".into(),
        before: vec![before],
        removed: vec![removed],
        after: vec![after],
        glazing: Glazing {
            panes: vec![pane(-24.0), pane(-14.0)],
            spacers: vec![Rect::new(5.0, -20.0, 17.0, -14.0)],
            bed: vec![Rect::new(0.0, -26.0, 22.0, -24.0)],
            ..Glazing::default()
        },
        sight: vec![0.0, 22.0],
        notes_before: Notes {
            measures: vec![
                measure((0.0, -17.0), (6.0, 0.0), Side::Top, ""),
                measure((6.0, 0.0), (16.0, 0.0), Side::Top, "web"),
                measure((0.0, -17.0), (0.0, 0.0), Side::Left, ""),
                measure((0.0, -45.0), (22.0, -45.0), Side::Bottom, ""),
                measure((22.0, -45.0), (22.0, 0.0), Side::Right, ""),
            ],
            labels: vec![label((12.0, -10.0), "wood to be cut away", false)],
        },
        notes_after: Notes {
            measures: vec![
                measure((22.0, -45.0), (22.0, -26.0), Side::Right, ""),
                measure((22.0, -26.0), (22.0, 0.0), Side::Right, ""),
                measure((5.0, -20.0), (17.0, -20.0), Side::Top, ""),
            ],
            labels: vec![
                label((14.0, -17.0), "internal bar", true),
                label((4.0, -25.0), "bed", true),
                label((-6.0, -12.0), "unit 4-6-4", true),
                label((0.0, -38.0), "sight edge", true),
            ],
        },
    }
}

#[test]
fn surfaces_that_did_not_change_are_not_drawn_as_changed() {
    for (section, new, old) in [(of_a_stile(), 40.0, 40.0), (of_a_bar(), 22.0, 74.0)] {
        let scene = section.scene(Voice::plain()).unwrap();
        let length = |name: &str| -> f64 {
            let layers = scene.marks().filter(|(layer, _)| layer.name == name);
            let strokes = layers.flat_map(|(_, marks)| marks);
            strokes.map(|m| if let Mark::Stroke(e) = m { e.length() } else { 0.0 }).sum()
        };
        // New: platform and wall. Old: the way round what went, where nothing is left.
        assert!((length("new rebate") - new).abs() < 1e-6, "{}", length("new rebate"));
        assert!((length("old rebate") - old).abs() < 1e-6, "{}", length("old rebate"));
    }
}

#[test]
fn every_note_is_drawn_and_none_covers_another() {
    let bar = of_a_bar().scene(Voice::plain()).unwrap();
    assert_eq!((bar.check(), bar.covered_texts()), (Ok(()), vec![]));
    let scene = of_a_stile().scene(Voice::plain()).unwrap();
    assert_eq!(scene.check(), Ok(()));
    let texts: Vec<String> = scene
        .marks()
        .flat_map(|(_, marks)| marks)
        .filter_map(
            |mark| if let Mark::Text(text) = mark { Some(text.value.clone()) } else { None },
        )
        .collect();
    for expected in [
        "9",
        "17",
        "52",
        "45",
        "14",
        "beside 38",
        "26",
        "8",
        "bead",
        "room face",
        "before",
        "after",
    ] {
        assert!(texts.iter().any(|text| text == expected), "{expected} in {texts:?}");
    }
    assert_eq!(scene.covered_texts(), []);
}

#[test]
fn the_drawing_is_at_true_size() {
    let scene = of_a_stile().scene(Voice::plain()).unwrap();
    let wood: Vec<Rect> = scene
        .marks()
        .filter(|(layer, _)| layer.name == "timber")
        .flat_map(|(_, marks)| marks)
        .filter_map(|m| if let Mark::Closed(outline) = m { Some(outline.bounds()) } else { None })
        .collect();
    assert_eq!(wood.len(), 2);
    for bounds in wood {
        assert!((bounds.width() - 52.0).abs() < 1e-9 && (bounds.height() - 45.0).abs() < 1e-9);
    }
}

#[test]
fn the_same_section_gives_the_same_files() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let scene = of_a_stile().scene(Voice::plain()).unwrap();
    let look = svg::Look { scale: 2.0, margin: 5.0 };
    let (svg, dxf) = (svg::write(&scene, look).unwrap(), dxf::write(&scene).unwrap());
    std::fs::write(folder.join("section.svg"), &svg).unwrap();
    std::fs::write(folder.join("section.dxf"), &dxf).unwrap();
    let bar = svg::write(&of_a_bar().scene(Voice::plain()).unwrap(), look).unwrap();
    std::fs::write(folder.join("section-bar.svg"), bar).unwrap();
    let again = of_a_stile().scene(Voice::plain()).unwrap();
    assert_eq!(svg::write(&again, look).unwrap(), svg);
    assert_eq!(dxf::write(&again).unwrap(), dxf);
}

#[test]
fn a_path_without_area_is_an_error() {
    let mut section = of_a_stile();
    section.removed = vec![polygon(&[(0.0, 0.0), (1.0, 1.0)])];
    assert!(section.scene(Voice::plain()).is_err());
    section.removed = Vec::new();
    assert!(section.scene(Voice::plain()).is_ok());
    section.glazing.panes.push(Rect::from_points(Point::ZERO, Point::ZERO));
    assert!(section.scene(Voice::plain()).is_err());
}

/// Every section of the example house.
fn of_the_example() -> Vec<Section> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/samphire-cottage.toml");
    let house =
        fillister::survey::read(&std::fs::read_to_string(path).unwrap(), "example").unwrap();
    let mut all = Vec::new();
    for measured in &house.sashes {
        let sash = fillister::sash::Sash::new(measured).unwrap();
        let fit = fillister::fit::fit(&sash, &house.workshop).unwrap();
        let timber = fillister::timber::judge(&sash, &fit, &house.workshop.limits);
        all.extend(
            of_parts(&sash, &fit, &timber, Voice::plain())
                .unwrap()
                .into_iter()
                .map(|(_, section)| section),
        );
    }
    all
}

#[test]
fn every_section_of_the_example_is_drawn_with_its_texts_apart() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let all = of_the_example();
    assert!(all.len() > 16);
    for (index, section) in all.iter().enumerate() {
        let scene = section.scene(Voice::plain()).unwrap();
        assert_eq!(scene.check(), Ok(()), "{}", section.title);
        assert_eq!(scene.covered_texts(), [], "{}", section.title);
        let svg = svg::write(&scene, svg::Look { scale: 2.0, margin: 5.0 }).unwrap();
        std::fs::write(folder.join(format!("example-section-{index}.svg")), svg).unwrap();
    }
}

#[test]
fn wood_to_be_cut_away_is_pointed_at() {
    for section in of_the_example() {
        let named = section.notes_before.labels.iter().find(|l| l.words.contains("cut away"));
        let at = named.unwrap().at;
        assert!(section.removed.iter().any(|path| path.winding(at) != 0), "{}", section.title);
    }
}

// What was there is what is left and what went.
#[test]
fn no_wood_is_lost_on_the_drawing() {
    for section in of_the_example() {
        let area = |paths: &[BezPath]| paths.iter().map(|p| p.area().abs()).sum::<f64>();
        let (before, after, gone) =
            (area(&section.before), area(&section.after), area(&section.removed));
        assert!(gone > 0.0 && (before - after - gone).abs() < 1e-6, "{}", section.title);
    }
}
