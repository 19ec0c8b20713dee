//! Names of the lines on a tile, each beside its line, with a leader to it.

use super::lines::edges_of;
use super::looks;
use crate::drawing::{Item, Layer, Scene};
use crate::geometry::Outline;
use crate::sheets::kit::{Room, Voice};
use kurbo::{Point, Rect, Vec2};

/// About how far apart places on a line are tried, mm.
const STEP: f64 = 9.0;

/// Draws the name of each layer that is seen in the window of `room`, moved onto the page by `shift`. What finds no
/// room is given back.
pub(super) fn add<'a>(
    over: &mut Scene,
    scene: &'a Scene,
    mut room: Room<'_>,
    (shift, voice): (Vec2, Voice),
) -> Vec<&'a Layer> {
    let mut open = Vec::new();
    for (layer, items) in scene.layers() {
        let places = places(items, room.window);
        if places.is_empty() {
            continue;
        }
        match room.led(&voice.word(looks::key(layer)), &places) {
            Some(led) => led.draw(over, shift),
            None => open.push(layer),
        }
    }
    open
}

/// Points on the visible pieces of a layer, each with the direction of its line.
fn places(items: &[Item], window: Rect) -> Vec<(Point, Vec2)> {
    let Ok(frame) = Outline::rectangle(window) else { return Vec::new() };
    let pieces = edges_of(items).filter(|edge| edge.bounds().overlaps(window));
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
