//! What a sash does not say itself: it may be like another sash, of a profile, or as every sash of the house.

use crate::input::{Fill, Place, Reader, Spanned, nearest};
use crate::survey::file::FileTable;
use crate::survey::file::members::{MemberTable, MemberTables};
use crate::survey::file::names::LONGEST_ID;
use crate::survey::file::sash::{DefaultsTable, SashTable};
use crate::survey::file::sight::SightTable;
use std::collections::{BTreeMap, BTreeSet};

/// What holds for the sashes of a file besides what each says itself.
pub(super) struct Usual<'f> {
    defaults: SashTable,
    profiles: BTreeMap<&'f str, SashTable>,
    by_id: BTreeMap<String, &'f SashTable>,
}

impl<'f> Usual<'f> {
    pub(super) fn new(file: &'f FileTable, tables: &'f [Spanned<Box<SashTable>>]) -> Usual<'f> {
        let defaults = file.defaults.as_ref().map(|table| SashTable::from(&*table.value));
        let profiles = file.profile.iter().flat_map(|profiles| profiles.iter());
        let profiles =
            profiles.map(|(name, table)| (name.as_str(), SashTable::from(&*table.value)));
        let mut by_id: BTreeMap<String, &SashTable> = BTreeMap::new();
        for table in tables {
            for id in ids(table) {
                by_id.entry(id).or_insert(&table.value);
            }
            by_id.extend(table.id.as_ref().map(|id| (id.value.clone(), &*table.value)));
        }
        Usual { defaults: defaults.unwrap_or_default(), profiles: profiles.collect(), by_id }
    }

    /// A sash with everything that holds for it. One at a time: of a street they would not all find room.
    pub(super) fn whole(
        &self,
        table: &Spanned<Box<SashTable>>,
        reader: &mut Reader<'_>,
    ) -> Spanned<Box<SashTable>> {
        let own = like_others(&table.value, &self.by_id, reader);
        let profile = own.profile.clone();
        let own = match profile.as_ref().map(|name| (name, self.profiles.get(name.as_str()))) {
            None => own,
            Some((_, Some(profile))) => over(own, profile),
            Some((name, None)) => {
                unknown(name, self.profiles.keys().copied(), "profile", reader);
                own
            }
        };
        Spanned::new(Box::new(over(own, &self.defaults)), &table.place)
    }
}

fn unknown<'k>(
    name: &Spanned<String>,
    known: impl Iterator<Item = &'k str> + Clone,
    what: &str,
    reader: &mut Reader<'_>,
) {
    let hint = nearest(name, known.clone()).map(|near| format!("did you mean `{near}`?"));
    let known: Vec<&str> = known.take(20).collect();
    let expected = if known.is_empty() {
        format!("no {what}: this survey has none")
    } else {
        format!("one of {}", known.join(", "))
    };
    reader.contradict(&name.place, expected, &hint.unwrap_or_default());
}

/// The sash over the one that it is like, which may be like another in turn.
fn like_others(
    table: &SashTable,
    by_id: &BTreeMap<String, &SashTable>,
    reader: &mut Reader<'_>,
) -> SashTable {
    let mut all = table.clone();
    let mut seen: BTreeSet<&str> = table.id.iter().map(|id| id.as_str()).collect();
    let mut next = table.like.as_ref();
    while let Some(like) = next {
        let Some(other) = by_id.get(like.as_str()) else {
            let expected = "the id of another sash of this survey".to_owned();
            let near = nearest(like, by_id.keys().map(String::as_str));
            let hint = near.map(|near| format!("did you mean `{near}`?"));
            reader.contradict(&like.place, expected, &hint.unwrap_or_default());
            break;
        };
        let id = other.id.as_ref().map_or("", |id| id.as_str());
        if !seen.insert(id) {
            let expected = "a sash that is not like this one in turn".to_owned();
            reader.contradict(&like.place, expected, "one of them has to say its own measures");
            break;
        }
        all = as_there(all, other);
        next = other.like.as_ref();
    }
    all
}

/// What is said of a sash, and for the rest what is said of the other, but for what is each sash's own.
fn as_there(sash: SashTable, other: &SashTable) -> SashTable {
    let (overall, metal, surface) =
        (sash.overall.clone(), sash.metal.clone(), sash.surface.clone());
    SashTable { overall, metal, surface, ..over(sash, other) }
}

/// The ids that a table stands for: of several sashes alike its own with a number behind it.
pub(super) fn ids(table: &SashTable) -> Vec<String> {
    let Some(id) = &table.id else { return Vec::new() };
    match table.count() {
        1 => vec![id.value.clone()],
        count => (1..=count).map(|number| format!("{}-{number}", id.value)).collect(),
    }
}

/// Every id once, and none too long for a folder.
pub(super) fn unique_ids(tables: &[Spanned<Box<SashTable>>], reader: &mut Reader<'_>) {
    let mut first: BTreeMap<String, &Place> = BTreeMap::new();
    for table in tables {
        let Some(own) = &table.id else { continue };
        for id in ids(table) {
            if id.len() > LONGEST_ID {
                let expected =
                    format!("an id that leaves room for {id:?} within {LONGEST_ID} letters");
                reader.contradict(&own.place, expected, "a shorter id");
                break;
            }
            if let Some(other) = first.get(&id) {
                let many = if id == own.value { String::new() } else { format!("as {id}, ") };
                let hint = format!("{many}{} bears it already", other.key.trim_end_matches(".id"));
                let expected = "an id that no other sash bears".to_owned();
                reader.contradict(&own.place, expected, &hint);
                break;
            }
            first.insert(id, &own.place);
        }
    }
}

/// What is said of a sash, and for the rest what is usual.
fn over(mut sash: SashTable, usual: &SashTable) -> SashTable {
    // A sash that has either of the two has said how its glass is held.
    let says_old = sash.rebate.is_some() || sash.groove.is_some();
    let old = says_old.then(|| (sash.rebate.clone(), sash.groove.clone()));
    let (id, like, count) = (sash.id.clone(), sash.like.clone(), sash.count.clone());
    // These are filled in key by key.
    sash.sight = sight(sash.sight, usual.sight.as_ref());
    sash.member = members(sash.member, usual.member.as_ref());
    sash.unit = sash.unit.fill(&usual.unit);
    sash.clearance = sash.clearance.fill(&usual.clearance);
    sash.blocks = sash.blocks.fill(&usual.blocks);
    sash.finish = sash.finish.fill(&usual.finish);
    sash.place = sash.place.fill(&usual.place);
    sash.weather = sash.weather.fill(&usual.weather);
    let filled = SashTable { id, like, count, ..sash.fill(usual) };
    match old {
        Some((rebate, groove)) => SashTable { rebate, groove, ..filled },
        None => filled,
    }
}

/// A daylight that says only its width or height has the rest from the other, if that says no more.
fn sight(
    own: Option<Spanned<Box<SightTable>>>,
    usual: Option<&Spanned<Box<SightTable>>>,
) -> Option<Spanned<Box<SightTable>>> {
    let plain = |table: &SightTable| {
        table.widths.is_none()
            && table.heights.is_none()
            && table.diagonals.is_none()
            && table.diameter.is_none()
            && table.outline.is_none()
            && table.traced.is_none()
    };
    match (own, usual) {
        (Some(own), Some(usual)) if plain(&own) && plain(usual) => {
            Some(own.map(|table| table.fill(&usual.value)))
        }
        (own, usual) => own.or_else(|| usual.cloned()),
    }
}

fn members(
    own: Option<Spanned<Box<MemberTables>>>,
    usual: Option<&Spanned<Box<MemberTables>>>,
) -> Option<Spanned<Box<MemberTables>>> {
    let (Some(own), Some(usual)) = (&own, usual) else { return own.or_else(|| usual.cloned()) };
    let one = |own: &Option<Spanned<Box<MemberTable>>>,
               usual: &Option<Spanned<Box<MemberTable>>>| match (own, usual) {
        (Some(own), Some(usual)) => Some(own.clone().map(|table| member(table, usual))),
        (own, usual) => own.clone().or_else(|| usual.clone()),
    };
    let all = MemberTables {
        left: one(&own.left, &usual.left),
        right: one(&own.right, &usual.right),
        top: one(&own.top, &usual.top),
        bottom: one(&own.bottom, &usual.bottom),
    };
    Some(own.clone().map(|_| Box::new(all)))
}

fn member(own: Box<MemberTable>, usual: &MemberTable) -> Box<MemberTable> {
    let says_old = own.rebate.is_some() || own.groove.is_some();
    let (rebate, groove) = (own.rebate.clone(), own.groove.clone());
    let filled = (*own).fill(usual);
    Box::new(if says_old { MemberTable { rebate, groove, ..filled } } else { filled })
}

/// The keys of the defaults, each of which a sash has as well.
macro_rules! defaults {
    ($($key:ident),+) => {
        impl From<&DefaultsTable> for SashTable {
            fn from(usual: &DefaultsTable) -> SashTable {
                let DefaultsTable { $($key),+ } = usual.clone();
                SashTable { $($key,)+ ..SashTable::default() }
            }
        }
    };
}

defaults! {
    kind, thickness, timber, timber_class, stiles, rails, rebate, groove, moulding, member, unit, bars_as,
    clearance, blocks, finish, glazing, drainage, wind, old_glass, cord_groove, place, weather
}
