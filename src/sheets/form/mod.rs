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

/// The form: one side for a plain sash, pages for what only some sashes have, and what is asked of the workshop.
pub fn document(paper: Paper) -> Document {
    let foot = "Millimetres, or write the unit beside the figure. Leave empty what the sash has not, or what \
                stands at its usual value (in brackets).";
    let keys = survey_keys();
    let mut flow = Flow::new(Voice::plain(), (sheet(paper), MARGIN), "Measuring form", foot);
    front(&mut flow, &keys);
    flow.new_page();
    back(&mut flow, &keys);
    flow.new_page();
    some_sashes(&mut flow, &keys);
    flow.new_page();
    workshop(&mut flow, &keys);
    Document { title: "Measuring form".into(), pages: flow.pages() }
}

fn front(flow: &mut Flow, keys: &[DeclaredKey]) {
    flow.heading("Sash: one sheet for each");
    lay(flow, &WHERE, keys);
    lay(flow, &NAME, keys);
    flow.paragraph(
        "Lay the sash putty side up: left is left as you see it. Tape from wood to wood, bars left out; X and Y count \
         from 0. Where C and D differ, measure widths and heights at both ends. This side is enough for a plain sash.",
    );
    let high = if flow.height() < LONG { 87.0 } else { 90.0 };
    let most = Size::new(flow.width(), high);
    flow.picture(Picture::within(pictures::sash(), most));
    for part in FRONT {
        lay(flow, part, keys);
    }
}

fn back(flow: &mut Flow, keys: &[DeclaredKey]) {
    flow.heading("Only where it differs, or where there is more");
    lay(flow, &MORE, keys);
    for part in UNIT {
        lay(flow, part, keys);
    }
    lay(flow, &MEMBERS, keys);
    let most = Size::new(flow.width(), 46.0);
    flow.picture(Picture::within(pictures::bar_and_screws(), most));
    lay(flow, &BARS, keys);
    for part in FIXINGS {
        lay(flow, part, keys);
    }
}

fn some_sashes(flow: &mut Flow, keys: &[DeclaredKey]) {
    flow.heading("A sash that is not four straight members, square to each other");
    flow.paragraph(
        "Only where it applies. Under a head the sight height B goes up to its highest point. A straightedge laid \
         along a sight edge shows how far its middle is bowed out; write a minus where it bends into the \
         daylight. Bulge: the tangent of a quarter of the angle of an arc that leads to the next corner, 0 for a \
         straight edge.",
    );
    let high = if flow.height() < LONG { 45.0 } else { 50.0 };
    let most = Size::new(flow.width(), high);
    flow.picture(Picture::within(pictures::shapes(), most));
    for part in SHAPE.iter().chain(AROUND) {
        lay(flow, part, keys);
    }
}

/// Names of the rows of boxes that there is room for; none but a list may be cut short.
fn rows(part: &Part, height: f64) -> Vec<String> {
    let is_list = part.prefix.ends_with("[].") && part.rows.len() > 1;
    let left_out = usize::from(is_list && height < LONG);
    let kept = part.rows.len() - left_out;
    part.rows.iter().take(kept).map(|&name| name.to_owned()).collect()
}

fn workshop(flow: &mut Flow, keys: &[DeclaredKey]) {
    flow.heading("House and workshop: one page for all sashes");
    for part in WORKSHOP {
        lay(flow, part, keys);
    }
    flow.heading("Mouldings without a name: trace them here");
    flow.paragraph(
        "Squares of 5 mm. Lay the sight edge on the thick upright line and the room face on the thick level \
         line, trace with a sharp pencil, and read off points: distance from the sight edge, depth.",
    );
    let room = Size::new(flow.width(), flow.room().clamp(20.0, 60.0) - 4.0);
    flow.picture(Picture::within(pictures::squares(room), room));
}

fn lay(flow: &mut Flow, part: &Part, keys: &[DeclaredKey]) {
    let boxes = Boxes {
        columns: part.places.iter().map(|place| column(part, place, keys)).collect(),
        rows: rows(part, flow.height()),
    };
    if !part.heading.is_empty() {
        flow.heading_over(part.heading, 30.0 + boxes.rows.len() as f64 * BOX);
    }
    boxes.lay(flow);
}

fn column(part: &Part, place: &Place, keys: &[DeclaredKey]) -> BoxColumn {
    let words = match place.mark {
        "" => place.words.to_owned(),
        mark => format!("{mark} {}", place.words),
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
