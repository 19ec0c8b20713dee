//! From stripping to the last cut: order of work, settings, guides, chisel.

use super::{bearing, boards, mm, passes};
use crate::passes::Bite;
use crate::report::SashReport;
use crate::sheets::kit::Flow;
use crate::sheets::{Subject, guide, set_ups};
use crate::survey::BarsAs;

pub(super) fn tell(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) {
    order_of_work(flow, subject);
    let rows = passes::rows(subject, report);
    passes::table(flow, subject, report, &rows);
    guide::tell(flow, subject);
    bearing::table(flow, subject, report);
    boards::table(flow, subject, &rows);
    set_ups::tell(flow, &report.set_ups);
    corners(flow, report);
}

fn order_of_work(flow: &mut Flow, subject: &Subject<'_>) {
    flow.heading("Order of work");
    // Bars between units are rebated along with the frame.
    let measured = &subject.sash.measured;
    let bars = measured.bars_as == BarsAs::OneUnit && !measured.bars.is_empty();
    let guided = if subject.materials.by_bush { "template" } else { "straightedges" };
    let mut steps = vec![
        "Take the sash out; note which way up and which hand it was. Weigh it.".to_owned(),
        "Have old putty and paint tested, then take out glass and putty; keep good old glass.".to_owned(),
        "Draw sprigs, pins and nails. Go along the wood with a magnet, and mark what stays.".to_owned(),
        "Look at joints and wood, prick with an awl; mend first. Measure again what this sheet asks for."
            .to_owned(),
        format!("Lay the sash glazing face up, put up the boards, and fix the {guided}."),
        "Score the new wall, so that the grain cannot tear past it.".to_owned(),
        "Widen in shallow steps at the old depth. Take the boards out of the openings and try the unit, or a \
         board of its size, before you go deeper; put the boards back."
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
            "Lower the bars in front of the unit, with boards in the lights on both sides of them."
                .to_owned(),
        );
    }
    for (index, step) in steps.iter().enumerate() {
        flow.entry(&format!("{}.", index + 1), step);
    }
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
