//! The house at a glance: how many sashes can take their unit, and a line for each.

use super::sash::minds;
use crate::finding::{Finding, Verdict};
use crate::language::Text;
use crate::report::{CannotBeCut, CountedSize, HouseReport, Report, SashLine, SashReport};
use crate::sheets::answer::{in_a_word, time};
use crate::sheets::found::matter;
use crate::sheets::kit::{Voice, fixed, tell};
use crate::sheets::lines::Lines;

/// In short what a report says.
pub fn in_short(report: &Report) -> HouseReport {
    let sashes = report.sashes.iter().map(line);
    let sashes = sashes.chain(report.cannot_be_cut.iter().map(line_of_none)).collect();
    HouseReport::of(report, sashes)
}

/// The few figures of a sash that its house is told by.
pub fn line(sash: &SashReport) -> SashLine {
    SashLine {
        id: sash.id.clone(),
        kind: sash.kind.to_owned(),
        verdict: sash.verdict,
        answers: Some(sash.answers),
        unit: sash.units.first().map(|unit| unit.build_up.clone()),
        sizes: CountedSize::of(&sash.units),
        left: sash.timber.least_left().map(|(_, least)| least.wood),
        minutes: sash.minutes(),
        gain: sash.hanging.as_ref().and_then(|hanging| hanging.gain),
        whole_u: sash.warmth.as_ref().map(|warmth| [warmth.before.whole_u, warmth.after.whole_u]),
        saved: sash.warmth.as_ref().and_then(|warmth| warmth.saved),
        mind: first_mind(&sash.findings),
    }
}

/// The same of a sash for which no cut could be worked out.
pub fn line_of_none(sash: &CannotBeCut) -> SashLine {
    SashLine {
        id: sash.id.clone(),
        kind: sash.kind.to_owned(),
        verdict: sash.verdict,
        answers: None,
        unit: None,
        sizes: Vec::new(),
        left: None,
        minutes: None,
        gain: None,
        whole_u: None,
        saved: None,
        mind: first_mind(&sash.findings),
    }
}

/// The answer for the house in a sentence, what to check first, and a table where there are several sashes.
pub(super) fn head(out: &mut Lines, report: &HouseReport) {
    let voice = out.voice;
    out.wrapped("", "  ", &format!("{}: {}", report.house, sentence(report, voice)));
    for doubt in &report.doubts {
        out.wrapped(&(voice.word("house-first-check") + " "), "  ", &voice.say(doubt));
    }
    if !report.assumed.is_empty() {
        out.wrapped(
            &(voice.word("house-assumed") + " "),
            "  ",
            &format!("{}.", voice.say(&Text::each(&report.assumed))),
        );
    }
    if report.sashes.len() > 1 {
        out.gap();
        table(out, report);
    }
}

/// `10 sashes. 8 can take their unit, 1 cannot, 1 cannot be cut as things stand.`
pub(in crate::sheets) fn sentence(report: &HouseReport, voice: Voice) -> String {
    let all = report.sashes.len();
    let of =
        |wanted: fn(&SashLine) -> bool| report.sashes.iter().filter(|sash| wanted(sash)).count();
    let can = of(|sash| sash.answers.is_some() && sash.verdict != Verdict::Stop);
    let cannot = of(|sash| !sash.may_be_ordered());
    let later = all - can - cannot;
    if all == 1 {
        return voice.word(match (can, cannot) {
            (1, _) => "house-one-can",
            (_, 1) => "house-one-cannot",
            _ => "house-one-not-cut",
        });
    }
    let parts = [(can, "house-can"), (later, "house-not-cut"), (cannot, "house-cannot")];
    let parts = parts.into_iter().filter(|(count, _)| *count > 0);
    let parts: Vec<String> = parts.map(|(count, key)| tell!(voice, key, count)).collect();
    tell!(voice, "house-sashes", all, parts = parts.join(", "))
}

/// What the columns hold, by their keys.
const COLUMNS: [&str; 8] = [
    "cutting-sash",
    "owner-answer",
    "house-unit",
    "house-size",
    "house-left",
    "house-router",
    "house-gains",
    "owner-mind",
];

/// What the columns mean.
pub(in crate::sheets) fn legend(voice: Voice) -> String {
    let inches = voice.in_inches("").is_some();
    voice.word(if inches { "house-legend-inches" } else { "house-legend" })
}

/// A row of names, then a row a sash; columns that say nothing of any sash are left out.
pub(in crate::sheets) fn rows(report: &HouseReport, voice: Voice) -> Vec<Vec<String>> {
    let mut rows: Vec<Vec<String>> = vec![COLUMNS.map(|key| voice.word(key)).to_vec()];
    rows.extend(report.sashes.iter().map(|sash| row(sash, voice).to_vec()));
    // `check` runs no machine; then no sash has a time.
    let says = |column: usize| {
        rows.iter().skip(1).any(|row| row.get(column).is_some_and(|cell| cell != "-"))
    };
    let says: Vec<bool> = (0..COLUMNS.len()).map(says).collect();
    let kept = |row: Vec<String>| -> Vec<String> {
        row.into_iter().zip(&says).filter_map(|(cell, says)| says.then_some(cell)).collect()
    };
    rows.into_iter().map(kept).collect()
}

fn table(out: &mut Lines, report: &HouseReport) {
    let rows = rows(report, out.voice);
    let width = |column: usize| {
        let cells = rows.iter().filter_map(|row| row.get(column));
        cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let most = out.width;
    let fits = |line: &str| line.trim_end().chars().count() <= most;
    // Columns stay under each other; what has no room beside them stands below, on a narrow screen more than that.
    let widths: Vec<usize> = (0..rows.first().map_or(0, Vec::len)).map(width).collect();
    let room = |count: &usize| {
        widths.iter().take(*count).map(|width| width + 1).sum::<usize>() <= most + 1
    };
    let beside = (1..widths.len()).rev().find(room).unwrap_or(1);
    for row in &rows {
        let cells = row.iter().zip(&widths);
        let cells: Vec<String> = cells.map(|(cell, width)| format!("{cell:<width$}")).collect();
        let whole = cells.join(" ");
        if fits(&whole) {
            out.line(&whole);
            continue;
        }
        let (columns, below) = cells.split_at_checked(beside).unwrap_or((&cells, &[]));
        out.line(&columns.join(" "));
        out.wrapped("    ", "    ", &below.join(" "));
    }
    out.wrapped("", "", &legend(out.voice));
}

fn row(sash: &SashLine, voice: Voice) -> [String; 8] {
    let dash = || "-".to_owned();
    // What must not be ordered has no size to order, and gains no weight.
    let ordered = sash.may_be_ordered();
    [
        sash.id.clone(),
        voice.word(in_a_word(sash)),
        sash.unit.clone().unwrap_or_else(dash),
        sizes(&sash.sizes, voice).filter(|_| ordered).unwrap_or_else(dash),
        sash.left.map_or_else(dash, |left| voice.cell(&["mm"], &fixed(left, 0))),
        sash.minutes.map_or_else(dash, |minutes| time(minutes, voice)),
        sash.gain.filter(|_| ordered).map_or_else(dash, |gain| fixed(gain, 0)),
        sash.mind.as_ref().map_or_else(dash, |mind| voice.named(mind)),
    ]
}

/// `644 x 854`, `6 of 208 x 372`, `6 in 2 sizes`.
fn sizes(sizes: &[CountedSize], voice: Voice) -> Option<String> {
    let [CountedSize { count, size }] = sizes else {
        let count: usize = sizes.iter().map(|size| size.count).sum();
        return (count > 0).then(|| tell!(voice, "house-in-sizes", count, sizes = sizes.len()));
    };
    let size = voice.cell(&["mm"], &format!("{:.0} x {:.0}", size.width, size.height));
    Some(if *count == 1 { size } else { tell!(voice, "house-of", count, size) })
}

fn first_mind(findings: &[Finding]) -> Option<String> {
    minds(findings, Voice::plain()).first().map(|(finding, _)| matter(finding, Voice::plain()))
}
