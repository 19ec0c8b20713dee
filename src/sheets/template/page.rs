//! One tile on its page, with everything that tells where it belongs.

use super::tiles::{MARK_REACH, Tiling};
use super::{Format, check, cover, looks, naming};
use crate::drawing::{Across, Item, Layer, Page, Placed, Scene, Text, Up};
use crate::geometry::{Edge, Outline, OutlineError};
use crate::number::NotFinite;
use crate::sheets::kit::{
    LABEL, LARGE, Obstacle, Room, SMALL, Voice, clearest, cross, fitted, mm, tell,
};
use crate::sheets::layers::{MARKS, TILES, WORDS};
use crate::sheets::{SheetError, Subject};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::TAU;

/// Height of the words under a tile, mm.
pub(super) const FOOT: f64 = 27.0;
/// Width of the map at the foot, mm.
const MAP: f64 = 30.0;
/// Radius of a joining mark, mm.
const MARK: f64 = MARK_REACH / 2.0;

/// Where the square of a tile lies in the drawing, and how much it meets there; none where it would lie over a line.
pub(super) fn square(
    tiling: &Tiling,
    index: usize,
    (voice, edges): (Voice, &[Edge]),
) -> Option<(Option<check::Place>, check::Met)> {
    let tile = tiling.tiles.get(index)?;
    let mut busy = Obstacle::all(edges);
    busy.retain(|edge| edge.runs_through(tile.window));
    let mut seams = Vec::new();
    for seam in tiling.seams_of(index) {
        let [from, to] = seam.line;
        seams.push(Obstacle::new(&Edge::line(from, to)));
        // A mark with its number.
        busy.extend(seam.marks.map(|mark| {
            let (from, to) = (Vec2::new(-2.0 * MARK, 0.0), Vec2::new(4.0 * MARK, 3.0 * MARK));
            Obstacle::new(&Edge::line(mark + from, mark + to))
        }));
    }
    let (place, met) = check::place(tile.window, voice, &busy, &seams);
    Some(((met < check::GRAVER).then_some(place), met))
}

/// The page of the tile with that index, its square in its place; none where there is no such tile.
pub(super) fn tile(
    subject: &Subject<'_>,
    scene: &Scene,
    edges: &[Edge],
    (tiling, index, square): (&Tiling, usize, Option<check::Place>),
    (format, before): (Format, usize),
) -> Result<Option<Page>, SheetError> {
    let Some(tile) = tiling.tiles.get(index) else { return Ok(None) };
    let shift = format.window.origin() - tile.window.origin();
    let lines = Placed {
        scene: scene.clone(),
        scale: 1.0,
        at: shift.to_point(),
        clip: Some(format.window),
    };
    let voice = subject.voice();
    let mut over = Scene::new("", "", &[]);
    over.add(&TILES, Item::Outline(Outline::rectangle(format.window)?));
    let mut busy = Obstacle::all(edges);
    busy.retain(|edge| edge.runs_through(tile.window));
    let marked = tiling.seams_of(index).flat_map(|seam| seam.marks).flat_map(mark);
    let marked = Obstacle::all(&marked.collect::<Vec<_>>());
    let clear = |square: &check::Place| {
        [&busy, &marked].iter().all(|lines| check::is_clear(*square, voice, lines))
    };
    let with_words = square.filter(clear);
    busy.extend(square.map(check::sides).unwrap_or_default());
    busy.extend(with_words.map(|square| check::said(square, voice)).unwrap_or_default());
    let kept = marked.into_iter().chain(busy.iter().cloned()).collect();
    // Names keep clear of lines, of the square and of joining marks.
    let mut taken = marks(&mut over, tiling, index, shift, kept);
    taken.extend(square.map(check::Place::square));
    for seam in tiling.seams_of(index) {
        taken.extend(seam.marks.map(|mark| Rect::from_center_size(mark, (8.0 * MARK, 6.0 * MARK))));
    }
    if let Some(square) = square {
        let corner = square.corner + shift;
        check::add(&mut over, check::Place { corner, ..square }, with_words.map(|_| voice))?;
    }
    let room = Room { window: tile.window, lines: &busy, taken: &mut taken, scale: 1.0 };
    let unnamed = naming::add(&mut over, scene, room, (shift, voice));
    let measure = match (square, with_words) {
        (_, Some(_)) => None,
        (Some(_), None) => Some(voice.word("template-measure-square")),
        (None, None) => {
            let [width, height] = [format.window.width(), format.window.height()].map(mm);
            Some(tell!(voice, "template-measure-frame", width = width?, height = height?))
        }
    };
    foot(&mut over, subject, (tiling, index), (format, before), (measure, &unnamed))?;
    Ok(Some(Page { size: format.size, placed: vec![lines, Placed::on_page(over)] }))
}

/// A joining mark: a cross in a circle.
fn mark(at: Point) -> [Edge; 3] {
    let [level, upright] = cross(at, MARK_REACH);
    [level, upright, Edge::circle(at, MARK)]
}

/// Crosses in circles on the middle of every seam; gives the boxes of their numbers.
fn marks(
    over: &mut Scene,
    tiling: &Tiling,
    index: usize,
    shift: Vec2,
    mut kept: Vec<Obstacle>,
) -> Vec<Rect> {
    let mut numbers = Vec::new();
    let window = tiling.tiles.get(index).map_or(Rect::ZERO, |tile| tile.window);
    for (number, seam) in tiling.seams.iter().enumerate().filter(|(_, s)| s.tiles.contains(&index))
    {
        let [from, to] = seam.line.map(|point| point + shift);
        let along = (to - from).normalize();
        let upright = along.x.abs() < along.y.abs();
        for (at, letter) in seam.marks.into_iter().zip(["a", "b"]) {
            over.add_all(&MARKS, mark(at + shift).map(Item::Edge));
            let name = format!("{}{letter}", number + 1);
            let text = Text::new(name.clone(), at, SMALL);
            let beside =
                if upright { Vec2::new(1.0, 2.0 * MARK) } else { Vec2::new(2.0 * MARK + 1.0, 0.7) };
            let put = |x: f64, y: f64, anchor: Across| {
                let at = at + Vec2::new(x * beside.x, y * beside.y);
                Text { at, ..text.clone() }
                    .anchored(anchor, if y > 0.0 { Up::Base } else { Up::Top })
            };
            // Over it or under it, to either side: where a line of the sash does not strike it.
            let signs = [(1.0, -1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, 1.0)];
            let others = [1.0, 1.7, 2.5, 4.0].into_iter().flat_map(|far| {
                signs.map(|(x, y)| {
                    put(far * x, far * y, if x > 0.0 { Across::Left } else { Across::Right })
                })
            });
            // Further off all round, where it is crowded.
            let name = &name;
            let around = [3.2, 4.5, 6.0].into_iter().flat_map(|far| {
                (0..16_u32).map(move |step| {
                    let ray = Vec2::from_angle(f64::from(step) * TAU / 16.0);
                    let text = Text::new(name.clone(), at + far * MARK * ray, SMALL);
                    text.anchored(Across::Centre, Up::Middle)
                })
            });
            let others = others.chain(around).filter(|text| window.contains_rect(text.bounds()));
            let text = clearest(put(1.0, 1.0, Across::Left), others, &kept);
            let taken = text.bounds();
            kept.extend(Obstacle::all(&frame(taken)));
            numbers.push(taken);
            over.add(&WORDS, Item::Text(Text { at: text.at + shift, ..text }));
        }
    }
    numbers
}

/// The sides of a box and a line across it: what meets the box meets one of them.
fn frame(all: Rect) -> [Edge; 5] {
    let corners = [(all.x0, all.y0), (all.x1, all.y0), (all.x1, all.y1), (all.x0, all.y1)];
    let [a, b, c, d] = corners.map(Point::from);
    [(a, b), (b, c), (c, d), (d, a), (a, c)].map(|(from, to)| Edge::line(from, to))
}

fn foot(
    over: &mut Scene,
    subject: &Subject<'_>,
    (tiling, index): (&Tiling, usize),
    (format, before): (Format, usize),
    (measure, unnamed): (Option<String>, &[&Layer]),
) -> Result<(), SheetError> {
    let Some(tile) = tiling.tiles.get(index) else { return Ok(()) };
    let voice = subject.voice();
    let left = format.margin;
    let width = format.window.width() - MAP - 4.0;
    let mut y = format.margin + FOOT - 2.0;
    let count = tiling.tiles.len();
    let overlaps = overlaps(tiling, index, voice)?;
    let join = if overlaps.is_empty() {
        voice.word("template-alone")
    } else {
        tell!(voice, "template-overlap", overlaps)
    };
    let [x, y_up] = [tile.window.x0, tile.window.y0].map(mm);
    let place = tell!(voice, "template-corner", x = x?, y = y_up?);
    let number = tell!(voice, "page-number", number = before + index + 1, count = before + count);
    let number = Text::new(number, Point::new(left + width, y), SMALL);
    over.add(&WORDS, Item::Text(number.anchored(Across::Right, Up::Top)));
    let lines = [
        (tell!(voice, "template-tile", sash = subject.id(), tile = tile.name()), LARGE),
        (tell!(voice, "template-face-up", house = subject.house), 1.2 * SMALL),
        ([Some(join), measure].into_iter().flatten().collect::<Vec<_>>().join("; "), SMALL),
        (place, SMALL),
    ];
    for (words, height) in lines {
        // Beside the first stands the number of the page.
        let room = if height > LABEL.max(1.2 * SMALL) { width - 30.0 } else { width };
        let text = fitted(&voice.said(&words), Point::new(left, y), height, room);
        over.add(&WORDS, Item::Text(text.anchored(Across::Left, Up::Top)));
        y -= 1.75 * height;
    }
    legend(over, voice, unnamed, Point::new(left, y - 0.5), width);
    let corner = Point::new(format.window.x1, format.margin);
    let map = Rect::new(corner.x - MAP, corner.y, corner.x, corner.y + FOOT - 2.0);
    small_map(over, tiling, index, map)?;
    Ok(())
}

/// The overlaps with neighbours beside, above and below, without saying a width twice.
fn overlaps(tiling: &Tiling, index: usize, voice: Voice) -> Result<String, NotFinite> {
    let mut widths: Vec<String> = Vec::new();
    for seam in tiling.seams_of(index) {
        let width = tell!(voice, "length-mm", length = mm(seam.overlap)?);
        if !widths.contains(&width) {
            widths.push(width);
        }
    }
    Ok(voice.listed(&widths))
}

/// A stroke of each layer that has no room for its name beside it, in rows.
fn legend(over: &mut Scene, voice: Voice, layers: &[&Layer], from: Point, width: f64) {
    let height = LABEL;
    let (stroke, gap) = (9.0, 3.0);
    let (mut x, mut y) = (from.x, from.y - height);
    for layer in layers {
        let text = Text::new(voice.word(looks::key(layer)), Point::ZERO, height);
        let wide = stroke + 1.5 + text.width() + gap;
        if x + wide > from.x + width {
            x = from.x;
            y -= 2.2 * height;
        }
        let level = y + height / 2.0;
        let line = Edge::line(Point::new(x, level), Point::new(x + stroke, level));
        over.add(layer, Item::Edge(line));
        over.add(&WORDS, Item::Text(Text { at: Point::new(x + stroke + 1.5, y), ..text }));
        x += wide;
    }
}

/// Where this tile lies among the others.
fn small_map(
    over: &mut Scene,
    tiling: &Tiling,
    index: usize,
    within: Rect,
) -> Result<(), OutlineError> {
    let whole = cover::whole(tiling);
    let scale = (within.width() / whole.width()).min(within.height() / whole.height());
    let corner = Point::new(within.x1 - scale * whole.width(), within.y0);
    let place = |p: Point| corner + scale * (p - whole.origin());
    for (other, tile) in tiling.tiles.iter().enumerate() {
        let (a, b) =
            (place(tile.window.origin()), place(Point::new(tile.window.x1, tile.window.y1)));
        let rect = Rect::from_points(a, b).inflate(-0.3, -0.3);
        if rect.width() <= 0.2 || rect.height() <= 0.2 {
            continue;
        }
        over.add(&TILES, Item::Outline(Outline::rectangle(rect)?));
        if other == index {
            // This tile is crossed through.
            for (from, to) in
                [((rect.x0, rect.y0), (rect.x1, rect.y1)), ((rect.x0, rect.y1), (rect.x1, rect.y0))]
            {
                over.add(&MARKS, Item::Edge(Edge::line(from.into(), to.into())));
            }
        }
    }
    Ok(())
}
