//! One sash in at most twenty lines: the answer, what to order, to cut and to mind, how warm, how heavy.

use super::Detail;
use crate::finding::{Finding, Question, Verdict, places};
use crate::language::capital;
use crate::report::{Candidate, Choice, SashReport};
use crate::sheets::answer::{answer, frees, keys, stop_on};
use crate::sheets::building_checks::{self, Of};
use crate::sheets::found::told;
use crate::sheets::kit::{Voice, figure, grouped, in_a_row, tell};
use crate::sheets::lines::Lines;
use crate::sheets::{choice, margins};

/// Most lines that a sash takes.
const MOST_LINES: usize = 20;

/// Most lines at the window.
const MOST_ON_SITE: usize = 15;

/// Most points to mind in a short answer.
const MOST_MINDS: usize = 5;

/// Points to mind that have room before what matters less.
const FIRST_MINDS: usize = 2;

/// Most sizes of units in a short answer.
const MOST_SIZES: usize = 2;

/// Most units told at the window.
const MOST_OPTIONS: usize = 3;

/// Most changes told that let the next unit in.
const MOST_CHANGES: usize = 2;

/// Columns of the words at the left.
const LABEL: usize = 10;

const INDENT: &str = "          ";

fn entry(out: &mut Lines, label: &str, text: &str) {
    out.wrapped(&format!("  {label:<width$}", width = LABEL - 2), INDENT, text);
}

/// The answer for one sash. Where a short answer has no room, what matters least is left out, and points to mind are
/// counted.
pub(super) fn block(out: &mut Lines, sash: &SashReport, detail: Detail) {
    let mut top = Lines::new(out.width, out.voice);
    let voice = out.voice;
    let kind = voice.named(sash.kind);
    top.wrapped("", "  ", &format!("{} ({kind}): {}", sash.id, headline(sash, voice)));
    if let Some(words) = frees(sash, voice) {
        top.wrapped("  ", "  ", &words);
    }
    let most = if detail == Detail::Full { usize::MAX } else { MOST_SIZES };
    // Four measures are not enough to order by.
    let ordered = if detail == Detail::OnSite { 0 } else { most };
    for (label, words) in keys(sash, ordered, voice) {
        if label.chars().count() > LABEL - 3 {
            top.wrapped(&format!("  {label}: "), INDENT, &words);
        } else {
            entry(&mut top, &label, &words);
        }
    }
    let minds: Vec<Lines> = minds(&sash.findings, voice)
        .iter()
        .enumerate()
        .map(|(number, (_, mind))| {
            let mut lines = Lines::new(out.width, out.voice);
            let label = if number == 0 { voice.word("compare-mind") } else { String::new() };
            lines.wrapped(&format!("  {label:<8}{} ", number + 1), &format!("{INDENT}  "), mind);
            lines
        })
        .collect();
    let mut more = aside(sash, detail, (out.width, out.voice));
    let room = |shown: usize, more: &[(usize, Lines)]| {
        let minds = minds.iter().take(shown).map(Lines::count).sum::<usize>();
        let more = more.iter().map(|(_, lines)| lines.count()).sum::<usize>();
        let most = if detail == Detail::OnSite { MOST_ON_SITE } else { MOST_LINES };
        detail == Detail::Full || top.count() + minds + more < most
    };
    while !room(FIRST_MINDS, &more) && more.iter().any(|(rank, _)| *rank > 0) {
        let last = more.iter().map(|(rank, _)| *rank).max().unwrap_or(0);
        more.retain(|(rank, _)| *rank < last);
    }
    let most = if detail == Detail::Full { minds.len() } else { MOST_MINDS.min(minds.len()) };
    let shown = (1..=most).rev().find(|shown| room(*shown, &more)).unwrap_or(most.min(1));
    let all = [&top]
        .into_iter()
        .chain(minds.iter().take(shown))
        .chain(more.iter().map(|(_, lines)| lines));
    all.for_each(|lines| out.text += &lines.text);
    let rest = match minds.len() - shown {
        0 => String::new(),
        rest if detail == Detail::OnSite => tell!(voice, "sash-more-on-site", rest),
        rest => tell!(voice, "sash-more", rest, sash = sash.id),
    };
    let clear = sash.findings.iter().filter(|finding| finding.verdict == Verdict::Clear).count();
    let key = if minds.is_empty() { "sash-fine" } else { "sash-others-fine" };
    out.wrapped("  ", "  ", &in_a_row([rest, tell!(voice, key, clear)]));
}

/// What stands below the points to mind, each with how soon it is left out; 0 never.
fn aside(sash: &SashReport, detail: Detail, (width, voice): (usize, Voice)) -> Vec<(usize, Lines)> {
    let proof = sash.proof.as_ref().filter(|proof| proof.proven);
    let zero = proof.and_then(|proof| margins::zero_brief(&proof.margins, voice));
    let [fits, next] = match detail {
        Detail::OnSite => options(&sash.choice, voice),
        _ => fits(&sash.choice, voice),
    };
    let checks = building_checks::all(sash, voice).into_iter().map(|check| {
        let rank = match check.of {
            Of::Weight => 4,
            Of::Gaps => 2,
            _ => 0,
        };
        let text = match detail {
            Detail::Full => Some(check.text),
            Detail::Short => check.brief,
            Detail::OnSite => check.brief.filter(|_| check.of == Of::Warmth),
        };
        (rank, check.of.key(), text)
    });
    let on_site = detail == Detail::OnSite;
    let own = [
        (3, "sash-zero", zero),
        (usize::from(!on_site), "sash-fits", fits),
        (if on_site { 0 } else { 5 }, "", next),
    ];
    let made = checks.chain(own).filter_map(|(rank, key, text)| {
        let mut lines = Lines::new(width, voice);
        let label = voice.word(key);
        entry(&mut lines, label.split_whitespace().next().unwrap_or_default(), &text?);
        Some((rank, lines))
    });
    made.collect()
}

/// `YES, WITH CARE: the wood can take 4-6-4 (14 mm)`, or what stops it.
pub(in crate::sheets) fn headline(sash: &SashReport, voice: Voice) -> String {
    let unit = sash.units.first().map(|unit| (&unit.build_up, figure(unit.thickness)));
    let first = |question: Question| {
        let stop = stop_on(sash, question);
        stop.map_or_else(|| answer(sash.answers, voice), |stop| choice::reason(stop, voice))
    };
    match (sash.verdict, unit) {
        (Verdict::Clear, None) => voice.word("sash-yes"),
        (Verdict::Clear, Some((unit, thick))) => tell!(voice, "sash-yes-unit", unit, thick),
        (Verdict::Caution, None) => voice.word("sash-care"),
        (Verdict::Caution, Some((unit, thick))) => tell!(voice, "sash-care-unit", unit, thick),
        (Verdict::Stop, _) if sash.answers.wood == Verdict::Stop => {
            tell!(voice, "sash-no", why = first(Question::Wood))
        }
        (Verdict::Stop, _) if sash.answers.order == Verdict::Stop => {
            tell!(voice, "sash-no-unit", why = first(Question::Order))
        }
        (Verdict::Stop, _) => tell!(voice, "sash-not-yet", why = answer(sash.answers, voice)),
    }
}

/// The warmest units that fit, and the first that does not with what stops it.
fn options(choice: &Choice, voice: Voice) -> [Option<String>; 2] {
    let gas = |one: &Candidate| one.make.split(", ").next().unwrap_or_default().to_owned();
    let unit = |one: &Candidate| {
        let (unit, gas, thick) = (&one.build_up, voice.named(&gas(one)), figure(one.thickness));
        match one.whole_u {
            None => tell!(voice, "sash-option", unit, gas, thick),
            Some(u) => tell!(voice, "sash-option-u", unit, gas, thick, u = format!("{u:.2}")),
        }
    };
    let fit = choice.candidates.iter().filter(|one| one.verdict != Verdict::Stop);
    // Whether panes are toughened is no question at the window.
    let fit = fit.collect::<Vec<_>>();
    let fit = grouped(&fit, |a, b| a.build_up == b.build_up && gas(a) == gas(b), |one| &one.make);
    let best = fit.first().and_then(|(one, _)| one.whole_u);
    let told: Vec<String> = fit.iter().take(MOST_OPTIONS).map(|(one, _)| unit(one)).collect();
    let fits = if told.is_empty() {
        voice.word("sash-none-fits")
    } else {
        format!("{}.", told.join("; "))
    };
    let stopped = choice.candidates.iter().filter(|one| one.verdict == Verdict::Stop);
    let warmer =
        stopped.filter(|one| best.is_none_or(|best| one.whole_u.is_some_and(|u| u < best)));
    let nearest =
        warmer.max_by(|a, b| a.whole_u.unwrap_or(0.0).total_cmp(&b.whole_u.unwrap_or(0.0)));
    let next = nearest.and_then(|one| {
        let stop = choice::reason(one.findings.first()?, voice);
        Some(tell!(voice, "sash-does-not", unit = unit(one), stop))
    });
    [Some(fits), next]
}

/// The warmest unit that the sash can take, and what would let the next one in.
fn fits(choice: &Choice, voice: Voice) -> [Option<String>; 2] {
    let surveyed = choice.candidates.iter().find(|candidate| candidate.surveyed);
    let warmest = choice.candidates.iter().find(|candidate| candidate.verdict != Verdict::Stop);
    let most = choice
        .thickest
        .map_or_else(String::new, |mm| tell!(voice, "sash-nothing-over", thickness = figure(mm)));
    let words = match warmest {
        None => voice.word("sash-none-fits"),
        Some(warmest) if surveyed.is_some_and(|own| own == warmest) => {
            in_a_row([voice.word("sash-nothing-warmer"), most])
        }
        Some(warmest) => {
            let unit = differs((&warmest.build_up, &warmest.make), surveyed, voice);
            let told = match warmest.whole_u {
                None => tell!(voice, "sash-warmest", unit),
                Some(u) => tell!(voice, "sash-warmest-u", unit, u = format!("{u:.2}")),
            };
            in_a_row([told, most])
        }
    };
    let next = choice.next.as_ref().map(|next| {
        let changes = next.changes.iter().take(MOST_CHANGES);
        let mut changes = changes.map(|change| choice::one_change(change, voice));
        let first = changes.next().unwrap_or_default();
        let changes = changes.fold(first, |one, other| tell!(voice, "sash-or", one, other));
        let unit = differs((&next.build_up, &next.make), surveyed, voice);
        tell!(voice, "sash-would-fit", unit, changes)
    });
    [Some(words), next]
}

/// A unit, and of its make what is not that of the one in the survey: `4-8-4 krypton 90 %`.
fn differs((build_up, make): (&str, &str), surveyed: Option<&Candidate>, voice: Voice) -> String {
    let known = |part: &&str| surveyed.is_some_and(|own| choice::has(&own.make, part));
    let parts = make.split(", ").filter(|part| !known(part)).collect::<Vec<_>>().join(", ");
    if parts.is_empty() {
        build_up.to_owned()
    } else {
        format!("{build_up} ({})", voice.named(&parts))
    }
}

/// What is to be minded, most dangerous first: each sentence once, with all its places.
pub(in crate::sheets) fn minds(findings: &[Finding], voice: Voice) -> Vec<(&Finding, String)> {
    let mut open: Vec<&Finding> =
        findings.iter().filter(|finding| finding.verdict != Verdict::Clear).collect();
    open.sort_by_key(|finding| (std::cmp::Reverse(finding.verdict), danger(finding)));
    let like = |a: &&Finding, b: &&Finding| {
        a.rule == b.rule && a.verdict == b.verdict && told(a, voice) == told(b, voice)
    };
    let groups = grouped(&open, like, |finding| &finding.place);
    let told = groups.into_iter().map(|(finding, names)| {
        let told = told(finding, voice);
        let text = match places(&names) {
            Some(place) => format!("{}: {}", voice.say(&place), voice.after_colon(&told)),
            None => told,
        };
        (*finding, capital(&text))
    });
    told.collect()
}

/// Which of two points of one verdict is told first: people, then the wood, then the glass, then the work.
fn danger(finding: &Finding) -> usize {
    let rooms =
        ["safety", "timber", "metal", "hanging", "glass", "sash", "fit", "movement", "passes"];
    rooms.iter().position(|known| *known == finding.room()).unwrap_or(rooms.len())
}
