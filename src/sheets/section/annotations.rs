//! What stands round a figure: dimensions in rows, the short ones nearest, and labels in columns, each with a
//! line to what it names.

use super::{Label, Measure, TOLERANCE};
use crate::drawing::{Across, Dimension, Item, Scene, Text, Up, ValueAt, is_clear, settled};
use crate::geometry::{Edge, Outline, ROUNDING, Side};
use crate::sheets::kit::Voice;
use crate::sheets::layers;
use kurbo::{Point, Rect, Vec2};

/// Least distance between the middles of two labels in a column, in heights.
const PITCH: f64 = 1.9;
/// Places that are tried for a label before it takes one where lines cross.
const TRIES: u32 = 60;

/// Each measure as a dimension outside `figure`, so that none covers another on its side.
pub(super) fn dimensions(
    measures: &[Measure],
    figure: Rect,
    shift: Vec2,
    (voice, height): (Voice, f64),
) -> Vec<Dimension> {
    let (mut placed, mut named) = (Vec::new(), Vec::new());
    let mut rows = 0;
    for side in Side::ALL {
        let mut row_ends: Vec<Vec<(f64, f64)>> = Vec::new();
        let mut of_side: Vec<&Measure> = measures.iter().filter(|m| m.side == side).collect();
        of_side.sort_by(|a, b| length(a).total_cmp(&length(b)));
        for measure in of_side {
            let mut row = 0;
            let dimension = loop {
                let dimension = at_row(measure, figure, shift, row, (voice, height));
                let span = span(&dimension, side, height);
                let Some(taken) = row_ends.get_mut(row as usize) else {
                    row_ends.push(vec![span]);
                    break dimension;
                };
                if taken.iter().all(|other| span.1 <= other.0 || other.1 <= span.0) {
                    taken.push(span);
                    break dimension;
                }
                row += 1;
            };
            placed.push(dimension);
            named.push((measure, row));
            rows = rows.max(row);
        }
    }
    let mut placed = settled(placed);
    // A value that lines of wider measures cross wherever it stands goes past all of them.
    for (at, (measure, row)) in named.into_iter().enumerate() {
        let Some(own) = placed.get(at).filter(|own| !is_clear(own, &placed, at)) else { continue };
        let [before, after] = past_all(measure, measures, height);
        let ways = [row, rows + 1, rows + 2].into_iter().flat_map(|row| {
            [(ValueAt::AfterEnd, after), (ValueAt::BeforeStart, before)].map(|(way, reach)| {
                let one = at_row(measure, figure, shift, row, (voice, height));
                (row, one.with_value(way).reaching(reach))
            })
        });
        let strikes = |one: &Dimension| {
            let edges = one.parts().0;
            let others = placed.iter().enumerate().filter(|(other, _)| *other != at);
            others
                .map(|(_, other)| other.parts().1)
                .any(|text| edges.iter().any(|edge| text.is_struck_by(edge)))
        };
        let fits = |(_, one): &(u32, Dimension)| is_clear(one, &placed, at) && !strikes(one);
        let (row, one) = ways.into_iter().find(fits).unwrap_or((row, own.clone()));
        rows = rows.max(row);
        if let Some(own) = placed.get_mut(at) {
            *own = one;
        }
    }
    placed
}

/// How far out a value has to stand to be past the ends of all measures on its side: before its start, and after its
/// end.
fn past_all(measure: &Measure, all: &[Measure], height: f64) -> [f64; 2] {
    let along = |point: Point| if measure.side.is_upright() { point.y } else { point.x };
    let ends = all.iter().filter(|other| other.side == measure.side);
    let ends: Vec<f64> = ends.flat_map(|other| [along(other.from), along(other.to)]).collect();
    let (from, to) = (along(measure.from), along(measure.to));
    let (low, high) = (from.min(to), from.max(to));
    let least = ends.iter().copied().fold(low, f64::min);
    let most = ends.iter().copied().fold(high, f64::max);
    let [under, over] = [low - least + 0.5 * height, most - high + 0.5 * height];
    if to >= from { [under, over] } else { [over, under] }
}

fn length(measure: &Measure) -> f64 {
    let between = measure.to - measure.from;
    if measure.side.is_upright() { between.y.abs() } else { between.x.abs() }
}

fn at_row(
    measure: &Measure,
    figure: Rect,
    shift: Vec2,
    row: u32,
    (voice, height): (Voice, f64),
) -> Dimension {
    let figures = voice.figures(height);
    let out = height * (3.0 + 2.8 * f64::from(row));
    let (from, to) = (measure.from + shift, measure.to + shift);
    let dimension = match measure.side {
        Side::Left => Dimension::upright(from, to, figure.x0 - out, figures),
        Side::Right => Dimension::upright(from, to, figure.x1 + out, figures),
        Side::Bottom => Dimension::across(from, to, figure.y0 - out, figures),
        Side::Top => Dimension::across(from, to, figure.y1 + out, figures),
    };
    dimension.saying(&*measure.words).with_value(measure.value_at)
}

/// How much of its row a dimension takes.
fn span(dimension: &Dimension, side: Side, height: f64) -> (f64, f64) {
    let (edges, text) = dimension.parts();
    let all = edges.iter().fold(text.bounds(), |all, edge| {
        // Lines that lead to the figure are not in the row.
        let bounds = edge.bounds();
        let across = if side.is_upright() { bounds.width() } else { bounds.height() };
        if across < height { all.union(bounds) } else { all }
    });
    let (from, to) = if side.is_upright() { (all.y0, all.y1) } else { (all.x0, all.x1) };
    (from, to)
}

/// A label that looks for its place.
struct Wanted {
    words: String,
    /// What is named.
    at: Point,
    /// Height at which it would like to stand.
    y: f64,
    on_left: bool,
}

/// Adds the labels and the names of both faces outside `around`, and returns what figure and labels
/// fill together. `texts` are those that lines should not cross.
pub(super) fn labels(
    scene: &mut Scene,
    labels: &[Label],
    wood: &[Outline],
    around: Rect,
    (shift, voice, height): (Vec2, Voice, f64),
    mut texts: Vec<Text>,
) -> Rect {
    let mut wanted: Vec<Wanted> = labels
        .iter()
        .map(|label| {
            let at = label.at + shift;
            Wanted { words: voice.said(&label.words), at, y: at.y, on_left: label.on_left }
        })
        .collect();
    // Their lines slant, so that they are not taken for edges of the wood.
    let bounds = super::bounds(wood);
    for (words, y, out) in
        [("section-glazing-face", bounds.y1, 1.0), ("section-room-face", bounds.y0, -1.0)]
    {
        let lifted = y + out * 1.5 * height;
        let at = on_face(wood, y);
        wanted.push(Wanted { words: voice.word(words), at, y: lifted, on_left: false });
    }
    wanted.sort_by(|a, b| b.y.total_cmp(&a.y));
    let mut filled = around;
    let mut leaders: Vec<Edge> = Vec::new();
    for label in wanted {
        let (text, leader) = place(&label, around, (&texts, &leaders), height);
        filled = filled.union(text.bounds());
        let dot = Edge::circle(label.at, 0.15 * height);
        scene.add_all(&layers::WORDS, [dot, leader].map(Item::Edge));
        scene.add(&layers::WORDS, Item::Text(text.clone()));
        texts.push(text);
        leaders.push(leader);
    }
    filled
}

/// A point towards the right end of the longest edge at height `y`.
fn on_face(wood: &[Outline], y: f64) -> Point {
    let level = |point: Point| (point.y - y).abs() <= TOLERANCE;
    let edges = wood.iter().flat_map(Outline::edges);
    let face = edges
        .filter(|edge| level(edge.start()) && level(edge.end()))
        .max_by(|a, b| a.length().total_cmp(&b.length()));
    let (left, right) = face.map_or((0.0, 0.0), |edge| (edge.bounds().x0, edge.bounds().x1));
    Point::new(left + 0.85 * (right - left), y)
}

/// The place nearest to the wanted height where the label covers no text and its line crosses
/// neither text nor line.
fn place(
    label: &Wanted,
    around: Rect,
    (texts, leaders): (&[Text], &[Edge]),
    height: f64,
) -> (Text, Edge) {
    let pitch = PITCH * height;
    let at_height = |on_left: bool, y: f64| {
        let (x, across, inwards) = if on_left {
            (around.x0 - 2.0 * height, Across::Right, 0.6 * height)
        } else {
            (around.x1 + 2.0 * height, Across::Left, -0.6 * height)
        };
        let text = Text::new(&*label.words, Point::new(x, y), height).anchored(across, Up::Middle);
        (text, Edge::line(label.at, Point::new(x + inwards, y)))
    };
    let apart = |text: &Text| {
        texts.iter().all(|other| {
            let same_column = (other.at.x - text.at.x).abs() < ROUNDING;
            let crowded = same_column && (other.at.y - text.at.y).abs() < pitch - ROUNDING;
            !crowded && !text.covers(other)
        })
    };
    let reads = |(text, leader): &(Text, Edge)| {
        apart(text)
            && texts.iter().all(|other| !crosses(leader, other))
            && leaders.iter().all(|other| !crosses(other, text))
    };
    let clear = |leader: &Edge| leaders.iter().all(|other| leader.crossings(other).is_empty());
    let candidates = |on_left: bool| {
        (0..TRIES).map(move |step| {
            let sign = if step % 2 == 0 { -1.0 } else { 1.0 };
            at_height(on_left, label.y + sign * f64::from(step.div_ceil(2)) * 0.5 * pitch)
        })
    };
    let good = |found: &(Text, Edge)| reads(found) && clear(&found.1);
    candidates(label.on_left)
        .find(good)
        .or_else(|| candidates(!label.on_left).find(good))
        // Leaders may cross each other sooner than words.
        .or_else(|| candidates(label.on_left).find(reads))
        .or_else(|| candidates(!label.on_left).find(reads))
        .or_else(|| candidates(label.on_left).find(|(text, _)| apart(text)))
        .unwrap_or_else(|| at_height(label.on_left, label.y))
}

/// Whether the line runs through the text's box.
fn crosses(line: &Edge, text: &Text) -> bool {
    let corners = text.corners();
    let sides = corners.iter().zip(corners.iter().cycle().skip(1));
    sides.into_iter().any(|(&a, &b)| !line.crossings(&Edge::line(a, b)).is_empty())
}
