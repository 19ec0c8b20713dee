//! England: critical below a height over the floor, and where panes may be small instead.

use super::{Duty, ORDER, SAFE, cleared};
use crate::finding::{Basis, Bound, Bounds, Finding, Quantity, Verdict};
use crate::fit::{Fit, UnitFit};
use crate::language::text;
use crate::sash::Sash;
use crate::survey::{BuildUp, Opening, Pane, Unit};

const SOURCE: &str = "Approved Document K (England)";

/// Critical below so much from the floor, in walls and in doors and the panels beside them, mm.
const WALLS: f64 = 800.0;
const DOORS: f64 = 1500.0;

/// Small panes are allowed in a critical place: the smaller side and the area at most so much, mm and m², of ordinary glass
/// at least so thick, mm. Approved Document K, 5.6 and 5.7, as a door maker summarises them; the 4 mm of leaded and
/// copper lights are not for a unit.
const SMALL_SIDE: f64 = 250.0;
const SMALL_AREA: f64 = 0.5;
const SMALL_THICKNESS: f64 = 6.0;

pub(super) fn judge(sash: &Sash, fit: &Fit, safe: bool, duty: &mut Duty) {
    let place = &sash.measured.around.place;
    let (Some(opening), Some(floor)) = (place.opening, place.floor) else {
        if !safe {
            duty.notes.push(text!("duty-england-unknown"));
        }
        return;
    };
    let limit = if opening == Opening::Window { WALLS } else { DOORS };
    let thick = thick(&sash.measured.unit);
    for unit in &fit.units {
        let small = small(unit);
        let finding = Finding::at_least(
            "safety.glazing",
            unit.light.as_str(),
            Quantity::mm(floor + unit.sight().y0),
            Bounds::caution(Bound { value: limit, basis: Basis::Published(SOURCE) }),
            |verdict, _| match verdict {
                Verdict::Clear => text!("duty-too-high"),
                _ if small => {
                    text!("duty-critical-or-small", thickness = SMALL_THICKNESS.to_string())
                }
                _ => text!(ORDER),
            },
        );
        duty.findings.push(match (safe, small && thick) {
            (true, _) => cleared(finding, text!(SAFE)),
            (_, true) => cleared(finding, text!("duty-small-panes")),
            _ => finding,
        });
    }
}

/// Whether the light is so small; of a shaped one the rectangle around it counts.
fn small(unit: &UnitFit) -> bool {
    unit.sight().size().min_side() <= SMALL_SIDE && unit.sight().area() / 1e6 <= SMALL_AREA
}

/// Whether every pane is known to be so thick.
fn thick(unit: &Unit) -> bool {
    let BuildUp::Panes { panes, .. } = &unit.build_up else { return false };
    panes.iter().map(Pane::thickness).all(|thickness| thickness >= SMALL_THICKNESS)
}
