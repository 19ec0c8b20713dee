//! The workshop sheet of a sash: what to cut, in which order, with which settings, and what to watch.
//!
//! Promised: every figure comes from the report of the same run; a sash that is stopped gets its
//! sections and its reasons and nothing that could be cut by; a plain sash takes three pages. Not promised: as few for
//! others.

mod bearing;
mod glazing;
mod making;

use super::building_checks::{self, Of};
use super::found::told;
use super::kit::{
    Column, Flow, Picture, SCALES, Table, grouped, min_max, mm, or_dash, reading, tell,
};
use super::section::Section;
use super::work::{self, By};
use super::{SheetError, Subject, answer, choice, elevation, section};
use crate::drawing::Document;
use crate::finding::{Verdict, places};
use crate::geometry::COINCIDENT;
use crate::language::Text;
use crate::number::NotFinite;
use crate::report::{CAUTIONS, SashReport};
use crate::sash::PlacedBar;
use crate::survey::Member;
use kurbo::Size;
use std::borrow::Borrow;

/// Room that a heading wants for what is said over its table, the table's head and a few rows, mm.
const WITH_TABLE: f64 = 30.0;
/// Room that a heading wants for the lines below it that stay together, mm.
const LINES: f64 = 12.0;
/// Most height of the elevation, mm: of a plain sash, and of one with more to show.
const PLAIN: f64 = 80.0;
const ELEVATION: f64 = 150.0;
/// Most height of a section on its page, mm.
const SECTION: f64 = 205.0;
/// Room for its title, mm.
const TITLE: f64 = 14.0;

/// The sheet.
///
/// # Errors
/// Where a drawing cannot be composed, or a number is not finite.
pub fn document(subject: &Subject<'_>, report: &SashReport) -> Result<Document, SheetError> {
    let voice = subject.voice();
    let head = tell!(voice, "workshop-sheet", house = subject.house, sash = report.id);
    let foot = voice.word("sheet-foot");
    let mut flow = Flow::new(voice, reading(&subject.workshop.printer), head, foot);
    let stopped = !report.answers.may_be_cut();
    let answer = answer::answer(report.answers, voice);
    let heading = if stopped { "workshop-stop" } else { "workshop-answer" };
    flow.heading(&tell!(voice, heading, sash = report.id, answer));
    if let Some(words) = answer::frees(report, voice) {
        flow.paragraph(&words);
    }
    for (label, words) in answer::keys(report, usize::MAX, voice) {
        flow.key(&label, &words);
    }
    if !stopped {
        for (label, words) in making::keys(subject, report)? {
            flow.key(&label, &words);
        }
    }
    let width = flow.width();
    let drawn = |height: f64| {
        let room = Size::new(width, height);
        let draw = move |section: &Section| section.within(room, voice);
        let all = section::drawn(subject.sash, subject.fit, subject.timber, voice, draw)?;
        let scaled = move |(_, scene)| Picture::to_scale(scene, room);
        Ok::<_, SheetError>(all.map(move |drawn| drawn.map(scaled)))
    };
    let mut sections = drawn(SECTION)?;
    let mut first = sections.next().transpose()?;
    // It belongs to the answer: rather half as large than on a page of its own.
    let left = flow.room() - TITLE;
    if first.as_ref().is_some_and(|(picture, _)| picture.size().height > left) {
        let is_large =
            |(_, words): &(Picture, &str)| SCALES.iter().take(2).any(|(_, name)| name == words);
        first = drawn(left)?.next().transpose()?.filter(is_large).or(first);
    }
    // What has no room beside the answer leaves it to what needs care.
    let fits = |(picture, _): &(Picture, &str)| picture.size().height <= left;
    let (first, later) =
        if first.as_ref().is_some_and(fits) { (first, None) } else { (None, first) };
    if let Some(first) = first {
        section_to_scale(&mut flow, first);
    }
    open_findings(&mut flow, report);
    if let Some(later) = later {
        section_to_scale(&mut flow, later);
    }
    let most = Size::new(flow.width(), if is_plain(subject) { PLAIN } else { ELEVATION });
    flow.picture(Picture::within(elevation::elevation(subject, most)?, most));
    flow.paragraph(&voice.word("workshop-elevation"));
    members(&mut flow, subject, report)?;
    if stopped {
        units_tried(&mut flow, report);
    } else {
        work::order(&mut flow, subject, By::Hand);
        making::cutting(&mut flow, subject, report)?;
        glazing::glazing(&mut flow, subject, report)?;
        hanging(&mut flow, report);
    }
    cautions(&mut flow, report);
    // Members that differ in width alone are told in the table.
    if !(is_plain(subject) || stopped) {
        for section in sections {
            section_to_scale(&mut flow, section?);
        }
    }
    let title = tell!(voice, "workshop-title", house = subject.house, sash = report.id);
    Ok(Document { title, pages: flow.pages() })
}

/// Whether every member is made like the others, of a rectangle without bars.
fn is_plain(subject: &Subject<'_>) -> bool {
    let measured = &subject.sash.measured;
    let like = |member: &Member| {
        let first = &measured.members.left;
        member.old == first.old
            && member.moulding == first.moulding
            && (member.thickness - first.thickness).abs() < COINCIDENT
    };
    measured.bars.is_empty()
        && subject.sash.outline.is_rectangle()
        && measured.members.iter().all(|(_, member)| like(member))
}

fn cautions(flow: &mut Flow, report: &SashReport) {
    flow.heading_over(&flow.voice().word("workshop-cautions"), LINES);
    let voice = flow.voice();
    let duties = report.duties.iter().map(|duty| voice.say(duty));
    let all: Vec<String> = duties.chain(CAUTIONS.iter().map(|key| voice.word(key))).collect();
    flow.paragraph(&all.join(" "));
}

/// What would go in where the unit does not.
fn units_tried(flow: &mut Flow, report: &SashReport) {
    flow.heading(&flow.voice().word("workshop-would-fit"));
    choice::told(flow, &report.choice);
}

/// For the one who hangs the sash again.
fn hanging(flow: &mut Flow, report: &SashReport) {
    flow.heading_over(&flow.voice().word("workshop-hanging"), LINES);
    let voice = flow.voice();
    let told = building_checks::all(report, voice).into_iter();
    for check in told.filter(|check| ![Of::Warmth, Of::Glass].contains(&check.of)) {
        flow.paragraph(&check.paragraph(voice));
    }
}

/// Names of lights or bars in a row, shorter where it is every one of them.
fn together(subject: &Subject<'_>, names: &[impl Borrow<str>]) -> String {
    let lights: Vec<String> = subject.fit.units.iter().map(|unit| unit.light.clone()).collect();
    let bars: Vec<String> = subject.sash.bars.iter().map(PlacedBar::name).collect();
    let is_there = |name: &String| names.iter().any(|own| own.borrow() == name);
    let every = |all: &[String]| all.len() > 1 && all.iter().all(is_there);
    if every(&lights) {
        subject.voice().word("workshop-every-light")
    } else if every(&bars) {
        subject.voice().word("workshop-every-bar")
    } else {
        subject.voice().named(&names.join(", "))
    }
}

/// Sizes with a place for the joiner's own measure beside each.
fn members(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) -> Result<(), NotFinite> {
    let voice = flow.voice();
    let mut table = Table::new(vec![
        Column::words(&voice.word("workshop-part"), 2.4),
        Column::numbers(&voice.word("workshop-width"), 1.2),
        Column::words(&voice.word("sheet-measured"), 1.1),
        Column::numbers(&voice.word("workshop-thickness"), 1.3),
        Column::words(&voice.word("sheet-measured"), 1.1),
        Column::numbers(&voice.word("workshop-new-rebate"), 1.9),
        Column::words(&voice.word("sheet-measured"), 1.1),
        Column::numbers(&voice.word("workshop-left"), 1.9),
    ]);
    let measured = &subject.sash.measured;
    let stop = !report.answers.may_be_cut();
    let depth = mm(report.rebate_depth)?;
    let mut row = |name: &str, [width, thickness]: [f64; 2], cut: String, left: String| {
        let cut = if stop { voice.word("workshop-not-cut") } else { cut };
        let [width, thickness] = [mm(width)?, mm(thickness)?];
        let mut cells = vec![voice.named(name)];
        cells.extend([width, thickness, cut].into_iter().flat_map(|cell| [cell, String::new()]));
        cells.push(left);
        table.rows.push(cells);
        Ok::<_, NotFinite>(())
    };
    for (side, left) in report.timber.members.iter() {
        let member = measured.members.get(side);
        let rebate = format!("{} × {depth}", min_max(left.rebate_width, voice)?);
        let under = or_dash(left.under_platform.map(|least| least.wood))?;
        let left_over = format!("{under} / {}", min_max(left.beside, voice)?);
        row(&left.name, [member.width, member.thickness], rebate, left_over)?;
    }
    for (bar, left) in measured.bars.iter().zip(&report.timber.bars) {
        let under = or_dash(left.under_platform.map(|least| least.wood))?;
        let beside = or_dash(left.web)?;
        let cut = match left.height {
            Some(_) => tell!(voice, "workshop-down-to", depth),
            None => tell!(voice, "workshop-web", width = beside),
        };
        row(&left.name, [bar.width, bar.thickness], cut, format!("{under} / {beside}"))?;
    }
    table.lay(flow);
    Ok(())
}

fn open_findings(flow: &mut Flow, report: &SashReport) {
    let voice = flow.voice();
    let open = report.findings.iter().filter(|finding| finding.verdict != Verdict::Clear);
    let open = open.map(|finding| {
        let verdict = voice.named(&finding.verdict.to_string());
        (format!("{verdict}: {}", told(finding, voice)), &finding.place)
    });
    let open: Vec<(String, &Text)> = open.collect();
    let heading = if open.is_empty() { "workshop-no-care" } else { "workshop-care" };
    flow.heading_over(&voice.word(heading), LINES);
    let alike = grouped(&open, |a, b| a.0 == b.0, |(_, place)| *place);
    let entries = alike.into_iter().map(|((words, _), named)| match places(&named) {
        Some(at) => format!("{}: {words}", voice.say(&at)),
        None => words.clone(),
    });
    flow.entries("!", &entries.collect::<Vec<_>>());
}

/// A section before and after, and how its scale is called.
pub(super) fn section_to_scale(flow: &mut Flow, (picture, words): (Picture, &str)) {
    let heading = tell!(flow.voice(), "workshop-section", scale = flow.voice().word(words));
    flow.heading_over(&heading, picture.size().height);
    flow.picture(picture);
}
