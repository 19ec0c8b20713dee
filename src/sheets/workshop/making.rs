//! From stripping to the last cut: order of work, settings, guides, chisel.

use super::mm;
use crate::geometry::{OutlineError, SAME};
use crate::hand::Guide;
use crate::passes::{Bite, Pass};
use crate::report::{PassLine, SashReport};
use crate::sheets::kit::{Column, Flow, Table};
use crate::sheets::{Subject, guide};

pub(super) fn tell(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
) -> Result<(), OutlineError> {
    order_of_work(flow, subject);
    passes(flow, subject, report);
    guide::tell(flow, subject)?;
    guide::boards(flow, subject);
    corners(flow, report);
    Ok(())
}

fn order_of_work(flow: &mut Flow, subject: &Subject<'_>) {
    flow.heading("Order of work");
    let bars = !subject.sash.measured.bars.is_empty();
    let guided = if subject.by_bush() { "template" } else { "straightedges" };
    let mut steps = vec![
        "Take the sash out; note which way up and which hand it was. Weigh it.".to_owned(),
        "Have old putty and paint tested, then take out glass and putty; keep good old glass.".to_owned(),
        "Draw sprigs, pins and nails. Go along the wood with a magnet, and mark what stays.".to_owned(),
        "Look at joints and wood, prick with an awl; mend first. Measure again what this sheet asks for."
            .to_owned(),
        format!("Lay the sash glazing face up, put up the boards, and fix the {guided}."),
        "Score the new wall, then widen in shallow steps at the old depth. Try the unit, or a board of its \
         size, in the opening before you go deeper."
            .to_owned(),
        "Deepen in steps to the new platform. Look at the wood after each pass.".to_owned(),
        "Chisel the corners that are listed below; clean the platform.".to_owned(),
        "Prime all fresh wood, let it dry, and set the unit as told below.".to_owned(),
        "Fit beads in their order, leave the sealant to set, paint, weigh the sash again, and hang it with \
         its weights or hinges adapted to what it has gained."
            .to_owned(),
    ];
    if bars {
        steps.insert(
            6,
            "Lower or rebate the bars with boards in the lights on both sides of them.".to_owned(),
        );
    }
    for (index, step) in steps.iter().enumerate() {
        flow.entry(&format!("{}.", index + 1), step);
    }
}

fn passes(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) {
    let bush = subject.by_bush();
    let plate = if bush { subject.workshop.router.plate } else { 0.0 };
    flow.heading("Passes");
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
    for (index, row) in rows(subject, report).iter().enumerate() {
        let beside = row.beside.map_or_else(|| "–".to_owned(), mm);
        table.rows.push(vec![
            (index + 1).to_string(),
            row.stage.clone(),
            row.places.join(", "),
            mm(row.depth),
            if row.by_router { mm(row.depth_stop + plate) } else { "chisel".into() },
            row.guides.clone(),
            format!("{} / {beside}", mm(row.under)),
            String::new(),
        ]);
    }
    flow.table(&table);
}

/// Passes that are set alike, whichever light they are made in.
struct Row {
    stage: String,
    places: Vec<String>,
    depth: f64,
    depth_stop: f64,
    by_router: bool,
    guides: String,
    /// Wood left at its least.
    under: f64,
    beside: Option<f64>,
}

fn rows(subject: &Subject<'_>, report: &SashReport) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    for PassLine { pass, setting } in &report.passes {
        let (stage, guides) = (pass.stage.to_string(), guided(subject, pass, &setting.guides));
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
            depth_stop: setting.depth_stop,
            by_router: !matches!(pass.bite, Bite::Corners { .. }),
            guides,
            under: pass.left.under,
            beside: pass.left.beside,
        });
    }
    rows
}

/// What guides the router in a pass.
fn guided(subject: &Subject<'_>, pass: &Pass, guides: &[Guide]) -> String {
    let Bite::Ring(ring) = &pass.bite else { return straightedges(guides) };
    if !subject.by_bush() {
        return straightedges(guides);
    }
    let walls = subject.fit.units.get(ring.unit).map(|unit| unit.rebate_width).unwrap_or_default();
    let left = ring.to.iter().map(|(side, to)| walls.get(side) - to).fold(0.0, f64::max);
    if left > SAME {
        format!("template with a strip of {} mm along its edge", mm(left))
    } else {
        "template as it stands".to_owned()
    }
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

fn corners(flow: &mut Flow, report: &SashReport) {
    let chiselled = report.passes.iter().filter_map(|line| match &line.pass.bite {
        Bite::Corners { at, radius, .. } => Some((&line.pass, at, *radius)),
        _ => None,
    });
    flow.heading("Corners for the chisel");
    let mut any = false;
    for (pass, at, radius) in chiselled {
        any = true;
        let places: Vec<String> =
            at.iter().map(|[x, y]| format!("({}, {})", mm(*x), mm(*y))).collect();
        flow.entry(
            "–",
            &format!(
                "{}: {} corners, square down to {} mm; the cutter leaves a fillet of {} mm radius. X and Y \
                 from the lower left corner of the sight: {}",
                pass.place,
                at.len(),
                mm(pass.to_depth),
                mm(radius),
                places.join(", ")
            ),
        );
    }
    if !any {
        flow.paragraph("None: the unit clears the fillets that the cutter leaves.");
    }
}
