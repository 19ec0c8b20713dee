//! Which one change would let the next warmer unit in: each is tried by judging the whole sash anew.

use super::trial::{Trial, Views};
use crate::finding::Verdict;
use crate::fit;
use crate::geometry::{COINCIDENT, ROUNDING};
use crate::language::{Text, text};
use crate::report::{Candidate, Change, Next};
use crate::survey::{self, BarsAs, Workshop};
use crate::warmth::Losses;
use rayon::prelude::*;
use std::borrow::Cow;

/// Thinnest bed worth having, and by how much it is tried thinner, mm. Common practice, no source.
const THINNEST_BED: f64 = 1.0;
const BED_STEP: f64 = 0.5;

/// By how much a bead is tried prouder and a cover narrower, mm.
const STEP: f64 = 1.0;

/// Narrowest cover tried, mm. Common practice, no source: no seal is lower.
const NARROWEST: f64 = 5.0;

/// Cutters tried, by diameter, mm. Common practice, no source.
const CUTTERS: [f64; 4] = [10.0, 8.0, 6.0, 16.0];

/// Lengths of cutting edges are tried in steps of this, mm.
const LENGTH_STEP: f64 = 5.0;

/// A change in words, and the sash and workshop with it.
struct Tried<'a> {
    what: Text,
    sash: survey::Sash,
    workshop: Cow<'a, Workshop>,
}

/// The nearest stopped unit that is warmer than the best that fits and that one change lets in, with
/// every such change at its smallest; `None` where there is none.
pub(super) fn next(
    views: &Views,
    ranked: &[(survey::Sash, Candidate)],
    workshop: &Workshop,
) -> Option<Next> {
    let best = ranked.iter().find(|(_, one)| one.verdict != Verdict::Stop);
    let best = best.and_then(|(_, one)| one.whole_u).unwrap_or(f64::INFINITY);
    let warmer = |one: &Candidate| one.whole_u.is_some_and(|u| u < best);
    let stopped = ranked.iter().filter(|(_, one)| one.verdict == Verdict::Stop && warmer(one));
    // The warmest stands first in the rank, so the nearest last.
    for (sash, candidate) in stopped.rev() {
        let ways = ways(sash, workshop);
        let fixes = ways.into_par_iter().map(|way| smallest_fix(views, way));
        let changes: Vec<Change> = fixes.collect::<Vec<_>>().into_iter().flatten().collect();
        if !changes.is_empty() {
            return Some(Next {
                build_up: candidate.build_up.clone(),
                make: candidate.make.clone(),
                whole_u: candidate.whole_u,
                changes,
            });
        }
    }
    None
}

/// The first of a way's steps that nothing stops. A step that cannot be worked out, as a rebate that does not go
/// round with it, frees nothing.
fn smallest_fix(views: &Views, way: Vec<Tried>) -> Option<Change> {
    let free = |sash: &survey::Sash, workshop: &Workshop| {
        let trial = Trial::new(views, sash, workshop).ok()?;
        let verdict = if trial.is_stopped() {
            None
        } else {
            Some(trial.candidate(&Losses::Tables).ok()?.verdict)
        };
        verdict.filter(|verdict| *verdict != Verdict::Stop)
    };
    // What the last and largest step does not free, none before it does.
    let last = way.last()?;
    if Trial::new(views, &last.sash, &last.workshop).ok()?.is_stopped() {
        return None;
    }
    way.into_iter().find_map(|Tried { what, sash, workshop }| {
        free(&sash, &workshop).map(|verdict| Change { what, verdict })
    })
}

/// Every way, each as steps that go further and further.
fn ways<'a>(sash: &survey::Sash, workshop: &'a Workshop) -> Vec<Vec<Tried<'a>>> {
    let mut ways = vec![bed(sash, workshop), proud(sash, workshop), cover(sash, workshop)];
    ways.push(bars(sash, workshop));
    ways.extend(cutters(sash, workshop).into_iter().map(|tried| vec![tried]));
    ways
}

fn tried<'a>(
    what: Text,
    sash: &survey::Sash,
    workshop: &'a Workshop,
    change: impl FnOnce(&mut survey::Sash),
) -> Tried<'a> {
    let mut sash = sash.clone();
    change(&mut sash);
    Tried { what, sash, workshop: Cow::Borrowed(workshop) }
}

/// `step`, twice `step`, … up to `most`.
fn steps(step: f64, most: f64) -> impl Iterator<Item = f64> {
    let count = (1..=100_u32).map(move |count| f64::from(count) * step);
    count.take_while(move |&by| by <= most + ROUNDING)
}

fn bed<'a>(sash: &survey::Sash, workshop: &'a Workshop) -> Vec<Tried<'a>> {
    let now = sash.finish.bed;
    let thinner = steps(BED_STEP, now - THINNEST_BED).map(|by| now - by);
    let words =
        |bed: f64| text!("change-bed", bed = format!("{bed:.1}"), now = format!("{now:.1}"));
    thinner.map(|bed| tried(words(bed), sash, workshop, |sash| sash.finish.bed = bed)).collect()
}

fn proud<'a>(sash: &survey::Sash, workshop: &'a Workshop) -> Vec<Tried<'a>> {
    let now = sash.finish.proud;
    let words = |proud: f64| text!("change-proud", proud = format!("{proud:.1}"));
    let most = if sash.finish.is_puttied() { 0.0 } else { sash.finish.bead - now };
    steps(STEP, most)
        .map(|by| tried(words(now + by), sash, workshop, |sash| sash.finish.proud = now + by))
        .collect()
}

/// Cover and seal go together: a narrow cover with a high seal shows it.
fn cover<'a>(sash: &survey::Sash, workshop: &'a Workshop) -> Vec<Tried<'a>> {
    let now = sash.unit.cover;
    let words = |cover: f64| {
        text!("change-cover", cover = format!("{cover:.1}"), now = format!("{now:.1}"))
    };
    steps(STEP, now - NARROWEST)
        .map(|by| {
            let cover = now - by;
            tried(words(cover), sash, workshop, |sash| {
                sash.unit.cover = cover;
                sash.unit.spacer_height = sash.unit.spacer_height.min(cover);
                sash.unit.internal_bar = sash.unit.internal_bar.min(cover);
            })
        })
        .collect()
}

fn bars<'a>(sash: &survey::Sash, workshop: &'a Workshop) -> Vec<Tried<'a>> {
    if sash.bars.is_empty() {
        return Vec::new();
    }
    let (words, other) = match sash.bars_as {
        BarsAs::OneUnit => (text!("change-lights"), BarsAs::UnitPerLight),
        BarsAs::UnitPerLight => (text!("change-one-unit"), BarsAs::OneUnit),
    };
    vec![tried(words, sash, workshop, |sash| sash.bars_as = other)]
}

fn cutters<'a>(sash: &survey::Sash, workshop: &'a Workshop) -> Vec<Tried<'a>> {
    let long = ((fit::rebate_depth(sash) - COINCIDENT) / LENGTH_STEP).ceil() * LENGTH_STEP;
    let longer = (workshop.cutter.cutting_length < long).then(|| {
        let mut workshop = workshop.clone();
        workshop.cutter.cutting_length = long;
        if let Some(holder) = &mut workshop.cutter.holder {
            holder.stick_out = holder.stick_out.max(long);
        }
        let what = text!("change-edges", long = format!("{long:.0}"));
        Tried { what, sash: sash.clone(), workshop: Cow::Owned(workshop) }
    });
    let other =
        CUTTERS.into_iter().filter(|wide| (wide - workshop.cutter.diameter).abs() > ROUNDING);
    other
        .map(|diameter| {
            let mut workshop = workshop.clone();
            workshop.cutter.diameter = diameter;
            workshop.cutter.shank_diameter = workshop.cutter.shank_diameter.min(diameter);
            let shank = workshop.cutter.shank_diameter;
            let what = text!(
                "change-cutter",
                diameter = format!("{diameter:.0}"),
                shank = format!("{shank:.0}")
            );
            Tried { what, sash: sash.clone(), workshop: Cow::Owned(workshop) }
        })
        .chain(longer)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    // By hand: a bed of 2 mm, a unit of 14 that may come 1 mm over and a bead of 10 that stands 6 proud want
    // 21 mm of edge, so that 25 mm are enough.
    #[test]
    fn a_proud_bead_asks_for_a_shorter_cutter() {
        let mut sash = crate::sash::tests::casement();
        let mut workshop = Workshop::default();
        workshop.cutter.cutting_length = 20.0;
        let longer = |sash: &survey::Sash| {
            let tried = cutters(sash, &workshop).into_iter();
            tried.map(|tried| tried.workshop.cutter.cutting_length).fold(0.0, f64::max)
        };
        assert_eq!(longer(&sash), 30.0);
        sash.finish.proud = 6.0;
        assert_eq!(longer(&sash), 25.0);
    }
}
