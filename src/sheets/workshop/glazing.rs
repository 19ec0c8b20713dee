//! From the dry rebate to the painted sash: blocks, bed, beads, coats.

use super::mm;
use crate::fit::block_length;
use crate::number::number;
use crate::report::SashReport;
use crate::sheets::Subject;
use crate::sheets::beads::{
    PIN_END, PIN_PITCH, SCREW_END, SCREW_PITCH, beads, face_beads, fixings,
};
use crate::sheets::kit::{Column, Flow, Table};
use crate::survey::Kind;

pub(super) fn tell(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) {
    blocks(flow, subject);
    sealant(flow, subject, report);
    bead_table(flow, subject);
    coats(flow);
}

/// Where blocks go, by the way the sash hangs. Diagonal support is common practice, no source.
fn places(kind: Kind) -> &'static str {
    match kind {
        Kind::Fixed | Kind::SlidingUpper | Kind::SlidingLower => {
            "Two setting blocks under the unit at its quarter points. Location blocks at the sides and at the \
             top keep it from wandering; they do not carry."
        }
        Kind::SideHung => {
            "The unit braces the sash: a setting block at the bottom by the hinges and a location block at the \
             top on the closing side carry it across the diagonal, wedged so that the closing side is lifted \
             a little. A second block at the bottom at the far quarter point bears lightly, and location \
             blocks at the sides keep the gaps."
        }
        Kind::TopHung => {
            "Two setting blocks under the unit at its quarter points, and two location blocks at the top above \
             them, so that the unit does not slip when the sash stands open. Location blocks at the sides keep \
             the gaps."
        }
    }
}

fn blocks(flow: &mut Flow, subject: &Subject<'_>) {
    let measured = &subject.sash.measured;
    flow.heading("Setting and location blocks");
    flow.paragraph(places(measured.kind));
    let width = measured.unit.build_up.thickness() + measured.finish.bed;
    let mut table = Table::new(vec![
        Column::words("unit", 2.0),
        Column::numbers("length each, mm", 1.3),
        Column::numbers("width, mm", 1.0),
        Column::numbers("height, mm", 1.0),
        Column::numbers("middles from the unit's left edge, mm", 2.2),
        Column::words("measured", 1.4),
    ]);
    for unit in &subject.fit.units {
        let quarter = unit.unit.width() / 4.0;
        table.rows.push(vec![
            unit.light.clone(),
            mm(block_length(unit)),
            mm(width),
            mm(measured.block_height),
            format!("{} and {}", mm(quarter), mm(3.0 * quarter)),
            String::new(),
        ]);
    }
    flow.table(&table);
    flow.paragraph(
        "Length by glass area and quarter points: US trade column 2008. Width is the unit and the bed behind \
         it (BS 8000-7:1990, 3.1.2, second hand). Blocks of 80 to 90 Shore A.",
    );
}

fn sealant(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) {
    flow.heading("Bed and sealant");
    let measured = &subject.sash.measured;
    let (mut bed, mut gap) = (0.0, 0.0);
    for unit in &subject.fit.units {
        for (side, cover) in unit.cover.iter() {
            let length = if side.is_upright() { unit.unit.height() } else { unit.unit.width() };
            bed += length * cover.max(0.0) * measured.finish.bed;
            let thickness = measured.unit.build_up.thickness();
            gap += length * unit.clearance.get(side).max(0.0) * thickness;
        }
    }
    // 1 ml is 1000 mm³.
    flow.paragraph(&format!(
        "Bed {} mm thick under {} unit{}: {} ml. If the gap round is filled as well: {} ml more. Add a tenth for \
         what is wiped off. Bed without voids, or drain and ventilate; oil putty and some sealants attack edge \
         seals, so ask the unit maker which are safe.",
        mm(measured.finish.bed),
        report.units.len(),
        if report.units.len() == 1 { "" } else { "s" },
        number(bed / 1000.0, 0),
        number(gap / 1000.0, 0)
    ));
}

fn bead_table(flow: &mut Flow, subject: &Subject<'_>) {
    flow.heading("Beads");
    flow.paragraph(&format!(
        "Numbers are those on the elevation: mark each bead, and it goes back to its place. Pins at most {} mm \
         apart and {} mm from the corners, or screws at most {} and {} mm (UK specification L40, 180 and 181); \
         where beads are bonded, no pins near the glass.",
        mm(PIN_PITCH),
        mm(PIN_END),
        mm(SCREW_PITCH),
        mm(SCREW_END)
    ));
    let mut table = Table::new(vec![
        Column::words("bead", 0.8),
        Column::words("place", 2.0),
        Column::numbers("width × height, mm", 1.6),
        Column::numbers("long points, mm", 1.3),
        Column::numbers("short points, mm", 1.3),
        Column::numbers("mitres, degrees", 1.4),
        Column::words("pins", 1.6),
        Column::words("measured", 1.2),
    ]);
    for bead in beads(subject.sash, subject.fit) {
        let (count, pitch) = fixings(bead.long, PIN_PITCH, PIN_END);
        let [first, last] = bead.mitres.map(mm);
        table.rows.push(vec![
            bead.label,
            bead.place,
            format!("{} × {}", mm(bead.width), mm(bead.height)),
            mm(bead.long),
            mm(bead.short),
            if first == last { first } else { format!("{first} and {last}") },
            if pitch > 0.0 { format!("{count}, every {}", mm(pitch)) } else { count.to_string() },
            String::new(),
        ]);
    }
    for bead in face_beads(subject.sash) {
        table.rows.push(vec![
            bead.label,
            format!("over {}", bead.place),
            format!("{} wide", mm(bead.width)),
            mm(bead.length),
            mm(bead.length),
            "square".into(),
            "none: bond it to the glass".into(),
            String::new(),
        ]);
    }
    flow.table(&table);
}

/// Coats and waiting times are common practice, no source.
fn coats(flow: &mut Flow) {
    flow.heading("Coats");
    for (index, coat) in [
        "Primer on all fresh wood, twice, 12 hours apart; into the corners and on the backs of the beads.",
        "Sand lightly, undercoat, let it dry as its maker says, sand fine.",
        "Set the unit and the beads, clamp overnight where they are bonded.",
        "Top coat after glazing, 2 mm over the sealant line onto the glass.",
    ]
    .iter()
    .enumerate()
    {
        flow.entry(&format!("{}.", index + 1), coat);
    }
    flow.paragraph("Common practice; the maker of the paint says what holds for it.");
}
