//! The whole answer in plain text, for a terminal of 80 columns.

use super::answer::{answer, frees, ordering};
use super::kit::grouped;
use super::lines::{Lines, WIDTH};
use super::{building_checks, choice, margins};
use crate::finding::{Finding, Verdict};
use crate::geometry::{MinMax, Side};
use crate::passes::Stage;
use crate::prove::Proof;
use crate::report::{PassLine, Report, SashReport, UnitLine};

/// Everything that was made, in plain text: what to order, what is cut, and how.
pub fn summary(report: &Report) -> String {
    written(report, made)
}

/// Which units each sash can take and why not the others, in plain text.
pub fn check(report: &Report) -> String {
    written(report, |out, sash| {
        choice::candidates(out, &sash.choice);
        units(out, sash);
        out.wrapped("  ", "  ", &rebate(sash));
        building_checks(out, sash);
        findings(out, &sash.findings);
    })
}

fn written(report: &Report, body: impl Fn(&mut Lines, &SashReport)) -> String {
    let mut out = Lines::default();
    out.line(&report.house);
    out.line(&"=".repeat(report.house.chars().count().clamp(1, WIDTH)));
    for doubt in &report.doubts {
        out.wrapped("First check ", "  ", doubt);
    }
    if !report.assumed.is_empty() {
        out.wrapped("Not asked, and taken as: ", "  ", &report.assumed.join("; "));
    }
    for sash in &report.sashes {
        out.gap();
        out.wrapped("", "  ", &format!("{} ({}): {}", sash.id, sash.kind, answer(sash.answers)));
        if let Some(words) = frees(sash) {
            out.wrapped("  ", "  ", &words);
        }
        choice::brief(&mut out, &sash.choice);
        body(&mut out, sash);
    }
    for sash in &report.cannot_be_cut {
        out.gap();
        out.line(&format!("{} ({}): no", sash.id, sash.kind));
        findings(&mut out, &sash.findings);
    }
    out.gap();
    out.line("Cautions");
    for caution in &report.cautions {
        out.wrapped("- ", "  ", caution);
    }
    out.text
}

/// The outcome of a proof, in plain text.
pub fn proof(proof: &Proof) -> String {
    let mut out = Lines::default();
    for program in &proof.programs {
        out.line(&format!(
            "{}: {} lines, {} moves, about {:.0} min, down to {:.2} mm",
            program.name, program.lines, program.moves, program.minutes, -program.lowest
        ));
    }
    for taken in &proof.assumed {
        out.wrapped("taken   ", "        ", taken);
    }
    for fault in proof.faults.iter().chain(&proof.cautions) {
        let Finding { place, verdict, advice, measured, .. } = &fault.finding;
        let figures = fault.finding.figures().join(" against ");
        let more = if fault.count > 1 { format!("{} such", fault.count) } else { String::new() };
        // A word is no figure.
        let figures = if measured.unit.is_empty() { String::new() } else { figures };
        let told = [figures, more].into_iter().filter(|part| !part.is_empty());
        let told = told.collect::<Vec<_>>().join("; ");
        let told = if told.is_empty() { told } else { format!(" ({told})") };
        let text = format!("{place}: {advice}{told}");
        out.wrapped(&format!("{verdict:<8}"), "        ", &text);
    }
    for corner in proof.chisel.iter().filter(|corner| corner.needed) {
        let [x, y] = corner.at.map(|at| margins::place(at, 1));
        out.line(&format!(
            "chisel  {}: corner at X {x} Y {y}, {:.1} mm along the diagonal",
            corner.light, corner.expected_diagonal
        ));
    }
    for sentence in margins::sentences(&proof.margins) {
        out.wrapped("margin  ", "        ", &sentence);
    }
    out.line(match (proof.is_proven(), proof.swept) {
        (true, _) => "Proven: the programs cut what must go and nothing that must stay.",
        (false, true) => "Not proven: do not run these programs on this sash.",
        (false, false) => "Not proven: what stands above comes first; the wood was not tried.",
    });
    out.text
}

fn made(out: &mut Lines, sash: &SashReport) {
    units(out, sash);
    out.wrapped("  ", "  ", &rebate(sash));
    building_checks(out, sash);
    findings(out, &sash.findings);
    passes(out, &sash.passes);
    for program in &sash.programs {
        out.line(&format!(
            "  cuts/{:<20} {:>5} lines, about {:.0} min, proven",
            program.name, program.lines, program.minutes
        ));
    }
    let proof = sash.proof.iter().filter(|proof| proof.proven);
    for sentence in proof.flat_map(|proof| margins::sentences(&proof.margins)) {
        out.wrapped("  ", "    ", &sentence);
    }
}

/// Units to order, like ones together.
fn units(out: &mut Lines, sash: &SashReport) {
    let like = |a: &UnitLine, b: &UnitLine| {
        a.order == b.order
            && a.shape == b.shape
            && a.sight == b.sight
            && a.internal_bars == b.internal_bars
            && tapers(a) == tapers(b)
    };
    for (unit, places) in grouped(&sash.units, like, |unit| unit.light.as_str()) {
        let order = ordering(sash.answers);
        let count = places.len();
        let weight = unit.weight.map_or_else(String::new, |kg| format!(", {kg:.1} kg"));
        let text = format!(
            "{order}: {count} of {:.1} x {:.1} mm, {} ({}), {:.1} mm thick{weight}, for {} (sight {:.1} x {:.1} \
             mm).",
            unit.order.width,
            unit.order.height,
            unit.build_up,
            made_of(unit),
            unit.thickness,
            places.join(", "),
            unit.sight.width,
            unit.sight.height,
        );
        out.wrapped("  ", "    ", &text);
        along(out, unit);
    }
}

/// What is turned by less shows as 0.00 degrees.
const TURNED: f64 = 0.005;

/// One table a unit that lies behind a daylight out of square or under a head.
fn along(out: &mut Lines, unit: &UnitLine) {
    let Some(rows) = tapers(unit) else { return };
    let turned = if unit.turned.abs() < TURNED {
        String::new()
    } else {
        format!(", which lies turned by {:.2}° in the sash", unit.turned)
    };
    out.wrapped(
        "  ",
        "    ",
        &format!("Least and most along the sides of the unit for {}{turned}, mm:", unit.light),
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

/// Warmth, what the glass bears, weight, what carries it, and gaps: a line or two each.
fn building_checks(out: &mut Lines, sash: &SashReport) {
    for check in building_checks::all(sash) {
        out.wrapped(&format!("  {:<8}", check.short), "          ", &check.text);
    }
}

/// What a unit is made of, as far as the survey states it.
fn made_of(unit: &UnitLine) -> String {
    match unit.unstated.as_slice() {
        [] => unit.make.clone(),
        open => format!("{}; ask the maker: {}", unit.make, open.join(", ")),
    }
}

/// The new rebate, and the least wood under it.
fn rebate(sash: &SashReport) -> String {
    let members =
        sash.timber.members.iter().map(|(_, member)| (&member.name, &member.under_platform));
    let bars = sash.timber.bars.iter().map(|bar| (&bar.name, &bar.under_platform));
    let least = members
        .chain(bars)
        .filter_map(|(name, least)| least.as_ref().map(|least| (name, least)))
        .min_by(|(_, a), (_, b)| a.wood.total_cmp(&b.wood));
    let under = least.map_or_else(String::new, |(name, least)| {
        format!(
            " Least wood under it: {:.1} mm, {name}, {:.1} mm from the sight edge.",
            least.wood, least.from_sight
        )
    });
    format!(
        "New rebate {:.1} mm deep; {:.0} cm³ of wood goes.{under}",
        sash.rebate_depth, sash.wood_removed
    )
}

/// What is not clear, like findings together; the clear ones as a number.
fn findings(out: &mut Lines, findings: &[Finding]) {
    let (open, clear): (Vec<&Finding>, Vec<&Finding>) =
        findings.iter().partition(|finding| finding.verdict != Verdict::Clear);
    let like = |a: &&Finding, b: &&Finding| {
        a.rule == b.rule
            && a.verdict == b.verdict
            && a.advice == b.advice
            && a.figures() == b.figures()
    };
    for (finding, places) in grouped(&open, like, |finding| finding.place.as_str()) {
        let Finding { rule, verdict, advice, basis, .. } = finding;
        let (places, figures) = (places.join(", "), finding.figures().join(" against "));
        let text = format!("{rule}, {places}: {figures} ({basis}). {advice}");
        out.wrapped(&format!("  {verdict:<8}"), "          ", &text);
    }
    out.line(&format!(
        "  clear   {} {}judgements",
        clear.len(),
        if open.is_empty() { "" } else { "further " }
    ));
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
