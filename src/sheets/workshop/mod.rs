//! The workshop sheet of a sash: what to cut, in which order, with which settings, and what to watch.
//!
//! Promised: every figure comes from the report of the same run; a sash that is stopped gets its
//! sections and its reasons and nothing that could be cut by. Not promised: a page count.

mod bearing;
mod glazing;
mod making;

use super::kit::{Column, Flow, Picture, Table, min_max, mm, reading};
use super::section::Section;
use super::{SheetError, Subject, answer, building_checks, choice, elevation, section};
use crate::drawing::{Document, Scene};
use crate::finding::{Verdict, places};
use crate::number::NotFinite;
use crate::report::{CAUTIONS, Candidate, SashReport};
use crate::sash::PlacedBar;
use kurbo::Size;

/// Room that a heading wants for what is said over its table, the table's head and a few rows, mm.
const WITH_TABLE: f64 = 50.0;

/// The sheet.
///
/// # Errors
/// Where a drawing cannot be composed, or a number is not finite.
pub fn document(subject: &Subject<'_>, report: &SashReport) -> Result<Document, SheetError> {
    let (size, margin) = reading(&subject.workshop.printer);
    let head = format!("{} · {} · workshop sheet", subject.house, report.id);
    let foot = "Calculated from the survey as written; it does not replace local codes or licensed practice.";
    let mut flow = Flow::new(size, margin, head, foot);
    let stopped = !report.answers.may_be_cut();
    let stop = if stopped { "STOP, do not cut: " } else { "" };
    flow.heading(&format!("{}: {stop}{}", report.id, answer::answer(report.answers)));
    if let Some(words) = answer::frees(report) {
        flow.paragraph(&words);
    }
    for (label, words) in answer::keys(report, usize::MAX) {
        flow.key(label, &words);
    }
    if !stopped {
        for (label, words) in making::keys(subject, report)? {
            flow.key(label, &words);
        }
    }
    let sections = section::sections(subject.sash, subject.fit, subject.timber, Section::stacked)?;
    let mut sections = sections.into_iter();
    let first = sections.next().map(|(_, scene)| scene);
    if let Some(scene) = first {
        section_at_true_size(&mut flow, scene);
    }
    let most = Size::new(flow.width(), (size.height / 2.3).min(125.0));
    flow.picture(Picture::within(elevation::elevation(subject, most)?, most));
    flow.paragraph(
        "Left and right as you look at the glazing face, the side that the putty is on.",
    );
    open_findings(&mut flow, report);
    members(&mut flow, subject, report)?;
    if stopped {
        units_tried(&mut flow, report);
        cautions(&mut flow, report);
    }
    sections.for_each(|(_, scene)| section_at_true_size(&mut flow, scene));
    if !stopped {
        making::cutting(&mut flow, subject, report)?;
        glazing::glazing(&mut flow, subject, report)?;
        building_checks(&mut flow, report);
        warmth(&mut flow, subject, report)?;
        units_tried(&mut flow, report);
        cautions(&mut flow, report);
    }
    let title = format!("{}, {}: workshop sheet", subject.house, report.id);
    Ok(Document { title, pages: flow.pages() })
}

fn cautions(flow: &mut Flow, report: &SashReport) {
    flow.heading("Cautions");
    for caution in report.duties.iter().map(String::as_str).chain(CAUTIONS.iter().copied()) {
        flow.entry("!", caution);
    }
}

/// Which units were tried, and which would go in: what `check` says, on paper.
fn units_tried(flow: &mut Flow, report: &SashReport) {
    let found = &report.choice;
    flow.heading_over("Units that were tried", WITH_TABLE);
    flow.paragraph(&choice::thickest(found));
    if let Some(words) = choice::order_changed(found) {
        flow.paragraph(&words);
    }
    if let Some(next) = &found.next {
        let changes: Vec<String> = next.changes.iter().map(choice::one_change).collect();
        flow.paragraph(&format!("{} {}.", choice::lets_in(next), changes.join("; ")));
    } else if found.candidates.iter().any(|one| one.verdict == Verdict::Stop) {
        flow.paragraph(choice::NO_CHANGE);
    }
    flow.paragraph(
        "Those that fit stand first, the warmest first. U of glass by EN 673, of the sash by EN ISO 10077-1, W/m²K. \
         The last column says what stops a unit, or which caution it has and the unit in the survey has not.",
    );
    let mut table = Table::new(vec![
        Column::words("unit", 1.4),
        Column::numbers("mm", 0.7),
        Column::numbers("glass", 0.7),
        Column::numbers("sash", 0.7),
        Column::words("fits", 1.0),
        Column::words("made of", 3.2),
        Column::words("because of", 3.3),
    ]);
    let known = choice::known_cautions(found);
    table.rows.extend(found.candidates.iter().map(|one| unit_tried(one, &known)));
    table.lay(flow);
}

fn unit_tried(one: &Candidate, known: &[&str]) -> Vec<String> {
    let u = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |u| format!("{u:.2}"));
    let mark = if one.surveyed { ", as surveyed" } else { "" };
    vec![
        format!("{}{mark}", one.build_up),
        format!("{:.1}", one.thickness),
        u(one.glass_u),
        u(one.whole_u),
        choice::fits(one).to_owned(),
        one.make.clone(),
        choice::why(one, known).unwrap_or_else(|| "–".to_owned()),
    ]
}

/// For the one who hangs the sash again.
fn building_checks(flow: &mut Flow, report: &SashReport) {
    let checks = building_checks::all(report);
    if !checks.is_empty() {
        flow.heading("Warmth, glass, weight and gaps");
    }
    for check in checks {
        flow.paragraph(&format!("{}: {}", check.name, check.text));
    }
}

/// Names of lights or bars in a row, shorter where it is every one of them.
fn together(subject: &Subject<'_>, names: &[String]) -> String {
    let lights: Vec<&String> = subject.fit.units.iter().map(|unit| &unit.light).collect();
    let bars: Vec<String> = subject.sash.bars.iter().map(PlacedBar::name).collect();
    let every = |all: &[&String]| all.len() > 1 && all.iter().all(|name| names.contains(*name));
    if every(&lights) {
        "every light".into()
    } else if every(&bars.iter().collect::<Vec<_>>()) {
        "every bar".into()
    } else {
        names.join(", ")
    }
}

/// Sizes with a place for the joiner's own measure beside each.
fn members(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) -> Result<(), NotFinite> {
    let mut table = Table::new(vec![
        Column::words("part", 2.4),
        Column::numbers("width, mm", 1.2),
        Column::words("measured", 1.1),
        Column::numbers("thickness, mm", 1.3),
        Column::words("measured", 1.1),
        Column::numbers("new rebate, width × depth, mm", 1.9),
        Column::words("measured", 1.1),
        Column::numbers("wood left under / beside, mm", 1.9),
    ]);
    let measured = &subject.sash.measured;
    let stop = !report.answers.may_be_cut();
    for (side, left) in report.timber.members.iter() {
        let member = measured.members.get(side);
        let depth = mm(report.rebate_depth)?;
        let rebate = format!("{} × {depth}", min_max(left.rebate_width)?);
        let under = or_dash(left.under_platform.map(|least| least.wood))?;
        table.rows.push(vec![
            left.name.clone(),
            mm(member.width)?,
            String::new(),
            mm(member.thickness)?,
            String::new(),
            if stop { "not to be cut".into() } else { rebate },
            String::new(),
            format!("{under} / {}", min_max(left.beside)?),
        ]);
    }
    for (bar, left) in measured.bars.iter().zip(&report.timber.bars) {
        let under = or_dash(left.under_platform.map(|least| least.wood))?;
        let beside = or_dash(left.web)?;
        let cut = match left.height {
            Some(_) => format!("down to {}", mm(report.rebate_depth)?),
            None => format!("web {beside}"),
        };
        table.rows.push(vec![
            left.name.clone(),
            mm(bar.width)?,
            String::new(),
            mm(bar.thickness)?,
            String::new(),
            if stop { "not to be cut".into() } else { cut },
            String::new(),
            format!("{under} / {beside}"),
        ]);
    }
    table.lay(flow);
    Ok(())
}

fn open_findings(flow: &mut Flow, report: &SashReport) {
    let open: Vec<_> = report.findings.iter().filter(|f| f.verdict != Verdict::Clear).collect();
    flow.heading(if open.is_empty() {
        "Nothing needs care beyond the usual"
    } else {
        "What needs care"
    });
    let mut alike: Vec<(String, Vec<&str>)> = Vec::new();
    for finding in open {
        let words = format!("{}: {}", finding.verdict, finding.told());
        match alike.iter_mut().find(|(known, _)| *known == words) {
            Some((_, places)) => places.push(&finding.place),
            None => alike.push((words, vec![&finding.place])),
        }
    }
    for (words, named) in alike {
        let at = places(&named);
        flow.entry("!", &if at.is_empty() { words } else { format!("{at}: {words}") });
    }
}

/// A section before and after; smaller only where the page is too narrow.
fn section_at_true_size(flow: &mut Flow, scene: Scene) {
    let picture = Picture::within(scene, Size::new(flow.width(), 200.0));
    let scale = if picture.scale() < 1.0 {
        format!("Section before and after, {:.0} % of true size", 100.0 * picture.scale())
    } else {
        "Section before and after, true size".to_owned()
    };
    flow.heading_over(&scale, picture.size().height);
    flow.picture(picture);
}

/// The coldest section, with its lines of even warmth.
fn warmth(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) -> Result<(), SheetError> {
    let Some(warmth) = &report.warmth else { return Ok(()) };
    if let Some(scene) = section::warm::coldest(subject.sash, subject.fit, warmth)? {
        flow.picture(Picture::within(scene, Size::new(flow.width(), 220.0)));
    }
    Ok(())
}

/// Where there is nothing to measure, a dash.
fn or_dash(value: Option<f64>) -> Result<String, NotFinite> {
    value.map_or_else(|| Ok("–".to_owned()), mm)
}
