//! Critical places for safety glazing.

use super::{Duty, england, states};
use crate::fit::Fit;
use crate::language::text;
use crate::sash::Sash;
use crate::survey::{BuildUp, Country, Pane, Treatment, Unit};

/// Whether every pane of the unit is stated to break safely: toughened, or laminated.
pub fn breaks_safely(unit: &Unit) -> bool {
    let laminated = match &unit.build_up {
        BuildUp::Panes { panes, .. } => panes.iter().all(Pane::laminated),
        BuildUp::Bare(_) => false,
    };
    unit.make.glass == Some(Treatment::Toughened) || laminated
}

pub(super) fn judge(sash: &Sash, fit: &Fit, duty: &mut Duty) {
    let place = &sash.measured.around.place;
    let safe = breaks_safely(&sash.measured.unit);
    if !safe && let Some(pane) = sash.measured.unit.build_up.unclear() {
        duty.notes.push(text!("duty-unclear-pane", pane = pane.to_string()));
    }
    match place.country {
        Some(Country::England) => england::judge(sash, fit, safe, duty),
        Some(Country::UnitedStates) => states::judge(place, fit, safe, duty),
        Some(Country::Other) | None if safe => {}
        Some(Country::Other) | None => duty.notes.push(text!("caution-safety-glazing")),
    }
}
