//! Where a sash larger than the machine's travel lies in each set-up: a drawing, and words.
//!
//! Promised: every place is told from the machine's X0 Y0, the same in all set-ups. Not promised: that a
//! stop stands on the table: the sash may overhang it, and then a board carries both.

use super::kit::{Flow, Voice, cross, in_a_row, mm, tell};
use super::layers::{MARKS, NEW_REBATE, STOPS, TIMBER, TRAVEL, WORDS};
use super::outlines::timber;
use super::{SheetError, Subject};
use crate::drawing::{Item, Scene, Text};
use crate::geometry::Outline;
use crate::number::NotFinite;
use crate::report::{ExtentMm, SetUpLine};
use kurbo::{Point, Rect, Vec2};

/// Height of words in the drawing, mm.
const HEIGHT: f64 = 20.0;
/// Room for an edge stop below the sash, mm.
const STOP: f64 = 20.0;
/// Half the length of the cross at the machine's zero, mm.
const CROSS: f64 = 15.0;

/// Every set-up beside the one before, each about its own X0 Y0; none where there is one place only.
///
/// # Errors
/// Where an outline has no area, or a number is not finite.
pub fn drawing(subject: &Subject<'_>, set_ups: &[SetUpLine]) -> Result<Option<Scene>, SheetError> {
    if set_ups.is_empty() {
        return Ok(None);
    }
    let voice = subject.voice();
    let title = tell!(voice, "set-up-drawing", sash = subject.id());
    let layers = [TIMBER, NEW_REBATE, TRAVEL, STOPS, MARKS, WORDS];
    let mut scene = Scene::new(title, voice.word("seen-from-face"), &layers);
    let closed = |rect: Rect| Outline::rectangle(rect).map(Item::Outline);
    let wood = timber(subject.sash)?;
    let pitch = 2.0 * subject.sash.outer.width() + 10.0 * HEIGHT;
    let mut aside = Vec2::ZERO;
    for set_up in set_ups {
        let put = |outline: &Outline| set_up.place.local_outline(outline).moved(aside);
        scene.add_all(&TIMBER, wood.iter().map(|outline| Item::Outline(put(outline))));
        for pocket in &subject.rebate.pockets {
            scene.add(&NEW_REBATE, Item::Outline(put(&pocket.wall)));
        }
        scene.add(&TRAVEL, closed(Rect::from(set_up.reach) + aside)?);
        for &stop in &set_up.stops {
            scene.add(&STOPS, closed(Rect::from(stop) + aside)?);
        }
        scene.add_all(&MARKS, cross(aside.to_point(), CROSS).map(Item::Edge));
        let mut y = set_up.sash.bottom - STOP - 3.0 * HEIGHT;
        for words in [tell!(voice, "set-up-number", number = set_up.number), lies(set_up, voice)?] {
            let at = Point::new(set_up.sash.left, y) + aside;
            scene.add(&WORDS, Item::Text(Text::new(voice.said(&words), at, HEIGHT)));
            y -= 2.0 * HEIGHT;
        }
        aside.x += pitch;
    }
    scene.add_caption(&WORDS, HEIGHT);
    Ok(Some(scene))
}

fn lies(set_up: &SetUpLine, voice: Voice) -> Result<String, NotFinite> {
    let ExtentMm { left, bottom, right, .. } = set_up.sash;
    let lower =
        if set_up.turned { voice.word("set-up-top-edge") } else { voice.word("set-up-lower-edge") };
    let (bottom, left, right) = (mm(bottom)?, mm(left)?, mm(right)?);
    Ok(tell!(voice, "set-up-lies", lower, bottom, left, right))
}

/// Where the sash lies and how it is moved on.
pub(super) fn entries(flow: &mut Flow, set_ups: &[SetUpLine]) -> Result<(), NotFinite> {
    if set_ups.is_empty() {
        return Ok(());
    }
    let voice = flow.voice();
    flow.heading(&voice.word("set-up-heading"));
    flow.paragraph(&voice.word("set-up-how"));
    let mut turned = false;
    for set_up in set_ups {
        let moved = match set_up.moved {
            Some([x, y]) => tell!(voice, "set-up-move", way = on(Vec2::new(x, y), voice)?),
            None if set_up.turned != turned => voice.word("set-up-turn"),
            None => String::new(),
        };
        let words = in_a_row([moved, tell!(voice, "set-up-entry", lies = lies(set_up, voice)?)]);
        flow.entry(&format!("{}.", set_up.number), &words);
        turned = set_up.turned;
    }
    Ok(())
}

/// A move in words.
fn on(by: Vec2, voice: Voice) -> Result<String, NotFinite> {
    let mut ways = Vec::new();
    for (value, less, more) in
        [(by.x, "set-up-left", "set-up-right"), (by.y, "set-up-down", "set-up-up")]
    {
        if value != 0.0 {
            let way = if value < 0.0 { less } else { more };
            ways.push(tell!(voice, way, far = mm(value.abs())?));
        }
    }
    Ok(voice.listed(&ways))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn moves_are_told_in_words() {
        let on = |by| on(by, Voice::plain());
        assert_eq!(on(Vec2::new(-989.0, 0.0)).unwrap(), "989 mm to the left");
        assert_eq!(on(Vec2::new(12.0, -3.5)).unwrap(), "12 mm to the right and 3.5 mm down");
        assert_eq!(on(Vec2::new(f64::NAN, 0.0)), Err(NotFinite));
    }
}
