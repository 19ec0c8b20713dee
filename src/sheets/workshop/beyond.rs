//! Warmth, glass, weight and gaps, for the one who hangs the sash again.

use crate::report::SashReport;
use crate::sheets::kit::Flow;
use crate::sheets::summary::beyond;

pub(super) fn tell(flow: &mut Flow, report: &SashReport) {
    let told = [
        report.warmth.as_ref().map(|warmth| ("Warmth", beyond::warmth(warmth))),
        beyond::glass(report).map(|text| ("Glass", text)),
        report.hanging.as_ref().map(|hanging| ("Weight", beyond::weight(hanging))),
        report.hanging.as_ref().and_then(beyond::carried).map(|text| ("Carried by", text)),
        beyond::gaps(&report.gaps).map(|text| ("Gaps", text)),
    ];
    let told: Vec<_> = told.into_iter().flatten().collect();
    if !told.is_empty() {
        flow.heading("Warmth, glass, weight and gaps");
    }
    for (head, text) in told {
        flow.paragraph(&format!("{head}: {text}"));
    }
}
