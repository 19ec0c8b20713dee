//! Warmth, what the glass bears, weight, what carries it, and gaps: a line or two each.

use crate::glass::strength::{Case, PaneLoad};
use crate::report::{GapLine, HangingLine, SashReport};
use crate::sheets::lines::Lines;
use crate::warmth::Warmth;

pub(super) fn tell(out: &mut Lines, sash: &SashReport) {
    let told = [
        sash.warmth.as_ref().map(warmth),
        glass(sash),
        sash.hanging.as_ref().map(weight),
        sash.hanging.as_ref().and_then(carried),
        gaps(&sash.gaps),
    ];
    for (head, text) in
        ["warmth  ", "glass   ", "weight  ", "carried ", "gaps    "].iter().zip(told)
    {
        if let Some(text) = text {
            out.wrapped(&format!("  {head}"), "          ", &text);
        }
    }
}

/// Before and after, in which room, and what a year saves.
pub(crate) fn warmth(warmth: &Warmth) -> String {
    let (before, after, room) = (&warmth.before, &warmth.after, &warmth.conditions);
    let saved = warmth.saved.map_or_else(
        || " Heat of a year: give degree_hours in the survey.".to_owned(),
        |kwh| format!(" A year saves {kwh:.0} kWh."),
    );
    let dew = warmth.dew_point.map_or_else(String::new, |dew| format!(", dew point {dew:.1} °C"));
    format!(
        "U of the sash {:.2} before, {:.2} W/m²K after; of the glass {:.2} and {:.2}. The edges of the glass \
         pass {:.0} % of the heat (Ψ {:.2} W/mK, EN ISO 10077-1, from memory). Room side of the glass {:.1} \
         before, {:.1} °C after{dew} (room {:.0} °C, {:.0} %; outdoors {:.0} °C).{saved} Draughts, sun and \
         curtains are not reckoned.",
        before.whole_u,
        after.whole_u,
        before.glass_u,
        after.glass_u,
        100.0 * after.edge_share,
        after.linear,
        before.room_surface,
        after.room_surface,
        room.inside,
        100.0 * room.humidity,
        room.outside
    )
}

/// In each case the pane that comes nearest to what it may bear.
pub(crate) fn glass(sash: &SashReport) -> Option<String> {
    let units: Vec<_> = sash.strength.iter().map(|line| &line.strength).collect();
    let first = units.first()?;
    let used = first.cases.iter().map(|case| {
        let alike = units.iter().flat_map(|unit| &unit.cases).filter(|of| of.name == case.name);
        let share = alike.filter_map(Case::worst).map(PaneLoad::share).fold(0.0, f64::max);
        let when = if case.name == "wind" { "in" } else { "on" };
        format!("{:.0} % {when} {}", 100.0 * share, case.name)
    });
    let used: Vec<String> = used.collect();
    let shaped = if sash.units.iter().any(|unit| unit.shape.is_some()) {
        " A shaped pane counts as the rectangle around it and 13 % more."
    } else {
        ""
    };
    Some(format!(
        "of what it may bear the worst pane bears {} (EN 16612, from memory).{shaped}",
        used.join(", ")
    ))
}

/// The whole sash.
pub(crate) fn weight(hanging: &HangingLine) -> String {
    match hanging.before {
        Some(before) => format!(
            "{before:.1} kg before, {:.1} kg after, {:+.1} kg; paint, putty and hardware not counted.",
            hanging.after,
            hanging.after - before
        ),
        None => format!(
            "{:.1} kg after, paint and hardware not counted; measure the old panes (old_glass) to know what it \
             gains.",
            hanging.after
        ),
    }
}

/// Counterweights or hinges, where they were measured.
pub(crate) fn carried(hanging: &HangingLine) -> Option<String> {
    if let Some(weights) = &hanging.counterweights {
        let gain = weights.extra.map_or_else(String::new, |kg| format!(" ({kg:+.2} kg)"));
        let metals: Vec<String> = weights
            .metals
            .iter()
            .map(|made| {
                let extra = made.extra.filter(|extra| *extra > 0.0);
                let extra = extra.map_or_else(String::new, |mm| format!(", {mm:.0} of it added"));
                format!("{} {:.0} mm long{extra}", made.metal.name(), made.length)
            })
            .collect();
        return Some(format!(
            "each counterweight {:.2} kg{gain}: {}.",
            weights.each_after,
            metals.join("; ")
        ));
    }
    let hung = hanging.hung.as_ref()?;
    Some(format!(
        "{:.0} N on the hinges, moment {:.0} N m; each screw is pulled by {:.0} of the {:.0} N it \
         holds (a fifth of what pulls it out: Wood Handbook, from memory).",
        hung.load, hung.moment, hung.screw, hung.holds
    ))
}

/// The gap that comes nearest to nothing.
pub(crate) fn gaps(gaps: &[GapLine]) -> Option<String> {
    let tightest = gaps.iter().min_by(|a, b| a.likely.total_cmp(&b.likely))?;
    let largest =
        tightest.largest.map_or_else(String::new, |name| format!("; most goes to the {name}"));
    Some(format!(
        "tightest {}: {:.1} mm drawn, {:.1} likely left, {:.1} at the worst{largest} (glass: EN 1279-1, from memory).",
        tightest.place, tightest.gap, tightest.likely, tightest.worst
    ))
}
