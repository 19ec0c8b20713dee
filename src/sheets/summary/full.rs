//! Everything that is known of a sash, for whoever asks for it by name.

use super::sash::minds;
use crate::geometry::{MinMax, Side};
use crate::passes::Stage;
use crate::report::{PassLine, SashReport, UnitLine};
use crate::sheets::kit::{Voice, fixed, grouped, range, tell};
use crate::sheets::lines::Lines;
use crate::sheets::{choice, margins};

/// What the short answer leaves out: units tried, tapering sides, every point to mind, passes, margins.
pub(super) fn details(out: &mut Lines, sash: &SashReport) {
    let voice = out.voice;
    out.gap();
    choice::brief(out, &sash.choice);
    choice::candidates(out, &sash.choice);
    let like = |a: &UnitLine, b: &UnitLine| {
        tapers(a, voice).is_some() && tapers(a, voice) == tapers(b, voice)
    };
    for (unit, places) in grouped(&sash.units, like, |unit| unit.light.as_str()) {
        along(out, unit, &places);
    }
    let minds = minds(&sash.findings, voice);
    if !minds.is_empty() {
        out.gap();
        out.line(&format!("  {}", voice.word("full-minds")));
        for (finding, mind) in &minds {
            let mind = mind.trim_end_matches('.');
            out.wrapped("  - ", "    ", &format!("{mind} ({}).", finding.basis));
        }
    }
    passes(out, &sash.passes);
    let proof = sash.proof.iter().filter(|proof| proof.proven);
    for sentence in proof.flat_map(|proof| margins::sentences(&proof.margins, voice)) {
        out.wrapped("  ", "    ", &sentence);
    }
}

/// What is turned by less shows as 0.00 degrees.
const TURNED: f64 = 0.005;

/// One table a unit that lies behind a daylight out of square or under a head.
fn along(out: &mut Lines, unit: &UnitLine, places: &[&str]) {
    let voice = out.voice;
    let Some(rows) = tapers(unit, voice) else { return };
    let places = voice.named(&places.join(", "));
    let told = if unit.turned.abs() < TURNED {
        tell!(voice, "full-sides", places)
    } else {
        tell!(voice, "full-sides-turned", places, turned = format!("{:.2}", unit.turned))
    };
    out.wrapped("  ", "    ", &told);
    let line = |name: &str, cells: [String; 4]| {
        format!("    {name:<8}{}", cells.map(|cell| format!("{cell:<15}")).concat())
    };
    out.line(&line("", ROW.map(|key| voice.word(key))));
    for (side, row) in Side::ALL.iter().zip(rows) {
        let inches = row.each_ref().map(|cell| out.voice.in_inches(cell));
        out.line(&line(&voice.named(&side.to_string()), row));
        if let [Some(a), Some(b), Some(c), Some(d)] = inches {
            out.line(&line("  (in)", [a, b, c, d]));
        }
    }
}

/// What the columns hold, by their keys.
const ROW: [&str; 4] = ["section-cover", "full-gap", "full-rebate", "full-beside"];

/// The lengths along the sides of a unit, a row a side; none where none of them varies.
fn tapers(unit: &UnitLine, voice: Voice) -> Option<[[String; 4]; 4]> {
    let lengths = Side::ALL.map(|side| {
        let (cover, gap) = (unit.cover.get(side), unit.clearance.get(side));
        [Some(*cover), Some(*gap), Some(*unit.rebate_width.get(side)), *unit.beside.get(side)]
    });
    let words = lengths.map(|row| {
        row.map(|length| length.map_or_else(|| "-".into(), |length| min_max(length, voice)))
    });
    let varies = words.iter().flatten().any(|words| words.contains(' '));
    varies.then_some(words)
}

fn min_max(length: MinMax, voice: Voice) -> String {
    range(<[f64; 2]>::from(length).map(|length| format!("{length:.1}")), voice)
}

/// Passes by stage, like places together.
fn passes(out: &mut Lines, passes: &[PassLine]) {
    if passes.is_empty() {
        return;
    }
    let voice = out.voice;
    let inches = |words: &str| voice.in_inches(words);
    let wide = inches("").is_some();
    out.line(&voice.word(if wide { "full-passes-inches" } else { "full-passes" }));
    let mut rows: Vec<Row> = Vec::new();
    for PassLine { pass, .. } in passes {
        let last = format!("{:.1}", pass.to_depth);
        let beside = pass.left.beside.map_or_else(|| "-".into(), |beside| fixed(beside, 1));
        let left = format!("{} / {beside}", fixed(pass.left.under, 1));
        match rows.iter_mut().find(|row| row.stage == pass.stage && row.place == pass.place) {
            Some(row) => (row.steps, row.depth, row.left) = (row.steps + 1, last, left),
            None => rows.push(Row {
                stage: pass.stage,
                place: &pass.place,
                steps: 1,
                depth: last,
                left,
            }),
        }
    }
    let like = |a: &Row, b: &Row| {
        a.stage == b.stage && a.steps == b.steps && a.depth == b.depth && a.left == b.left
    };
    for (row, places) in grouped(&rows, like, |row| row.place) {
        let Row { stage, steps, depth, left, .. } = row;
        let places = voice.named(&places.join(", "));
        let stage = voice.named(stage.words());
        match inches(depth).zip(inches(left)) {
            None => {
                let first = format!("  {stage:<18}  {steps:>5}  {depth:>11}  {left:>13}  ");
                out.wrapped(&first, &" ".repeat(24), &places);
            }
            // There is no room for the places beside them.
            Some((deep, beside)) => {
                let (depth, left) = (format!("{depth} ({deep})"), format!("{left} ({beside})"));
                out.line(&format!("  {stage:<18}  {steps:>5}  {depth:>16}  {left:>31}"));
                out.wrapped("      ", "      ", &places);
            }
        }
    }
}

/// One stage at one place.
struct Row<'a> {
    stage: Stage,
    place: &'a str,
    steps: usize,
    depth: String,
    left: String,
}
