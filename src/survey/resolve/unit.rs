//! The unit, its clearances and blocks, bed and bead.

use super::members::Members;
use crate::geometry::{COINCIDENT, PerSide};
use crate::input::{Optional, Reader, Spanned, show};
use crate::survey::file::sash::SashTable;
use crate::survey::file::unit::UnitTable;
use crate::survey::values::{
    Finish, HeldBy, Make, Unit, UnitShape, WaterOut, most_block_height, thickness_tolerance,
};

/// Gas, coat, spacer and glass of a table that has their keys.
macro_rules! make {
    ($table:expr) => {
        Make {
            gas: $table.gas.value(),
            share: $table.share(),
            emissivity: $table.emissivity.value(),
            spacer: $table.spacer.value(),
            glass: $table.glass.value(),
        }
    };
}

pub(super) use make;

// Of a table in which nothing is said: so the default stands once, at its key.
impl Default for Make {
    fn default() -> Self {
        let table = UnitTable::default();
        make!(table)
    }
}

/// Unit, clearances, block height and finish.
pub(super) type Fit = (Unit, PerSide<f64>, f64, Finish);

pub(super) fn fit(
    sash: &Spanned<Box<SashTable>>,
    usual: UnitShape,
    members: &Members,
    reader: &mut Reader<'_>,
) -> Option<Fit> {
    let clearance = clearance(sash);
    let finish = finish(sash, reader);
    let unit = unit(sash, usual, reader);
    let reach = unit.as_ref().map(|unit| unit.cover + unit.tape);
    let block_height = block_height(sash, &clearance, reach, members, reader);
    let unit = unit?;
    Some((unit, clearance, block_height, finish))
}

fn unit(sash: &Spanned<Box<SashTable>>, usual: UnitShape, reader: &mut Reader<'_>) -> Option<Unit> {
    let about = "the build-up of the unit to fit, such as build_up = \"4-6-4\"";
    let Some(table) = &sash.unit else {
        reader.missing(&sash.place, "unit", about);
        return None;
    };
    let Some(build_up) = &table.build_up else {
        reader.missing(&table.place, "build_up", about);
        return None;
    };
    let made = make!(table);
    let cover = table.cover();
    Some(Unit {
        build_up: build_up.value.clone(),
        cover,
        spacer_height: table.spacer_height.value_or(cover),
        over: table.over.value_or(thickness_tolerance(&build_up.value, &made)),
        tape: table.tape(),
        internal_bar: table.internal_bar.value_or(cover),
        shape: table.shape.value_or(usual),
        order_step: table.order_step(),
        make: made,
    })
}

fn clearance(sash: &SashTable) -> PerSide<f64> {
    let table = sash.clearance.value_or_default();
    PerSide { left: table.left(), right: table.right(), bottom: table.bottom(), top: table.top() }
}

/// Blocks higher than both gaps together would press the unit against the top. A rebate is as wide as the unit
/// asks for, which reaches `reach` behind the sight edge, or as the old one where that is wider.
fn block_height(
    sash: &SashTable,
    clearance: &PerSide<f64>,
    reach: Option<f64>,
    members: &Members,
    reader: &mut Reader<'_>,
) -> f64 {
    let height = sash.blocks.as_ref().and_then(|blocks| blocks.height.as_ref());
    let most = most_block_height(clearance, |side| {
        members.old_width(side).zip(reach).map_or(0.0, |(old, reach)| old - reach)
    });
    if let Some(height) = height
        && height.value > most + COINCIDENT
    {
        let expected = format!(
            "at most {} mm, the gaps at bottom and top together, or the unit does not go in",
            show(most),
        );
        reader.contradict(&height.place, expected, "");
    }
    height.map_or(clearance.bottom, |height| height.value)
}

fn finish(sash: &SashTable, reader: &mut Reader<'_>) -> Finish {
    let table = sash.finish.value_or_default();
    let held_by = sash.glazing();
    let water =
        if held_by == HeldBy::Putty { Some(WaterOut::Bedded) } else { sash.drainage.value() };
    let (bed, bead, proud) = (table.bed(), table.bead(), table.proud());
    let finish = Finish { bed, bead, proud, held_by, water };
    if finish.is_puttied()
        && let Some(drainage) = sash.drainage.as_ref().filter(|d| d.value == WaterOut::Drained)
    {
        let expected = "drainage = \"bedded\": face putty closes the rebate".to_owned();
        let hint =
            "water in the gap could not run out; for a drained rebate write glazing = \"beads\"";
        reader.contradict(&drainage.place, expected, hint);
    }
    if finish.is_puttied()
        && let Some(proud) = table.proud.as_ref().filter(|proud| proud.value > COINCIDENT)
    {
        let expected = "0: face putty ends flush with the glazing face".to_owned();
        reader.contradict(&proud.place, expected, "only a bead may stand proud");
    }
    if let Some(proud) = &table.proud
        && proud.value > finish.bead + COINCIDENT
    {
        let expected = format!("at most {} mm, the height of the bead", show(finish.bead));
        reader.contradict(&proud.place, expected, "");
    }
    finish
}
