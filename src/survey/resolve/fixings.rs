//! Metal and screws, each of which must lie in the sash, and clamps, which may stand anywhere.

use super::members::{MemberDraft, Members};
use super::sight::{Daylight, SWAPPED};
use crate::geometry::{COINCIDENT, Side};
use crate::input::{Optional, Place, Reader, Spanned, show};
use crate::language::Called;
use crate::survey::file::fixings::{ClampTable, FaceWord, MemberWord, MetalTable, ScrewTable};
use crate::survey::file::sash::SashTable;
use crate::survey::values::{Clamp, Height, Kind, Metal, Screw, ScrewFrom};
use kurbo::{Point, Size};

/// What can be known of the sash as a board: from where to where in X and Y, and how thick.
struct Board {
    x: Option<(f64, f64)>,
    y: Option<(f64, f64)>,
    thickest: Option<f64>,
}

impl Board {
    fn new(sight: &Daylight, members: &Members) -> Board {
        let width = |member: &MemberDraft| member.width.value();
        let reach = |sight: Option<&Spanned<f64>>, low: &MemberDraft, high: &MemberDraft| {
            Some((-width(low)?, sight?.value + width(high)?))
        };
        let thicknesses = members.0.iter().map(|(_, member)| member.thickness.as_ref());
        Board {
            x: reach(sight.width.as_ref(), &members.0.left, &members.0.right),
            y: reach(sight.height.as_ref(), &members.0.bottom, &members.0.top),
            thickest: thicknesses
                .map(|thickness| thickness.map(|thickness| thickness.value))
                .try_fold(0.0_f64, |most, thickness| Some(most.max(thickness?))),
        }
    }
}

/// Metal, screws and clamps of a sash; `None` where the reader has noted why.
pub(super) fn fixings(
    sash: &SashTable,
    sight: &Daylight,
    members: &Members,
    kind: Option<Kind>,
    reader: &mut Reader<'_>,
) -> Option<(Vec<Metal>, Vec<Screw>, Vec<Clamp>)> {
    let board = Board::new(sight, members);
    let metals = every(sash.metal.as_ref(), |table| metal(table, &board, reader));
    let screws = every(sash.screws.as_ref(), |table| screw(table, &board, members, kind, reader));
    let clamps = every(sash.clamps.as_ref(), |table| clamp(table));
    Some((metals?, screws?, clamps?))
}

fn clamp(table: &ClampTable) -> Option<Clamp> {
    let ([x, y], [width, height]) = (table.at.as_ref()?.value, table.size.as_ref()?.value);
    Some(Clamp {
        name: Called::new(table.name.as_ref().map(|name| &name.value), "fixing-clamp"),
        at: Point::new(x, y),
        size: Size::new(width, height),
        height: table.height.as_ref()?.value,
    })
}

/// What is made of each table of a list, if it can be of all. Each is looked at, so that no mistake hides
/// another.
fn every<T, U>(
    list: Option<&Spanned<Vec<Spanned<T>>>>,
    mut make: impl FnMut(&T) -> Option<U>,
) -> Option<Vec<U>> {
    let tables = list.into_iter().flat_map(|list| &list.value);
    let made: Vec<Option<U>> = tables.map(|table| make(&table.value)).collect();
    made.into_iter().collect()
}

/// Most places where the height of a sash is measured.
const MOST_HEIGHTS: usize = 100;

/// Heights of the glazing face, each within the sash; `None` where the reader has noted why.
pub(super) fn surface(
    sash: &SashTable,
    sight: &Daylight,
    members: &Members,
    reader: &mut Reader<'_>,
) -> Option<Vec<Height>> {
    let Some(spots) = &sash.surface else { return Some(Vec::new()) };
    if spots.len() > MOST_HEIGHTS {
        reader.contradict(&spots.place, format!("at most {MOST_HEIGHTS} places"), "");
        return None;
    }
    let board = Board::new(sight, members);
    let spot = |spot: &Spanned<[f64; 3]>| {
        let [x, y, z] = spot.value;
        check_within(x, [board.x, board.y], "X", &spot.place, reader);
        check_within(y, [board.y, board.x], "Y", &spot.place, reader);
        Height { at: Point::new(x, y), z }
    };
    Some(spots.iter().map(spot).collect())
}

/// Notes a place outside the reach of the sash along its own axis; with it stands the reach along the other one.
fn check_within(
    value: f64,
    [reach, across]: [Option<(f64, f64)>; 2],
    what: &str,
    place: &Place,
    reader: &mut Reader<'_>,
) {
    let within = |(low, high)| value >= low - COINCIDENT && value <= high + COINCIDENT;
    if let Some((low, high)) = reach.filter(|reach| !within(*reach)) {
        let expected = format!("{what} within the sash, from {} to {} mm", show(low), show(high));
        let swapped =
            across.filter(|across| value > high && within(*across)).map_or("", |_| SWAPPED);
        let hint = format!(
            "places are measured from the lower left corner of the sight, glazing face up{swapped}"
        );
        reader.contradict(place, expected, &hint);
    }
}

/// Notes a measure larger than the wood has room for.
fn check_most(value: Option<&Spanned<f64>>, most: Option<f64>, why: &str, reader: &mut Reader<'_>) {
    if let (Some(value), Some(most)) = (value, most)
        && value.value > most + COINCIDENT
    {
        let expected = format!("at most {} mm, {why}", show(most));
        reader.contradict(&value.place, expected, "");
    }
}

fn metal(table: &MetalTable, board: &Board, reader: &mut Reader<'_>) -> Option<Metal> {
    if let Some(at) = &table.at {
        let [x, y] = at.value;
        check_within(x, [board.x, board.y], "X", &at.place, reader);
        check_within(y, [board.y, board.x], "Y", &at.place, reader);
    }
    check_most(table.from_face.as_ref(), board.thickest, "the thickness of the sash", reader);
    let [x, y] = table.at.as_ref()?.value;
    Some(Metal {
        name: Called::new(table.name.as_ref().map(|name| &name.value), "fixing-metal"),
        at: Point::new(x, y),
        radius: table.radius(),
        from_face: table.from_face(),
        cleared: table.cleared(),
    })
}

fn screw(
    table: &ScrewTable,
    board: &Board,
    members: &Members,
    kind: Option<Kind>,
    reader: &mut Reader<'_>,
) -> Option<Screw> {
    let side = side(table, kind, reader)?;
    let member = members.0.get(side);
    let wide = member.width.value();
    let thick = member.thickness.value();
    if let Some(at) = &table.at {
        let reach = if side.is_upright() { [board.y, board.x] } else { [board.x, board.y] };
        check_within(at.value, reach, "a place", &at.place, reader);
    }
    let face = table.from.as_ref()?.value;
    let (through, why, stray, stray_key) = match face {
        FaceWord::OuterEdge => (wide, "the width of the member", &table.from_sight, "from_face"),
        FaceWord::RoomFace => {
            (thick, "the thickness of the member", &table.from_face, "from_sight")
        }
    };
    check_most(table.length.as_ref(), through, why, reader);
    if let Some(stray) = stray {
        let expected = format!("`{stray_key}` instead, for a screw that goes in there");
        reader.contradict(&stray.place, expected, "");
    }
    let from = match face {
        FaceWord::OuterEdge => {
            let own = table.from_face.as_ref();
            check_most(own, thick, "the thickness of the member", reader);
            let from_face = own.map(|own| own.value).or_else(|| Some(thick? / 2.0))?;
            ScrewFrom::OuterEdge { from_face }
        }
        FaceWord::RoomFace => {
            let own = table.from_sight.as_ref();
            check_most(own, wide, "the width of the member", reader);
            let from_sight = own.map(|own| own.value).or_else(|| Some(wide? / 2.0))?;
            ScrewFrom::RoomFace { from_sight }
        }
    };
    Some(Screw {
        member: side,
        from,
        at: table.at.as_ref()?.value,
        length: table.length.as_ref()?.value,
        cleared: table.cleared(),
    })
}

fn side(table: &ScrewTable, kind: Option<Kind>, reader: &mut Reader<'_>) -> Option<Side> {
    let member = table.member.as_ref()?;
    match (member.value, kind?) {
        (MemberWord::On(side), _) => Some(side),
        (MemberWord::MeetingRail, Kind::SlidingUpper) => Some(Side::Bottom),
        (MemberWord::MeetingRail, Kind::SlidingLower) => Some(Side::Top),
        (MemberWord::MeetingRail, _) => {
            let expected = "a stile, the top rail or the bottom rail".to_owned();
            reader.contradict(&member.place, expected, "only a sliding sash has a meeting rail");
            None
        }
    }
}
