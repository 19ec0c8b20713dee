//! Where a sash larger than the machine's travel lies in each set-up: a drawing, and words.
//!
//! Promised: every place is told from the machine's X0 Y0, the same in all set-ups. Not promised: that a
//! stop stands on the table: the sash may overhang it, and then a board carries both.

use super::Subject;
use super::kit::Flow;
use super::layers::{MARKS, NEW_REBATE, STOPS, TIMBER, TRAVEL, WORDS};
use super::shape::drawn;
use super::stops::{self, STOP};
use crate::drawing::{Item, Scene, Text};
use crate::geometry::{Edge, Outline, OutlineError, Placement};
use crate::number::number;
use kurbo::{Point, Rect, Vec2};

/// Height of words in the drawing, mm.
const HEIGHT: f64 = 20.0;
/// Half the length of the cross at the machine's zero, mm.
const CROSS: f64 = 15.0;

/// Where a side of the machine is closed.
const TURN: &str = "Turn the sash by 180 degrees, glazing face up as before. ";

/// A place of the sash on the machine, in the sash's frame.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SetUp {
    /// From 1, in the order of the work.
    pub number: usize,
    /// How the sash lies as seen from the machine's X0 Y0.
    pub place: Placement,
    /// Where the cutter's centre goes.
    pub window: Rect,
}

/// One set-up as it lies on the machine, counted from its X0 Y0.
#[derive(Debug, Clone, PartialEq)]
struct Place {
    set_up: SetUp,
    outer: Outline,
    /// Its bounds.
    sash: Rect,
    /// What the cutter's centre reaches.
    reach: Rect,
    stops: Vec<Rect>,
}

impl Place {
    fn turned(&self) -> bool {
        self.set_up.place.turned
    }
}

fn places(subject: &Subject<'_>) -> Result<Vec<Place>, OutlineError> {
    let sash = subject.sash;
    let outer = drawn(&sash.outer_outline, sash.outer)?;
    let place = |set_up: &SetUp| {
        let own = set_up.place;
        let outer = own.own_outline(&outer);
        let (sash, reach) = (own.own_rect(sash.outer), own.own_rect(set_up.window));
        let stops = stops::against(&outer, reach);
        Place { set_up: *set_up, outer, sash, reach, stops }
    };
    Ok(subject.set_ups.iter().map(place).collect())
}

/// Every set-up beside the one before, each about its own X0 Y0; none where there is one place only.
///
/// # Errors
/// Where an outline has no area.
pub fn drawing(subject: &Subject<'_>) -> Result<Option<Scene>, OutlineError> {
    let places = places(subject)?;
    if places.is_empty() {
        return Ok(None);
    }
    let title = format!("sash {}, set-ups on the machine", subject.id());
    let layers = [TIMBER, NEW_REBATE, TRAVEL, STOPS, MARKS, WORDS];
    let mut scene = Scene::new(title, "seen from the glazing face", &layers);
    let closed = |rect: Rect| Outline::rectangle(rect).map(Item::Outline);
    let pitch = 2.0 * subject.sash.outer.width() + 10.0 * HEIGHT;
    let mut aside = Vec2::ZERO;
    for place in places {
        let put = |outline: &Outline| place.set_up.place.own_outline(outline).moved(aside);
        scene.add(&TIMBER, Item::Outline(place.outer.moved(aside)));
        for pocket in &subject.rebate.pockets {
            scene.add(&NEW_REBATE, Item::Outline(put(&pocket.wall)));
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
    let lower = if place.turned() { "top edge, now the lower one," } else { "lower edge" };
    format!("{lower} at Y {}, left end at X {}, right end at X {}", mm(y0), mm(x0), mm(x1))
}

/// Tells in a sheet where the sash lies and how it is moved on.
///
/// # Errors
/// Where an outline has no area.
pub(super) fn tell(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), OutlineError> {
    let places = places(subject)?;
    if places.is_empty() {
        return Ok(());
    }
    flow.heading("Set-ups on the machine");
    flow.paragraph(
        "The sash is larger than the machine's travel. Keep X0 Y0 of the machine where it is for all set-ups. Screw \
         edge stops to the spoil board, or to a board that overhangs the table with the sash, where setups.dxf has \
         them: two under the sash and one beside it. Carry what overhangs, level with the table. Run all \
         programs of a set-up, then move the sash. A set-up put down a millimetre off spoils the cut: measure \
         from X0 Y0 to the edges told here, and make the air run.",
    );
    let mut before: Option<&Place> = None;
    for place in &places {
        let moved = match before {
            None if place.turned() => TURN.to_string(),
            None => String::new(),
            Some(before) if place.turned() != before.turned() => TURN.to_string(),
            Some(before) => {
                format!("Move the sash {}. ", on(place.sash.origin() - before.sash.origin()))
            }
        };
        let words = format!("{moved}It lies with its {}.", lies(place));
        flow.entry(&format!("{}.", place.set_up.number), &words);
        before = Some(place);
    }
    Ok(())
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
}
