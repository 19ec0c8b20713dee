//! The sections of a sash: each stile, rail and bar with the unit that comes to sit in it.

mod alike;
mod notes;

pub use alike::{drawn, sections};

use super::Section;
use crate::fit::Fit;
use crate::number::NotFinite;
use crate::sash::{Part, Sash};
use crate::section::Cross;
use crate::sheets::kit::{Voice, tell};
use crate::timber::{Least, Timber};
use kurbo::{BezPath, Rect};

/// The section of every stile, rail and bar, in the order of the survey. `timber` is what `fit`
/// leaves of `sash`, and `voice` says what stands at it.
///
/// # Errors
/// Where a radius is not finite.
pub fn of_parts<'a>(
    sash: &'a Sash,
    fit: &Fit,
    timber: &Timber,
    voice: Voice,
) -> Result<Vec<(Part<'a>, Section)>, NotFinite> {
    let members = timber.members.iter();
    let members = members.map(|(side, left)| (Part::Member(side), left.under_platform));
    let bars = sash.bars.iter().zip(&timber.bars);
    let bars = bars.map(|(bar, left)| (Part::Bar(bar), left.under_platform));
    let parts = members.chain(bars);
    parts
        .map(|(part, least)| Ok((part, section(&Cross::new(sash, fit, part), least, voice)?)))
        .collect()
}

/// How much glass is shown beyond the sight edge, mm.
const DAYLIGHT: f64 = 14.0;

/// Its wood before and after.
pub(super) fn wood_of(cross: &Cross<'_>) -> (Vec<BezPath>, Vec<BezPath>) {
    let (blank, old) = (cross.blank(), cross.old_cuts());
    let all: Vec<Rect> = old.iter().chain(&cross.new_cuts()).copied().collect();
    (blank.difference(&old), blank.difference(&all))
}

fn section(cross: &Cross<'_>, least: Option<Least>, voice: Voice) -> Result<Section, NotFinite> {
    let (old, (before, after)) = (cross.old_cuts(), wood_of(cross));
    let removed = cross.blank().taken(&old, &cross.new_cuts());
    let glazing = cross.glazing(DAYLIGHT);
    Ok(Section {
        title: format!(
            "{}, {}",
            cross.sash.measured.id,
            voice.named(&cross.sash.part_name(cross.part))
        ),
        caption: match cross.place() {
            None => voice.word("section-caption"),
            Some(place) => tell!(voice, "section-caption-at", place = voice.named(&place)),
        },
        before,
        after,
        sight: cross.sight(),
        notes_before: cross.notes_before(&old, &removed, voice),
        notes_after: cross.notes_after(&glazing, least, voice)?,
        removed,
        glazing,
    })
}
