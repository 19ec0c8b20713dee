//! Low windows high over the ground.

use super::Duty;
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::language::text;
use crate::sash::Sash;
use crate::survey::{Country, Kind, Opening};

/// Guarding is asked for where the ground lies so much lower, up to a height over the floor, mm.
struct Guard {
    drop: f64,
    height: f64,
    /// Whether only of a window that opens.
    opening: bool,
    source: &'static str,
}

const ENGLAND: Guard = Guard {
    drop: 600.0,
    height: 800.0,
    opening: false,
    source: "Approved Document K, diagram 3.1 (England)",
};

const STATES: Guard = Guard {
    drop: 1829.0,
    height: 610.0,
    opening: true,
    source: "IRC R312.2 (United States; from memory)",
};

pub(super) fn judge(sash: &Sash, duty: &mut Duty) {
    let place = &sash.measured.around.place;
    let guard = match place.country {
        Some(Country::England) => ENGLAND,
        Some(Country::UnitedStates) => STATES,
        Some(Country::Other) | None => {
            if place.drop.is_some_and(|drop| drop > ENGLAND.drop) {
                duty.notes.push(text!("caution-guarding"));
            }
            return;
        }
    };
    let in_door = place.opening == Some(Opening::Door);
    let (Some(floor), Some(drop)) = (place.floor, place.drop) else { return };
    if in_door || drop <= guard.drop || (guard.opening && sash.measured.kind == Kind::Fixed) {
        return;
    }
    let bound = Bound { value: guard.height, basis: Basis::Published(guard.source) };
    duty.findings.push(Finding::at_least(
        "safety.guarding",
        "whole sash",
        Quantity::mm(floor),
        Bounds::caution(bound),
        |verdict, _| match verdict {
            Verdict::Clear => text!("duty-no-guard"),
            _ => text!("duty-guard", drop = format!("{:.1}", drop / 1000.0)),
        },
    ));
}
