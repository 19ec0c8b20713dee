//! The printed sheets of the example, read back with a library that had no part in writing them.

use crate::paper;
use crate::paper::Page;
use crate::paper::joined::{assembled, marks, off, tiles, together};
use fillister::job;
use fillister::sheets::kit::Voice;
use fillister::survey::{self, House};
use kurbo::{Line, ParamCurve, Point, Rect, Vec2};
use std::collections::BTreeMap;
use std::sync::OnceLock;

const EXAMPLE: &str = include_str!("../examples/samphire-cottage.toml");

fn house(text: &str) -> House {
    survey::read(text, "house.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"))
}

fn made() -> &'static BTreeMap<String, Vec<u8>> {
    static MADE: OnceLock<BTreeMap<String, Vec<u8>>> = OnceLock::new();
    MADE.get_or_init(|| job::make(&house(EXAMPLE)).unwrap().files)
}

fn is_pdf(name: &str) -> bool {
    std::path::Path::new(name).extension().is_some_and(|ending| ending == "pdf")
}

fn pages(name: &str) -> Vec<Page> {
    paper::pages(&made()[name])
}

/// The template of `kitchen-1` with every line from end to end.
fn whole() -> Vec<Page> {
    static WHOLE: OnceLock<Vec<u8>> = OnceLock::new();
    let file = WHOLE.get_or_init(|| {
        let one = EXAMPLE.split("\n# A yes with care").next().unwrap();
        let whole = one.replace("{ paper = \"A4\" }", "{ paper = \"A4\", template = \"whole\" }");
        assert_ne!(one, whole);
        job::make(&house(&whole)).unwrap().files["kitchen-1/template.pdf"].clone()
    });
    paper::pages(file)
}

fn bounds(lines: &[Line]) -> Rect {
    let points = lines.iter().flat_map(|line| [line.p0, line.p1]);
    points.map(|p| Rect::from_points(p, p)).reduce(|a, b| a.union(b)).unwrap()
}

fn along(rect: Rect) -> Vec<Point> {
    let mut points = Vec::new();
    let steps = |from: f64, to: f64| (0..=((to - from) as usize)).map(move |i| from + i as f64);
    for x in steps(rect.x0, rect.x1) {
        points.extend([Point::new(x, rect.y0), Point::new(x, rect.y1)]);
    }
    for y in steps(rect.y0, rect.y1) {
        points.extend([Point::new(rect.x0, y), Point::new(rect.x1, y)]);
    }
    points
}

// The square that proves a print is true within 0.05 mm, clear of what is traced; where a sheet has no room for it, its
// frame is as large as it says.
#[test]
fn every_tile_has_a_square_of_100_mm_over_no_line_or_a_frame_of_a_size_that_it_tells() {
    let mut framed = 0;
    for (name, file) in made().iter().filter(|(name, _)| name.ends_with("template.pdf")) {
        let tiles = tiles(paper::pages(file));
        assert!(tiles.len() >= 4, "{name}");
        for (tile, page) in tiles {
            let squares: Vec<_> =
                page.on("check square").filter(|path| path.clip.is_none()).collect();
            let Some(square) = squares.first() else {
                let frame = page.on("tiles").map(paper::Path::bounds).next().unwrap();
                let size = [frame.width(), frame.height()]
                    .map(|side| format!("{side:.1}").replace(".0", ""));
                let words = format!("measure this frame: it must be {} mm", size.join(" × "));
                assert!(page.holds(&words), "{name} {tile}: {words}");
                framed += 1;
                continue;
            };
            let sides = square.bounds();
            assert!((sides.width() - 100.0).abs() < 0.05 && (sides.height() - 100.0).abs() < 0.05);
            assert!((square.length() - 400.0).abs() < 0.05 && squares.len() == 1);
            let drawn = page.paths.iter().filter(|path| path.clip.is_some());
            for line in drawn.flat_map(paper::Path::visible) {
                let steps = (line.p1 - line.p0).hypot().ceil() as u32;
                let over = (0..=steps).any(|step| {
                    sides.contains(line.eval(f64::from(step) / f64::from(steps.max(1))))
                });
                assert!(!over, "{name} {tile}: {line:?} in {sides:?}");
            }
        }
    }
    // Both kinds are there.
    assert!(framed > 0);
}

// By hand from the survey of the example: cover 12 + clearance 2 = 14, at the bottom 12 + 4 = 16.
#[test]
fn the_new_rebate_is_as_wide_on_paper_as_in_the_report() {
    let tiles = tiles(whole());
    let (wall, sight) =
        (bounds(&together(&tiles, "new rebate")), bounds(&together(&tiles, "sight")));
    let widths = [sight.x0 - wall.x0, wall.x1 - sight.x1, sight.y0 - wall.y0, wall.y1 - sight.y1];
    for (width, expected) in widths.into_iter().zip([14.0, 14.0, 16.0, 14.0]) {
        assert!((width - expected).abs() < 0.05, "{widths:?}");
    }
}

#[test]
fn tiles_overlap_by_what_they_say() {
    let tiles = tiles(whole());
    let moved = assembled(&tiles);
    let window =
        |name: &str| tiles[name].on("tiles").map(paper::Path::bounds).next().unwrap() + moved[name];
    let mut seen = 0;
    for (a, page) in &tiles {
        for b in tiles.keys() {
            let (own, other) = (marks(page), marks(&tiles[b]));
            if a == b || !own.keys().any(|mark| other.contains_key(mark)) {
                continue;
            }
            let shared = window(a).intersect(window(b));
            let overlap = shared.width().min(shared.height());
            let said = format!("{overlap:.1}");
            let said = said.trim_end_matches(".0");
            assert!(overlap >= 15.0 - 0.05, "{a} {b} {overlap}");
            assert!(page.holds(&format!("{said} mm")), "{a} {b} {said}");
            seen += 1;
        }
    }
    assert!(seen >= 16);
}

// What the tiles show together against what follows from the survey by hand, both ways.
#[test]
fn tiles_laid_mark_on_mark_give_the_outlines_again() {
    let tiles = tiles(whole());
    assert!(tiles.len() > 8);
    let outer = bounds(&together(&tiles, "timber"));
    // The survey: stiles 57 wide, rails 57 and 74, sight 620 by 830.
    let sight = Rect::new(outer.x0 + 57.0, outer.y0 + 74.0, outer.x0 + 677.0, outer.y0 + 904.0);
    let wall = Rect::new(sight.x0 - 14.0, sight.y0 - 16.0, sight.x1 + 14.0, sight.y1 + 14.0);
    let timber = Rect::from_origin_size(outer.origin(), (734.0, 961.0));
    for (layer, expected) in [("timber", timber), ("sight", sight), ("new rebate", wall)] {
        let lines = together(&tiles, layer);
        for point in along(expected) {
            assert!(off(&lines, point) < 0.1, "{layer} lacks {point:?}");
        }
        let frame = expected.to_path_lines();
        for line in &lines {
            for point in [line.p0, line.p1, line.p0.midpoint(line.p1)] {
                assert!(off(&frame, point) < 0.1, "{layer} has {point:?}");
            }
        }
    }
    // The aperture of the template: bush 24 and cutter 12 put it 6 mm outside the wall, corners R 12.
    let aperture = together(&tiles, "template aperture");
    let all = bounds(&aperture);
    assert!((all.x0 - (wall.x0 - 6.0)).abs() < 0.05 && (all.y1 - (wall.y1 + 6.0)).abs() < 0.05);
    let centre = Point::new(all.x0 + 12.0, all.y1 - 12.0);
    for step in 0..=9 {
        let angle = std::f64::consts::FRAC_PI_2 * (1.0 + f64::from(step) / 9.0);
        assert!(off(&aperture, centre + 12.0 * Vec2::from_angle(angle)) < 0.1);
    }
}

trait AsLines {
    fn to_path_lines(&self) -> Vec<Line>;
}

impl AsLines for Rect {
    fn to_path_lines(&self) -> Vec<Line> {
        let [a, b, c, d] =
            [(self.x0, self.y0), (self.x1, self.y0), (self.x1, self.y1), (self.x0, self.y1)];
        [(a, b), (b, c), (c, d), (d, a)].map(|(p, q)| Line::new(p, q)).to_vec()
    }
}

#[test]
fn no_text_of_any_sheet_covers_another_or_leaves_its_page() {
    let mut sheets = 0;
    for (name, file) in made().iter().filter(|(name, _)| is_pdf(name)) {
        for (number, page) in paper::pages(file).iter().enumerate() {
            let troubles = page.troubles();
            assert!(troubles.is_empty(), "{name}, page {}: {troubles:#?}", number + 1);
            sheets += 1;
        }
    }
    assert!(sheets > 50, "{sheets}");
}

#[test]
fn every_tile_says_whose_it_is_and_which_way_it_lies() {
    for (name, file) in made().iter().filter(|(name, _)| name.ends_with("template.pdf")) {
        let id = name.split('/').next().unwrap();
        for (tile, page) in tiles(paper::pages(file)) {
            assert!(page.says(&format!("{id}   tile {tile}")).is_some());
            assert!(page.holds("GLAZING FACE UP") && page.holds("▲ top edge of the sash"));
            // A tile without a line would be paper for nothing.
            let drawn = page.paths.iter().filter(|path| path.clip.is_some());
            assert!(drawn.map(|path| path.visible().len()).sum::<usize>() > 0, "{name} {tile}");
        }
    }
}

#[test]
fn the_workshop_sheet_of_a_plain_sash_takes_three_pages() {
    for sash in ["kitchen-1", "parlour-1"] {
        let pages = pages(&format!("{sash}/workshop.pdf"));
        assert!(pages.len() <= 3, "{sash}: {}", pages.len());
        // What is set and ordered stands on the first, with the section at a scale that a rule reads.
        for words in ["Order", "Cut", "Left", "Stop", "Guide"] {
            assert!(pages[0].says(words).is_some(), "{sash}: {words}");
        }
        assert!(pages[0].holds("Section before and after, true size"), "{sash}");
        let thick = pages[0].on("timber").map(|path| path.bounds().height()).fold(0.0, f64::max);
        let expected = if sash == "kitchen-1" { 57.0 } else { 45.0 };
        assert!((thick - expected).abs() < 0.05, "{sash}: {thick}");
    }
    assert_eq!(pages("for-the-owner.pdf").len(), 1);
}

// ISO 128-2 tells lines apart by kind and width; in grey nothing else does.
#[test]
fn lines_of_a_template_are_told_apart_without_colour_and_named_on_every_tile() {
    let names = [
        ("template aperture", "cut the plate here"),
        ("new rebate", "new rebate"),
        ("sight", "sight edge"),
        ("old rebate", "old rebate"),
        ("unit", "edge of the unit"),
        ("timber", "outer edge of the sash"),
        ("plate", "edge of the plate"),
    ];
    for (name, file) in made().iter().filter(|(name, _)| name.ends_with("template.pdf")) {
        let pages = paper::pages(file);
        let count = pages.len();
        for (number, page) in pages.iter().enumerate() {
            assert!(page.holds(&format!("page {} of {count}", number + 1)), "{name} {number}");
        }
        let mut looks: BTreeMap<String, String> = BTreeMap::new();
        for (tile, page) in tiles(pages) {
            for (layer, words) in names {
                let drawn = page.on(layer).filter(|path| path.clip.is_some());
                let drawn: Vec<_> = drawn.filter(|path| !path.visible().is_empty()).collect();
                assert_eq!(page.says(words).is_some(), !drawn.is_empty(), "{name} {tile} {layer}");
                for path in drawn {
                    let known = looks.entry(path.look.clone()).or_insert_with(|| layer.to_owned());
                    assert_eq!(known, layer, "{name}: {}", path.look);
                }
            }
        }
        assert_eq!(looks.len(), names.len(), "{name}: {looks:?}");
    }
}

#[test]
fn a_stopped_sash_gets_no_template_and_no_settings() {
    let files = made();
    assert!(!files.contains_key("scullery-1/template.pdf"));
    assert!(!files.contains_key("scullery-1/template.dxf"));
    let sheet = pages("scullery-1/workshop.pdf");
    assert!(sheet.iter().any(|page| page.holds("STOP")));
    for words in ["Passes", "Template for the guide bush", "Order of work"] {
        assert!(sheet.iter().all(|page| page.says(words).is_none()), "{words}");
    }
}

#[test]
fn equal_surveys_give_equal_sheets() {
    let once = named("Samphire Cottage").unwrap().files;
    std::thread::sleep(std::time::Duration::from_millis(1100));
    let again = named("Samphire Cottage").unwrap().files;
    for name in [
        "kitchen-1/template.pdf",
        "kitchen-1/workshop.pdf",
        "kitchen-1/machine.pdf",
        "glass-order.pdf",
    ] {
        assert!(once[name] == again[name], "{name}");
    }
    for (name, file) in made().iter().filter(|(name, _)| is_pdf(name)) {
        assert!(file.len() < 120_000, "{name} has {} bytes", file.len());
    }
}

fn named(name: &str) -> Result<job::Made, String> {
    let one = EXAMPLE.split("\n# A yes with care").next().unwrap();
    let text = one.replace("house = \"Samphire Cottage\"", &format!("house = {name:?}"));
    let house = survey::read(&text, "house.toml").map_err(|mistakes| mistakes.to_string())?;
    job::make(&house).map_err(|error| error.to_string())
}

#[test]
fn names_of_many_scripts_come_out_as_they_were_written() {
    for name in
        ["Αμμόχορτο, Ιθάκη ΑΒΓ", "Дом у моря Њ АВС", "Château d’Été, Straße Łódź", "A & B <\\>(1)"]
    {
        let made = named(name).unwrap();
        for file in ["kitchen-1/template.pdf", "kitchen-1/workshop.pdf", "kitchen-1/machine.pdf"] {
            let pages = paper::pages(&made.files[file]);
            assert!(pages.iter().all(|page| page.holds(name)), "{name} {file}");
            assert!(paper::title(&made.files[file]).contains(name));
        }
    }
}

#[test]
fn a_very_long_name_stays_on_its_page() {
    let made = named(&"Ñandú Cottage behind the dunes ".repeat(3)).unwrap();
    for (name, file) in made.files.iter().filter(|(name, _)| is_pdf(name)) {
        for page in paper::pages(file) {
            assert_eq!(page.troubles(), Vec::<String>::new(), "{name}");
            assert!(page.holds("Ñandú"));
        }
    }
}

#[test]
fn a_name_that_no_sheet_can_carry_is_told_clearly() {
    let made = named("海辺の家").unwrap();
    let told: Vec<&str> = made.report.cautions.iter().map(|one| one.british.as_str()).collect();
    let told = told.join("\n");
    assert!(told.contains("glass-order.pdf could not be made"), "{told}");
    assert!(told.contains("海") && told.contains("Latin, Greek and Cyrillic"), "{told}");
    assert!(!made.files.contains_key("glass-order.pdf") && made.files.contains_key("report.json"));
    let told = named("").unwrap_err();
    assert!(told.contains("house: found \"\""), "{told}");
}

#[test]
fn other_papers_and_a_straightedge_do_as_well() {
    let with = |printer: &str, router: &str| {
        let one = EXAMPLE.split("\n# A yes with care").next().unwrap();
        let usual = (
            "{ paper = \"A4\" }",
            "{ base_diameter = 150, guide_bush = 24, guided_by = \"bush\" }",
        );
        assert!(one.contains(usual.0) && one.contains(usual.1));
        let one = one.replace(usual.0, &format!("{{ {printer}, template = \"whole\" }}"));
        let one = one.replace(usual.1, &format!("{{ {router} }}"));
        job::make(&house(&one)).unwrap().files
    };
    let cases = [
        ("paper = \"A3\"", "guided_by = \"bush\"", (297.0, 420.0)),
        ("paper = \"Letter\"", "guided_by = \"straightedge\"", (215.9, 279.4)),
        ("paper = \"roll\", roll_width = 900", "guided_by = \"bush\"", (900.0, 0.0)),
    ];
    for (printer, router, (width, height)) in cases {
        let files = with(printer, router);
        let pages = paper::pages(&files["kitchen-1/template.pdf"]);
        for page in &pages {
            assert_eq!(page.troubles(), Vec::<String>::new(), "{printer}");
        }
        let tiles = tiles(pages);
        for page in tiles.values() {
            let size = [page.width, page.height];
            let has = |side: f64| side == 0.0 || size.iter().any(|have| (have - side).abs() < 0.01);
            assert!(has(width) && has(height), "{printer} {size:?}");
        }
        if printer.contains("roll") {
            assert_eq!(tiles.len(), 1);
        }
        let wall = bounds(&together(&tiles, "new rebate"));
        if router.contains("straightedge") {
            // Base 150 and cutter 12 put the straightedge 69 mm outside the wall.
            let fence = bounds(&together(&tiles, "straightedge"));
            assert!(
                (wall.x0 - fence.x0 - 69.0).abs() < 0.05
                    && (fence.y1 - wall.y1 - 69.0).abs() < 0.05
            );
        }
        assert!((wall.width() - 648.0).abs() < 0.1 && (wall.height() - 860.0).abs() < 0.1);
    }
}

#[test]
fn the_form_asks_with_boxes_that_a_pencil_fits() {
    for (paper, width) in [(survey::Paper::A4, 210.0), (survey::Paper::Letter, 215.9)] {
        let form = fillister::sheets::form::document(paper, Voice::plain());
        let bytes = fillister::drawing::pdf::write(&form).unwrap();
        assert_eq!(bytes, fillister::drawing::pdf::write(&form).unwrap());
        let pages = paper::pages(&bytes);
        assert!(pages.len() <= 7, "{}", pages.len());
        let mut asked = 0;
        for page in &pages {
            assert!((page.width - width).abs() < 0.01);
            assert_eq!(page.troubles(), Vec::<String>::new());
            let area = Rect::new(5.0, 5.0, page.width - 5.0, page.height - 5.0);
            let boxes: Vec<Rect> =
                page.on("boxes").map(paper::Path::bounds).filter(|b| b.width() > 0.1).collect();
            asked += boxes.len();
            for (index, one) in boxes.iter().enumerate() {
                assert_eq!(area.union(*one), area);
                assert!(one.width() >= 10.0 && (one.height() >= 8.0 || one.height() < 0.1));
                let shared = |other: &&Rect| one.intersect(**other).area() > 0.1;
                assert_eq!(boxes.iter().skip(index + 1).filter(shared).count(), 0);
                // Nothing is printed where the pencil writes.
                let inside = |word: &&paper::Word| one.inflate(-0.1, -0.1).contains(word.at);
                assert_eq!(page.words.iter().find(inside).map(|word| &word.text), None);
            }
        }
        // The squares to trace on are true to size.
        assert!(asked > 150, "{asked}");
        let tracing = pages.last().unwrap().on("squares").map(paper::Path::bounds);
        let mut upright: Vec<f64> =
            tracing.filter(|line| line.width() < 0.01).map(|line| line.x0).collect();
        upright.sort_by(f64::total_cmp);
        assert!(upright.len() > 20);
        assert!(upright.windows(2).all(|pair| (pair[1] - pair[0] - 5.0).abs() < 0.02));
        for key in ["sight. width", "rebate. depth", "cutting_length (38)", "bed (1200)"] {
            assert!(pages.iter().any(|page| page.holds(key)), "{key}");
        }
    }
}

/// A side-hung sash with a bar so slender that the cutter reaches past it, and a bearing to be judged.
const SLENDER: &str = r#"
house = "Samphire Cottage"
[workshop.cutter]
holder = { diameter = 40, stick_out = 38 }
[workshop.router]
bearing = { diameter = 5, height = 6 }
[[sash]]
id = "pantry-1"
kind = "side-hung"
hinge_side = "right"
thickness = 57
sight = { width = 300, height = 400 }
stiles = { width = 57 }
rails = { width = 60 }
rebate = { width = 9, depth = 17 }
unit = { build_up = "4-6-4" }
bars = [{ runs = "upright", centre = 150, width = 7, rebate = { width = 1.5, depth = 17 } }]
"#;

#[test]
fn the_workshop_sheet_tells_boards_bearings_blocks_and_reach() {
    let made = job::make(&house(SLENDER)).unwrap();
    let pages = paper::pages(&made.files["pantry-1/workshop.pdf"]);
    for page in &pages {
        assert_eq!(page.troubles(), Vec::<String>::new());
    }
    let all: Vec<String> =
        pages.iter().flat_map(|page| page.words.iter().map(|word| word.text.clone())).collect();
    let all = all.join(" ");
    // A bar of 7 under a cutter of 12 lets it reach 2.5 past the bar, over the 2 mm left beside it.
    for words in [
        "before no. 2, or let that pass cut into it",
        "The one in the survey, 5 mm under a cutter of 12, gives 3.5 mm.",
        "left, closing stile",
        "right, hinge stile",
        "braces: wedge it",
        // 27 mm of rebate and 12 mm of plate.
        "the tip stands 39 mm below the base",
    ] {
        assert!(all.contains(words), "{words}: {all}");
    }
    let rules: Vec<&str> = made.report.sashes[0]
        .findings
        .iter()
        .filter(|finding| finding.verdict == fillister::finding::Verdict::Caution)
        .map(|finding| finding.rule)
        .collect();
    assert!(rules.contains(&"hand.reach") && rules.contains(&"hand.bearing-width"), "{rules:?}");
    let cuts = String::from_utf8(made.files["cutting-list.csv"].clone()).unwrap();
    assert!(cuts.contains("cut into from the pass: lower the bars, upright bar 1"), "{cuts}");
    // Four sides with two blocks each: 50 mm, 16 mm wide.
    assert!(cuts.contains("setting block,whole sash,2,50,16,4"), "{cuts}");
    assert_eq!(cuts.matches("location block,whole sash,2,50,16,2").count(), 3, "{cuts}");
}

// By hand: an old rebate 17 mm deep, touched 2 mm below its floor with a cutter of 12 and a feeler of 0.1; a new
// platform 27 mm down, and 3 mm of room over the board below it.
#[test]
fn the_machine_sheet_tells_zero_clamps_and_every_program() {
    let pages = pages("kitchen-1/machine.pdf");
    let words = pages.iter().flat_map(|page| page.words.iter().map(|word| word.text.clone()));
    let all = words.collect::<Vec<_>>().join(" ");
    for words in [
        "tip 19 mm below the face",
        "X reads 6.1 mm",
        "its top 30 mm or more below",
        "left, right, top 14 mm; bottom 16 mm",
    ] {
        assert!(all.contains(words), "{words}: {all}");
    }
    let paths = String::from_utf8(made()["kitchen-1/path.svg"].clone()).unwrap();
    let programs = made().keys().filter_map(|name| name.strip_prefix("kitchen-1/cuts/"));
    let told = |name: &str| assert!(all.contains(name) && paths.contains(name), "{name}: {all}");
    assert!(programs.map(told).count() >= 5);
    let places: Vec<&String> = made().keys().filter(|name| name.ends_with("setups.dxf")).collect();
    for name in places {
        let sheet = paper::pages(&made()[&name.replace("setups.dxf", "machine.pdf")]);
        assert!(sheet.iter().any(|page| page.says("Set-ups on the machine").is_some()), "{name}");
        let words = sheet.iter().flat_map(|page| page.words.iter().map(|word| word.text.clone()));
        let words = words.collect::<Vec<_>>().join(" ");
        assert_eq!(words.matches("goes in by hand").count(), 1, "{name}: {words}");
        // In set-ups the zero is the machine's: how it is set is told in one place.
        assert!(!words.contains("corner of the sight"), "{name}: {words}");
    }
    // Nothing to run, nothing to tell.
    assert!(!made().contains_key("scullery-1/machine.pdf"));
}

// What a maker gets is an order: where a figure comes from is the report's to say.
#[test]
fn no_order_says_that_a_figure_is_from_memory() {
    let states = EXAMPLE
        .replace("country = \"england\"", "country = \"us\"")
        .replace("floor = 620", "floor = 620, walkway = 600, drop = 3000, near = [\"stairs\"]");
    assert_ne!(states, EXAMPLE);
    let states = job::make(&house(&states)).unwrap().files;
    for files in [made(), &states] {
        let pages = paper::pages(&files["glass-order.pdf"]);
        let words = pages.iter().flat_map(|page| page.words.iter().map(|word| word.text.clone()));
        let csv = String::from_utf8(files["glass-order.csv"].clone()).unwrap();
        let all = format!("{} {csv}", words.collect::<Vec<_>>().join(" "));
        assert!(all.contains("safety glass"));
        assert!(!all.contains("memory") && !all.contains("not seen"), "{all}");
    }
}

// What a maker has to be told is a box to tick where the survey leaves it open, and never nothing.
#[test]
fn an_order_can_be_sent_without_a_word_more() {
    let open = EXAMPLE.replace("gas = \"argon\", ", "").replace(", glass = \"annealed\"", "");
    assert_ne!(open, EXAMPLE);
    let files = job::make(&house(&open)).unwrap().files;
    for (files, gas) in [(made(), "argon 90 %"), (&files, "[ ] argon")] {
        let pages = paper::pages(&files["glass-order.pdf"]);
        let words = |page: &paper::Page| {
            let words: Vec<&str> = page.words.iter().map(|word| word.text.as_str()).collect();
            words.join(" ").split_whitespace().collect::<Vec<_>>().join(" ")
        };
        let first = words(&pages[0]);
        for what in ["order number and date", "deliver to", "in all", "price each"] {
            assert!(first.contains(what), "{what}: {first}");
        }
        // Words of a shaped unit run on over the page.
        let units = pages[1..].iter().map(words).collect::<Vec<_>>().join(" ");
        assert!(!units.contains(" none"), "{units}");
        let count = units.matches("ORDER SIZE").count();
        assert!(count >= 9, "{units}");
        for what in ["outside pane, faces 1 and 2", gas, "spacer colour [ ] black"] {
            assert!(units.matches(what).count() >= count, "{what}: {units}");
        }
    }
}
