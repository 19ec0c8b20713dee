//! From the dry rebate to the painted sash: blocks, bed, beads, coats.

use super::{WITH_TABLE, together};
use crate::fit::{Block, PAINT, SPRIG_END, SPRIG_PITCH};
use crate::geometry::Side;
use crate::materials::{Fixings, PIN_END, PIN_PITCH, SCREW_END, SCREW_PITCH, Sealant, UnitBlocks};
use crate::number::{NotFinite, decimal};
use crate::report::SashReport;
use crate::sheets::Subject;
use crate::sheets::cutting_list::{curve, ends, over};
use crate::sheets::kit::{Column, Flow, Table, Voice, grouped, in_a_row, min_max, mm, tell};
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
fn purpose(sash: &Sash, voice: Voice) -> String {
    match sash.kind {
        Kind::Fixed | Kind::SlidingUpper | Kind::SlidingLower => voice.word("glazing-blocks-fixed"),
        Kind::SideHung => {
            let hinges = match sash.hinge_side {
                Some(side) => tell!(voice, "glazing-hinges", side = voice.named(&side.to_string())),
                None => voice.word("glazing-hinges-unknown"),
            };
            in_a_row([voice.word("glazing-blocks-side-hung"), hinges])
        }
        Kind::TopHung => voice.word("glazing-blocks-top-hung"),
    }
}

/// Where a block stands, and what its middle is measured from.
fn stands(sash: &Sash, block: &Block, voice: Voice) -> String {
    let side = voice.named(&block.side.to_string());
    match (sash.kind, block.side, sash.hinge_side.unwrap_or(Side::Left)) {
        (Kind::SideHung, own, hinge) if own == hinge => tell!(voice, "glazing-hinge-stile", side),
        (Kind::SideHung, own, _) if own.is_upright() => tell!(voice, "glazing-closing-stile", side),
        _ => side,
    }
}

fn blocks(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let measured = &subject.sash.measured;
    let voice = flow.voice();
    flow.heading_over(&voice.word("workshop-blocks"), WITH_TABLE);
    flow.paragraph(&purpose(measured, voice));
    let mut table = Table::new(vec![
        Column::words(&voice.word("workshop-unit"), 1.2),
        Column::words(&voice.word("workshop-side"), 1.6),
        Column::words(&voice.word("workshop-middles"), 3.6),
        Column::numbers(&voice.word("workshop-block-size"), 1.7),
        Column::words(&voice.word("sheet-measured"), 1.0),
    ]);
    let alike = |a: &UnitBlocks, b: &UnitBlocks| a.blocks == b.blocks;
    for (unit, names) in grouped(&subject.materials.blocks, alike, |unit| unit.light.as_str()) {
        // A row a side: where its blocks stand, and what each does.
        let mut rows: Vec<(Block, Vec<String>)> = Vec::new();
        for &block in &unit.blocks {
            let same = |known: &&mut (Block, Vec<String>)| {
                Block { middle: block.middle, duty: block.duty, ..known.0 } == block
            };
            let middle = format!("{} {}", mm(block.middle)?, voice.named(block.duty.words()));
            match rows.iter_mut().find(same) {
                Some((_, middles)) => middles.push(middle),
                None => rows.push((block, vec![middle])),
            }
        }
        for (block, middles) in rows {
            let sizes = [mm(block.length)?, mm(block.width)?, mm(block.height)?];
            table.rows.push(vec![
                together(subject, &names),
                stands(measured, &block, voice),
                middles.join("; "),
                sizes.join(" × "),
                String::new(),
            ]);
        }
    }
    table.lay(flow);
    // Lengths: VKG 3.6; setting blocks of more than 5 m² of glass, and the quarter points: US trade column 2008.
    // Width: BS 8000-7:1990, 3.1.2, second hand. Places of the others are common practice, no source.
    flow.paragraph(&voice.word("glazing-block-sizes"));
    Ok(())
}

fn sealant(flow: &mut Flow, subject: &Subject<'_>, report: &SashReport) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading(&voice.word("workshop-bed"));
    let Sealant { thickness, bed, gap } = subject.materials.sealant;
    let sealant = match subject.sash.measured.finish.water {
        None => "glazing-bed",
        Some(WaterOut::Bedded) => "glazing-bed-filled",
        Some(WaterOut::Drained) => "glazing-bed-open",
    };
    flow.paragraph(&tell!(
        voice,
        sealant,
        thickness = mm(thickness)?,
        units = report.units.len(),
        bed = decimal(bed, 0)?,
        gap = decimal(gap, 0)?
    ));
    for UnitBlocks { light, drains, .. } in &subject.materials.blocks {
        for drains in drains {
            let middles = drains.middles.iter().map(|at| mm(*at)).collect::<Result<Vec<_>, _>>()?;
            let lets = if drains.side == Side::Bottom { "glazing-drain" } else { "glazing-air" };
            flow.paragraph(&tell!(
                voice,
                lets,
                length = mm(drains.length)?,
                width = mm(drains.width)?,
                side = voice.named(&drains.side.to_string()),
                light = voice.named(light),
                middles = middles.join(", ")
            ));
        }
    }
    Ok(())
}

/// What face putty wants, and what it may not touch.
fn putty(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let Some(putty) = &subject.materials.putty else { return Ok(()) };
    let voice = flow.voice();
    flow.heading(&voice.word("workshop-putty"));
    flow.paragraph(&tell!(
        voice,
        "glazing-putty",
        height = mm(putty.height)?,
        width = min_max(putty.width, voice)?,
        slope = min_max(putty.slope, voice)?,
        paint = mm(PAINT)?,
        volume = decimal(putty.volume, 0)?,
        sprigs = putty.sprigs,
        pitch = mm(SPRIG_PITCH)?,
        end = mm(SPRIG_END)?
    ));
    flow.paragraph(&voice.word("glazing-putty-mind"));
    Ok(())
}

fn bead_table(flow: &mut Flow, subject: &Subject<'_>) -> Result<(), NotFinite> {
    let voice = flow.voice();
    flow.heading_over(&voice.word("workshop-beads"), WITH_TABLE);
    flow.paragraph(&tell!(
        voice,
        "glazing-pins",
        pitch = mm(PIN_PITCH)?,
        end = mm(PIN_END)?,
        screw_pitch = mm(SCREW_PITCH)?,
        screw_end = mm(SCREW_END)?
    ));
    let mut table = Table::new(vec![
        Column::words(&voice.word("workshop-bead"), 0.8),
        Column::words(&voice.word("workshop-place"), 2.0),
        Column::numbers(&voice.word("workshop-bead-size"), 1.6),
        Column::numbers(&voice.word("workshop-long-points"), 1.3),
        Column::numbers(&voice.word("workshop-short-points"), 1.3),
        Column::numbers(&voice.word("workshop-mitres"), 1.4),
        Column::numbers(&voice.word("workshop-splay"), 1.5),
        Column::words(&voice.word("workshop-pins"), 1.7),
        Column::words(&voice.word("sheet-measured"), 1.2),
    ]);
    for bead in &subject.materials.beads {
        let Fixings { count, pitch } = bead.pins;
        let [first, last] = bead.mitres;
        let (first, last) = (mm(first)?, mm(last)?);
        let place = match curve(bead, voice)? {
            Some(curve) => format!("{}; {curve}", voice.named(&bead.place)),
            None => voice.named(&bead.place),
        };
        table.rows.push(vec![
            bead.label.clone(),
            place,
            format!("{} × {}", min_max(bead.width, voice)?, mm(bead.height)?),
            mm(bead.long)?,
            mm(bead.short)?,
            if first == last { first } else { tell!(voice, "list-and", one = first, other = last) },
            tell!(voice, "glazing-splay", splay = mm(bead.splay)?, top = mm(bead.top)?),
            match pitch {
                None => count.to_string(),
                Some(pitch) => tell!(voice, "glazing-pin-pitch", count, pitch = mm(pitch)?),
            },
            String::new(),
        ]);
    }
    for bead in &subject.materials.face_beads {
        table.rows.push(vec![
            bead.label.clone(),
            over(bead, voice)?,
            tell!(voice, "glazing-wide", width = mm(bead.width)?),
            mm(bead.length)?,
            mm(bead.length)?,
            voice.word(ends(bead)),
            String::new(),
            voice.word("glazing-no-pins"),
            String::new(),
        ]);
    }
    table.lay(flow);
    Ok(())
}
