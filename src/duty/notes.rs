//! Lead, old putty, consent.

use super::Duty;
use crate::survey::{Country, Place};

/// Homes in the United States built from this year on have no lead paint. EPA, renovation rule.
const LEAD_FREE: u32 = 1978;

pub(super) fn tell(place: &Place, duty: &mut Duty) {
    let states = place.country == Some(Country::UnitedStates);
    if !(states && place.built.is_some_and(|year| year >= LEAD_FREE)) {
        let rule = if states {
            "homes built before 1978 fall under the federal renovation rule, which asks for a certified firm"
        } else {
            "follow the local rules for lead paint"
        };
        duty.notes.push(format!(
            "Lead: old paint may hold it. Test it; wet abrasives, no dry sanding, no flame, hot air below \
             450 °C; {rule}."
        ));
    }
    duty.notes.push(
        "Old putty has been found to hold asbestos: have it tested before it is disturbed.".into(),
    );
    match place.listed {
        Some(true) => duty.notes.push(
            "Listed building or conservation area: consent comes before the first cut, and it may ask for \
             the old glass to stay."
                .into(),
        ),
        None => duty.notes.push(
            "Listed buildings and conservation areas: consent comes before the first cut; find out whether \
             this is one."
                .into(),
        ),
        Some(false) => {}
    }
}
