//! From the dry rebate to the painted sash: blocks, bed, beads, coats.

use super::{WITH_TABLE, together};
use crate::fit::{Block, PAINT, SPRIG_END, SPRIG_PITCH};
use crate::geometry::Side;
use crate::materials::{Fixings, PIN_END, PIN_PITCH, SCREW_END, SCREW_PITCH, Sealant, UnitBlocks};
use crate::number::{NotFinite, decimal};
use crate::report::SashReport;
use crate::sheets::Subject;
use crate::sheets::cutting_list::{curve, ends, over};
use crate::sheets::kit::{Column, Flow, Table, min_max, mm};
use crate::survey::{Kind, Sash, WaterOut};

pub(super) fn glazing(
    flow: &mut Flow,
    subject: &Subject<'_>,
    report: &SashReport,
) -> Result<(), NotFinite> {
    blocks(flow, subject)?;
    sealant(flow, subject, report)?;
    putty(flow, subject)?;
    if !(subject.materials.beads.is_empty() && subject.materials.face_beads.is_empty()) {
        bead_table(flow, subject)?;
    }
    Ok(())
}

/// What the blocks are for, by the way the sash hangs. Diagonal support is common practice, no source.
fn purpose(sash: &Sash) -> String {
    match sash.kind {
        Kind::Fixed | Kind::SlidingUpper | Kind::SlidingLower => {
            "Two setting blocks carry the unit. Location blocks at the sides and at the top keep it from \
             wandering; they do not carry."
                .to_owned()
        }
        Kind::SideHung => {
            let side = match sash.hinge_side {
                Some(side) => format!("Hinges at the {side}, as seen on the glazing face."),
                None => "The survey does not say where the hinges are: the table is for hinges at the left, as \
                         seen on the glazing face; for hinges at the right take it mirrored."
                    .to_owned(),
            };
            format!(
                "The unit braces the sash from the lower hinge up to the top of the closing stile: wedge the \
                 blocks on that diagonal until the closing side is lifted a little. {side}"
            )
        }
        Kind::TopHung => {
            "Two setting blocks carry the unit, and two at the top brace the sash, so that the unit does not \
             slip when it stands open. The others keep the gaps."
                .to_owned()
        }
    }
}

/// Where a block stands, and what its middle is measured from.
fn stands(sash: &Sash, block: &Block) -> String {
    let low = match (sash.kind, block.side, sash.hinge_side.unwrap_or(Side::Left)) {
        (Kind::SideHung, side, hinge) if side == hinge => ", hinge stile",
        (Kind::SideHung, side, _) if side.is_upright() => ", closing stile",
        _ => "",
    };
    format!("{}{low}", block.side)
}

/// Units whose blocks are alike, by name.
fn alike<'a>(subject: &Subject<'a>) -> Vec<(Vec<String>, &'a [Block])> {
    let mut groups: Vec<(Vec<String>, &[Block])> = Vec::new();
    for UnitBlocks { light, blocks, .. } in &subject.materials.blocks {
        match groups.iter_mut().find(|(_, known)| *known == blocks) {
            Some((names, _)) => names.push(light.clone()),
            None => groups.push((vec![light.clone()], blocks)),
        }
    }
    groups
}

fn blocks(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let measured = &subject.sash.measured;
    let voice = flow.voice();
    let word = |key: &str| voice.tell(key, []);
    flow.heading_over(&word("workshop-blocks"), WITH_TABLE);
    flow.paragraph(&purpose(measured));
    let mut table = Table::new(vec![
        Column::words(&word("workshop-unit"), 1.2),
        Column::words(&word("workshop-side"), 1.6),
        Column::words(&word("workshop-middles"), 3.6),
        Column::numbers(&word("workshop-block-size"), 1.7),
        Column::words(&word("workshop-measured"), 1.0),
    ]);
    for (names, blocks) in alike(subject) {
        // A row a side: where its blocks stand, and what each does.
        let mut rows: Vec<(Block, Vec<String>)> = Vec::new();
        for &block in blocks {
            let same = |known: &&mut (Block, Vec<String>)| {
                Block { middle: block.middle, duty: block.duty, ..known.0 } == block
            };
            let middle = format!("{} {}", mm(block.middle)?, block.duty.words());
            match rows.iter_mut().find(same) {
                Some((_, middles)) => middles.push(middle),
                None => rows.push((block, vec![middle])),
            }
        }
        for (block, middles) in rows {
            let sizes = [mm(block.length)?, mm(block.width)?, mm(block.height)?];
            table.rows.push(vec![
                together(subject, &names),
                stands(measured, &block),
                middles.join("; "),
                sizes.join(" × "),
                String::new(),
            ]);
        }
    }
    table.lay(flow);
    // Lengths: VKG 3.6; setting blocks of more than 5 m² of glass, and the quarter points: US trade column 2008.
    // Width: BS 8000-7:1990, 3.1.2, second hand. Places of the others are common practice, no source.
    flow.paragraph(
        "As wide as the unit and the bed behind it, as high as the gap; of 80 to 90 Shore A.",
    );
    Ok(())
}

fn sealant(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) -> Result<(), NotFinite> {
    flow.heading(&flow.voice().tell("workshop-bed", []));
    let Sealant { thickness, bed, gap } = subject.materials.sealant;
    let (bed_only, more) = match subject.sash.measured.finish.water {
        None => ("If the gap round is filled as well", "Bed without voids, or drain and ventilate"),
        Some(WaterOut::Bedded) => (
            "The gap round is filled as well",
            "Fill without voids: water that finds one stays at the seal",
        ),
        Some(WaterOut::Drained) => (
            "The gap round stays open, for water to run out; if it were filled",
            "Keep sealant out of the gap and the openings",
        ),
    };
    flow.paragraph(&format!(
        "Bed {} mm thick under {} unit{}: {} ml. {}: {} ml more. Add a tenth for what is wiped off. {}; oil putty \
         and some sealants attack edge seals, so ask the unit maker which are safe.",
        mm(thickness)?,
        report.units.len(),
        if report.units.len() == 1 { "" } else { "s" },
        decimal(bed, 0)?,
        bed_only,
        decimal(gap, 0)?,
        more,
    ));
    for UnitBlocks { light, drains, .. } in &subject.materials.blocks {
        for drains in drains {
            let middles = drains.middles.iter().map(|at| mm(*at)).collect::<Result<Vec<_>, _>>()?;
            flow.paragraph(&format!(
                "Openings of {} by {} mm through the back of the {} bead of the {light}, along the wall, {}: their \
                 middles at {} mm from the unit's left edge, clear of the blocks.",
                mm(drains.length)?,
                mm(drains.width)?,
                drains.side,
                if drains.side == Side::Bottom { "to let water out" } else { "to let air in" },
                middles.join(", "),
            ));
        }
    }
    Ok(())
}

/// What face putty wants, and what it may not touch.
fn putty(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let Some(putty) = &subject.materials.putty else { return Ok(()) };
    flow.heading(&flow.voice().tell("workshop-putty", []));
    flow.paragraph(&format!(
        "Linseed putty {} mm high at the wall, {} mm wide on the glass, at {} degrees to it: struck off from {} mm \
         behind the sight edge up to the face. {} ml, and a tenth for what is struck off; {} sprigs, at most {} mm \
         apart and {} mm from the corners (second hand).",
        mm(putty.height)?,
        min_max(putty.width)?,
        min_max(putty.slope)?,
        mm(PAINT)?,
        decimal(putty.volume, 0)?,
        putty.sprigs,
        mm(SPRIG_PITCH)?,
        mm(SPRIG_END)?,
    ));
    flow.paragraph(
        "Putty may touch glass, primed wood and sealant that has set. It must not touch the edge of the unit: its oil \
         attacks the seal. Bed, or back putty, and the filled gap are butyl or a hybrid sealant that the unit maker \
         names as safe; they stand between putty and seal. A week at the soonest before paint, which goes 2 mm over \
         the putty onto the glass (Building Conservation Directory 2020, p. 12).",
    );
    Ok(())
}

fn bead_table(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let voice = flow.voice();
    let word = |key: &str| voice.tell(key, []);
    flow.heading_over(&word("workshop-beads"), WITH_TABLE);
    flow.paragraph(&format!(
        "Numbers are those on the elevation. Pins at most {} mm apart and {} mm from the corners, or screws at most {} \
         and {} mm (UK specification L40, 180 and 181); no pins near the glass where beads are bonded.",
        mm(PIN_PITCH)?,
        mm(PIN_END)?,
        mm(SCREW_PITCH)?,
        mm(SCREW_END)?
    ));
    let mut table = Table::new(vec![
        Column::words(&word("workshop-bead"), 0.8),
        Column::words(&word("workshop-place"), 2.0),
        Column::numbers(&word("workshop-bead-size"), 1.6),
        Column::numbers(&word("workshop-long-points"), 1.3),
        Column::numbers(&word("workshop-short-points"), 1.3),
        Column::numbers(&word("workshop-mitres"), 1.4),
        Column::numbers(&word("workshop-splay"), 1.5),
        Column::words(&word("workshop-pins"), 1.7),
        Column::words(&word("workshop-measured"), 1.2),
    ]);
    for bead in &subject.materials.beads {
        let Fixings { count, pitch } = bead.pins;
        let [first, last] = bead.mitres;
        let (first, last) = (mm(first)?, mm(last)?);
        let place = match curve(bead)? {
            Some(curve) => format!("{}; {curve}", bead.place),
            None => bead.place.clone(),
        };
        table.rows.push(vec![
            bead.label.clone(),
            place,
            format!("{} × {}", min_max(bead.width)?, mm(bead.height)?),
            mm(bead.long)?,
            mm(bead.short)?,
            if first == last { first } else { format!("{first} and {last}") },
            format!("{}°; {} mm", mm(bead.splay)?, mm(bead.top)?),
            match pitch {
                None => count.to_string(),
                Some(pitch) => format!("{count}, every {} mm", mm(pitch)?),
            },
            String::new(),
        ]);
    }
    for bead in &subject.materials.face_beads {
        table.rows.push(vec![
            bead.label.clone(),
            over(bead)?,
            format!("{} wide", mm(bead.width)?),
            mm(bead.length)?,
            mm(bead.length)?,
            ends(bead).to_owned(),
            String::new(),
            "none: bond it to the glass".into(),
            String::new(),
        ]);
    }
    table.lay(flow);
    Ok(())
}
