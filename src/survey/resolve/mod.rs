//! From the tables of a file to a [`House`]: defaults filled in, and everything that cannot be true
//! beside the rest found out.
//!
//! Each check runs on whatever could be read, so that a slip in one key does not hide a
//! contradiction between two others.

mod alike;
mod around;
mod bars;
mod courses;
mod doubts;
mod fixings;
mod head;
mod held;
mod members;
mod mouldings;
mod out_of_square;
mod shared;
mod sight;
mod unit;
mod workshop;

use super::file::FileTable;
use super::file::sash::SashTable;
use super::tolerance::MEASURING;
use super::values::{Doubt, Horns, House, Kind, Member, Sash, Timber};
use crate::geometry::{COINCIDENT, Edge, PerSide, Side, Sided};
use crate::input::{Diagnostics, Optional, Reader, Spanned, show};
use kurbo::Size;
use members::Members;
use sight::{Daylight, Open};
use std::ops::RangeInclusive;

/// The house of the file; `None` only where the reader has noted why, or where a file that it names has mistakes of
/// its own: those go to `elsewhere`.
pub(super) fn house(
    file: &Spanned<Box<FileTable>>,
    open: &Open<'_>,
    elsewhere: &mut Option<Diagnostics>,
    reader: &mut Reader<'_>,
) -> Option<House> {
    let own = file.workshop.value_or_default();
    let settings = shared::settings(*own, file.workshop_file.as_ref(), open, elsewhere, reader);
    let workshop = workshop::workshop(&settings, open, reader);
    let tables = file.sash.as_ref()?;
    if tables.is_empty() {
        reader.missing(&tables.place, "", "at least one [[sash]]");
    }
    alike::unique_ids(tables, reader);
    let (mut sashes, mut doubts) = (Vec::with_capacity(tables.len()), Vec::new());
    let usual = alike::Usual::new(file, tables);
    for table in tables.iter() {
        let table = usual.whole(table, reader);
        let misfit = workshop.limits.misfit_caution.value;
        let sash = sash(&table, misfit, open, &mut doubts, reader);
        let ids = alike::ids(&table).into_iter();
        sashes
            .extend(sash.iter().flat_map(|sash| ids.clone().map(|id| Sash { id, ..sash.clone() })));
    }
    Some(House { name: file.house.as_ref()?.value.clone(), workshop, sashes, doubts })
}

/// The sash of a table; `misfit` is from where on its measures disagree. What can be true but is more often
/// a slip is added to `doubts`.
fn sash(
    table: &Spanned<Box<SashTable>>,
    misfit: f64,
    open: &Open<'_>,
    doubts: &mut Vec<Doubt>,
    reader: &mut Reader<'_>,
) -> Option<Sash> {
    let name = match &table.id {
        Some(id) => id.value.clone(),
        None => table.place.key.clone(),
    };
    reader.at_part(String::new());
    if table.kind.is_none() {
        reader.missing(&table.place, "kind", "how the sash hangs or slides, such as \"side-hung\"");
    }
    if table.thickness.is_none() {
        reader.missing(
            &table.place,
            "thickness",
            "the sash's thickness, glazing face to room face",
        );
    }
    if table.sight.is_none() {
        reader.missing(
            &table.place,
            "sight",
            "sight size: daylight between the members, bars left out of account",
        );
    }
    let kind = table.kind.value();
    let members = Members::new(table, kind, &name, reader);
    reader.at_part(String::new());
    let daylight = table
        .sight
        .as_ref()
        .map_or_else(Daylight::default, |sight| sight::daylight(sight, misfit, open, reader));
    overall(table, &daylight, &members, reader);
    let bars = bars::bars(table, &daylight, &name, reader);
    let fixings = fixings::fixings(table, &daylight, &members, kind, reader);
    let surface = fixings::surface(table, &daylight, &members, reader);
    reader.at_part(name);
    let fit = unit::fit(table, daylight.usual_unit(), &members, reader);
    doubts.extend(doubts::doubts(table, fit.as_ref(), reader));
    let around = around::around(table, reader);
    reader.at_part(String::new());
    let members = members.settle();
    frame(table, &daylight, members.as_ref(), reader);

    let hinge_side = hinge_side(table, kind, reader);

    let sight = Size::new(daylight.width?.value, daylight.height?.value);
    let (unit, clearance, block_height, finish) = fit?;
    let (kind, members) = (kind?, members?);
    let horns = horns(table, kind, daylight.outline.as_ref(), reader);
    let cords = around::cords(table, kind, sight.height, &members, reader);
    let (metal, screws, clamps) = fixings?;
    Some(Sash {
        id: table.id.as_ref()?.value.clone(),
        kind,
        timber: timber(table),
        sight,
        outline: daylight.outline,
        measures: daylight.measures,
        hinge_side,
        members,
        horns,
        cords,
        bars: bars?,
        bars_as: table.bars_as(),
        unit,
        clearance,
        block_height,
        finish,
        metal,
        screws,
        clamps,
        surface: surface?,
        wind: around::wind(table, reader),
        around,
    })
}

/// Stiles run on past a straight rail, of a sash that slides or of its like that is fixed.
fn horns(table: &SashTable, kind: Kind, outline: Option<&Sided>, reader: &mut Reader<'_>) -> Horns {
    let Some(given) = &table.horns else { return Horns::default() };
    if !(kind.slides() || kind == Kind::Fixed) {
        let expected = "no horns, unless the sash slides or is fixed".to_owned();
        let hint = "leave them out where they were sawn off, or say kind = \"sliding-upper\" or \"sliding-lower\"";
        reader.contradict(&given.place, expected, hint);
    }
    let [top, bottom] = [&given.value.top, &given.value.bottom];
    for (length, end) in [(top, Side::Top), (bottom, Side::Bottom)] {
        let straight = |side: Side| {
            outline.is_none_or(|outline| {
                let mut own = outline.edges_on(side).peekable();
                own.peek().is_some() && own.all(|edge| matches!(edge, Edge::Line(_)))
            })
        };
        if let Some(length) = length
            && ![end, Side::Left, Side::Right].into_iter().all(straight)
        {
            let expected = "horns only where straight stiles run past a straight rail".to_owned();
            reader.contradict(&length.place, expected, "");
        }
    }
    Horns { top: top.value_or(0.0), bottom: bottom.value_or(0.0) }
}

/// Only a side-hung sash has its hinges on one side.
fn hinge_side(table: &SashTable, kind: Option<Kind>, reader: &mut Reader<'_>) -> Option<Side> {
    let side = table.hinge_side.as_ref()?;
    if kind.is_some_and(|kind| kind != Kind::SideHung) {
        let expected = "no hinge_side, unless the sash is side-hung".to_owned();
        reader.contradict(&side.place, expected, "leave it out, or say kind = \"side-hung\"");
    }
    Some(side.value)
}

/// What one or two horns add to the height of a sash, mm. Common practice, no source.
const HORNS: RangeInclusive<f64> = 20.0..=250.0;

/// Sight size plus members against the overall size.
fn overall(table: &SashTable, sight: &Daylight, members: &Members, reader: &mut Reader<'_>) {
    let Some(overall) = &table.overall else { return };
    if sight.outline.is_some() {
        // Along slopes and curves the members stand over the sight by more than their widths.
        return;
    }
    let ways = [
        (&overall.width, &sight.width, &members.0.left.width, &members.0.right.width, "stiles"),
        (&overall.height, &sight.height, &members.0.bottom.width, &members.0.top.width, "rails"),
    ];
    for (overall, sight, one, other, what) in ways {
        let (Some(overall), Some(sight), Some(one), Some(other)) = (overall, sight, one, other)
        else {
            continue;
        };
        let horns = match &table.horns {
            Some(horns) if what == "rails" => {
                horns.value.top.value_or(0.0) + horns.value.bottom.value_or(0.0)
            }
            _ => 0.0,
        };
        let sum = sight.value + one.value + other.value + horns;
        if (sum - overall.value).abs() > MEASURING + COINCIDENT {
            let [sight, one, other] = [sight, one, other].map(|given| show(given.value));
            let expected = format!(
                "{} mm within {} mm: sight {sight} and {what} {one} and {other}{}",
                show(sum),
                show(MEASURING),
                if horns > 0.0 { format!(", horns {}", show(horns)) } else { String::new() },
            );
            let more = overall.value - sum;
            let hint = if horns > 0.0 && (more + horns).abs() <= MEASURING + COINCIDENT {
                "that is without its horns: measure over them".to_owned()
            } else if what == "rails" && HORNS.contains(&more) {
                let mm = show(more);
                format!(
                    "{mm} mm more than the members: are horns in it? Write horns = {{ bottom = {mm} }}, or top, or \
                     measure without them"
                )
            } else {
                "measure again: one of the four is wrong".to_owned()
            };
            reader.contradict(&overall.place, expected, &hint);
        }
    }
}

/// Members of these widths must be able to run round the daylight.
fn frame(
    table: &SashTable,
    daylight: &Daylight,
    members: Option<&PerSide<Member>>,
    reader: &mut Reader<'_>,
) {
    let (Some(outline), Some(members), Some(sight)) = (&daylight.outline, members, &table.sight)
    else {
        return;
    };
    if outline.grow(&members.map(|member| member.width)).is_err() {
        let expected = "a daylight round which members of these widths can run".to_owned();
        let hint = "where two edges run into each other smoothly, their members are equally wide";
        reader.contradict(&sight.place, expected, hint);
    }
}

/// A class of its own key counts before one that stands for the timber.
fn timber(table: &SashTable) -> Timber {
    let timber = table.timber();
    Timber { class: table.timber_class.value().or(timber.class), ..timber }
}
