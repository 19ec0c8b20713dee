//! What differs between two surveys of a sash and between what follows from them, in a joiner's terms.
//!
//! Promised: whatever of the survey bears on the files of a sash is told, by name where it has one. Not promised:
//! every figure that follows from it; the reports have them.

use crate::finding::Verdict;
use crate::geometry::COINCIDENT;
use crate::number::decimal;
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

/// What is said where nothing that has a name differs.
const ELSE: &str = "a measure or a setting that has no place in this list";

/// What differs, most of it measured before it is followed from: `sight width 622 instead of 620`, `order 646 x 854
/// instead of 644 x 854`. Nothing where all that has a name is alike.
pub(super) fn differences(before: &Noted, after: &Noted) -> Vec<String> {
    let mut told = measures(&before.measured, &after.measured);
    for unit in &after.units {
        let was = before.units.iter().find(|was| was.light == unit.light);
        let place =
            if after.units.len() > 1 { format!(" for {}", unit.light) } else { String::new() };
        match was {
            None => told.push(format!("a unit of {}{place} that was not there", size(unit))),
            Some(was) if size(was) != size(unit) => {
                told.push(format!("order {}{place} instead of {}", size(unit), size(was)));
            }
            Some(was) if was.shape != unit.shape => {
                told.push(format!(
                    "order of another shape{place}, {} over all as before",
                    size(unit)
                ));
            }
            Some(_) => {}
        }
    }
    for was in &before.units {
        if !after.units.iter().any(|unit| unit.light == was.light) {
            told.push(format!("no unit for {} any more, which was {}", was.light, size(was)));
        }
    }
    if (before.rebate_depth - after.rebate_depth).abs() > COINCIDENT {
        let [now, was] = [after, before].map(|noted| length(noted.rebate_depth));
        told.push(format!("rebate {now} deep instead of {was}"));
    }
    if before.verdict != after.verdict {
        let [now, was] = [after, before].map(|noted| answer(noted.verdict));
        told.push(format!("now {now}, was {was}"));
    }
    told
}

/// The same, and that something else differs where nothing that has a name does.
pub(super) fn differences_at_least(before: &Noted, after: &Noted) -> Vec<String> {
    let told = differences(before, after);
    if told.is_empty() { vec![ELSE.to_owned()] } else { told }
}

fn answer(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Clear => "a yes",
        Verdict::Caution => "a yes with care",
        Verdict::Stop => "a no",
    }
}

fn measures(before: &[Measured], after: &[Measured]) -> Vec<String> {
    let mut told = Vec::new();
    // A report of a former version tells no measures: then nothing is new.
    if before.is_empty() {
        return told;
    }
    for Measured { what, is } in after {
        match (before.iter().find(|was| was.what == *what).map(|was| &was.is), is) {
            (Some(was), is) if was == is => {}
            (Some(Value::Length(was)), Value::Length(is)) => told.push(changed(what, *was, *is)),
            (Some(was), is) => told.push(format!("{what} {} instead of {}", words(is), words(was))),
            (None, is) => told.push(format!("{what} {}, not told before", words(is))),
        }
    }
    let gone = before.iter().filter(|was| !after.iter().any(|is| is.what == was.what));
    told.extend(gone.map(|was| format!("no {} any more", was.what)));
    told
}

/// `sight 2 mm wider (622)`, `bed 1 mm less (1)`.
fn changed(what: &str, was: f64, is: f64) -> String {
    let more = is > was;
    let by = length((is - was).abs());
    let (what, way) = match (
        what.strip_suffix(" width"),
        what.strip_suffix(" height"),
        what.strip_suffix(" thickness"),
    ) {
        (Some(what), ..) => (what, if more { "wider" } else { "narrower" }),
        (_, Some(what), _) => (what, if more { "higher" } else { "lower" }),
        (_, _, Some(what)) => (what, if more { "thicker" } else { "thinner" }),
        _ => (what, if more { "more" } else { "less" }),
    };
    format!("{what} {by} mm {way} ({})", length(is))
}

fn words(value: &Value) -> String {
    match value {
        Value::Length(mm) => format!("{} mm", length(*mm)),
        Value::Words(words) => words.clone(),
    }
}

fn size(unit: &UnitLine) -> String {
    format!("{} x {}", length(unit.order.width), length(unit.order.height))
}

fn length(mm: f64) -> String {
    decimal(mm, 2).map_or_else(|not| not.to_string(), |text| text.to_string())
}
