//! The unit, its clearances and blocks, bed and bead.

use super::around::make;
use crate::geometry::{PerSide, SAME};
use crate::survey::file::SashTable;
use crate::survey::reader::{Reader, Seen};
use crate::survey::scalars::show;
use crate::survey::{Finish, Unit, UnitShape, thickness_tolerance};

/// Unit, clearances, block height and finish.
pub(super) type Fit = (Unit, PerSide<f64>, f64, Finish);

fn or(seen: Option<&Seen<f64>>, usual: f64) -> f64 {
    seen.map_or(usual, |seen| seen.value)
}

pub(super) fn fit(sash: &Seen<SashTable>, usual: UnitShape, reader: &mut Reader) -> Option<Fit> {
    let clearance = clearance(sash);
    let block_height = block_height(sash, &clearance, reader);
    let finish = finish(sash, reader);
    let unit = unit(sash, usual, reader)?;
    Some((unit, clearance, block_height, finish))
}

fn unit(sash: &Seen<SashTable>, usual: UnitShape, reader: &mut Reader) -> Option<Unit> {
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
    let cover = or(table.cover.as_ref(), 12.0);
    Some(Unit {
        build_up: build_up.value.clone(),
        cover,
        spacer_height: or(table.spacer_height.as_ref(), cover),
        over: or(table.over.as_ref(), thickness_tolerance(&build_up.value, &made).over),
        tape: or(table.tape.as_ref(), 0.0),
        internal_bar: or(table.internal_bar.as_ref(), cover),
        shape: table.shape.as_ref().map_or(usual, |seen| seen.value),
        order_step: or(table.order_step.as_ref(), 1.0),
        make: made,
    })
}

fn clearance(sash: &SashTable) -> PerSide<f64> {
    let table = sash.clearance.clone().map(|seen| seen.value).unwrap_or_default();
    PerSide {
        left: or(table.left.as_ref(), 2.0),
        right: or(table.right.as_ref(), 2.0),
        bottom: or(table.bottom.as_ref(), 4.0),
        top: or(table.top.as_ref(), 2.0),
    }
}

/// Blocks higher than both gaps together would press the unit against the top.
fn block_height(sash: &SashTable, clearance: &PerSide<f64>, reader: &mut Reader) -> f64 {
    let height = sash.blocks.as_ref().and_then(|blocks| blocks.height.as_ref());
    let most = clearance.bottom + clearance.top;
    if let Some(height) = height
        && height.value > most + SAME
    {
        let expected = format!(
            "at most {} mm, the clearances at bottom and top together, or the unit does not go in",
            show(most),
        );
        reader.contradict(&height.place, expected, "");
    }
    or(height, clearance.bottom)
}

fn finish(sash: &SashTable, reader: &mut Reader) -> Finish {
    let table = sash.finish.clone().map(|seen| seen.value).unwrap_or_default();
    let finish = Finish {
        bed: or(table.bed.as_ref(), 2.0),
        bead: or(table.bead.as_ref(), 10.0),
        proud: or(table.proud.as_ref(), 0.0),
    };
    if let Some(proud) = &table.proud
        && proud.value > finish.bead + SAME
    {
        let expected = format!("at most {} mm, the height of the bead", show(finish.bead));
        reader.contradict(&proud.place, expected, "");
    }
    finish
}
