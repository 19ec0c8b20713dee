//! From stripping to the last cut: order of work, settings of each pass, boards, corners for the chisel.

use super::{WITH_TABLE, bearing, or_dash, together};
use crate::geometry::{COINCIDENT, Edge};
use crate::hand::{Board, Guide, Setting};
use crate::number::{NotFinite, decimal};
use crate::passes::{Cut, Pass, Stage};
use crate::report::{FaceHeights, PassLine, ProofLine, SashReport};
use crate::sheets::kit::{Column, Flow, Table, min_max, mm, one_figure};
use crate::sheets::{Subject, guide};

/// What differs by less reads alike, mm.
const SHOWN: f64 = 0.05;

pub(super) fn cutting(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
) -> Result<(), NotFinite> {
    let rows = rows(subject, report)?;
    passes(flow, subject, report, &rows)?;
    if !subject.materials.by_bush {
        guide::tell(flow, subject)?;
    }
    if subject.workshop.router.bearing.is_some() {
        bearing::table(flow, subject, report)?;
    }
    boards(flow, subject, &rows)?;
    corners(flow, report)
}

/// How the depth stop and the guides are set, each after the word for it.
pub(super) fn keys(
    subject: &Subject<'_>,
    report: &SashReport,
) -> Result<Vec<(String, String)>, NotFinite> {
    let rows = rows(subject, report)?;
    let mut stops: Vec<f64> = rows.iter().filter_map(|row| row.below_base).collect();
    stops.sort_by(f64::total_cmp);
    let mut stops = stops.into_iter().map(mm).collect::<Result<Vec<String>, NotFinite>>()?;
    stops.dedup();
    let voice = subject.voice();
    let depths = ("depths", stops.join(", ").into());
    let told = if subject.materials.by_bush {
        let plate = ("plate", mm(subject.workshop.router.plate)?.into());
        voice.tell("workshop-stops-bush", [depths, plate])
    } else {
        voice.tell("workshop-stops", [depths])
    };
    let last = rows.iter().rev().find(|row| row.below_base.is_some());
    let stop = (!stops.is_empty()).then(|| (voice.tell("workshop-depth-stop", []), told));
    let guide = last.map(|row| (voice.tell("workshop-guide", []), format!("{}.", row.guides)));
    Ok(stop.into_iter().chain(guide).collect())
}

fn corners(flow: &mut Flow, report: &SashReport) -> Result<(), NotFinite> {
    let cleaned = report.passes.iter().find_map(|line| match &line.pass.cut {
        Cut::Clean { from, to, .. } => Some((*from, *to)),
        _ => None,
    });
    let chiselled = report.passes.iter().filter_map(|line| match &line.pass.cut {
        Cut::Corners { at, radius, .. } => Some((&line.pass, at, *radius)),
        _ => None,
    });
    flow.heading(&flow.voice().tell("workshop-corners", []));
    if let Some((from, to)) = cleaned {
        flow.paragraph(&format!(
            "The machine cleans corners with its thinner cutter, from {} mm radius down to {}. A router in the hand \
             leaves them as they were: chisel all that the unit would touch.",
            mm(from)?,
            mm(to)?
        ));
    }
    let mut any = false;
    for (pass, at, radius) in chiselled {
        any = true;
        let places = at.iter().map(|[x, y]| Ok(format!("X {} mm, Y {} mm", mm(*x)?, mm(*y)?)));
        let places = places.collect::<Result<Vec<_>, NotFinite>>()?;
        flow.entry(
            "–",
            &format!(
                "{}: {} corners, square down to {} mm; the cutter leaves a fillet of {} mm radius. From the \
                 lower left corner of the sight: {}",
                pass.place,
                at.len(),
                mm(pass.to_depth)?,
                mm(radius)?,
                places.join("; ")
            ),
        );
    }
    if !any {
        flow.paragraph(&match report.proof.as_ref().and_then(ProofLine::zero_before_unit) {
            None => "None: the unit clears the fillets that the cutter leaves.".to_owned(),
            Some(off) => format!(
                "None as drawn: the unit clears the fillets that the cutter leaves. If the zero is off by more than \
                 {} mm, ease the corner that the unit meets.",
                mm((off * 10.0).floor() / 10.0)?
            ),
        });
    }
    Ok(())
}

/// What a face that is not flat means for depths; nothing for a flat one.
fn warp(report: &SashReport) -> Result<Option<String>, NotFinite> {
    let Some(FaceHeights { lowest, highest, range }) = report.face else { return Ok(None) };
    Ok(Some(format!(
        "The face of this sash is not flat: it lies from {} to {} mm high. The depths below count from the face \
         at every place, and so do the programs. A base that rides on the face follows it by itself; a carriage \
         that runs on rails or a level board does not, and its cuts would be up to {} mm deeper at one place \
         than at another.",
        mm(lowest)?,
        mm(highest)?,
        mm(range)?
    )))
}

/// The table of passes.
fn passes(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
    rows: &[Row],
) -> Result<(), NotFinite> {
    let bush = subject.materials.by_bush;
    let plate = if bush { subject.workshop.router.plate } else { 0.0 };
    let voice = flow.voice();
    let word = |key: &str| voice.tell(key, []);
    flow.heading_over(&word("workshop-passes"), WITH_TABLE);
    flow.paragraph(&if bush {
        format!(
            "The depth stop counts from the base, {} mm of template included. The template stays where it is to the \
             last pass; a strip along its edge leaves wood for the finishing cut.",
            mm(plate)?
        )
    } else {
        "Measure the straightedge from the sight edge, square to it. With the base against it the cutter \
         reaches the wall of that pass."
            .to_owned()
    });
    if let Some(warp) = warp(report)? {
        flow.paragraph(&warp);
    }
    flow.paragraph(&format!(
        "At the deepest pass the tip stands {} mm below the base, and the collet must hold the whole shank above \
         that: is your cutter long enough?",
        mm(report.reach)?
    ));
    let mut table = Table::new(vec![
        Column::numbers(&word("workshop-number"), 0.7),
        Column::words(&word("workshop-stage"), 2.0),
        Column::words(&word("workshop-place"), 1.4),
        Column::words(&word("workshop-depth"), 1.9),
        Column::words(&word("workshop-depth-stop-at"), 2.1),
        Column::words(&word(if bush { "workshop-guided" } else { "workshop-straightedge" }), 2.9),
        Column::numbers(&word("workshop-left-after"), 1.5),
        Column::words(&word("workshop-done"), 0.7),
    ]);
    let same =
        |a: &Row, b: &Row| a.stage == b.stage && a.guides == b.guides && a.places == b.places;
    let mut first = 0;
    for steps in rows.chunk_by(same) {
        let (Some(row), Some(last)) = (steps.first(), steps.last()) else { continue };
        let each = |figure: fn(&Row) -> Option<f64>| -> Result<String, NotFinite> {
            let figures = steps.iter().filter_map(figure).map(mm);
            Ok(figures.collect::<Result<Vec<_>, _>>()?.join(", "))
        };
        let stops = each(|row| row.below_base)?;
        let number = first + 1;
        first += steps.len();
        table.rows.push(vec![
            if first == number { number.to_string() } else { format!("{number}–{first}") },
            row.stage.to_string(),
            together(subject, &row.places),
            each(|row| Some(row.depth))?,
            if stops.is_empty() { word("workshop-chisel") } else { stops },
            row.guides.clone(),
            format!("{} / {}", mm(last.under)?, or_dash(last.beside)?),
            String::new(),
        ]);
    }
    table.lay(flow);
    Ok(())
}

/// Passes that are set alike, whichever light they are made in.
struct Row {
    stage: Stage,
    places: Vec<String>,
    depth: f64,
    below_base: Option<f64>,
    guides: String,
    /// Wood left at its least.
    under: f64,
    beside: Option<f64>,
}

/// The passes of the report, those that are set alike together.
fn rows(subject: &Subject<'_>, report: &SashReport) -> Result<Vec<Row>, NotFinite> {
    let mut rows: Vec<Row> = Vec::new();
    for PassLine { pass, setting } in &report.passes {
        let (stage, guides) = (pass.stage, guided(subject, pass, setting)?);
        let alike = |row: &&mut Row| {
            row.stage == stage
                && row.guides == guides
                && (row.depth - pass.to_depth).abs() < COINCIDENT
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
    Ok(rows)
}

/// What guides the router in a pass.
fn guided(subject: &Subject<'_>, pass: &Pass, setting: &Setting) -> Result<String, NotFinite> {
    let guides = &setting.guides;
    if let Cut::Strip(strip) = &pass.cut
        && let Edge::Arc(_) = strip.bar.path
    {
        return Ok(format!("a guide sawn to the bar's curve: {}", straightedges(guides)?));
    }
    if !(subject.materials.by_bush && matches!(pass.cut, Cut::Ring(_))) {
        return by_straightedge(subject, guides);
    }
    Ok(match setting.strip {
        None => "template as it stands".to_owned(),
        Some(strip) => format!("template with a strip of {} mm along its edge", mm(strip)?),
    })
}

/// Straightedges where the sides are straight; a curved one needs a template.
fn by_straightedge(subject: &Subject<'_>, guides: &[Guide]) -> Result<String, NotFinite> {
    let walls = subject.materials.straightedges.as_ref();
    let walls = walls.map_or(&[][..], |all| &all.walls);
    let curved = |guide: &&Guide| {
        let mut curved = walls.iter().filter(|wall| wall.place.is_none());
        curved.any(|wall| guide.from == format!("{} sight edge", wall.side))
    };
    let (round, straight): (Vec<&Guide>, Vec<&Guide>) = guides.iter().partition(curved);
    let straight: Vec<Guide> = straight.into_iter().cloned().collect();
    let sides: Vec<&str> =
        round.iter().filter_map(|guide| guide.from.strip_suffix(" sight edge")).collect();
    Ok(match (sides.len() == guides.len(), sides.as_slice()) {
        (_, []) => straightedges(&straight)?,
        (true, _) => "a template, since every side is curved".to_owned(),
        (false, sides) => {
            format!("{}; {} curved: by a template", straightedges(&straight)?, sides.join(", "))
        }
    })
}

/// Sides with the same setting together: `left, right 83 mm; bottom 85 mm from the sight edge`.
fn straightedges(guides: &[Guide]) -> Result<String, NotFinite> {
    let sides = guides.iter().map(|guide| {
        let side = guide.from.strip_suffix(" sight edge").unwrap_or(&guide.from);
        Ok((side.to_owned(), min_max(guide.straightedge)? + " mm"))
    });
    let sides = sides.collect::<Result<Vec<_>, NotFinite>>()?;
    if let [guide] = guides {
        return Ok(format!(
            "straightedge {} mm from the {}",
            min_max(guide.straightedge)?,
            guide.from
        ));
    }
    let tapers =
        guides.iter().any(|guide| guide.straightedge.most > guide.straightedge.least + SHOWN);
    let from = match guides.iter().any(|guide| guide.from.ends_with("sight edge")) {
        true if tapers => {
            " from the sight edge; of two figures each has its end, as under straightedges"
        }
        true => " from the sight edge",
        false => "",
    };
    Ok(if sides.is_empty() { "by hand".into() } else { format!("{}{from}", one_figure(&sides)) })
}

/// The boards as a table.
fn boards(flow: &mut Flow, subject: &Subject<'_>, rows: &[Row]) -> Result<(), NotFinite> {
    let voice = flow.voice();
    let word = |key: &str| voice.tell(key, []);
    flow.heading_over(&word("workshop-boards"), WITH_TABLE);
    flow.paragraph(
        "For a router in the hand. A machine's cutter comes down in the openings: no board there.",
    );
    let mut table = Table::new(vec![
        Column::words(&word("workshop-place"), 1.9),
        Column::numbers(&word("workshop-count"), 0.7),
        Column::numbers(&word("workshop-size"), 1.2),
        Column::numbers(&word("workshop-thick"), 0.8),
        Column::words(&word("workshop-remark"), 3.4),
        Column::words(&word("workshop-comes-out"), 3.4),
    ]);
    for board in &subject.materials.boards {
        let size = format!("{} × {}", decimal(board.length, 0)?, decimal(board.width, 0)?);
        let out = comes_out(board, rows);
        table.rows.push(vec![
            board.place.clone(),
            board.count.to_string(),
            size,
            mm(board.thickness)?,
            board.remark.to_owned(),
            out,
        ]);
    }
    table.lay(flow);
    Ok(())
}

/// When a board has to come out, by the numbers of the passes.
fn comes_out(board: &Board, rows: &[Row]) -> String {
    if !board.in_opening() {
        return "stays to the end".into();
    }
    let widened = rows.iter().rposition(|row| row.stage == Stage::Widen);
    let tried = match widened {
        Some(index) => format!("after no. {} to try the unit; goes back", index + 1),
        None => "to try the unit; goes back".to_owned(),
    };
    let met = board.cut_into_by.as_ref().and_then(|met| {
        rows.iter().position(|row| {
            row.stage == met.stage
                && row.places.contains(&met.place)
                && (row.depth - met.depth).abs() < COINCIDENT
        })
    });
    match met {
        Some(index) => format!("before no. {}, or let that pass cut into it; {tried}", index + 1),
        None => tried,
    }
}
