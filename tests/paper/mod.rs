//! Reads the pages of a PDF back with `hayro_syntax`, which shares nothing with the pen. It mends a file whose list of
//! places is wrong; a printer need not, so the list is asked here first.

pub(crate) mod joined;

use hayro_syntax::Pdf;
use hayro_syntax::object::{Array, Dict, Object, Stream};
use kurbo::{Affine, BezPath, CubicBez, Line, ParamCurve, Point, Rect};
use std::collections::BTreeMap;

/// A point is 25.4/72 mm.
const MM: f64 = 25.4 / 72.0;

/// One stroked or filled path, in millimetres of the page.
#[derive(Debug, Clone)]
pub(crate) struct Path {
    pub(crate) layer: String,
    pub(crate) line: BezPath,
    pub(crate) clip: Option<Rect>,
    pub(crate) filled: bool,
    /// Its width and its dashes.
    pub(crate) look: String,
}

/// One piece of text: where its base line begins, its length, its type size, its turn.
#[derive(Debug, Clone)]
pub(crate) struct Word {
    pub(crate) text: String,
    pub(crate) at: Point,
    pub(crate) length: f64,
    pub(crate) size: f64,
    pub(crate) turn: f64,
    pub(crate) clip: Option<Rect>,
}

impl Word {
    /// Corners of the box between tails and accents, anticlockwise.
    pub(crate) fn corners(&self) -> [Point; 4] {
        let place = Affine::translate(self.at.to_vec2()) * Affine::rotate(self.turn);
        let (low, high) = (-0.25 * self.size, 0.94 * self.size);
        [(0.0, low), (self.length, low), (self.length, high), (0.0, high)]
            .map(|(x, y)| place * Point::new(x, y))
    }

    /// Whether the boxes of both share any area: no side of either keeps the other off.
    pub(crate) fn covers(&self, other: &Word) -> bool {
        let off = |a: &[Point; 4], b: &[Point; 4]| {
            (0..4).any(|i| {
                let (p, q) = (a[i], a[(i + 1) % 4]);
                b.iter().all(|&corner| (q - p).cross(corner - p) <= 1e-6)
            })
        };
        let (a, b) = (self.corners(), other.corners());
        !off(&a, &b) && !off(&b, &a)
    }
}

#[derive(Debug, Clone)]
pub(crate) struct Page {
    pub(crate) width: f64,
    pub(crate) height: f64,
    pub(crate) paths: Vec<Path>,
    pub(crate) words: Vec<Word>,
}

/// Widths and characters by code.
struct Face {
    widths: BTreeMap<u16, f64>,
    text: BTreeMap<u16, String>,
}

fn face(font: &Dict<'_>) -> Face {
    let unicode = font.get::<Stream<'_>>("ToUnicode").unwrap().decoded().unwrap();
    let mut text = BTreeMap::new();
    for line in str::from_utf8(&unicode).unwrap().lines().filter(|line| line.starts_with('<')) {
        let words: Vec<&str> = line.split(['<', '>']).filter(|w| !w.trim().is_empty()).collect();
        if let [code, value] = words.as_slice()
            && code.len() == 4
            && let Ok(code) = u16::from_str_radix(code, 16)
        {
            let units: Vec<u16> = (0..value.len() / 4)
                .map(|i| u16::from_str_radix(&value[4 * i..4 * i + 4], 16).unwrap())
                .collect();
            text.insert(code, String::from_utf16(&units).unwrap());
        }
    }
    let inner =
        font.get::<Array<'_>>("DescendantFonts").unwrap().iter::<Dict<'_>>().next().unwrap();
    let mut widths = BTreeMap::new();
    let list = inner.get::<Array<'_>>("W").unwrap();
    let mut list = list.flex_iter();
    while let Some(first) = list.next::<u16>() {
        let run = list.next::<Array<'_>>().unwrap();
        widths.extend((first..).zip(run.iter::<f64>().map(|width| width / 1000.0)));
    }
    Face { widths, text }
}

/// The file, once its list of places leads to the beginning of every object.
fn document(bytes: &[u8]) -> Pdf {
    let end = String::from_utf8_lossy(&bytes[bytes.len() - 40..]);
    let place = end.split_once("startxref").unwrap().1.split_ascii_whitespace().next().unwrap();
    let list = String::from_utf8_lossy(&bytes[place.parse().unwrap()..]);
    let mut lines = list.lines();
    assert_eq!(lines.next(), Some("xref"));
    let count: usize = lines.next().unwrap().strip_prefix("0 ").unwrap().parse().unwrap();
    for (number, entry) in lines.take(count).enumerate() {
        let place: usize = entry.split(' ').next().unwrap().parse().unwrap();
        let head = format!("{number} 0 obj");
        let found = entry.trim_end().ends_with('f') || bytes[place..].starts_with(head.as_bytes());
        assert!(found, "no {head} where the file says");
    }
    Pdf::new(bytes.to_vec()).unwrap()
}

/// Every page of the file.
pub(crate) fn pages(bytes: &[u8]) -> Vec<Page> {
    document(bytes).pages().iter().map(page).collect()
}

pub(crate) fn title(bytes: &[u8]) -> String {
    let document = document(bytes);
    let title = document.metadata().title.as_deref().unwrap();
    // Text beyond ASCII follows a mark of byte order (ISO 32000-1:2008, 7.9.2.2).
    match title.strip_prefix(b"\xfe\xff") {
        Some(units) => {
            let units = units.chunks(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
            String::from_utf16(&units.collect::<Vec<u16>>()).unwrap()
        }
        None => str::from_utf8(title).unwrap().to_owned(),
    }
}

#[derive(Clone)]
struct State {
    place: Affine,
    clip: Option<Rect>,
}

fn page(sheet: &hayro_syntax::page::Page<'_>) -> Page {
    let media = sheet.media_box();
    let fonts = &sheet.resources().fonts;
    let face = face(&fonts.get(fonts.keys().next().unwrap()).unwrap());
    let mut found =
        Page { width: media.x1 * MM, height: media.y1 * MM, paths: Vec::new(), words: Vec::new() };
    let points = Affine::scale(MM);
    let mut state = State { place: points, clip: None };
    let (mut saved, mut path, mut layer) = (Vec::new(), BezPath::new(), String::new());
    let (mut size, mut matrix, mut wants_clip) = (0.0, Affine::IDENTITY, false);
    let (mut wide, mut dashes) = (0.0, String::new());
    let mut operations = sheet.operations();
    while let Some(operation) = operations.next() {
        let first = operation.operands().next();
        let n: Vec<f64> = operation
            .operands()
            .filter_map(|operand| match operand {
                Object::Number(number) => Some(number.as_f64()),
                _ => None,
            })
            .collect();
        let at = |i: usize| state.place * Point::new(n[i], n[i + 1]);
        let operator = str::from_utf8(operation.operator).unwrap();
        match operator {
            "q" => saved.push(state.clone()),
            "Q" => state = saved.pop().unwrap(),
            "cm" => state.place *= Affine::new([n[0], n[1], n[2], n[3], n[4], n[5]]),
            "m" => path.move_to(at(0)),
            "l" => path.line_to(at(0)),
            "c" => path.curve_to(at(0), at(2), at(4)),
            "h" => path.close_path(),
            "re" => {
                let rect =
                    Rect::from_points(at(0), state.place * Point::new(n[0] + n[2], n[1] + n[3]));
                path.extend(kurbo::Shape::path_elements(&rect, 0.1));
            }
            "W" => wants_clip = true,
            "n" => {
                if std::mem::take(&mut wants_clip) {
                    let rect = kurbo::Shape::bounding_box(&path);
                    state.clip = Some(state.clip.map_or(rect, |clip| clip.intersect(rect)));
                }
                path = BezPath::new();
            }
            "S" | "f*" => {
                let filled = operator == "f*";
                let line = std::mem::take(&mut path);
                let look = format!("{wide:.2} {dashes}");
                let layer = layer.clone();
                found.paths.push(Path { layer, line, clip: state.clip, filled, look });
            }
            "BMC" => {
                let Some(Object::Name(name)) = first else { panic!("no name") };
                name.as_str().clone_into(&mut layer);
            }
            "EMC" => layer.clear(),
            "Tf" => size = n[0],
            "Tm" => matrix = Affine::new([n[0], n[1], n[2], n[3], n[4], n[5]]),
            "Tj" => {
                let Some(Object::String(bytes)) = first else { panic!("no text") };
                let codes =
                    bytes.as_ref().chunks(2).map(|pair| u16::from_be_bytes([pair[0], pair[1]]));
                let codes: Vec<u16> = codes.collect();
                let text = codes.iter().map(|code| face.text[code].as_str()).collect();
                let em: f64 = codes.iter().map(|code| face.widths[code]).sum();
                let place = state.place * matrix;
                let (from, to) = (place * Point::ZERO, place * Point::new(em * size, 0.0));
                let up = place * Point::new(0.0, size);
                let along = place * Point::new(1.0, 0.0) - from;
                found.words.push(Word {
                    text,
                    at: from,
                    length: (to - from).hypot(),
                    size: (up - from).hypot(),
                    turn: along.atan2(),
                    clip: state.clip,
                });
            }
            "w" => wide = n[0],
            "d" => dashes = format!("{:?}", first.unwrap()),
            "RG" | "J" | "j" | "rg" | "BT" | "ET" => {}
            other => panic!("unexpected operator {other}"),
        }
    }
    assert!(saved.is_empty() && path.elements().is_empty());
    found
}

impl Page {
    /// Texts that cover each other or leave the page.
    pub(crate) fn troubles(&self) -> Vec<String> {
        let paper = Rect::new(0.0, 0.0, self.width, self.height);
        let mut troubles = Vec::new();
        for (index, word) in self.words.iter().enumerate() {
            if !word.corners().iter().all(|&corner| paper.contains(corner)) {
                troubles.push(format!("{:?} leaves the page", word.text));
            }
            for other in self.words.iter().skip(index + 1).filter(|other| word.covers(other)) {
                troubles.push(format!("{:?} covers {:?}", word.text, other.text));
            }
        }
        troubles
    }

    /// Unfilled paths of a layer.
    pub(crate) fn on<'a>(&'a self, layer: &'a str) -> impl Iterator<Item = &'a Path> {
        self.paths.iter().filter(move |path| path.layer == layer && !path.filled)
    }

    /// Where the text that says exactly this begins.
    pub(crate) fn says(&self, text: &str) -> Option<&Word> {
        self.words.iter().find(|word| word.text == text)
    }

    pub(crate) fn holds(&self, text: &str) -> bool {
        self.words.iter().any(|word| word.text.contains(text))
    }
}

impl Path {
    pub(crate) fn bounds(&self) -> Rect {
        kurbo::Shape::bounding_box(&self.line)
    }

    pub(crate) fn length(&self) -> f64 {
        kurbo::Shape::perimeter(&self.line, 1e-6)
    }

    /// Straight pieces inside the clip, curves as many short ones.
    pub(crate) fn visible(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        for segment in self.line.segments() {
            match segment {
                kurbo::PathSeg::Line(line) => lines.extend(self.clipped(line)),
                kurbo::PathSeg::Cubic(curve) => {
                    for step in 0..16 {
                        lines.extend(self.clipped(chord(curve, step)));
                    }
                }
                kurbo::PathSeg::Quad(_) => panic!("no quadratic curves in PDF"),
            }
        }
        lines
    }

    fn clipped(&self, line: Line) -> Option<Line> {
        let Some(clip) = self.clip else { return Some(line) };
        // Cut by halves: slow, plain, and unlike what the pen or the tiles do.
        let inside = |t: f64| {
            let p = line.eval(t);
            p.x >= clip.x0 - 1e-9
                && p.x <= clip.x1 + 1e-9
                && p.y >= clip.y0 - 1e-9
                && p.y <= clip.y1 + 1e-9
        };
        let steps = (line.length() * 4.0).ceil().max(2.0);
        let counted = std::iter::successors(Some(0.0), |i| Some(i + 1.0));
        let shares = counted.take_while(|&i| i <= steps).map(|i| i / steps);
        let ts: Vec<f64> = shares.filter(|&t| inside(t)).collect();
        let (&first, &last) = (ts.first()?, ts.last()?);
        let refine = |mut good: f64, mut bad: f64| {
            for _ in 0..50 {
                let middle = f64::midpoint(good, bad);
                if inside(middle) { good = middle } else { bad = middle }
            }
            good
        };
        let step = 1.0 / steps;
        let from = if first > 0.0 { refine(first, first - step) } else { 0.0 };
        let to = if last < 1.0 { refine(last, (last + step).min(1.0)) } else { 1.0 };
        Some(Line::new(line.eval(from), line.eval(to)))
    }
}

fn chord(curve: CubicBez, step: u32) -> Line {
    let at = |step: u32| curve.eval(f64::from(step) / 16.0);
    Line::new(at(step), at(step + 1))
}
