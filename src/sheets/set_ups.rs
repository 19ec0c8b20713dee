//! Where a sash larger than the machine's travel lies in each set-up: a drawing, and words.
//!
//! Promised: every place is told from the machine's X0 Y0, the same in all set-ups. Not promised: that a
//! stop stands on the table: the sash may overhang it, and then a board carries both.

use super::Subject;
use super::kit::Flow;
use super::layers::{MARKS, NEW_REBATE, STOPS, TIMBER, TRAVEL, WORDS};
use super::shape::drawn;
use crate::drawing::{Item, Scene, Text};
use crate::geometry::{Edge, Outline, OutlineError};
use crate::number::number;
use kurbo::{Point, Rect, Size, Vec2};

/// Length along the sash and width of an edge stop, mm. Common practice, no source.
const STOP: Size = Size::new(60.0, 20.0);
/// Height of words in the drawing, mm.
const HEIGHT: f64 = 20.0;
/// Half the length of the cross at the machine's zero, mm.
const CROSS: f64 = 15.0;

/// A place of the sash on the machine, in the sash's frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetUp {
    /// From 1, in the order of the work.
    pub number: usize,
    /// What lies at the machine's X0 Y0, mm.
    pub origin: [f64; 2],
    /// Where the cutter's centre goes.
    pub window: Rect,
}

/// One set-up as it lies on the machine, counted from its X0 Y0.
#[derive(Debug, Clone, PartialEq)]
struct Place {
    set_up: SetUp,
    sash: Rect,
    /// What the cutter's centre reaches.
    reach: Rect,
    stops: Vec<Rect>,
}

fn places(subject: &Subject<'_>) -> Vec<Place> {
    let moved = |set_up: &SetUp| {
        let shift = -Vec2::new(set_up.origin[0], set_up.origin[1]);
        (subject.sash.outer + shift, set_up.window + shift)
    };
    let place = |set_up: &SetUp| {
        let (sash, reach) = moved(set_up);
        Place { set_up: *set_up, sash, reach, stops: stops(sash, reach) }
    };
    subject.set_ups.iter().map(place).collect()
}

/// Two along the lower edge, which serve every set-up of a row, and one at an end that is within reach.
fn stops(sash: Rect, reach: Rect) -> Vec<Rect> {
    let lower = |x: f64| Rect::new(x, sash.y0 - STOP.height, x + STOP.width, sash.y0);
    let (from, to) = (sash.x0.max(reach.x0), sash.x1.min(reach.x1));
    let mut stops = vec![lower(from), lower((to - STOP.width).max(from))];
    let y = sash.y0.max(reach.y0);
    let beside = |x: f64| Rect::new(x, y, x + STOP.height, y + STOP.width);
    // At the end that overhangs less.
    if reach.x0 - sash.x0 <= sash.x1 - reach.x1 {
        stops.push(beside(sash.x0 - STOP.height));
    } else {
        stops.push(beside(sash.x1));
    }
    stops
}

/// Every set-up beside the one before, each about its own X0 Y0; none where there is one place only.
///
/// # Errors
/// Where an outline has no area.
pub fn drawing(subject: &Subject<'_>) -> Result<Option<Scene>, OutlineError> {
    let places = places(subject);
    if places.is_empty() {
        return Ok(None);
    }
    let title = format!("sash {}, set-ups on the machine", subject.id());
    let layers = [TIMBER, NEW_REBATE, TRAVEL, STOPS, MARKS, WORDS];
    let mut scene = Scene::new(title, "seen from the glazing face", &layers);
    let closed = |rect: Rect| Outline::rectangle(rect).map(Item::Outline);
    let sash = subject.sash;
    let pitch = 2.0 * sash.outer.width() + 10.0 * HEIGHT;
    let mut aside = Vec2::ZERO;
    for place in places {
        let to_place = aside - Vec2::new(place.set_up.origin[0], place.set_up.origin[1]);
        let outer = drawn(&sash.outer_outline, sash.outer)?;
        scene.add(&TIMBER, Item::Outline(outer.moved(to_place)));
        for pocket in &subject.rebate.pockets {
            scene.add(&NEW_REBATE, Item::Outline(pocket.wall.moved(to_place)));
        }
        scene.add(&TRAVEL, closed(place.reach + aside)?);
        for stop in &place.stops {
            scene.add(&STOPS, closed(*stop + aside)?);
        }
        let zero = Point::ORIGIN + aside;
        for arm in [Vec2::new(CROSS, 0.0), Vec2::new(0.0, CROSS)] {
            scene.add(&MARKS, Item::Edge(Edge::line(zero - arm, zero + arm)));
        }
        let mut y = place.sash.y0 - STOP.height - 3.0 * HEIGHT;
        for words in [format!("set-up {}", place.set_up.number), lies(&place)] {
            let at = Point::new(place.sash.x0, y) + aside;
            scene.add(&WORDS, Item::Text(Text::new(words, at, HEIGHT)));
            y -= 2.0 * HEIGHT;
        }
        aside.x += pitch;
    }
    scene.add_caption(&WORDS, HEIGHT);
    Ok(Some(scene))
}

fn lies(place: &Place) -> String {
    let mm = |value: f64| number(value, 1);
    let Rect { x0, y0, x1, .. } = place.sash;
    format!("lower edge at Y {}, left end at X {}, right end at X {}", mm(y0), mm(x0), mm(x1))
}

/// Tells in a sheet where the sash lies and how it is moved on.
pub(super) fn tell(flow: &mut Flow, subject: &Subject<'_>) {
    let places = places(subject);
    if places.is_empty() {
        return;
    }
    flow.heading("Set-ups on the machine");
    flow.paragraph(
        "The sash is larger than the machine's travel. Keep X0 Y0 of the machine where it is for all set-ups. Screw \
         edge stops to the spoil board, or to a board that overhangs the table with the sash: two along its lower \
         edge and one at an end, as drawn in setups.dxf. Carry what overhangs, level with the table. Run all \
         programs of a set-up, then move the sash. A set-up put down a millimetre off spoils the cut: measure \
         from X0 Y0 to the edges told here, and make the air run.",
    );
    let mut before: Option<&Place> = None;
    for place in &places {
        let by = before.map(|before| place.sash.origin() - before.sash.origin());
        let moved = by.map_or_else(String::new, |by| format!("Move the sash {}. ", on(by)));
        let words = format!("{moved}It lies with its {}.", lies(place));
        flow.entry(&format!("{}.", place.set_up.number), &words);
        before = Some(place);
    }
}

/// A move in words.
fn on(by: Vec2) -> String {
    let along = |value: f64, less: &str, more: &str| {
        let way = if value < 0.0 { less } else { more };
        (value != 0.0).then(|| format!("{} mm {way}", number(value.abs(), 1)))
    };
    let ways = [along(by.x, "to the left", "to the right"), along(by.y, "down", "up")];
    ways.into_iter().flatten().collect::<Vec<_>>().join(" and ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_are_told_in_words() {
        assert_eq!(on(Vec2::new(-989.0, 0.0)), "989 mm to the left");
        assert_eq!(on(Vec2::new(12.0, -3.5)), "12 mm to the right and 3.5 mm down");
    }

    // A sash from −50 to 1950 of which the cutter reaches 0 to 1013: its left end is the near one.
    #[test]
    fn stops_touch_the_sash_and_the_end_that_is_near() {
        let sash = Rect::new(-50.0, -60.0, 1950.0, 840.0);
        let reach = Rect::new(0.0, 0.0, 1013.0, 780.0);
        let found = stops(sash, reach);
        assert_eq!(found.len(), 3);
        assert!(found[..2].iter().all(|stop| stop.y1 == sash.y0));
        assert_eq!((found[2].x1, found[2].y0), (sash.x0, 0.0));
        let turned = stops(sash, Rect::new(900.0, 0.0, 1900.0, 780.0));
        assert_eq!(turned[2].x0, sash.x1);
    }
}
