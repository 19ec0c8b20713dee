//! What varies along the sides of a unit, as a table.

use super::Lines;
use crate::geometry::Side;
use crate::report::{AlongLine, UnitLine};

/// One table a unit that lies behind a daylight out of square or under a head.
pub(super) fn along(out: &mut Lines, unit: &UnitLine) {
    let Some(along) = &unit.along else { return };
    let turned = if along.turned.abs() < 0.005 {
        String::new()
    } else {
        format!(", which lies turned by {:.2}° in the sash", along.turned)
    };
    out.wrapped(
        "  ",
        "    ",
        &format!("Least and most along the sides of the unit for {}{turned}, mm:", unit.light),
    );
    out.line(&format!("    {:8}{}", "", ROW.map(|word| format!("{word:<15}")).concat().trim_end()));
    for side in Side::ALL {
        out.line(&format!("    {side:<8}{}", row(along, side).trim_end()));
    }
}

/// What the columns hold.
const ROW: [&str; 4] = ["cover", "gap", "rebate", "wood beside"];

fn row(along: &AlongLine, side: Side) -> String {
    let spans = [
        Some(*along.cover.get(side)),
        Some(*along.clearance.get(side)),
        Some(*along.rebate_width.get(side)),
        *along.beside.get(side),
    ];
    spans.map(|span| format!("{:<15}", span.map_or_else(|| "-".into(), told))).concat()
}

fn told([least, most]: [f64; 2]) -> String {
    let [least, most] = [least, most].map(|length| format!("{length:.1}"));
    if least == most { least } else { format!("{least} to {most}") }
}
