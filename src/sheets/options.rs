//! What goes in? The units that fit side by side, with what each leaves of the wood and asks for, and why the others do
//! not; one sheet a sash, and one for the house that its owner can read.

use super::building_checks::{self, Of, dry_down_to};
use super::kit::{Column, Flow, Picture, Table, Voice, fixed, grouped, reading, tell};
use super::summary::house::sentence;
use super::summary::sash::headline;
use super::workshop::section_to_scale;
use super::{SheetError, Subject, answer, choice};
use crate::drawing::{Document, Scene};
use crate::finding::Verdict;
use crate::report::{Candidate, HouseReport, SashLine, SashReport};
use crate::survey::Printer;
use kurbo::Size;

/// Room for a heading, the head of its table and a few rows, mm.
const WITH_TABLE: f64 = 36.0;
/// Column of how cold it may become until the edge of the glass is wet.
const EDGE: usize = 4;
/// Most height of a section, mm.
const SECTION: f64 = 180.0;

/// The sheet of a sash, with the picture of how warm its coldest part is.
pub fn document(subject: &Subject<'_>, report: &SashReport, warm: Option<Scene>) -> Document {
    let voice = subject.voice();
    let head = tell!(voice, "options-sheet", house = subject.house, sash = report.id);
    let mut flow =
        Flow::new(voice, reading(&subject.workshop.printer), head, voice.word("sheet-foot"));
    flow.heading(&format!("{}: {}", report.id, headline(report, voice)));
    let shared = choice::shared(&report.choice);
    let (fit, not): (Vec<_>, Vec<_>) =
        report.choice.candidates.iter().partition(|one| one.verdict != Verdict::Stop);
    side_by_side(&mut flow, report, &fit, &shared);
    for check in building_checks::all(report, voice) {
        if [Of::Warmth, Of::Glass].contains(&check.of) {
            flow.paragraph(&check.paragraph(voice));
        }
    }
    choice::told(&mut flow, &report.choice);
    if !not.is_empty() {
        flow.heading_over(&voice.word("options-not-fit"), WITH_TABLE);
        let mut table = Table::new(vec![
            Column::words(&voice.word("options-unit"), 1.3),
            Column::numbers("mm", 0.9),
            Column::numbers(&voice.word("options-u"), 0.8),
            Column::words(&voice.word("options-made-of"), 3.2),
            Column::words(&voice.word("options-because"), 3.9),
        ]);
        table.rows.extend(not.into_iter().map(|one| {
            vec![
                one.build_up.clone(),
                format!("{:.1}", one.thickness),
                or_dash(one.whole_u, 2),
                voice.named(&choice::own(&one.make, &shared)),
                choice::why(one, &[], voice).unwrap_or_else(dash),
            ]
        }));
        table.lay(&mut flow);
    }
    if let Some(scene) = warm {
        flow.picture(Picture::within(scene, Size::new(flow.width(), 220.0)));
    }
    let title = tell!(voice, "options-title", house = subject.house, sash = report.id);
    Document { title, pages: flow.pages() }
}

/// The warmest first; what differs by its panes alone shares a row.
fn side_by_side(flow: &mut Flow, report: &SashReport, fit: &[&Candidate], shared: &[&str]) {
    let voice = flow.voice();
    flow.heading_over(&voice.word("options-fit"), WITH_TABLE);
    let today = report.warmth.as_ref();
    flow.paragraph(&match today {
        None => voice.word("options-what-u-is"),
        Some(warmth) => {
            tell!(voice, "options-what-u-was", u = format!("{:.2}", warmth.before.whole_u))
        }
    });
    let known = choice::known_cautions(&report.choice);
    let mut table = Table::new(vec![
        Column::words(&voice.word("options-unit"), 1.3),
        Column::numbers(&voice.word("options-thick"), 1.0),
        Column::numbers(&voice.word("options-left"), 1.1),
        Column::numbers(&voice.word("options-u"), 0.8),
        Column::numbers(&voice.word("options-saves"), 0.9),
        Column::numbers(&voice.word("options-weighs"), 0.9),
        Column::words(&voice.word("options-made-of"), 2.4),
        Column::words(&voice.word("options-needs"), 2.3),
    ]);
    let edges = fit.iter().any(|one| one.edge_dry_down_to.is_some());
    if edges {
        table.columns.insert(EDGE, Column::numbers(&voice.word("options-edge"), 0.9));
    }
    let like = |a: &&Candidate, b: &&Candidate| {
        a.build_up == b.build_up && a.whole_u == b.whole_u && a.surveyed == b.surveyed
    };
    for (one, makes) in grouped(fit, like, |one| one.make.as_str()) {
        let mark = if one.surveyed { " *" } else { "" };
        let mut row = vec![
            format!("{}{mark}", one.build_up),
            format!("{:.1}", one.thickness),
            or_dash(one.left, 0),
            or_dash(one.whole_u, 2),
            or_dash(one.saved, 0),
            or_dash(one.weight, 1),
            if one.surveyed { voice.named(&one.make) } else { own_makes(&makes, shared, voice) },
            match choice::why(one, &known, voice) {
                Some(why) => tell!(voice, "options-care", why),
                None if one.verdict == Verdict::Caution => voice.word("options-care-as-surveyed"),
                None => voice.word("options-nothing-more"),
            },
        ];
        if edges {
            row.insert(EDGE, one.edge_dry_down_to.map_or_else(dash, dry_down_to));
        }
        table.rows.push(row);
    }
    table.lay(flow);
    if let Some(warmth) = today.filter(|_| edges) {
        flow.paragraph(&tell!(
            voice,
            "options-edge-dry",
            inside = format!("{:.0}", warmth.conditions.inside),
            damp = format!("{:.0}", 100.0 * warmth.conditions.humidity)
        ));
    }
    if !shared.is_empty() {
        flow.paragraph(&tell!(voice, "options-not-said", make = voice.named(&shared.join(", "))));
    }
}

/// What tells units of one row apart from all others.
fn own_makes(makes: &[&str], shared: &[&str], voice: Voice) -> String {
    let own: Vec<String> =
        makes.iter().map(|make| voice.named(&choice::own(make, shared))).collect();
    let mut own = own.into_iter();
    let first = own.next().unwrap_or_default();
    own.fold(first, |one, other| tell!(voice, "list-or", one, other))
}

/// The page of the house for the one who owns it, with the section of one of its sashes.
///
/// # Errors
/// Where the section cannot be drawn.
pub fn for_owner(
    house: &HouseReport,
    printer: &Printer,
    section: Option<Scene>,
) -> Result<Document, SheetError> {
    let voice = Voice::of(printer);
    let head = tell!(voice, "owner-sheet", house = house.house);
    let mut flow = Flow::new(voice, reading(printer), head, voice.word("sheet-foot"));
    flow.heading(&format!("{}: {}", house.house, sentence(house, voice)));
    let mut table = Table::new(vec![
        Column::words(&voice.word("owner-sash"), 1.6),
        Column::words(&voice.word("owner-answer"), 1.0),
        Column::words(&voice.word("owner-glass"), 1.2),
        Column::numbers(&voice.word("owner-left"), 0.9),
        Column::numbers(&voice.word("owner-u-today"), 0.8),
        Column::numbers(&voice.word("owner-u-after"), 0.8),
        Column::numbers(&voice.word("options-saves"), 1.0),
        Column::numbers(&voice.word("owner-heavier"), 0.9),
        Column::words(&voice.word("owner-mind"), 1.9),
    ]);
    table.rows.extend(house.sashes.iter().map(|sash| owners_row(sash, voice)));
    table.lay(&mut flow);
    flow.paragraph(&tell!(voice, "owner-what-u-is", first = voice.word("ask-first")));
    if let Some(scene) = section {
        let room = section_room(printer);
        section_to_scale(&mut flow, Picture::to_scale(scene, room));
    }
    let title = tell!(voice, "owner-title", house = house.house);
    Ok(Document { title, pages: flow.pages() })
}

fn owners_row(sash: &SashLine, voice: Voice) -> Vec<String> {
    let [before, after] = sash.whole_u.map_or([None; 2], |both| both.map(Some));
    vec![
        sash.id.clone(),
        voice.word(answer::in_a_word(sash)),
        sash.unit.clone().unwrap_or_else(dash),
        or_dash(sash.left, 0),
        or_dash(before, 1),
        or_dash(after.filter(|_| sash.may_be_ordered()), 1),
        or_dash(sash.saved.filter(|_| sash.may_be_ordered()), 0),
        or_dash(sash.gain.filter(|_| sash.may_be_ordered()), 0),
        sash.mind.as_ref().map_or_else(dash, |mind| voice.named(mind)),
    ]
}

/// Room for the section on the page of the house, mm.
pub fn section_room(printer: &Printer) -> Size {
    let (size, margin) = reading(printer);
    Size::new(size.width - 2.0 * margin, SECTION)
}

fn or_dash(value: Option<f64>, decimals: usize) -> String {
    value.map_or_else(dash, |value| fixed(value, decimals))
}

fn dash() -> String {
    "–".to_owned()
}
