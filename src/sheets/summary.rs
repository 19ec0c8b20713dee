//! The whole answer in plain text, for a terminal of 80 columns.

use crate::finding::{Finding, Verdict};
use crate::passes::{Bite, Pass};
use crate::prove::Proof;
use crate::report::{Choice, Report, SashReport, UnitLine};

/// Columns of a line.
const WIDTH: usize = 78;

/// The report of a run, in plain text.
pub fn summary(report: &Report) -> String {
    let mut out = Lines::default();
    out.line(&report.house);
    out.line(&"=".repeat(report.house.chars().count().clamp(1, WIDTH)));
    for sash in &report.sashes {
        sash_summary(&mut out, sash);
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
    for fault in &proof.faults {
        let Finding { rule, place, measured, limit, verdict, advice, .. } = &fault.finding;
        let more = if fault.count > 1 { format!(" ({} such)", fault.count) } else { String::new() };
        let text = format!("{rule}, {place}: {measured} against {limit}{more}. {advice}");
        out.wrapped(&format!("{verdict:<8}"), "        ", &text);
    }
    for corner in proof.chisel.iter().filter(|corner| corner.needed) {
        let [x, y] = corner.at;
        out.line(&format!(
            "chisel  {}: corner at X {x:.1} Y {y:.1}, {:.1} mm along the diagonal",
            corner.light, corner.expected_diagonal
        ));
    }
    out.line(match (proof.is_proven(), proof.swept) {
        (true, _) => "Proven: the programs cut what must go and nothing that must stay.",
        (false, true) => "Not proven: do not run these programs on this sash.",
        (false, false) => "Not proven: the programs hold words that cannot be judged.",
    });
    out.text
}

fn sash_summary(out: &mut Lines, sash: &SashReport) {
    out.gap();
    out.line(&format!("{} ({}): {}", sash.id, sash.kind, verdict_words(sash.verdict)));
    choice(out, &sash.choice);
    for unit in &sash.units {
        unit_line(out, unit, sash.verdict);
    }
    out.wrapped("  ", "  ", &rebate(sash));
    let (open, clear): (Vec<&Finding>, Vec<&Finding>) =
        sash.findings.iter().partition(|finding| finding.verdict != Verdict::Clear);
    for finding in open {
        let Finding { rule, place, measured, limit, verdict, advice, basis } = finding;
        out.wrapped(
            &format!("  {verdict:<8}"),
            "          ",
            &format!("{rule}, {place}: {measured} against {limit} ({basis}). {advice}"),
        );
    }
    out.line(&format!("  clear     {} further judgements", clear.len()));
    passes(out, sash);
    for program in &sash.programs {
        out.line(&format!(
            "  cuts/{:<20} {:>5} lines, about {:.0} min, proven",
            program.name, program.lines, program.minutes
        ));
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

fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Clear => "yes, there is enough wood",
        Verdict::Caution => "yes, with care",
        Verdict::Stop => "no",
    }
}

fn choice(out: &mut Lines, choice: &Choice) {
    let listed = choice.thickest_listed.as_ref().map_or_else(
        || "No usual make-up fits".into(),
        |found| format!("Thickest usual make-up that fits: {found}"),
    );
    let any = match (choice.thickest, &choice.stopped_by) {
        (Some(thickest), Some(stop)) => format!(
            "; at most {thickest:.1} mm of any make-up. The next is stopped by {}, {}: {} against {}.",
            stop.rule, stop.place, stop.measured, stop.limit
        ),
        (Some(thickest), None) => format!("; even {thickest:.1} mm would fit."),
        (None, Some(stop)) => format!(
            "; none at all: {}, {}: {} against {}. {}",
            stop.rule, stop.place, stop.measured, stop.limit, stop.advice
        ),
        (None, None) => ".".into(),
    };
    out.wrapped("  ", "  ", &(listed + &any));
}

fn unit_line(out: &mut Lines, unit: &UnitLine, verdict: Verdict) {
    let order = if verdict == Verdict::Stop { "Would order" } else { "Order" };
    let weight = unit.weight.map_or_else(String::new, |kg| format!(", {kg:.1} kg"));
    out.wrapped(
        "  ",
        "    ",
        &format!(
            "{order} for {}: {:.1} x {:.1} mm, {}, {:.1} mm thick{weight}; sight {:.1} x {:.1} mm.",
            unit.light,
            unit.order.width,
            unit.order.height,
            unit.build_up,
            unit.thickness,
            unit.sight.width,
            unit.sight.height,
        ),
    );
}

fn passes(out: &mut Lines, sash: &SashReport) {
    if sash.passes.is_empty() {
        return;
    }
    out.line("  pass  stage               where          depth mm   left under / beside mm");
    for (index, line) in sash.passes.iter().enumerate() {
        let Pass { stage, place, from_depth, to_depth, left, .. } = &line.pass;
        let beside = left.beside.map_or_else(|| "-".into(), |beside| format!("{beside:.1}"));
        out.line(&format!(
            "  {:>4}  {:<18}  {:<13}  {:>4.1}-{:<4.1}  {:>6.1} / {beside}{}",
            index + 1,
            stage.to_string(),
            place,
            from_depth,
            to_depth,
            left.under,
            if matches!(line.pass.bite, Bite::Corners { .. }) { "  (chisel)" } else { "" },
        ));
    }
}

#[derive(Default)]
struct Lines {
    text: String,
}

impl Lines {
    fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    fn gap(&mut self) {
        self.text.push('\n');
    }

    /// `text` broken at spaces, the first line after `first`, the others after `rest`.
    fn wrapped(&mut self, first: &str, rest: &str, text: &str) {
        let mut line = first.to_string();
        let mut empty = true;
        for word in text.split_whitespace() {
            if !empty && line.chars().count() + 1 + word.chars().count() > WIDTH {
                self.line(&line);
                line = rest.to_string();
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(word);
            empty = false;
        }
        self.line(&line);
    }
}
