//! Names of the lines on a tile, each beside its line, with a leader where it has no room there.

use super::looks;
use super::obstacle::{Obstacle, length_inside};
use crate::drawing::{Across, Item, Layer, Scene, Text, Up};
use crate::geometry::{Arc, Edge, Outline};
use crate::sheets::kit::LABEL;
use crate::sheets::layers::{DIMENSIONS, WORDS};
use kurbo::{Point, Rect, Vec2};
use std::f64::consts::TAU;

/// Free paper round a name and beside a leader, mm.
const AWAY: f64 = 0.7;
/// Shortest and longest leader, and the steps between, mm.
const LEADERS: [f64; 3] = [3.0, 99.0, 4.0];
/// About how far apart places on a line are tried, mm.
const STEP: f64 = 9.0;
/// A line that runs beside a leader for so long hides it, mm.
const HIDDEN: f64 = 2.5;
/// Radius of the ring at the line that is named, mm.
const RING: f64 = 0.6;

/// Draws the name of each layer that `window` shows, moved onto the page by `shift`, clear of `lines` and of what is
/// `taken`. What finds no room is given back.
pub(super) fn add<'a>(
    over: &mut Scene,
    scene: &'a Scene,
    (window, shift): (Rect, Vec2),
    lines: &[Obstacle],
    taken: &mut Vec<Rect>,
) -> Vec<&'a Layer> {
    let mut open = Vec::new();
    for (layer, items) in scene.layers() {
        let places = places(items, window);
        if places.is_empty() {
            continue;
        }
        let Some((text, leader)) = room(looks::words(layer), &places, window, lines, taken) else {
            open.push(layer);
            continue;
        };
        taken.extend([text.bounds().inflate(AWAY, AWAY), around(leader)]);
        let [at, end] = leader.map(|point| point + shift);
        let ring = Arc { centre: at, radius: RING, start: 0.0, sweep: TAU };
        over.add(&DIMENSIONS, Item::Edge(Edge::Arc(ring)));
        over.add(&DIMENSIONS, Item::Edge(Edge::line(at, end)));
        over.add(&WORDS, Item::Text(Text { at: text.at + shift, ..text }));
    }
    open
}

/// Points on the visible pieces of a layer, each with the direction of its line.
fn places(items: &[Item], window: Rect) -> Vec<(Point, Vec2)> {
    let Ok(frame) = Outline::rectangle(window) else { return Vec::new() };
    let edges = items.iter().flat_map(|item| match item {
        Item::Edge(edge) => vec![*edge],
        Item::Outline(outline) => outline.edges().to_vec(),
        _ => Vec::new(),
    });
    let pieces = edges.filter(|edge| edge.bounds().overlaps(window));
    let pieces = pieces.flat_map(|edge| frame.stretches_inside(&edge));
    pieces
        .flat_map(|piece| {
            let count = (piece.length() / STEP).clamp(1.0, 24.0).floor();
            let shares = std::iter::successors(Some(0.5), |share| Some(share + 1.0));
            let shares =
                shares.take_while(move |share| *share < count).map(move |share| share / count);
            shares.map(move |share| (piece.at(share), piece.direction(share))).collect::<Vec<_>>()
        })
        .collect()
}

/// The name with the shortest leader that has room.
fn room(
    words: &str,
    places: &[(Point, Vec2)],
    window: Rect,
    lines: &[Obstacle],
    taken: &[Rect],
) -> Option<(Text, [Point; 2])> {
    let inside = window.inset(-1.5);
    let [shortest, longest, step] = LEADERS;
    let reaches = std::iter::successors(Some(shortest), |reach| Some(reach + step));
    for reach in reaches.take_while(|reach| *reach <= longest) {
        for &(at, along) in places {
            for (way, across, up) in [
                (Vec2::new(1.0, 0.0), Across::Left, Up::Middle),
                (Vec2::new(-1.0, 0.0), Across::Right, Up::Middle),
                (Vec2::new(0.0, 1.0), Across::Centre, Up::Base),
                (Vec2::new(0.0, -1.0), Across::Centre, Up::Top),
            ] {
                if way.dot(along).abs() > 0.7 * along.hypot() {
                    continue;
                }
                let end = at + reach * way;
                let text = Text::new(words, end + AWAY * way, LABEL).anchored(across, up);
                let bounds = text.bounds();
                let leader = around([at, end]);
                let free = inside.union(bounds) == inside
                    && !taken.iter().any(|other| other.overlaps(bounds) || other.overlaps(leader))
                    && !lines.iter().any(|line| line.runs_through(bounds.inflate(AWAY, AWAY)))
                    && !lines.iter().any(|line| hides(line, leader));
                if free {
                    return Some((text, [at, end]));
                }
            }
        }
    }
    None
}

fn around([from, to]: [Point; 2]) -> Rect {
    Rect::from_points(from, to).inflate(AWAY, AWAY)
}

/// Whether a straight line runs along a leader.
fn hides(line: &Obstacle, leader: Rect) -> bool {
    line.ends().is_some_and(|[from, to]| length_inside(from, to, leader) > HIDDEN)
}
