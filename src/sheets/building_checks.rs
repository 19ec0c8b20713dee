//! Warmth, what the glass bears, weight, what carries it, and gaps: a line or two each.

use super::kit::{Voice, fixed, in_a_row, tell};
use crate::report::{GapLine, HangingLine, SashReport, WorstPane};
use crate::warmth::{Basis, Cure, Warmth};

/// What a check says.
pub(super) struct Check {
    /// What it is of.
    pub(super) of: Of,
    /// In a line, where there is one; for the short answer.
    pub(super) brief: Option<String>,
    /// All of it.
    pub(super) text: String,
}

/// What a check is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Of {
    Warmth,
    Glass,
    Weight,
    Carried,
    Gaps,
}

impl Of {
    /// What stands at the head of its paragraph, by its key.
    pub(super) fn key(self) -> &'static str {
        match self {
            Of::Warmth => "check-warmth",
            Of::Glass => "check-glass",
            Of::Weight => "check-weight",
            Of::Carried => "check-carried",
            Of::Gaps => "check-gaps",
        }
    }
}

impl Check {
    /// A paragraph of it.
    pub(super) fn paragraph(&self, voice: Voice) -> String {
        format!("{}: {}", voice.word(self.of.key()), self.text)
    }
}

/// Every check that was made of a sash.
pub(super) fn all(sash: &SashReport, voice: Voice) -> Vec<Check> {
    let (warm, hung) = (sash.warmth.as_ref(), sash.hanging.as_ref());
    let carried_by = hung.and_then(|hung| counterweights(hung, voice));
    let made = [
        (Of::Warmth, warm.map(|of| warmth_brief(of, voice)), warm.map(|of| warmth(of, voice))),
        (Of::Glass, glass_brief(sash, voice), glass(sash, voice)),
        (Of::Weight, hung.map(|of| weight_brief(of, voice)), hung.map(|of| weight(of, voice))),
        (Of::Carried, carried_by, hung.and_then(|hung| carried(hung, voice))),
        (Of::Gaps, gaps_brief(&sash.gaps, voice), gaps(&sash.gaps, voice)),
    ];
    made.into_iter()
        .filter_map(|(of, brief, text)| Some(Check { of, brief, text: text? }))
        .collect()
}

/// Before and after, and whether the edge of the glass stays dry.
fn warmth_brief(warmth: &Warmth, voice: Voice) -> String {
    let (before, after) = (&warmth.before, &warmth.after);
    let saved = warmth.saved.filter(|kwh| *kwh >= 0.5);
    let saved = saved
        .map_or_else(String::new, |kwh| tell!(voice, "check-saves", kwh = format!("{kwh:.0}")));
    let dry = after.edge.as_ref().and_then(|edge| edge.dry_down_to).map(dry_down_to);
    let water = dry.map_or_else(String::new, |dry| {
        let metal = warmth.spacer_assumed;
        let dry = tell!(voice, if metal { "check-dry-metal" } else { "check-dry" }, dry);
        let cured = match (warmth.cure, warmth.cure.and_then(|cure| cure.improved_spacer)) {
            (_, Some(outside)) => {
                let key = if metal { "check-dry-improved" } else { "check-dry-with-improved" };
                tell!(voice, key, dry, better = dry_down_to(outside))
            }
            (Some(cure), None) => {
                let outside = format!("{:.0}", warmth.conditions.outside);
                tell!(voice, "check-dry-with-air", dry, outside, damp = most_damp(cure))
            }
            (None, None) => dry,
        };
        format!("{cured}.")
    });
    let [before, after] = [before, after].map(|side| format!("{:.2}", side.whole_u));
    in_a_row([tell!(voice, "check-u", before, after), water, saved])
}

/// A whole degree up: what is said to be dry is.
pub(super) fn dry_down_to(outside: f64) -> String {
    fixed(outside.ceil(), 0)
}

/// Cut to a whole per cent.
fn most_damp(cure: Cure) -> String {
    format!("{:.0}", (100.0 * cure.humidity).floor())
}

/// The pane and the case that come nearest to what glass can take.
fn glass_brief(sash: &SashReport, voice: Voice) -> Option<String> {
    let worst = sash.worst_panes.iter().max_by(|a, b| a.share.total_cmp(&b.share))?;
    let case = if worst.case == "wind" {
        tell!(voice, "check-in-wind", wind = voice.say(&sash.wind.words))
    } else {
        tell!(voice, "check-case", case = voice.named(&worst.case))
    };
    Some(tell!(voice, "check-pane", share = format!("{:.0}", 100.0 * worst.share), case))
}

fn weight_brief(hanging: &HangingLine, voice: Voice) -> String {
    let after = format!("{:.1}", hanging.after);
    match hanging.before {
        None => tell!(voice, "check-weighs-after", after),
        Some(kg) => tell!(voice, "check-weighs", before = format!("{kg:.1}"), after),
    }
}

fn gaps_brief(gaps: &[GapLine], voice: Voice) -> Option<String> {
    let least = least(gaps)?;
    Some(format!("{}.", voice.say(&least.likely)))
}

/// Before and after, whether the edge of the glass stays dry, and what a year saves.
fn warmth(warmth: &Warmth, voice: Voice) -> String {
    let (before, after) = (&warmth.before, &warmth.after);
    let saved = warmth.saved.zip(warmth.sun_lost).map_or_else(
        || voice.word("check-ask-degree-hours"),
        |(kwh, sun)| {
            let sun = format!("{sun:.0}");
            tell!(voice, "check-saves-less-sun", kwh = format!("{kwh:.0}"), sun)
        },
    );
    let [u_before, u_after, glass_before, glass_after] =
        [before.whole_u, after.whole_u, before.glass_u, after.glass_u].map(|u| format!("{u:.2}"));
    let [rating_before, rating_after] = [before, after].map(|side| format!("{:.0}", side.rating));
    let told = tell!(
        voice,
        "check-warm",
        u_before,
        u_after,
        glass_before,
        glass_after,
        share = format!("{:.0}", 100.0 * after.edge_share),
        linear = format!("{:.2}", after.linear),
        basis = match warmth.basis {
            Basis::Sections => "EN ISO 10077-2",
            Basis::OtherUnit | Basis::Tables => "EN ISO 10077-1",
        }
    );
    let rated = tell!(voice, "check-rating", rating_after, rating_before);
    in_a_row([told, water(warmth, voice), saved, rated])
}

/// Whether the edge of the glass stays dry, and if not, what would keep it so.
fn water(warmth: &Warmth, voice: Voice) -> String {
    let (after, room) = (&warmth.after, &warmth.conditions);
    let (inside, damp) = (format!("{:.0}", room.inside), format!("{:.0}", 100.0 * room.humidity));
    let edge = after.edge.as_ref();
    let Some((edge, dry)) = edge.and_then(|edge| Some((edge, edge.dry_down_to?))) else {
        let degrees = format!("{:.1}", after.room_surface);
        return tell!(voice, "check-room-side", degrees, inside, damp);
    };
    let (dry, metal) = (dry_down_to(dry), warmth.spacer_assumed);
    let Some(cure) = warmth.cure else {
        let key = if metal { "check-edge-dry-metal" } else { "check-edge-dry" };
        return tell!(voice, key, dry, inside, damp);
    };
    let key = if metal { "check-edge-wet-metal" } else { "check-edge-wet" };
    let wet = tell!(voice, key, dry, inside, damp, part = voice.named(&edge.part));
    let (outside, damp) = (format!("{:.0}", room.outside), most_damp(cure));
    let cured = match cure.improved_spacer {
        None => tell!(voice, "check-keep-dry", outside, damp),
        Some(better) => {
            tell!(voice, "check-keep-dry-improved", outside, damp, better = dry_down_to(better))
        }
    };
    in_a_row([wet, cured, voice.word("check-paint-wood")])
}

/// In each case the pane that comes nearest to what it may bear.
fn glass(sash: &SashReport, voice: Voice) -> Option<String> {
    if sash.worst_panes.is_empty() {
        return None;
    }
    let worst = sash.worst_panes.iter().map(|WorstPane { case, share }| {
        let share = format!("{:.0}", 100.0 * share);
        if case == "wind" {
            tell!(voice, "check-wind-of", share, wind = voice.say(&sash.wind.words))
        } else {
            tell!(voice, "check-case-of", share, case = voice.named(case))
        }
    });
    let panes = worst.collect::<Vec<_>>().join(", ");
    let sealed = match &sash.sealed {
        None => voice.word("check-heights-assumed"),
        Some(sealed) => voice.say(sealed),
    };
    let shaped = sash.units.iter().any(|unit| unit.shape.is_some());
    let told = |told: bool, key: &str| if told { voice.word(key) } else { String::new() };
    // Whether the source wants a proof at all.
    let units = &sash.strength;
    let exempt = !units.is_empty() && units.iter().all(|unit| unit.strength.exempt);
    Some(in_a_row([
        tell!(voice, "check-panes", panes, sealed),
        told(shaped, "check-shaped"),
        told(exempt, "check-exempt"),
        winter(sash, voice),
    ]))
}

/// What cold and high pressure make of the unit that they make coldest.
fn winter(sash: &SashReport, voice: Voice) -> String {
    let all = sash.strength.iter().filter_map(|unit| unit.strength.winter);
    let coldest = all.max_by(|a, b| a.glass_u.total_cmp(&b.glass_u));
    coldest.map_or_else(String::new, |winter| {
        let (cavity, u) = (format!("{:.1}", winter.cavity), format!("{:.2}", winter.glass_u));
        tell!(voice, "check-winter", cavity, u)
    })
}

/// The whole sash.
fn weight(hanging: &HangingLine, voice: Voice) -> String {
    let after = format!("{:.1}", hanging.after);
    match hanging.before.zip(hanging.gain) {
        Some((before, gain)) => {
            let (before, gain) = (format!("{before:.1}"), format!("{gain:+.1}"));
            tell!(voice, "check-gain", before, after, gain)
        }
        None => tell!(voice, "check-after", after),
    }
}

/// Counterweights or hinges, where they were measured.
fn carried(hanging: &HangingLine, voice: Voice) -> Option<String> {
    counterweights(hanging, voice).or_else(|| {
        let hung = hanging.hung.as_ref()?;
        let [load, moment, screw, holds] =
            [hung.load, hung.moment, hung.screw, hung.holds].map(|force| format!("{force:.0}"));
        Some(tell!(voice, "check-hinges", load, moment, screw, holds))
    })
}

fn counterweights(hanging: &HangingLine, voice: Voice) -> Option<String> {
    let weights = hanging.counterweights.as_ref()?;
    let metals = weights.metals.iter().map(|made| {
        let (metal, length) = (voice.named(made.metal.name()), format!("{:.0}", made.length));
        match made.extra.filter(|extra| *extra > 0.0) {
            None => tell!(voice, "check-weight-long", metal, length),
            Some(mm) => {
                tell!(voice, "check-weight-added", metal, length, extra = format!("{mm:.0}"))
            }
        }
    });
    let metals = metals.collect::<Vec<_>>().join("; ");
    let each = format!("{:.2}", weights.each_after);
    let each = match weights.extra {
        None => tell!(voice, "check-each-weight", kg = each),
        Some(gain) => tell!(voice, "check-each-gains", kg = each, gain = format!("{gain:+.2}")),
    };
    let key = match (weights.weighed, weights.extra) {
        (true, _) => "check-weighed",
        (false, Some(_)) => "check-reckoned",
        (false, None) => "check-reckoned-without-panes",
    };
    Some(tell!(voice, key, each, metals))
}

/// The gap that is least sure to be enough.
fn gaps(gaps: &[GapLine], voice: Voice) -> Option<String> {
    let least = least(gaps)?;
    let place = least.place.strip_prefix("whole sash, ").unwrap_or(&least.place);
    Some(format!("{} ({}).", voice.say(&least.words), voice.named(place)))
}

fn least(gaps: &[GapLine]) -> Option<&GapLine> {
    gaps.iter().min_by(|a, b| a.chance.total_cmp(&b.chance))
}
