//! What a person reads: short, the answer first, and none of the words that are meant for programs.

use crate::paper;
use crate::support::runs::for_all;
use crate::support::{houses, machinable};
use fillister::finding::{Finding, Verdict};
use fillister::job::{self, Made};
use fillister::sheets::found;
use fillister::sheets::kit::Voice;
use fillister::sheets::summary::{Detail, answer};
use proptest::prelude::*;
use std::cell::Cell;

/// Rooms whose names begin a rule.
const ROOMS: [&str; 14] = [
    "timber", "metal", "fit", "sash", "rebate", "passes", "hand", "machine", "hanging", "glass",
    "movement", "safety", "job", "prove",
];

/// Endings of file names, which rules do not have.
const FILES: [&str; 6] = ["pdf", "dxf", "svg", "json", "txt", "toml"];

/// Ids of rules in a text: `timber.front`.
fn rules(text: &str) -> Vec<&str> {
    let words = text.split(|c: char| !c.is_ascii_alphanumeric() && c != '.' && c != '-');
    let rule = |word: &&str| {
        word.trim_matches('.').split_once('.').is_some_and(|(room, matter)| {
            ROOMS.contains(&room) && !matter.is_empty() && !FILES.contains(&matter)
        })
    };
    words.filter(rule).collect()
}

/// Figures in a text that are nought and yet below it, `-0.0`, each with what follows; not in the head of a program, where
/// both ends of a span have their sign: `-0.0 +0.0`.
fn below_nought(text: &str) -> Vec<&str> {
    let below = |(at, _): (usize, &str)| {
        let (before, after) = (&text[..at], &text[at + 1..]);
        let end = after.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(after.len());
        let (figure, rest) = after.split_at(end);
        let found = !before.ends_with(|c: char| c.is_alphanumeric())
            && figure.starts_with('0')
            && figure.chars().all(|c| c == '0' || c == '.')
            && !rest.trim_start().starts_with('+');
        found.then(|| text[at..].lines().next().unwrap_or_default())
    };
    text.match_indices('-').filter_map(below).collect()
}

/// Every text of a house that is for a person, with its name.
fn texts(made: &Made) -> Vec<(String, String)> {
    let mut all = vec![("in full".to_owned(), answer(&made.report, Detail::Full))];
    for (name, content) in &made.files {
        let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
        let text = if ending == "pdf" {
            let pages = paper::pages(content);
            let words = pages.iter().flat_map(|page| &page.words);
            words.map(|word| word.text.as_str()).collect::<Vec<_>>().join("\n")
        } else if ["txt", "csv", "svg", "html", "ngc"].contains(&ending) {
            String::from_utf8(content.clone()).unwrap()
        } else {
            continue;
        };
        all.push((name.clone(), text));
    }
    all
}

#[test]
fn rules_and_figures_below_nought_are_found_in_a_text() {
    assert_eq!(
        rules("stopped by timber.front, see machine.pdf. fit.bar-shows"),
        ["timber.front", "fit.bar-shows"]
    );
    assert_eq!(below_nought("at least -0.0 mm\nX 0\nX -0"), ["-0.0 mm", "-0"]);
    assert!(below_nought("at least -0.05 mm, s-0, 4-0-4, -10, X -0.0 +0.0").is_empty());
}

#[test]
fn people_read_no_id_of_a_rule_and_no_nought_below_nought() {
    let seen = Cell::new(0);
    let any = prop_oneof![2 => machinable::house(), 1 => houses::house()];
    for_all(12, &any, |house| {
        let made = job::make(&house).unwrap();
        for (name, text) in texts(&made) {
            prop_assert!(rules(&text).is_empty(), "{}: {:?}", name, rules(&text));
            prop_assert_eq!(below_nought(&text), [""; 0], "{}", name);
            seen.set(seen.get() + 1);
        }
        Ok(())
    });
    assert!(seen.get() > 100, "{}", seen.get());
}

/// All findings of a house, of units that were tried as well.
fn findings(made: &Made) -> Vec<&Finding> {
    let sashes = &made.report.sashes;
    let own = sashes.iter().flat_map(|sash| &sash.findings);
    let tried = sashes.iter().flat_map(|sash| &sash.choice.candidates);
    own.chain(tried.flat_map(|candidate| &candidate.findings)).collect()
}

#[test]
fn a_sash_takes_twenty_lines_at_most_and_every_point_is_shown_or_counted() {
    let (seen, cut) = (Cell::new(0), Cell::new(0));
    let any = prop_oneof![2 => machinable::house(), 1 => houses::house()];
    for_all(16, &any, |house| {
        let made = job::make(&house).unwrap();
        let words = answer(&made.report, Detail::Short);
        prop_assert!(words.lines().all(|line| line.chars().count() <= 80), "{}", words);
        for finding in findings(&made) {
            let matter = found::matter(finding, Voice::plain());
            prop_assert!(matter.len() <= 18, "{}", matter);
            prop_assert!(matter != "report.json", "{}", finding.rule);
        }
        for sash in &made.report.sashes {
            let block =
                words.split("\n\n").find(|block| block.starts_with(&format!("{} (", sash.id)));
            let block = block.unwrap();
            // The first point is told whole, however long it is.
            let one = !block
                .lines()
                .any(|line| line.starts_with("          2 ") && !line.contains(" of "));
            let lines = block.lines().count();
            prop_assert!(lines <= if one { 24 } else { 20 }, "{}", block);
            let open = sash.findings.iter().any(|finding| finding.verdict != Verdict::Clear);
            prop_assert_eq!(open, block.contains("  Mind    1 "), "{}", block);
            seen.set(seen.get() + 1);
            cut.set(cut.get() + u32::from(block.contains("more to mind")));
        }
        Ok(())
    });
    assert!(seen.get() > 12 && cut.get() > 2, "{} {}", seen.get(), cut.get());
}

#[test]
fn a_house_opens_with_its_answer_and_a_line_a_sash() {
    let text = include_str!("../examples/samphire-cottage.toml");
    let house = fillister::survey::read(text, "samphire-cottage.toml").unwrap();
    let report = job::check(&house);
    let words = answer(&report, Detail::Short);
    assert!(
        words.starts_with("Samphire Cottage: 10 sashes. 9 can take their unit, 1 cannot.\n"),
        "{words}"
    );
    for sash in &report.sashes {
        assert!(words.contains(&format!("\n{} ", sash.id)), "{}", sash.id);
    }
    assert!(
        words.contains(
            "scullery-1 (top-hung): NO: left stile: 4 mm of wood would be left under the"
        ),
        "{words}"
    );
    // No machine was asked.
    assert!(!words.contains("router"), "{words}");
}
