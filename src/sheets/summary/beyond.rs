//! Warmth, weight, what carries it, and gaps: a line or two each.

use crate::report::{GapLine, HangingLine, SashReport};
use crate::sheets::lines::Lines;
use crate::warmth::Warmth;

pub(super) fn tell(out: &mut Lines, sash: &SashReport) {
    let told = [
        sash.warmth.as_ref().map(warmth),
        sash.hanging.as_ref().map(weight),
        sash.hanging.as_ref().and_then(carried),
        gaps(&sash.gaps),
    ];
    for (head, text) in ["warmth  ", "weight  ", "carried ", "gaps    "].iter().zip(told) {
        if let Some(text) = text {
            out.wrapped(&format!("  {head}"), "          ", &text);
        }
    }
}

/// Before and after, and what a year saves.
pub(crate) fn warmth(warmth: &Warmth) -> String {
    let (before, after) = (&warmth.before, &warmth.after);
    let saved = warmth.saved.map_or_else(
        || " Heat of a year: give degree_hours in the survey.".to_owned(),
        |kwh| format!(" A year saves {kwh:.0} kWh."),
    );
    format!(
        "U of the sash {:.2} before, {:.2} W/m²K after; of the glass {:.2} and {:.2}. Room side of the glass \
         {:.1} before, {:.1} °C after.{saved} Draughts, sun and curtains are not reckoned.",
        before.whole_u,
        after.whole_u,
        before.glass_u,
        after.glass_u,
        before.room_surface,
        after.room_surface
    )
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
        "{:.0} N on the hinges, moment {:.0} N m; each screw is pulled by {:.0} of the {:.0} N it holds.",
        hung.load, hung.moment, hung.screw, hung.holds
    ))
}

/// The gap that comes nearest to nothing.
pub(crate) fn gaps(gaps: &[GapLine]) -> Option<String> {
    let tightest = gaps.iter().min_by(|a, b| a.likely.total_cmp(&b.likely))?;
    let largest =
        tightest.largest.map_or_else(String::new, |name| format!("; most goes to the {name}"));
    Some(format!(
        "tightest {}: {:.1} mm drawn, {:.1} likely left, {:.1} at the worst{largest}.",
        tightest.place, tightest.gap, tightest.likely, tightest.worst
    ))
}
