//! What goes in? The units that fit side by side, with what each leaves of the wood and asks for, and why the others do
//! not; one sheet a sash, and one for the house that its owner can read.

use super::kit::{Column, Flow, Picture, Table, Voice, grouped, reading};
use super::summary::ASK_FIRST;
use super::summary::house::sentence;
use super::summary::sash::headline;
use super::{SheetError, Subject, answer, building_checks, choice};
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
const FOOT: &str =
    "Calculated from the survey as written; it does not replace local codes or licensed practice.";

/// The sheet of a sash, with the picture of how warm its coldest part is.
pub fn document(subject: &Subject<'_>, report: &SashReport, warm: Option<Scene>) -> Document {
    let (size, margin) = reading(&subject.workshop.printer);
    let head = format!("{} · {} · what goes in?", subject.house, report.id);
    let mut flow = Flow::new(subject.voice(), (size, margin), head, FOOT);
    flow.heading(&format!("{}: {}", report.id, headline(report)));
    let shared = choice::shared(&report.choice);
    let (fit, not): (Vec<_>, Vec<_>) =
        report.choice.candidates.iter().partition(|one| one.verdict != Verdict::Stop);
    side_by_side(&mut flow, report, &fit, &shared);
    for check in building_checks::all(report) {
        if ["Warmth", "Glass"].contains(&check.name) {
            flow.paragraph(&format!("{}: {}", check.name, check.text));
        }
    }
    choice::told(&mut flow, &report.choice);
    if !not.is_empty() {
        flow.heading_over("Units that do not fit", WITH_TABLE);
        let mut table = Table::new(vec![
            Column::words("unit", 1.3),
            Column::numbers("mm", 0.9),
            Column::numbers("U of the sash", 0.8),
            Column::words("made of", 3.2),
            Column::words("because", 3.9),
        ]);
        table.rows.extend(not.into_iter().map(|one| {
            vec![
                one.build_up.clone(),
                format!("{:.1}", one.thickness),
                or_dash(one.whole_u, 2),
                choice::own(&one.make, &shared),
                choice::why(one, &[]).unwrap_or_else(dash),
            ]
        }));
        table.lay(&mut flow);
    }
    if let Some(scene) = warm {
        flow.picture(Picture::within(scene, Size::new(flow.width(), 220.0)));
    }
    let title = format!("{}, {}: what goes in?", subject.house, report.id);
    Document { title, pages: flow.pages() }
}

/// The warmest first; what differs by its panes alone shares a row.
fn side_by_side(flow: &mut Flow, report: &SashReport, fit: &[&Candidate], shared: &[&str]) {
    flow.heading_over("Units that fit, side by side", WITH_TABLE);
    let today = report.warmth.as_ref();
    flow.paragraph(&format!(
        "U tells how much heat goes through the whole sash, W/m²K: the less, the warmer.{} The unit marked * is the one \
         in the survey.",
        today.map_or_else(String::new, |warmth| format!(
            " Today it is {:.2}.",
            warmth.before.whole_u
        )),
    ));
    let known = choice::known_cautions(&report.choice);
    let mut table = Table::new(vec![
        Column::words("unit", 1.3),
        Column::numbers("thick, mm", 1.0),
        Column::numbers("wood left under it, mm", 1.1),
        Column::numbers("U of the sash", 0.8),
        Column::numbers("a year saves, kWh", 0.9),
        Column::numbers("glass weighs, kg", 0.9),
        Column::words("made of", 2.4),
        Column::words("needs", 2.3),
    ]);
    let edges = fit.iter().any(|one| one.edge_dry_down_to.is_some());
    if edges {
        table.columns.insert(EDGE, Column::numbers("edge dry down to, °C", 0.9));
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
            if one.surveyed { one.make.clone() } else { own_makes(&makes, shared) },
            match choice::why(one, &known) {
                Some(why) => format!("care: {why}"),
                None if one.verdict == Verdict::Caution => "care, as the one in the survey".into(),
                None => "nothing more".into(),
            },
        ];
        if edges {
            row.insert(EDGE, or_dash(one.edge_dry_down_to.map(|dry| dry.ceil() + 0.0), 0));
        }
        table.rows.push(row);
    }
    table.lay(flow);
    if let Some(warmth) = today.filter(|_| edges) {
        flow.paragraph(&format!(
            "Edge dry: in a room of {:.0} °C and {:.0} %, at the coldest place of the edge, to a degree or so.",
            warmth.conditions.inside,
            100.0 * warmth.conditions.humidity
        ));
    }
    if !shared.is_empty() {
        flow.paragraph(&format!("What is not said is {}, annealed.", shared.join(", ")));
    }
}

/// What tells units of one row apart from all others.
fn own_makes(makes: &[&str], shared: &[&str]) -> String {
    let own: Vec<String> = makes.iter().map(|make| choice::own(make, shared)).collect();
    own.join("; or ")
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
    let head = format!("{} · new glass in old sashes", house.house);
    let mut flow = Flow::new(Voice::of(printer), reading(printer), head, FOOT);
    flow.heading(&format!("{}: {}", house.house, sentence(house)));
    let mut table = Table::new(vec![
        Column::words("sash", 1.6),
        Column::words("answer", 1.0),
        Column::words("new glass", 1.2),
        Column::numbers("wood left, mm", 0.9),
        Column::numbers("U today", 0.8),
        Column::numbers("U after", 0.8),
        Column::numbers("a year saves, kWh", 1.0),
        Column::numbers("heavier by, kg", 0.9),
        Column::words("mind first", 1.9),
    ]);
    table.rows.extend(house.sashes.iter().map(owners_row));
    table.lay(&mut flow);
    flow.paragraph(&format!(
        "U tells how much heat goes through a sash, W/m²K: the less, the warmer. Seen from the street the sash stays as it \
         is: bars, mouldings and sight lines are not touched. {ASK_FIRST} All cautions stand in summary.txt."
    ));
    if let Some(scene) = section {
        to_scale(&mut flow, scene);
    }
    let title = format!("{}: new glass in old sashes", house.house);
    Ok(Document { title, pages: flow.pages() })
}

fn owners_row(sash: &SashLine) -> Vec<String> {
    let [before, after] = sash.whole_u.map_or([None; 2], |both| both.map(Some));
    vec![
        sash.id.clone(),
        answer::in_a_word(sash).to_owned(),
        sash.unit.clone().unwrap_or_else(dash),
        or_dash(sash.left, 0),
        or_dash(before, 1),
        or_dash(after.filter(|_| sash.may_be_ordered()), 1),
        or_dash(sash.saved.filter(|_| sash.may_be_ordered()), 0),
        or_dash(sash.gain.filter(|_| sash.may_be_ordered()), 0),
        sash.mind.clone().unwrap_or_else(dash),
    ]
}

/// Room for the section on the page of the house, mm.
pub fn section_room(printer: &Printer) -> Size {
    let (size, margin) = reading(printer);
    Size::new(size.width - 2.0 * margin, SECTION)
}

/// A section at a scale that a rule reads.
fn to_scale(flow: &mut Flow, scene: Scene) {
    let (picture, words) = Picture::to_scale(scene, Size::new(flow.width(), SECTION));
    flow.heading_over(&format!("Section before and after, {words}"), picture.size().height);
    flow.picture(picture);
}

fn or_dash(value: Option<f64>, decimals: usize) -> String {
    value.map_or_else(dash, |value| format!("{value:.decimals$}"))
}

fn dash() -> String {
    "–".to_owned()
}
