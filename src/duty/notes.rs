//! Lead, old putty, consent.

use super::Duty;
use crate::language::{Text, text};
use crate::survey::{Country, Place};

/// Homes in the United States built from this year on have no lead paint. EPA, renovation rule.
const LEAD_FREE: u32 = 1978;

pub(super) fn tell(place: &Place, duty: &mut Duty) {
    let states = place.country == Some(Country::UnitedStates);
    if !(states && place.built.is_some_and(|year| year >= LEAD_FREE)) {
        duty.notes.push(Text::of(if states { "caution-lead-states" } else { "caution-lead" }));
    }
    duty.notes.push(text!("caution-putty"));
    match place.listed {
        Some(true) => duty.notes.push(text!("caution-listed")),
        None => duty.notes.push(text!("caution-whether-listed")),
        Some(false) => {}
    }
}
