//! Which units fit, ranked, and what would let the next one in.

use crate::finding::{Finding, Verdict, places};
use crate::report::{Candidate, Change, Choice, Next};
use crate::sheets::kit::{Flow, Voice, fixed, tell};
use crate::sheets::lines::Lines;
use crate::sheets::{answer, found};

/// The warmest that fits, the thickest, what stops the next, and what one change would let it in.
pub(super) fn brief(out: &mut Lines, choice: &Choice) {
    let voice = out.voice;
    if let Some(best) = &choice.best {
        out.wrapped("  ", "  ", &tell!(voice, "choice-warmest", best = voice.named(best)));
    }
    out.wrapped("  ", "  ", &thickest(choice, voice));
    if let Some(words) = order_changed(choice, voice) {
        out.wrapped("  ", "  ", &words);
    }
    if let Some(next) = &choice.next {
        out.wrapped("  ", "  ", &lets_in(next, voice));
        for change in &next.changes {
            out.wrapped("    - ", "      ", &one_change(change, voice));
        }
    } else if choice.candidates.iter().any(|candidate| candidate.verdict == Verdict::Stop) {
        out.wrapped("  ", "  ", &voice.word("choice-no-change"));
    }
}

/// The same on a sheet.
pub(super) fn told(flow: &mut Flow, choice: &Choice) {
    let voice = flow.voice();
    flow.paragraph(&thickest(choice, voice));
    if let Some(words) = order_changed(choice, voice) {
        flow.paragraph(&words);
    }
    if let Some(next) = &choice.next {
        let changes: Vec<String> =
            next.changes.iter().map(|change| one_change(change, voice)).collect();
        flow.paragraph(&format!("{} {}.", lets_in(next, voice), changes.join("; ")));
    } else if choice.candidates.iter().any(|one| one.verdict == Verdict::Stop) {
        flow.paragraph(&voice.word("choice-no-change"));
    }
}

/// Differences of U that no two figures show, W/(m²K).
const SAME_U: f64 = 0.01;

/// Two units that fit and stand in another order than by the tables of the trade; none where all stand as there.
pub(super) fn order_changed(choice: &Choice, voice: Voice) -> Option<String> {
    let fits = choice.candidates.iter().filter(|one| one.verdict != Verdict::Stop);
    let known: Vec<(&Candidate, f64, f64)> =
        fits.filter_map(|one| Some((one, one.whole_u?, one.table_u?))).collect();
    let pairs = known.iter().enumerate().flat_map(|(at, one)| {
        let after = known.get(at + 1..).unwrap_or_default();
        after.iter().map(move |other| (one, other))
    });
    let turned = pairs.filter(|((_, own, table), (_, next, other))| {
        next - own >= SAME_U && table - other >= SAME_U
    });
    let ((first, ..), (second, ..)) =
        turned.max_by(|(a, b), (c, d)| (a.2 - b.2).total_cmp(&(c.2 - d.2)))?;
    Some(tell!(
        voice,
        "choice-turned",
        first = first.build_up,
        first_make = voice.named(&first.make),
        second = second.build_up,
        second_make = voice.named(&second.make)
    ))
}

/// Said before the changes that let the next warmer unit in.
pub(super) fn lets_in(next: &Next, voice: Voice) -> String {
    let (unit, make) = (&next.build_up, voice.named(&next.make));
    match next.whole_u {
        None => tell!(voice, "choice-next", unit, make),
        Some(u) => tell!(voice, "choice-next-u", unit, make, u = format!("{u:.2}")),
    }
}

/// One of them.
pub(super) fn one_change(change: &Change, voice: Voice) -> String {
    let what = voice.say(&change.what);
    match change.verdict {
        Verdict::Caution => tell!(voice, "choice-with-care", what),
        _ => what,
    }
}

/// The thickest unit of the list and of any make-up, and what stops a thicker one.
pub(super) fn thickest(choice: &Choice, voice: Voice) -> String {
    let listed = match &choice.thickest_listed {
        None => voice.word("choice-none"),
        Some(found) => tell!(voice, "choice-thickest", found = voice.named(found)),
    };
    let why = choice.stopped_by.as_ref().map(|stop| reason(stop, voice));
    match (choice.thickest.map(|mm| format!("{mm:.1}")), why) {
        (Some(most), Some(why)) => tell!(voice, "choice-and-no-thicker", listed, most, why),
        (Some(most), None) => tell!(voice, "choice-and-even", listed, most),
        (None, Some(why)) => tell!(voice, "choice-and-no-thinner", listed, why),
        (None, None) => format!("{listed}."),
    }
}

/// What stops a unit and where, in a few words.
pub(super) fn reason(stop: &Finding, voice: Voice) -> String {
    let words = found::says(stop, voice).unwrap_or_else(|| {
        let advice = found::advice(stop, voice);
        advice.trim_end_matches('.').to_owned()
    });
    match places(&[&stop.place]) {
        Some(place) => format!("{}: {words}", voice.say(&place)),
        None => words,
    }
}

/// What is not said of a unit in the table.
const PLAIN: &str = "annealed";

/// Every unit tried: those that fit first, the warmest first; one line each, and why not. What all
/// listed units have in common is said once.
pub(super) fn candidates(out: &mut Lines, choice: &Choice) {
    let shared = shared(choice);
    let surveyed = choice.candidates.iter().find(|candidate| candidate.surveyed);
    let alike = surveyed.is_some_and(|one| shared.iter().all(|part| has(&one.make, part)));
    let known = known_cautions(choice);
    let voice = out.voice;
    let inches = |length: Option<f64>, decimals: usize| {
        let words = length.map_or_else(|| "-".into(), |mm| fixed(mm, decimals));
        voice.in_inches(&words)
    };
    let wide = inches(None, 0).is_some();
    out.line(&voice.word(if wide { "choice-head-inches" } else { "choice-head" }));
    for candidate in &choice.candidates {
        let Candidate { build_up, thickness, glass_u, whole_u, make, left, weight, .. } = candidate;
        let mark = if candidate.surveyed { "*" } else { " " };
        let rounded = |value: &Option<f64>, decimals: usize| {
            value.map_or_else(|| "-".into(), |value| fixed(value, decimals))
        };
        let word = voice.word(answer::word(candidate.verdict));
        let make = if candidate.surveyed && !alike { make.clone() } else { own(make, &shared) };
        let make = voice.named(&make);
        let why = why(candidate, &known, voice)
            .map_or_else(|| make.clone(), |why| format!("{make}; {why}"));
        let [thick, under] = [(Some(*thickness), 1), (*left, 0)]
            .map(|(length, decimals)| inches(length, decimals))
            .map(|inches| inches.map_or_else(String::new, |inches| format!(" {inches:>8}")));
        let first = format!(
            "  {mark} {build_up:<12} {thickness:>4.1}{thick} {:>5}{under} {:>5}  {:>5}  {:>4}  {word:<4}  ",
            rounded(left, 0),
            rounded(weight, 1),
            rounded(glass_u, 2),
            rounded(whole_u, 2)
        );
        if wide {
            // There is no room for the words beside the figures.
            out.line(&first);
            out.wrapped("        ", "        ", &why);
        } else {
            out.wrapped(&first, &" ".repeat(54), &why);
        }
    }
    if !shared.is_empty() {
        let key = if alike { "choice-all" } else { "choice-all-others" };
        let make = voice.named(&shared.join(", "));
        out.wrapped("    ", "    ", &tell!(voice, key, make));
    }
    let foot = voice.word("choice-legend");
    out.wrapped("    ", "    ", &foot);
}

/// What the unit in the survey asks care for, which is told elsewhere, by rule.
pub(super) fn known_cautions(choice: &Choice) -> Vec<&'static str> {
    let surveyed = choice.candidates.iter().filter(|candidate| candidate.surveyed);
    surveyed.flat_map(|one| &one.findings).map(|found| found.rule).collect()
}

/// What stops it, or what asks for care on top of the rules `known`.
pub(super) fn why(candidate: &Candidate, known: &[&str], voice: Voice) -> Option<String> {
    let first = candidate.findings.first();
    let stop = first.filter(|first| first.verdict == Verdict::Stop).map(|stop| reason(stop, voice));
    let more = || candidate.findings.iter().find(|found| !known.contains(&found.rule));
    stop.or_else(|| more().map(|more| found::matter(more, voice)))
}

/// What of a make is not said of all.
pub(super) fn own(make: &str, shared: &[&str]) -> String {
    let own = |part: &&str| !(shared.contains(part) || *part == PLAIN);
    make.split(", ").filter(own).collect::<Vec<_>>().join(", ")
}

/// Whether a make has that part.
pub(super) fn has(make: &str, part: &str) -> bool {
    make.split(", ").any(|own| own == part)
}

/// Parts of the make that every listed unit has.
pub(super) fn shared(choice: &Choice) -> Vec<&str> {
    let mut listed = choice.candidates.iter().filter(|candidate| !candidate.surveyed);
    let Some(first) = listed.next() else { return Vec::new() };
    let others: Vec<&str> = listed.map(|candidate| candidate.make.as_str()).collect();
    let in_all = |part: &&str| others.iter().all(|make| has(make, part));
    first.make.split(", ").filter(in_all).filter(|part| *part != PLAIN).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn candidate(build_up: &str, [whole, table]: [f64; 2], verdict: Verdict) -> Candidate {
        Candidate {
            build_up: build_up.into(),
            make: "argon 90 %".into(),
            surveyed: false,
            thickness: 14.0,
            rebate_depth: 27.0,
            glass_u: None,
            whole_u: Some(whole),
            table_u: Some(table),
            saved: None,
            edge_dry_down_to: None,
            verdict,
            left: None,
            weight: None,
            findings: Vec::new(),
        }
    }

    fn choice(candidates: Vec<Candidate>) -> Choice {
        Choice {
            candidates,
            best: None,
            next: None,
            thickest_listed: None,
            thickest: None,
            stopped_by: None,
        }
    }

    fn told(candidates: Vec<Candidate>) -> Option<String> {
        order_changed(&choice(candidates), Voice::plain())
    }

    // A coat of 0.037 is not one of 0.03, though its words begin with the same letters.
    #[test]
    fn what_all_listed_units_have_is_not_said_of_another_in_the_survey() {
        let unit = |make: &str, surveyed| Candidate {
            make: make.into(),
            surveyed,
            ..candidate("4-6-4", [1.7, 1.6], Verdict::Clear)
        };
        for (own, said) in [("0.03", "All: "), ("0.037", "All but *: ")] {
            let own = unit(&format!("argon 90 %, emissivity {own}"), true);
            let all = choice(vec![own, unit("argon 90 %, emissivity 0.03", false)]);
            let mut out = Lines::new(80, Voice::plain());
            candidates(&mut out, &all);
            assert!(out.text.contains(said), "{}", out.text);
        }
    }

    #[test]
    fn another_order_than_that_of_the_tables_is_told_once() {
        let [yes, no] = [Verdict::Clear, Verdict::Stop];
        let like = [candidate("4-8-4", [1.7, 1.6], yes), candidate("4-6-4", [1.9, 1.8], yes)];
        assert_eq!(told(like.to_vec()), None);
        // The widest turn of several; what does not fit has no rank.
        let turned = vec![
            candidate("4-16-4", [1.57, 1.60], yes),
            candidate("4-10-4", [1.60, 1.54], yes),
            candidate("4-12-4", [1.71, 1.74], yes),
            candidate("4-8-4", [1.75, 1.64], yes),
            candidate("4-20-4", [1.80, 1.20], no),
        ];
        assert_eq!(
            told(turned).as_deref(),
            Some(
                "By the sections of this sash 4-12-4 (argon 90 %) is warmer than 4-8-4 (argon 90 %); by the tables of \
                 the trade it would be the other way round."
            )
        );
        // So little that no figure shows it.
        let same =
            [candidate("4-16-4", [1.570, 1.60], yes), candidate("4-10-4", [1.575, 1.54], yes)];
        assert_eq!(told(same.to_vec()), None);
    }
}
