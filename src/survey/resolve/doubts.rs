//! Measures that can be true but are more often a slip: of the unit, or of two numbers swapped.
//!
//! They stop nothing, since a small light is still a light; a length that names its unit was meant as it
//! stands and is not asked about.

use super::unit::Fit;
use crate::geometry::{COINCIDENT, Side};
use crate::input::{Reader, Spanned, show};
use crate::language::{Text, text};
use crate::survey::file::members::RebateTable;
use crate::survey::file::sash::SashTable;
use crate::survey::file::sight::SightTable;
use crate::survey::values::{Doubt, Kind, Slip};

/// A daylight less than this a side is asked about, mm: of a window in centimetres the larger part lies
/// below. Common practice, no source.
const SMALL_SIGHT: f64 = 150.0;

/// A sash thinner than this is asked about, mm. Common practice, no source.
const THIN_SASH: f64 = 30.0;

/// What is asked about the sash of this table.
pub(super) fn doubts(table: &SashTable, fit: Option<&Fit>, reader: &Reader<'_>) -> Vec<Doubt> {
    let Some(id) = &table.id else { return Vec::new() };
    let found = [
        table.sight.as_ref().and_then(|sight| small_sight(sight, reader)),
        table.thickness.as_ref().and_then(|thickness| thin(thickness, reader)),
        odd_rebate(table, fit, reader),
        swapped(table, reader),
    ];
    let found = found.into_iter().flatten();
    found
        .map(|(key, odd, slip, values)| Doubt { sash: id.value.clone(), key, odd, slip, values })
        .collect()
}

/// A key, what is odd about it, what was likely meant, and the values in doubt.
type Odd = (&'static str, Text, Slip, Vec<f64>);

fn small_sight(sight: &SightTable, reader: &Reader<'_>) -> Option<Odd> {
    let pairs = [&sight.widths, &sight.heights].map(|few| few.iter().flat_map(|few| &few.value));
    let single = [&sight.width, &sight.height, &sight.diameter];
    let sizes: Vec<&Spanned<f64>> =
        single.into_iter().flatten().chain(pairs.into_iter().flatten()).collect();
    let small = |size: &&&Spanned<f64>| size.value < SMALL_SIGHT && !reader.has_unit(&size.place);
    let in_doubt: Vec<f64> = sizes.iter().filter(small).map(|size| size.value).collect();
    if in_doubt.is_empty() {
        return None;
    }
    let all: Vec<String> = sizes.iter().map(|size| show(size.value)).collect();
    let odd = text!("doubt-small", sizes = all.join(" x "));
    Some(("sight", odd, Slip::Centimetres, in_doubt))
}

/// Hinges further apart than a daylight is high, but not than it is wide.
fn swapped(table: &SashTable, reader: &Reader<'_>) -> Option<Odd> {
    let (sight, apart) = (table.sight.as_ref()?, table.hinges.as_ref()?.apart.as_ref()?.value);
    let (width, height) = (sight.width.as_ref()?, sight.height.as_ref()?);
    let side_hung = table.kind.as_ref().is_some_and(|kind| kind.value == Kind::SideHung);
    let odd = side_hung && apart > height.value && apart < width.value;
    let stated = reader.has_unit(&width.place) || reader.has_unit(&height.place);
    (odd && !stated).then(|| {
        let sizes = [width.value, height.value];
        let [apart, width, height] = [apart, sizes[0], sizes[1]].map(show);
        let odd = text!("doubt-hinges", apart, width, height);
        ("sight", odd, Slip::Swapped, sizes.to_vec())
    })
}

fn thin(thickness: &Spanned<f64>, reader: &Reader<'_>) -> Option<Odd> {
    let slip = Slip::Elsewhere("doubt-thickness");
    let odd = text!("doubt-thin", thickness = show(thickness.value));
    let thin = thickness.value < THIN_SASH && !reader.has_unit(&thickness.place);
    thin.then(|| ("thickness", odd, slip, vec![thickness.value]))
}

/// The first old rebate of the members that is wider than the new one, or deeper than half the sash.
fn odd_rebate(table: &SashTable, fit: Option<&Fit>, reader: &Reader<'_>) -> Option<Odd> {
    let members = table.member.as_ref();
    let own = |side: Side| {
        let member = members?.on(side)?;
        (member.rebate.is_some() || member.groove.is_some()).then_some(member.rebate.as_ref())
    };
    let thickness = table.thickness.as_ref().map(|thickness| thickness.value);
    Side::ALL.into_iter().find_map(|side| {
        let rebate = own(side).unwrap_or(table.rebate.as_ref())?;
        let new = fit.map(|(unit, clearance, ..)| unit.cover + clearance.get(side));
        odd_shape(rebate, new, thickness, reader)
    })
}

fn odd_shape(
    rebate: &RebateTable,
    new: Option<f64>,
    thickness: Option<f64>,
    reader: &Reader<'_>,
) -> Option<Odd> {
    let (width, depth) = (rebate.width.as_ref()?, rebate.depth.as_ref()?);
    let [wide, deep] = [width, depth].map(|length| show(length.value));
    if let Some(new) =
        new.filter(|new| width.value > new + COINCIDENT && !reader.has_unit(&width.place))
    {
        let slip = if width.value > depth.value && depth.value <= new {
            Slip::Swapped
        } else {
            Slip::Elsewhere("doubt-width")
        };
        let odd = text!("doubt-wide", wide, deep, new = show(new));
        return Some(("rebate", odd, slip, vec![width.value]));
    }
    let thickness = thickness.filter(|thick| depth.value > thick / 2.0 + COINCIDENT)?;
    let slip = Slip::Elsewhere("doubt-depth");
    let odd = text!("doubt-deep", wide, deep, thickness = show(thickness));
    (!reader.has_unit(&depth.place)).then(|| ("rebate", odd, slip, vec![depth.value]))
}
