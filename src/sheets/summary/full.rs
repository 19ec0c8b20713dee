//! Everything that is known of a sash, for whoever asks for it by name.

use super::sash::minds;
use crate::geometry::{MinMax, Side};
use crate::passes::Stage;
use crate::report::{PassLine, SashReport, UnitLine};
use crate::sheets::kit::grouped;
use crate::sheets::lines::Lines;
use crate::sheets::{choice, margins};

/// What the short answer leaves out: units tried, tapering sides, every point to mind, passes, margins.
pub(super) fn details(out: &mut Lines, sash: &SashReport) {
    out.gap();
    choice::brief(out, &sash.choice);
    choice::candidates(out, &sash.choice);
    let like = |a: &UnitLine, b: &UnitLine| tapers(a).is_some() && tapers(a) == tapers(b);
    for (unit, places) in grouped(&sash.units, like, |unit| unit.light.as_str()) {
        along(out, unit, &places);
    }
    let minds = minds(&sash.findings);
    if !minds.is_empty() {
        out.gap();
        out.line("  Everything to mind, and what each bound rests on:");
        for (finding, mind) in &minds {
            let mind = mind.trim_end_matches('.');
            out.wrapped("  - ", "    ", &format!("{mind} ({}).", finding.basis));
        }
    }
    passes(out, &sash.passes);
    let proof = sash.proof.iter().filter(|proof| proof.proven);
    for sentence in proof.flat_map(|proof| margins::sentences(&proof.margins)) {
        out.wrapped("  ", "    ", &sentence);
    }
}

/// What is turned by less shows as 0.00 degrees.
const TURNED: f64 = 0.005;

/// One table a unit that lies behind a daylight out of square or under a head.
fn along(out: &mut Lines, unit: &UnitLine, places: &[&str]) {
    let Some(rows) = tapers(unit) else { return };
    let turned = if unit.turned.abs() < TURNED {
        String::new()
    } else {
        format!(", which lies turned by {:.2}° in the sash", unit.turned)
    };
    out.wrapped(
        "  ",
        "    ",
        &format!(
            "Least and most along the sides of the unit for {}{turned}, mm:",
            places.join(", ")
        ),
    );
    out.line(&format!("    {:8}{}", "", ROW.map(|word| format!("{word:<15}")).concat().trim_end()));
    for (side, row) in Side::ALL.iter().zip(rows) {
        out.line(&format!("    {side:<8}{}", row.trim_end()));
    }
}

/// What the columns hold.
const ROW: [&str; 4] = ["cover", "gap", "rebate", "wood beside"];

/// The lengths along the sides of a unit, a row a side; none where none of them varies.
fn tapers(unit: &UnitLine) -> Option<[String; 4]> {
    let lengths = Side::ALL.map(|side| {
        let (cover, gap) = (unit.cover.get(side), unit.clearance.get(side));
        [Some(*cover), Some(*gap), Some(*unit.rebate_width.get(side)), *unit.beside.get(side)]
    });
    let words = lengths.map(|row| row.map(|length| length.map_or_else(|| "-".into(), min_max)));
    let varies = words.iter().flatten().any(|words| words.contains(" to "));
    varies.then(|| words.map(|row| row.map(|words| format!("{words:<15}")).concat()))
}

fn min_max(length: MinMax) -> String {
    let [least, most] = [length.least, length.most].map(|length| format!("{length:.1}"));
    if least == most { least } else { format!("{least} to {most}") }
}

/// Passes by stage, like places together.
fn passes(out: &mut Lines, passes: &[PassLine]) {
    if passes.is_empty() {
        return;
    }
    out.line("  stage               steps  to depth mm  wood left under / beside mm");
    let mut rows: Vec<Row> = Vec::new();
    for PassLine { pass, .. } in passes {
        let last = format!("{:.1}", pass.to_depth);
        let beside = pass.left.beside.map_or_else(|| "-".into(), |beside| format!("{beside:.1}"));
        let left = format!("{:.1} / {beside}", pass.left.under);
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
        let places = places.join(", ");
        let first = format!("  {:<18}  {steps:>5}  {depth:>11}  {left:>13}  ", stage.to_string());
        out.wrapped(&first, &" ".repeat(24), &places);
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
