//! Tiles of a template laid mark on mark.

use super::Page;
use kurbo::{Line, ParamCurveNearest, Point, Vec2};
use std::collections::BTreeMap;

/// The pages that are tiles, by name.
pub(crate) fn tiles(pages: Vec<Page>) -> BTreeMap<String, Page> {
    let name = |page: &Page| {
        let word = page.words.iter().find(|word| word.text.contains("   tile "))?;
        Some(word.text.rsplit(' ').next().unwrap().to_owned())
    };
    pages.into_iter().filter_map(|page| Some((name(&page)?, page))).collect()
}

/// Middle of each joining mark of a tile, by number and letter.
pub(crate) fn marks(page: &Page) -> BTreeMap<String, Point> {
    let circles: Vec<Point> = page
        .on("joining marks")
        .filter(|path| (path.bounds().width() - 5.0).abs() < 0.01)
        .map(|path| path.bounds().center())
        .collect();
    let is_mark = |text: &str| {
        text.len() >= 2
            && text.ends_with(['a', 'b'])
            && text[..text.len() - 1].chars().all(|c| c.is_ascii_digit())
    };
    let words = page.words.iter().filter(|word| is_mark(&word.text));
    words
        .map(|word| {
            let nearest = circles
                .iter()
                .min_by(|a, b| (**a - word.at).hypot().total_cmp(&(**b - word.at).hypot()));
            (word.text.clone(), *nearest.unwrap())
        })
        .collect()
}

/// How far each tile must be moved so that all marks lie on each other; the first stays.
pub(crate) fn assembled(tiles: &BTreeMap<String, Page>) -> BTreeMap<String, Vec2> {
    let marks: BTreeMap<&String, _> =
        tiles.iter().map(|(name, page)| (name, marks(page))).collect();
    let first = tiles.keys().next().unwrap();
    let mut moved = BTreeMap::from([(first.clone(), Vec2::ZERO)]);
    let mut grown = true;
    while grown {
        grown = false;
        for (name, own) in &marks {
            if moved.contains_key(*name) {
                continue;
            }
            let joined = moved.iter().find_map(|(other, by)| {
                let shared: Vec<(Point, Point)> = marks[other]
                    .iter()
                    .filter_map(|(mark, at)| Some((*at + *by, *own.get(mark)?)))
                    .collect();
                let [(a, b), (c, d)] = shared.as_slice() else { return None };
                // Both marks of the seam agree, so no tile is turned.
                assert!(((*a - *b) - (*c - *d)).hypot() < 0.01);
                Some(*a - *b)
            });
            if let Some(by) = joined {
                moved.insert((*name).clone(), by);
                grown = true;
            }
        }
    }
    assert_eq!(moved.len(), tiles.len(), "every tile is joined to the others");
    moved
}

/// Everything visible of a layer once the tiles lie together.
pub(crate) fn together(tiles: &BTreeMap<String, Page>, layer: &str) -> Vec<Line> {
    let moved = assembled(tiles);
    let mut lines = Vec::new();
    for (name, page) in tiles {
        // The legend at the foot shows a stroke of each layer as well; it is not clipped.
        for path in page.on(layer).filter(|path| path.clip.is_some()) {
            let by = moved[name];
            lines.extend(path.visible().into_iter().map(|l| Line::new(l.p0 + by, l.p1 + by)));
        }
    }
    lines
}

pub(crate) fn off(lines: &[Line], point: Point) -> f64 {
    lines
        .iter()
        .map(|line| line.nearest(point, 1e-6).distance_sq.sqrt())
        .fold(f64::INFINITY, f64::min)
}
