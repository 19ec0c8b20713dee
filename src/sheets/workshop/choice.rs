//! Which units were tried, and which would go in: what `check` says, on paper.

use super::WITH_TABLE;
use crate::finding::Verdict;
use crate::report::{Candidate, SashReport};
use crate::sheets::kit::{Column, Flow, Table};
use crate::sheets::summary::choice;

pub(super) fn tell(flow: &mut Flow, report: &SashReport) {
    let found = &report.choice;
    flow.heading_over("Units that were tried", WITH_TABLE);
    flow.paragraph(&choice::thickest(found));
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
    let told = choice::told(found);
    table.rows.extend(found.candidates.iter().map(|one| row(one, &told)));
    flow.table(&table);
}

fn row(one: &Candidate, told: &[&str]) -> Vec<String> {
    let u = |value: Option<f64>| value.map_or_else(|| "–".to_owned(), |u| format!("{u:.2}"));
    let mark = if one.surveyed { ", as surveyed" } else { "" };
    vec![
        format!("{}{mark}", one.build_up),
        format!("{:.1}", one.thickness),
        u(one.glass_u),
        u(one.whole_u),
        choice::fits(one).to_owned(),
        one.make.clone(),
        choice::why(one, told).unwrap_or_else(|| "–".to_owned()),
    ]
}
