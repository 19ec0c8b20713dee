//! A blank sheet to take to the window: what to measure, where to put the rule, and a box for each
//! answer under the very key that it has in the survey.
//!
//! Promised: every key of a survey has its box, but for limits and shared defaults, which are settled at
//! the desk; a test fails where a key comes without one. Not promised: room for more bars, screws and nails
//! than there are rows; print the back once more.

mod pictures;
mod places;

use crate::drawing::Document;
use crate::survey::{DeclaredKey, Paper, keys as survey_keys};
use kurbo::Size;
use places::{
    AROUND, BARS, FIXINGS, FRONT, MEMBERS, MORE, NAME, Part, Place, SHAPE, UNIT, WHERE, WORKSHOP,
};

use super::kit::{BOX, BoxColumn, Boxes, Flow, Picture, Voice, sheet};

/// Margin of the form, mm: a clip board and a thumb.
const MARGIN: f64 = 12.0;

/// Paper shorter than this has room for a row less of each list, mm.
const LONG: f64 = 290.0;

/// The form as `voice` says it: one side for a plain sash, pages for what only some sashes have, and what is asked of the workshop.
pub fn document(paper: Paper, voice: Voice) -> Document {
    let foot = voice.word("form-foot");
    let keys = survey_keys();
    let mut flow = Flow::new(voice, (sheet(paper), MARGIN), voice.word("form-title"), foot);
    front(&mut flow, &keys);
    flow.new_page();
    back(&mut flow, &keys);
    flow.new_page();
    some_sashes(&mut flow, &keys);
    flow.new_page();
    workshop(&mut flow, &keys);
    Document { title: voice.word("form-title"), pages: flow.pages() }
}

fn front(flow: &mut Flow, keys: &[DeclaredKey]) {
    let voice = flow.voice();
    flow.heading(&voice.word("form-sash"));
    lay(flow, &WHERE, keys);
    lay(flow, &NAME, keys);
    flow.paragraph(&voice.word("form-sash-how"));
    let high = if flow.height() < LONG { 87.0 } else { 90.0 };
    let most = Size::new(flow.width(), high);
    flow.picture(Picture::within(pictures::sash(voice), most));
    for part in FRONT {
        lay(flow, part, keys);
    }
}

fn back(flow: &mut Flow, keys: &[DeclaredKey]) {
    let voice = flow.voice();
    flow.heading(&voice.word("form-more"));
    lay(flow, &MORE, keys);
    for part in UNIT {
        lay(flow, part, keys);
    }
    lay(flow, &MEMBERS, keys);
    let most = Size::new(flow.width(), 46.0);
    flow.picture(Picture::within(pictures::bar_and_screws(voice), most));
    lay(flow, &BARS, keys);
    for part in FIXINGS {
        lay(flow, part, keys);
    }
}

fn some_sashes(flow: &mut Flow, keys: &[DeclaredKey]) {
    let voice = flow.voice();
    flow.heading(&voice.word("form-shape"));
    flow.paragraph(&voice.word("form-shape-how"));
    let high = if flow.height() < LONG { 45.0 } else { 50.0 };
    let most = Size::new(flow.width(), high);
    flow.picture(Picture::within(pictures::shapes(voice), most));
    for part in SHAPE.iter().chain(AROUND) {
        lay(flow, part, keys);
    }
}

/// Names of the rows of boxes that there is room for; none but a list may be cut short.
fn rows(part: &Part, height: f64, voice: Voice) -> Vec<String> {
    let is_list = part.prefix.ends_with("[].") && part.rows.len() > 1;
    let left_out = usize::from(is_list && height < LONG);
    let kept = part.rows.len() - left_out;
    part.rows.iter().take(kept).map(|key| voice.word(key)).collect()
}

fn workshop(flow: &mut Flow, keys: &[DeclaredKey]) {
    let voice = flow.voice();
    flow.heading(&voice.word("form-workshop"));
    for part in WORKSHOP {
        lay(flow, part, keys);
    }
    flow.heading(&voice.word("form-moulding"));
    flow.paragraph(&voice.word("form-moulding-how"));
    let room = Size::new(flow.width(), flow.room().clamp(20.0, 60.0) - 4.0);
    flow.picture(Picture::within(pictures::squares(room), room));
}

fn lay(flow: &mut Flow, part: &Part, keys: &[DeclaredKey]) {
    let voice = flow.voice();
    let boxes = Boxes {
        columns: part.places.iter().map(|place| column(part, place, (keys, voice))).collect(),
        rows: rows(part, flow.height(), voice),
    };
    if !part.heading.is_empty() {
        flow.heading_over(&voice.word(part.heading), 30.0 + boxes.rows.len() as f64 * BOX);
    }
    boxes.lay(flow);
}

fn column(part: &Part, place: &Place, (keys, voice): (&[DeclaredKey], Voice)) -> BoxColumn {
    let words = match place.mark {
        "" => voice.word(place.words),
        mark => format!("{mark} {}", voice.word(place.words)),
    };
    let key = place.keys.first().copied().unwrap_or_default();
    // The same for each member, so any of them tells the default.
    let path = format!("{}{key}", part.prefix).replace(".side.", ".left.");
    let usual = keys.iter().find(|known| known.path == path).and_then(|known| known.default);
    let usual = usual.map(|usual| usual_of(place, part, usual));
    // A key may be broken at its point.
    let key = key.replace('.', ". ");
    let fine = usual.map_or(key.clone(), |usual| format!("{key} ({usual})"));
    BoxColumn { words, fine, share: place.share }
}

/// The default as a pencil would write it; of a pair, the half that the box asks for.
fn usual_of(place: &Place, part: &Part, usual: &str) -> String {
    let halves: Vec<&str> = usual.trim_matches(['[', ']']).split(", ").collect();
    let before = part.places.iter().take_while(|other| !std::ptr::eq(*other, place));
    let index = before.filter(|other| other.keys == place.keys).count();
    halves.get(index).copied().unwrap_or(usual).trim_matches('"').to_owned()
}

#[cfg(test)]
mod tests;
