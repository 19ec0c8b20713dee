//! What differs between two surveys of a sash and between what follows from them, in a joiner's terms.
//!
//! Promised: whatever of the survey bears on the files of a sash is told, by name where it has one. Not promised:
//! every figure that follows from it; the reports have them.

use crate::finding::Verdict;
use crate::geometry::COINCIDENT;
use crate::language::{Text, text};
use crate::number::told;
use crate::report::{Measured, SashReport, UnitLine, Value};
use serde::Deserialize;

/// What is known of a sash from its report, be it written or just made.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub(super) struct Noted {
    verdict: Verdict,
    rebate_depth: f64,
    units: Vec<UnitLine>,
    /// None in a report of a former version.
    #[serde(default)]
    measured: Vec<Measured>,
}

impl From<&SashReport> for Noted {
    fn from(sash: &SashReport) -> Noted {
        Noted {
            verdict: sash.verdict,
            rebate_depth: sash.rebate_depth,
            units: sash.units.clone(),
            measured: sash.measured.clone(),
        }
    }
}

/// What differs, most of it measured before it is followed from: `sight width 622 instead of 620`, `order 646 x 854
/// instead of 644 x 854`. Nothing where all that has a name is alike.
pub(super) fn differences(before: &Noted, after: &Noted) -> Vec<Text> {
    let mut told = measures(&before.measured, &after.measured);
    let several = after.units.len() > 1;
    for unit in &after.units {
        let was = before.units.iter().find(|was| was.light == unit.light);
        let light = Text::name(&unit.light);
        let placed = |size: String| {
            if several {
                text!("differs-size-for", size, light = &light)
            } else {
                Text::Given(size)
            }
        };
        match was {
            None => told.push(text!("differs-new-unit", size = placed(size(unit)))),
            Some(was) if size(was) != size(unit) => {
                told.push(text!("differs-order", size = placed(size(unit)), was = size(was)));
            }
            Some(was) if was.shape != unit.shape && several => {
                told.push(text!("differs-shape-for", light, size = size(unit)));
            }
            Some(was) if was.shape != unit.shape => {
                told.push(text!("differs-shape", size = size(unit)));
            }
            Some(_) => {}
        }
    }
    for was in &before.units {
        if !after.units.iter().any(|unit| unit.light == was.light) {
            told.push(text!("differs-no-unit", light = Text::name(&was.light), was = size(was)));
        }
    }
    if (before.rebate_depth - after.rebate_depth).abs() > COINCIDENT {
        let [now, was] = [after, before].map(|noted| length(noted.rebate_depth));
        told.push(text!("differs-depth", now, was));
    }
    if before.verdict != after.verdict {
        let [now, was] = [after, before].map(|noted| answer(noted.verdict));
        told.push(text!("differs-answer", now, was));
    }
    told
}

/// The same, and that something else differs where nothing that has a name does.
pub(super) fn differences_at_least(before: &Noted, after: &Noted) -> Vec<Text> {
    let told = differences(before, after);
    if told.is_empty() { vec![text!("differs-else")] } else { told }
}

fn answer(verdict: Verdict) -> Text {
    match verdict {
        Verdict::Clear => text!("differs-yes"),
        Verdict::Caution => text!("differs-care"),
        Verdict::Stop => text!("differs-no"),
    }
}

fn measures(before: &[Measured], after: &[Measured]) -> Vec<Text> {
    let mut told = Vec::new();
    // A report of a former version tells no measures: then nothing is new.
    if before.is_empty() {
        return told;
    }
    for Measured { what, is } in after {
        let name = Text::name(what);
        match (before.iter().find(|was| was.what == *what).map(|was| &was.is), is) {
            (Some(was), is) if was == is => {}
            (Some(Value::Length(was)), Value::Length(is)) => told.push(changed(what, *was, *is)),
            (Some(was), is) => {
                told.push(text!("differs-other", what = name, now = words(is), was = words(was)));
            }
            (None, is) => told.push(text!("differs-more", what = name, now = words(is))),
        }
    }
    let gone = before.iter().filter(|was| !after.iter().any(|is| is.what == was.what));
    told.extend(gone.map(|was| text!("differs-gone", what = Text::name(&was.what))));
    told
}

/// `sight 2 mm wider (622)`, `bed 1 mm less (1)`.
fn changed(what: &str, was: f64, is: f64) -> Text {
    let ways = [
        (" width", ["differs-wider", "differs-narrower"]),
        (" height", ["differs-higher", "differs-lower"]),
        (" thickness", ["differs-thicker", "differs-thinner"]),
    ];
    let way = ways.iter().find_map(|(end, keys)| Some((what.strip_suffix(end)?, *keys)));
    let (what, [more, less]) = way.unwrap_or((what, ["differs-larger", "differs-smaller"]));
    let by = length((is - was).abs());
    text!(if is > was { more } else { less }, what = Text::name(what), by, now = length(is))
}

fn words(value: &Value) -> Text {
    match value {
        Value::Length(mm) => text!("length-mm", length = length(*mm)),
        Value::Words(words) => Text::name(words),
    }
}

fn size(unit: &UnitLine) -> String {
    format!("{} x {}", length(unit.order.width), length(unit.order.height))
}

fn length(mm: f64) -> String {
    told(mm, 2)
}
