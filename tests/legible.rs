//! Whether sheets can be read, measured on the written PDF with a library that had no part in writing it: size of
//! letters, words over words, lines through words, words that are cut off.

use crate::paper::{self, Page, Word};
use crate::shaped;
use crate::support::invented::longer_words;
use crate::support::runs::for_all;
use crate::support::{houses, machinable};
use fillister::job::{self, Work};
use fillister::language::Language;
use fillister::sheets::kit::Voice;
use fillister::sheets::{self, form};
use fillister::survey::{self, House, Paper, With};
use kurbo::{Affine, Line, Point, Rect, Size};
use proptest::prelude::*;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// Millimetres of a point.
const POINT: f64 = 25.4 / 72.0;
/// Least size of letters, points: what is written on drawings.
const LEAST: f64 = 8.0;
/// A line may come so close to letters, mm.
const CLOSE: f64 = 0.05;
/// Height of letters as shares of their size: capitals, and tails below the line, of DejaVu Sans Condensed.
const CAPITALS: f64 = 0.73;
const TAILS: f64 = 0.22;

/// What keeps a page from being read.
fn troubles(page: &Page) -> Vec<String> {
    let mut found = page.troubles();
    let lines: Vec<(&str, Line, Rect)> = page
        .paths
        .iter()
        .filter(|path| !path.filled)
        .flat_map(|path| path.visible().into_iter().map(|line| (path.layer.as_str(), line)))
        .map(|(layer, line)| (layer, line, Rect::from_points(line.p0, line.p1).inflate(0.1, 0.1)))
        .collect();
    for word in &page.words {
        let size = word.size / POINT;
        if size < LEAST - 0.02 {
            found.push(format!("{:?} has {size:.1} points", word.text));
        }
        if let Some(clip) = word.clip
            && !word.corners().iter().all(|&corner| clip.inflate(0.01, 0.01).contains(corner))
        {
            found.push(format!("{:?} is cut off", word.text));
        }
        let bounds = word.corners();
        let bounds =
            Rect::from_points(bounds[0], bounds[2]).union(Rect::from_points(bounds[1], bounds[3]));
        let struck = lines.iter().filter(|(_, _, around)| around.overlaps(bounds));
        let mut struck = struck.filter(|(_, line, _)| strikes(word, *line));
        if let Some((layer, ..)) = struck.next() {
            found.push(format!("{:?} is struck by a line of {layer:?}", word.text));
        }
    }
    found
}

/// Whether a line runs through the letters of a word.
fn strikes(word: &Word, line: Line) -> bool {
    let flat = Affine::rotate(-word.turn) * Affine::translate(-word.at.to_vec2());
    let (a, b) = (flat * line.p0, flat * line.p1);
    let tails =
        if word.text.contains(['g', 'j', 'p', 'q', 'y', ',', ';', '(', ')']) { TAILS } else { 0.0 };
    let letters = Rect::new(0.0, -tails * word.size, word.length, CAPITALS * word.size);
    let letters = letters.inset(-CLOSE);
    // Cut by halves as elsewhere here: a piece of the line inside the box has a point at a tenth of a millimetre.
    let steps = ((b - a).hypot() / 0.1).ceil().max(1.0);
    let at = |share: f64| a.lerp(b, share);
    let (low, high) = (a.y.min(b.y), a.y.max(b.y));
    let (left, right) = (a.x.min(b.x), a.x.max(b.x));
    if high < letters.y0 || low > letters.y1 || right < letters.x0 || left > letters.x1 {
        return false;
    }
    let mut step = 0.0;
    while step <= steps {
        let p: Point = at(step / steps);
        if p.x > letters.x0 && p.x < letters.x1 && p.y > letters.y0 && p.y < letters.y1 {
            return true;
        }
        step += 1.0;
    }
    false
}

fn is_pdf(name: &str) -> bool {
    name.rsplit_once('.').is_some_and(|(_, ending)| ending == "pdf")
}

/// Troubles of every sheet of a house, by sheet and page.
fn of_house(files: &BTreeMap<String, Vec<u8>>) -> Vec<String> {
    let mut all = Vec::new();
    for (name, file) in files.iter().filter(|(name, _)| is_pdf(name)) {
        for (number, page) in paper::pages(file).iter().enumerate() {
            let found = troubles(page).into_iter();
            all.extend(found.map(|what| format!("{name} {}: {what}", number + 1)));
        }
    }
    all
}

#[test]
fn every_sheet_of_the_example_can_be_read() {
    let text = include_str!("../examples/samphire-cottage.toml");
    let house = fillister::survey::read(text, "samphire-cottage.toml").unwrap();
    let found = of_house(&job::make(&house).unwrap().files);
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
}

/// The example as a survey asks that names a file of texts.
fn in_words(words: &str, printer: &str) -> House {
    let text = include_str!("../examples/samphire-cottage.toml");
    let own = text.replace("{ paper = \"A4\" }", printer);
    assert_ne!(own, text);
    let open = |_: &str| Ok(words.as_bytes().to_vec());
    let with = With { shows: None, open: &open };
    survey::read_with(own.as_bytes(), "house.toml", &with).unwrap()
}

// The words of another language may be longer by half: sheets give way, and letters stay where they are read.
#[test]
fn every_sheet_can_be_read_in_longer_words() {
    let words = longer_words();
    let own = Language::of_file(words.as_bytes()).unwrap();
    let lengths = [own, Language::british()].map(|one| one.tell("step-bed", []).chars().count());
    assert!(10 * lengths[0] > 13 * lengths[1], "{lengths:?}");
    let house = in_words(&words, "{ paper = \"A4\", words_file = \"own.ftl\" }");
    let made = job::make(&house).unwrap();
    let mut found = of_house(&made.files);
    let summary = String::from_utf8(made.files["summary.txt"].clone()).unwrap();
    let wide = summary.lines().filter(|line| line.chars().count() > 80);
    found.extend(wide.map(|line| format!("summary.txt: {line}")));
    found.extend(of_forms(Voice::of(&house.workshop.printer)));
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
    let all = RefCell::new(Vec::new());
    for_all(6, &prop_oneof![2 => machinable::house(), 1 => houses::house()], |mut house| {
        house.workshop.printer.language = own;
        all.borrow_mut().extend(of_house(&job::make(&house).unwrap().files));
        Ok(())
    });
    let all = all.into_inner();
    assert!(all.is_empty(), "{}\n{}", all.len(), all.join("\n"));
}

/// Troubles of the form on every paper.
fn of_forms(voice: Voice) -> Vec<String> {
    let papers = [Paper::A4, Paper::A3, Paper::Letter].into_iter();
    let forms = papers.map(|paper| {
        let form = fillister::drawing::pdf::write(&form::document(paper, voice)).unwrap();
        of_house(&BTreeMap::from([(format!("{paper:?}.pdf"), form)]))
    });
    forms.flatten().collect()
}

#[test]
fn the_measuring_form_can_be_read() {
    let found = of_forms(Voice::plain());
    assert!(found.is_empty(), "{}\n{}", found.len(), found.join("\n"));
}

#[test]
fn every_sheet_of_a_random_house_can_be_read() {
    let all = RefCell::new(Vec::new());
    let any = prop_oneof![2 => machinable::house(), 1 => houses::house()];
    for_all(12, &any, |house| {
        let made = job::make(&house).unwrap();
        all.borrow_mut().extend(of_house(&made.files));
        Ok(())
    });
    let all = all.into_inner();
    assert!(all.is_empty(), "{}\n{}", all.len(), all.join("\n"));
}

// Between bars 40 mm apart no name has room, and a letter has: there are more of them than the alphabet has.
#[test]
fn no_letter_of_a_drawing_stands_for_two_names() {
    let bar =
        |at: u32, runs: &str| format!("{{ runs = \"{runs}\", centre = {}, width = 16 }}", 40 * at);
    let bars = (1..10).flat_map(|at| ["upright", "cross"].map(|runs| bar(at, runs)));
    let text = format!(
        "house = \"Dense\"\n[[sash]]\nid = \"dense\"\nkind = \"fixed\"\nthickness = 45\n\
         sight = {{ width = 400, height = 400 }}\nstiles = {{ width = 50 }}\n\
         rails = {{ top = 50, bottom = 50 }}\nrebate = {{ width = 6, depth = 14 }}\n\
         moulding = {{ shape = \"square\" }}\nunit = {{ build_up = \"4-6-4\" }}\nbars = [{}]\n",
        bars.collect::<Vec<_>>().join(", ")
    );
    let house = survey::read(&text, "dense.toml").unwrap_or_else(|mistakes| panic!("{mistakes}"));
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    let subject = shaped::subject(&house, &work);
    let scene = sheets::elevation::elevation(&subject, Size::new(220.0, 220.0)).unwrap();
    let texts: Vec<String> = scene.texts().map(|text| text.value.clone()).collect();
    let is_letter = |text: &&String| {
        let rest = text.strip_prefix(|c: char| c.is_ascii_lowercase());
        rest.is_some_and(|rest| rest.chars().all(|c| c.is_ascii_digit()))
    };
    let letters: Vec<&String> = texts.iter().filter(is_letter).collect();
    let once: BTreeSet<&String> = letters.iter().copied().collect();
    assert!(once.len() > 10 && once.len() == letters.len(), "{letters:?}");
}
