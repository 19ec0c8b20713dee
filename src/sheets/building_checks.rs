//! Warmth, what the glass bears, weight, what carries it, and gaps: a line or two each.

use crate::report::{GapLine, HangingLine, SashReport, WorstPane};
use crate::warmth::{Basis, Cure, Warmth};

/// What a check says.
pub(super) struct Check {
    /// Its name at the head of a paragraph.
    pub(super) name: &'static str,
    /// In a line, where there is one; for the short answer.
    pub(super) brief: Option<String>,
    /// All of it.
    pub(super) text: String,
}

/// Every check that was made of a sash.
pub(super) fn all(sash: &SashReport) -> Vec<Check> {
    let hanging = sash.hanging.as_ref();
    let made = [
        ("Warmth", sash.warmth.as_ref().map(warmth_brief), sash.warmth.as_ref().map(warmth)),
        ("Glass", glass_brief(sash), glass(sash)),
        ("Weight", hanging.map(weight_brief), hanging.map(weight)),
        ("Carried by", hanging.and_then(counterweights), hanging.and_then(carried)),
        ("Gaps", gaps_brief(&sash.gaps), gaps(&sash.gaps)),
    ];
    made.into_iter()
        .filter_map(|(name, brief, text)| Some(Check { name, brief, text: text? }))
        .collect()
}

/// Before and after, and whether the edge of the glass stays dry.
fn warmth_brief(warmth: &Warmth) -> String {
    let (before, after) = (&warmth.before, &warmth.after);
    let saved = warmth.saved.filter(|kwh| *kwh >= 0.5);
    let saved = saved.map_or_else(String::new, |kwh| format!(" A year saves {kwh:.0} kWh."));
    let dry = after.edge.as_ref().and_then(|edge| edge.dry_down_to).map(dry_down_to);
    let water = dry.map_or_else(String::new, |dry| {
        let cure = match (warmth.cure, warmth.cure.and_then(|cure| cure.improved_spacer)) {
            (_, Some(outside)) if warmth.spacer_assumed => {
                format!("; if improved, {}", dry_down_to(outside))
            }
            (_, Some(outside)) => format!("; with an improved spacer, {}", dry_down_to(outside)),
            (Some(cure), None) => {
                let (outside, damp) = (warmth.conditions.outside, most_damp(cure));
                format!("; at {outside:.0} °C with air of {damp:.0} % at most")
            }
            (None, None) => String::new(),
        };
        let metal = if warmth.spacer_assumed { " if the spacer is metal" } else { "" };
        format!(" The edge stays dry down to {dry} °C outside{metal}{cure}.")
    });
    format!(
        "{:.2} before, {:.2} W/m²K after (the whole sash).{water}{saved}",
        before.whole_u, after.whole_u
    )
}

/// What is taken of a spacer that nobody stated.
fn assumed(warmth: &Warmth) -> &'static str {
    if warmth.spacer_assumed { ", the spacer, which is not stated, taken as metal" } else { "" }
}

/// A whole degree up: what is said to be dry is.
fn dry_down_to(outside: f64) -> String {
    format!("{:.0}", outside.ceil() + 0.0)
}

/// Cut to a whole per cent.
fn most_damp(cure: Cure) -> f64 {
    (100.0 * cure.humidity).floor()
}

/// The pane and the case that come nearest to what glass can take.
fn glass_brief(sash: &SashReport) -> Option<String> {
    let worst = sash.worst_panes.iter().max_by(|a, b| a.share.total_cmp(&b.share))?;
    let case = if worst.case == "wind" {
        format!("in wind ({})", sash.wind.words)
    } else {
        format!("on {}", worst.case)
    };
    Some(format!("most loaded pane: {:.0} % of what it can take, {case}.", 100.0 * worst.share))
}

fn weight_brief(hanging: &HangingLine) -> String {
    let before = hanging.before.map_or_else(String::new, |kg| format!("{kg:.1} kg before, "));
    format!("{before}{:.1} kg after.", hanging.after)
}

fn gaps_brief(gaps: &[GapLine]) -> Option<String> {
    let least = least(gaps)?;
    let (chance, _) = least.words.split_once(';').unwrap_or((&least.words, ""));
    Some(format!("{chance}."))
}

/// Before and after, whether the edge of the glass stays dry, and what a year saves.
fn warmth(warmth: &Warmth) -> String {
    let (before, after) = (&warmth.before, &warmth.after);
    let saved = warmth.saved.map_or_else(
        || " Heat of a year: give degree_hours in the survey.".to_owned(),
        |kwh| {
            let sun = warmth.sun_lost.unwrap_or_default();
            format!(" A year saves {kwh:.0} kWh, {sun:.0} of sun that stays out taken off.")
        },
    );
    format!(
        "U of the sash {:.2} before, {:.2} W/m²K after; of the glass {:.2} and {:.2}. The edges of the glass \
         pass {:.0} % of the heat (Ψ {:.2} W/mK, {}).{}{saved} Window rating {:.0} kWh/m² a year, \
         {:.0} before (British, without draughts). Draughts and curtains are not reckoned.",
        before.whole_u,
        after.whole_u,
        before.glass_u,
        after.glass_u,
        100.0 * after.edge_share,
        after.linear,
        match warmth.basis {
            Basis::Sections => "EN ISO 10077-2",
            Basis::OtherUnit | Basis::Tables => "EN ISO 10077-1",
        },
        water(warmth),
        after.rating,
        before.rating,
    )
}

/// Whether the edge of the glass stays dry, and if not, what would keep it so.
fn water(warmth: &Warmth) -> String {
    let (after, room) = (&warmth.after, &warmth.conditions);
    let stated = format!("room {:.0} °C, {:.0} %", room.inside, 100.0 * room.humidity);
    let edge = after.edge.as_ref();
    let Some((edge, dry)) = edge.and_then(|edge| Some((edge, edge.dry_down_to?))) else {
        return format!(" Room side of the glass {:.1} °C after ({stated}).", after.room_surface);
    };
    let dry = dry_down_to(dry);
    let Some(cure) = warmth.cure else {
        return format!(
            " The edge stays dry down to {dry} °C outside ({stated}){}.",
            assumed(warmth)
        );
    };
    let spacer = cure.improved_spacer.map_or_else(String::new, |outside| {
        format!("an improved spacer (dry down to {} °C), or ", dry_down_to(outside))
    });
    format!(
        " The edge stays dry only down to {dry} °C outside ({stated}){}, first wet at the {}. To keep it dry at {:.0} °C: \
         {spacer}air of {:.0} % at most in the room. Bare wood soaks the water up: paint it, seal the joint.",
        assumed(warmth),
        edge.part,
        room.outside,
        most_damp(cure)
    )
}

/// In each case the pane that comes nearest to what it may bear.
fn glass(sash: &SashReport) -> Option<String> {
    if sash.worst_panes.is_empty() {
        return None;
    }
    let worst = sash.worst_panes.iter().map(|WorstPane { case, share }| {
        let share = 100.0 * share;
        if case == "wind" {
            format!("{share:.0} % of what it can take in wind ({})", sash.wind.words)
        } else {
            format!("{share:.0} % on {case}")
        }
    });
    let worst: Vec<String> = worst.collect();
    let shaped = if sash.units.iter().any(|unit| unit.shape.is_some()) {
        " A shaped pane counts as the rectangle around it and 13 % more."
    } else {
        ""
    };
    let sealed = sash.sealed.as_deref().unwrap_or("heights assumed");
    let (winter, exempt) = (winter(sash), exempt(sash));
    Some(format!("most loaded pane: {} ({sealed}).{shaped}{exempt}{winter}", worst.join(", ")))
}

/// What cold and high pressure make of the unit that they make coldest.
fn winter(sash: &SashReport) -> String {
    let all = sash.strength.iter().filter_map(|unit| unit.strength.winter);
    let coldest = all.max_by(|a, b| a.glass_u.total_cmp(&b.glass_u));
    coldest.map_or_else(String::new, |winter| {
        format!(
            " On the cold day its cavity closes to {:.1} mm on average, and U of the glass is {:.2}.",
            winter.cavity, winter.glass_u
        )
    })
}

/// Whether the source wants a proof at all.
fn exempt(sash: &SashReport) -> &'static str {
    let units = &sash.strength;
    if !units.is_empty() && units.iter().all(|unit| unit.strength.exempt) {
        " TRLV 08/2006 wants no proof of such a unit."
    } else {
        ""
    }
}

/// The whole sash.
fn weight(hanging: &HangingLine) -> String {
    match hanging.before.zip(hanging.gain) {
        Some((before, gain)) => format!(
            "{before:.1} kg before, {:.1} kg after, {gain:+.1} kg; paint, old putty and hardware not counted.",
            hanging.after
        ),
        None => format!(
            "{:.1} kg after, paint and hardware not counted; measure the old panes (old_glass) to know what it \
             gains.",
            hanging.after
        ),
    }
}

/// Counterweights or hinges, where they were measured.
fn carried(hanging: &HangingLine) -> Option<String> {
    counterweights(hanging).or_else(|| {
        let hung = hanging.hung.as_ref()?;
        Some(format!(
            "{:.0} N on the hinges, moment {:.0} N m; each screw is pulled by {:.0} of the {:.0} N it \
             may hold.",
            hung.load, hung.moment, hung.screw, hung.holds
        ))
    })
}

fn counterweights(hanging: &HangingLine) -> Option<String> {
    let weights = hanging.counterweights.as_ref()?;
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
    let basis = match (weights.weighed, weights.extra) {
        (true, _) => ", from the old one on the scale",
        (false, Some(_)) => ", as reckoned: put an old one on the scale",
        (false, None) => ", as reckoned: measure the old panes, or put an old one on the scale",
    };
    Some(format!(
        "each counterweight {:.2} kg{gain}{basis}: {}.",
        weights.each_after,
        metals.join("; ")
    ))
}

/// The gap that is least sure to be enough.
fn gaps(gaps: &[GapLine]) -> Option<String> {
    let least = least(gaps)?;
    let place = least.place.strip_prefix("whole sash, ").unwrap_or(&least.place);
    Some(format!("{} ({place}).", least.words))
}

fn least(gaps: &[GapLine]) -> Option<&GapLine> {
    gaps.iter().min_by(|a, b| a.chance.total_cmp(&b.chance))
}
