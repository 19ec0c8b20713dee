//! From stripping to the last cut: order of work, settings of each pass, boards, corners for the chisel.

use super::{WITH_TABLE, bearing, together};
use crate::geometry::{COINCIDENT, Edge};
use crate::hand::{Board, Guide, Setting};
use crate::number::{NotFinite, decimal};
use crate::passes::{Cut, Pass, Stage};
use crate::report::{FaceHeights, PassLine, ProofLine, SashReport};
use crate::sheets::kit::{Column, Flow, Table, Voice, min_max, mm, one_figure, or_dash, tell};
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
    let depths = stops.join(", ");
    let told = if subject.materials.by_bush {
        let plate = mm(subject.workshop.router.plate)?;
        tell!(voice, "workshop-stops-bush", depths, plate)
    } else {
        tell!(voice, "workshop-stops", depths)
    };
    let last = rows.iter().rev().find(|row| row.below_base.is_some());
    let stop = (!stops.is_empty()).then(|| (voice.word("workshop-depth-stop"), told));
    let guide = last.map(|row| (voice.word("workshop-guide"), format!("{}.", row.guides)));
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
    let voice = flow.voice();
    flow.heading(&voice.word("workshop-corners"));
    if let Some((from, to)) = cleaned {
        flow.paragraph(&tell!(voice, "making-cleaned", from = mm(from)?, to = mm(to)?));
    }
    let mut any = false;
    for (pass, at, radius) in chiselled {
        any = true;
        let places =
            at.iter().map(|[x, y]| Ok(tell!(voice, "place-x-y", x = mm(*x)?, y = mm(*y)?)));
        let places = places.collect::<Result<Vec<_>, NotFinite>>()?;
        flow.entry(
            "–",
            &tell!(
                voice,
                "making-corners",
                place = voice.named(&pass.place),
                count = at.len(),
                depth = mm(pass.to_depth)?,
                radius = mm(radius)?,
                places = places.join("; ")
            ),
        );
    }
    if !any {
        flow.paragraph(&match report.proof.as_ref().and_then(ProofLine::zero_before_unit) {
            None => voice.word("making-no-corners"),
            Some(off) => {
                tell!(voice, "making-no-corners-drawn", off = mm((off * 10.0).floor() / 10.0)?)
            }
        });
    }
    Ok(())
}

/// What a face that is not flat means for depths; nothing for a flat one.
fn warp(report: &SashReport, voice: Voice) -> Result<Option<String>, NotFinite> {
    let Some(FaceHeights { lowest, highest, range }) = report.face else { return Ok(None) };
    Ok(Some(tell!(
        voice,
        "making-face",
        lowest = mm(lowest)?,
        highest = mm(highest)?,
        range = mm(range)?
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
    flow.heading_over(&voice.word("workshop-passes"), WITH_TABLE);
    flow.paragraph(&if bush {
        tell!(voice, "making-bush-stop", plate = mm(plate)?)
    } else {
        voice.word("making-straightedge")
    });
    if let Some(warp) = warp(report, voice)? {
        flow.paragraph(&warp);
    }
    flow.paragraph(&tell!(voice, "making-reach", reach = mm(report.reach)?));
    let mut table = Table::new(vec![
        Column::numbers(&voice.word("workshop-number"), 0.7),
        Column::words(&voice.word("workshop-stage"), 2.0),
        Column::words(&voice.word("workshop-place"), 1.4),
        Column::words(&voice.word("workshop-depth"), 1.9),
        Column::words(&voice.word("workshop-depth-stop-at"), 2.1),
        Column::words(
            &voice.word(if bush { "workshop-guided" } else { "workshop-straightedge" }),
            2.9,
        ),
        Column::numbers(&voice.word("workshop-left-after"), 1.5),
        Column::words(&voice.word("workshop-done"), 0.7),
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
            voice.named(row.stage.words()),
            together(subject, &row.places),
            each(|row| Some(row.depth))?,
            if stops.is_empty() { voice.word("workshop-chisel") } else { stops },
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
    let (guides, voice) = (&setting.guides, subject.voice());
    if let Cut::Strip(strip) = &pass.cut
        && let Edge::Arc(_) = strip.bar.path
    {
        return Ok(tell!(voice, "making-sawn-guide", guides = straightedges(guides, voice)?));
    }
    if !(subject.materials.by_bush && matches!(pass.cut, Cut::Ring(_))) {
        return by_straightedge(subject, guides);
    }
    Ok(match setting.strip {
        None => voice.word("making-template"),
        Some(strip) => tell!(voice, "making-template-strip", strip = mm(strip)?),
    })
}

/// Straightedges where the sides are straight; a curved one needs a template.
fn by_straightedge(subject: &Subject<'_>, guides: &[Guide]) -> Result<String, NotFinite> {
    let voice = subject.voice();
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
        (_, []) => straightedges(&straight, voice)?,
        (true, _) => voice.word("making-all-curved"),
        (false, sides) => {
            tell!(
                voice,
                "making-some-curved",
                guides = straightedges(&straight, voice)?,
                sides = voice.named(&sides.join(", "))
            )
        }
    })
}

/// Sides with the same setting together: `left, right 83 mm; bottom 85 mm from the sight edge`.
fn straightedges(guides: &[Guide], voice: Voice) -> Result<String, NotFinite> {
    let sides = guides.iter().map(|guide| {
        let side = guide.from.strip_suffix(" sight edge").unwrap_or(&guide.from);
        Ok((voice.named(side), min_max(guide.straightedge, voice)? + " mm"))
    });
    let sides = sides.collect::<Result<Vec<_>, NotFinite>>()?;
    if let [guide] = guides {
        return Ok(tell!(
            voice,
            "making-one-straightedge",
            distance = min_max(guide.straightedge, voice)?,
            from = voice.named(&guide.from)
        ));
    }
    let tapers =
        guides.iter().any(|guide| guide.straightedge.most > guide.straightedge.least + SHOWN);
    if sides.is_empty() {
        return Ok(voice.word("making-by-hand"));
    }
    let figures = one_figure(&sides);
    Ok(match guides.iter().any(|guide| guide.from.ends_with("sight edge")) {
        true if tapers => tell!(voice, "making-from-edge-tapered", figures),
        true => tell!(voice, "making-from-edge", figures),
        false => figures,
    })
}

/// The boards as a table.
fn boards(flow: &mut Flow, subject: &Subject<'_>, rows: &[Row]) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading_over(&voice.word("workshop-boards"), WITH_TABLE);
    flow.paragraph(&voice.word("making-boards"));
    let mut table = Table::new(vec![
        Column::words(&voice.word("workshop-place"), 1.9),
        Column::numbers(&voice.word("workshop-count"), 0.7),
        Column::numbers(&voice.word("workshop-size"), 1.2),
        Column::numbers(&voice.word("workshop-thick"), 0.8),
        Column::words(&voice.word("workshop-remark"), 3.4),
        Column::words(&voice.word("workshop-comes-out"), 3.4),
    ]);
    for board in &subject.materials.boards {
        let size = format!("{} × {}", decimal(board.length, 0)?, decimal(board.width, 0)?);
        let out = comes_out(board, rows, voice);
        table.rows.push(vec![
            voice.named(&board.place),
            board.count.to_string(),
            size,
            mm(board.thickness)?,
            voice.named(board.remark),
            out,
        ]);
    }
    table.lay(flow);
    Ok(())
}

/// When a board has to come out, by the numbers of the passes.
fn comes_out(board: &Board, rows: &[Row], voice: Voice) -> String {
    if !board.in_opening() {
        return voice.word("making-stays");
    }
    let widened = rows.iter().rposition(|row| row.stage == Stage::Widen);
    let tried = match widened {
        Some(index) => tell!(voice, "making-after", number = index + 1),
        None => voice.word("making-to-try"),
    };
    let met = board.cut_into_by.as_ref().and_then(|met| {
        rows.iter().position(|row| {
            row.stage == met.stage
                && row.places.contains(&met.place)
                && (row.depth - met.depth).abs() < COINCIDENT
        })
    });
    match met {
        Some(index) => tell!(voice, "making-before", number = index + 1, tried),
        None => tried,
    }
}
