//! The table of passes: what to set, what guides the router, what wood is left.

use super::{WITH_TABLE, mm, together};
use crate::geometry::Edge;
use crate::hand::{Guide, Setting};
use crate::number::number;
use crate::passes::{Bite, Pass, Stage};
use crate::report::{FaceHeights, PassLine, SashReport};
use crate::sheets::Subject;
use crate::sheets::kit::{Column, Flow, Table};

/// What a face that is not flat means for depths; nothing for a flat one.
fn warp(report: &SashReport) -> Option<String> {
    let FaceHeights { lowest, highest, range } = report.face?;
    let tenth = |value| number(value, 1);
    Some(format!(
        "The face of this sash is not flat: it lies from {} to {} mm high. The depths below count from the face \
         at every place, and so do the programs. A base that rides on the face follows it by itself; a carriage \
         that runs on rails or a level board does not, and its cuts would be up to {} mm deeper at one place \
         than at another.",
        tenth(lowest),
        tenth(highest),
        tenth(range)
    ))
}

/// The table of passes.
pub(super) fn table(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport, rows: &[Row]) {
    let bush = subject.materials.by_bush;
    let plate = if bush { subject.workshop.router.plate } else { 0.0 };
    flow.heading_over("Passes", WITH_TABLE);
    flow.paragraph(&if bush {
        format!(
            "The depth stop counts from the base, {} mm of template included. The template stays where it is \
             from the first pass to the last; where wood is left on the wall for the finishing cut, a strip of that \
             thickness lies along its edge.",
            mm(plate)
        )
    } else {
        "Measure the straightedge from the sight edge, square to it. With the base against it the cutter \
         reaches the wall of that pass."
            .to_owned()
    });
    if let Some(warp) = warp(report) {
        flow.paragraph(&warp);
    }
    flow.paragraph(&format!(
        "At the deepest pass the tip stands {} mm below the base. The collet must hold the shank by its full \
         length above that, so look for a cutter that is long enough before you begin.",
        mm(report.reach)
    ));
    let mut table = Table::new(vec![
        Column::numbers("no.", 0.6),
        Column::words("stage", 1.9),
        Column::words("place", 1.8),
        Column::numbers("depth, mm", 1.0),
        Column::numbers("depth stop, mm", 1.1),
        Column::words(if bush { "guide" } else { "straightedge, mm" }, 3.2),
        Column::numbers("left under / beside, mm", 1.5),
        Column::words("done", 0.7),
    ]);
    for (index, row) in rows.iter().enumerate() {
        let beside = row.beside.map_or_else(|| "–".to_owned(), mm);
        table.rows.push(vec![
            (index + 1).to_string(),
            row.stage.to_string(),
            together(subject, &row.places),
            mm(row.depth),
            row.below_base.map_or_else(|| "chisel".into(), mm),
            row.guides.clone(),
            format!("{} / {beside}", mm(row.under)),
            String::new(),
        ]);
    }
    flow.table(&table);
}

/// Passes that are set alike, whichever light they are made in.
pub(super) struct Row {
    pub(super) stage: Stage,
    pub(super) places: Vec<String>,
    pub(super) depth: f64,
    below_base: Option<f64>,
    guides: String,
    /// Wood left at its least.
    under: f64,
    beside: Option<f64>,
}

/// The passes of the report, those that are set alike together.
pub(super) fn rows(subject: &Subject<'_>, report: &SashReport) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for PassLine { pass, setting } in &report.passes {
        let (stage, guides) = (pass.stage, guided(subject, pass, setting));
        let alike = |row: &&mut Row| {
            row.stage == stage && row.guides == guides && (row.depth - pass.to_depth).abs() < 1e-6
        };
        if let Some(row) = rows.iter_mut().find(alike) {
            row.places.push(pass.place.clone());
            row.under = row.under.min(pass.left.under);
            row.beside = match (row.beside, pass.left.beside) {
                (Some(a), Some(b)) => Some(a.min(b)),
                (a, b) => a.or(b),
            };
            continue;
        }
        rows.push(Row {
            stage,
            places: vec![pass.place.clone()],
            depth: pass.to_depth,
            below_base: setting.below_base,
            guides,
            under: pass.left.under,
            beside: pass.left.beside,
        });
    }
    rows
}

/// What guides the router in a pass.
fn guided(subject: &Subject<'_>, pass: &Pass, setting: &Setting) -> String {
    let guides = &setting.guides;
    if let Bite::Strip(strip) = &pass.bite
        && let Edge::Arc(_) = strip.bar.path
    {
        return format!("a guide sawn to the bar's curve: {}", straightedges(guides));
    }
    if !(subject.materials.by_bush && matches!(pass.bite, Bite::Ring(_))) {
        return straightedges(guides);
    }
    setting.strip.map_or_else(
        || "template as it stands".to_owned(),
        |strip| format!("template with a strip of {} mm along its edge", mm(strip)),
    )
}

/// Sides with the same setting together: `left, right 83; bottom 85 from the sight edge`.
fn straightedges(guides: &[Guide]) -> String {
    let mut groups: Vec<(String, Vec<&str>)> = Vec::new();
    for guide in guides {
        let side = guide.from.strip_suffix(" sight edge").unwrap_or(&guide.from);
        match groups.iter_mut().find(|(known, _)| *known == mm(guide.straightedge)) {
            Some((_, sides)) => sides.push(side),
            None => groups.push((mm(guide.straightedge), vec![side])),
        }
    }
    let told: Vec<String> =
        groups.iter().map(|(at, sides)| format!("{} {at}", sides.join(", "))).collect();
    if let [guide] = guides {
        return format!("straightedge {} from the {}", mm(guide.straightedge), guide.from);
    }
    let from = if guides.iter().any(|guide| guide.from.ends_with("sight edge")) {
        " from the sight edge"
    } else {
        ""
    };
    if told.is_empty() { "by hand".into() } else { format!("{}{from}", told.join("; ")) }
}
