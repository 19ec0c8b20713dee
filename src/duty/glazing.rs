//! Critical places for safety glazing.

use super::{Duty, england, states};
use crate::fit::Fit;
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
        duty.notes.push(format!(
            "Safety glazing: a pane of {pane} counts as ordinary glass. If it is laminated, say so: build_up with \
             \"{pane} lam.\", or by its plies, such as \"33.1\"."
        ));
    }
    match place.country {
        Some(Country::England) => england::judge(sash, fit, safe, duty),
        Some(Country::UnitedStates) => states::judge(place, fit, safe, duty),
        Some(Country::Other) | None if safe => {}
        Some(Country::Other) | None => duty.notes.push(
            "Safety glazing may be required near floors and doors: ask the local building authority, and \
             say so in the glass order."
                .into(),
        ),
    }
}
