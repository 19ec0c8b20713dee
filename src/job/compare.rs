//! Two surveys side by side: what differs between them, and what follows from it.

use super::differences::{Noted, differences};
use super::report::check_against;
use crate::report::{CannotBeCut, SashReport};
use crate::sheets::compare::{Comparison, Pair};
use crate::survey::{House, Record};
use std::collections::BTreeMap;

/// Checks both houses and holds each sash of the one against that of the same id in the other.
pub fn compare(houses: [&House; 2]) -> Comparison {
    let [one, other] = houses.map(|house| check_against(house, &Record::default()));
    let by_id = |sashes: Vec<SashReport>| -> BTreeMap<String, SashReport> {
        sashes.into_iter().map(|sash| (sash.id.clone(), sash)).collect()
    };
    let none = |none: &[CannotBeCut]| none.iter().map(|sash| sash.id.clone()).collect::<Vec<_>>();
    let not_worked = [none(&one.cannot_be_cut), none(&other.cannot_be_cut)];
    // In the order of the surveys, those that only the second has last.
    let mut ids: Vec<String> = one.sashes.iter().map(|sash| sash.id.clone()).collect();
    let more = other.sashes.iter().map(|sash| sash.id.clone());
    ids.extend(more.filter(|id| !one.sashes.iter().any(|sash| sash.id == *id)).collect::<Vec<_>>());
    let names = [one.house.clone(), other.house.clone()];
    let (mut first, mut second) = (by_id(one.sashes), by_id(other.sashes));
    let pairs = ids.into_iter().map(|id| {
        let both = [first.remove(&id), second.remove(&id)];
        let differs = match &both {
            [Some(one), Some(other)] => differences(&Noted::from(one), &Noted::from(other)),
            _ => Vec::new(),
        };
        Pair { id, both, differs }
    });
    Comparison { names, pairs: pairs.collect(), not_worked }
}
