//! Critical places for safety glazing.

use super::{Duty, called, cleared};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::{Fit, UnitFit};
use crate::sash::Sash;
use crate::survey::{BuildUp, Country, Opening, Pane, Place, Treatment, Unit};

const ENGLAND: &str = "Approved Document K (England)";
const STATES: &str = "IRC R308.4.3 (United States)";

/// Critical below so much from the floor, in walls and in doors and the panels beside them, mm.
const WALLS: f64 = 800.0;
const DOORS: f64 = 1500.0;

/// Critical where all four hold: a pane over so many m², its bottom below, its top above, and a surface
/// one walks on within, mm.
const AREA: f64 = 0.836;
const BOTTOM: f64 = 457.0;
const TOP: f64 = 914.0;
const WALKWAY: f64 = 914.0;

const ORDER: &str = "a critical place: order every pane toughened or laminated, marked as the local code \
                     asks, or ask the building authority whether it must be";
const SAFE: &str = "A critical place, and the glass breaks safely: see that every pane is marked as the \
                    local code asks.";

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
        Some(Country::England) => england(place, fit, safe, duty),
        Some(Country::UnitedStates) => states(place, fit, safe, duty),
        Some(Country::Other) | None if safe => {}
        Some(Country::Other) | None => duty.notes.push(
            "Safety glazing may be required near floors and doors: ask the local building authority, and \
             say so in the glass order."
                .into(),
        ),
    }
}

fn unknown(country: Country, what: &str, duty: &mut Duty) {
    duty.notes.push(format!(
        "Safety glazing in {}: not judged, since the survey does not say {what} (place = {{ … }}).",
        called(country)
    ));
}

fn england(place: &Place, fit: &Fit, safe: bool, duty: &mut Duty) {
    let (Some(opening), Some(floor)) = (place.opening, place.floor) else {
        let what =
            "whether it is a window or a door and how high the lower sight edge is over the floor";
        if !safe {
            unknown(Country::England, what, duty);
        }
        return;
    };
    let limit = if opening == Opening::Window { WALLS } else { DOORS };
    for unit in &fit.units {
        let bound = Bound { value: limit, basis: Basis::Published(ENGLAND) };
        let height = Quantity::mm(floor + unit.sight.y0);
        let finding = Finding::at_least(
            "safety.glazing",
            unit.light.as_str(),
            height,
            Bounds::caution(bound),
            |verdict, _| match verdict {
                Verdict::Clear => "too high over the floor to be a critical place".to_owned(),
                _ => ORDER.to_owned(),
            },
        );
        duty.findings.push(if safe { cleared(finding, SAFE) } else { finding });
    }
}

fn states(place: &Place, fit: &Fit, safe: bool, duty: &mut Duty) {
    if place.opening != Some(Opening::Window) && !safe {
        let what = match place.opening {
            None => "whether it is a window or a door",
            // R308.4.1 and .2, from memory: doors and panels beside them have rules of their own.
            Some(_) => {
                "enough of a door and the panels beside it, for which the code has rules of its own"
            }
        };
        unknown(Country::UnitedStates, what, duty);
    }
    for unit in &fit.units {
        match hazard(place, unit) {
            Some(all) => {
                let area = Quantity { value: unit.sight.area() / 1e6, unit: "m²" };
                let bound = Bound { value: AREA, basis: Basis::Published(STATES) };
                let finding = Finding::at_most(
                    "safety.glazing",
                    unit.light.as_str(),
                    area,
                    Bounds::caution(bound),
                    |verdict, _| match verdict {
                        Verdict::Clear => "too small a pane to be a critical place".to_owned(),
                        _ => ORDER.to_owned(),
                    },
                );
                duty.findings.push(match (safe, all) {
                    (true, _) => cleared(finding, SAFE),
                    (_, false) => cleared(
                        finding,
                        "Not a critical place: not all four conditions of the code hold.",
                    ),
                    _ => finding,
                });
            }
            None if safe => {}
            None => {
                let what =
                    "how high the lower sight edge is over the floor and how far off one walks";
                unknown(Country::UnitedStates, what, duty);
                return;
            }
        }
    }
}

/// Whether all four conditions hold; `None` where what is known does not tell.
fn hazard(place: &Place, unit: &UnitFit) -> Option<bool> {
    let conditions = [
        Some(unit.sight.area() / 1e6 > AREA),
        place.floor.map(|floor| floor + unit.sight.y0 < BOTTOM),
        place.floor.map(|floor| floor + unit.sight.y1 > TOP),
        place.walkway.map(|away| away <= WALKWAY),
    ];
    if conditions.contains(&Some(false)) {
        return Some(false);
    }
    conditions.iter().all(Option::is_some).then_some(true)
}
