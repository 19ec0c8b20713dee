//! Two surveys side by side: what differs, then what is answered to each question in the one and in the other.
//!
//! Promised: a sash of which nothing that is told differs is counted, not told. Not promised: every figure; the
//! reports have them.

use super::kit::{Voice, tell};
use super::lines::{Lines, WIDTH};
use super::told::Told;
use crate::language::Text;
use crate::report::SashReport;
use maud::{DOCTYPE, PreEscaped, html};

/// Two houses, sash by sash.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// Names of the houses.
    pub names: [String; 2],
    /// Sashes that could be worked out in either.
    pub pairs: Vec<Pair>,
    /// Ids for which no cut could be worked out, in each.
    pub not_worked: [Vec<String>; 2],
}

/// A sash in both.
#[derive(Debug, Clone, PartialEq)]
pub struct Pair {
    /// Its id.
    pub id: String,
    /// In the one and in the other.
    pub both: [Option<SashReport>; 2],
    /// What differs in the survey and in what is ordered and cut.
    pub differs: Vec<Text>,
}

/// A row: the question, and the answer in each.
type Row = (String, [String; 2]);

impl Pair {
    /// Questions that are answered otherwise in the one than in the other.
    fn rows(&self, voice: Voice) -> Vec<Row> {
        let [Some(one), Some(other)] = &self.both else { return Vec::new() };
        let [first, second] = [one, other].map(|sash| Told::of(sash, voice));
        let minds = (voice.word("compare-mind"), apart(&first.minds, &second.minds, voice));
        let both = [answers(first, voice), answers(second, voice)];
        let [one, other] = &both;
        let mut labels: Vec<&String> = one.iter().map(|(label, _)| label).collect();
        labels.extend(other.iter().map(|(label, _)| label));
        let mut seen = Vec::new();
        labels.retain(|label| {
            let fresh = !seen.contains(label);
            seen.push(label);
            fresh
        });
        let of = |answers: &[(String, String)], wanted: &String| {
            let found = answers.iter().find(|(label, _)| label == wanted);
            found.map_or_else(|| "-".to_owned(), |(_, words)| words.clone())
        };
        let rows =
            labels.into_iter().map(|label| (label.clone(), [of(one, label), of(other, label)]));
        rows.chain([minds]).filter(|(_, [one, other])| one != other).collect()
    }
}

/// What is to be minded in the one and not in the other, and the other way round.
fn apart(one: &[String], other: &[String], voice: Voice) -> [String; 2] {
    let only = |own: &[String], others: &[String]| {
        let own = own.iter().filter(|mind| !others.contains(mind)).map(String::as_str);
        let own = own.collect::<Vec<_>>().join(" ");
        if own.is_empty() { voice.word("compare-nothing-more") } else { own }
    };
    [only(one, other), only(other, one)]
}

/// What is answered of a sash, each after the word for it.
fn answers(told: Told, voice: Voice) -> Vec<(String, String)> {
    let mut answers = vec![(voice.word("compare-answer"), told.headline)];
    answers.extend(told.frees.map(|words| (voice.word("compare-frees"), words)));
    let mut last = String::new();
    for (label, words) in told.keys {
        if !label.is_empty() {
            last = label;
        }
        match answers.iter_mut().find(|(known, _)| *known == last) {
            Some((_, before)) => *before = format!("{before} {words}"),
            None => answers.push((last.clone(), words)),
        }
    }
    answers.extend(told.checks);
    answers
}

/// How the two are called.
fn heading(names: &[String; 2], files: &[&str; 2], voice: Voice) -> String {
    let [one, other] = files;
    if names[0] == names[1] {
        tell!(voice, "compare-same-house", house = names[0], one, other)
    } else {
        tell!(voice, "compare-houses", first = names[0], one, second = names[1], other)
    }
}

/// What is said of both at the head.
fn title(comparison: &Comparison, voice: Voice) -> String {
    tell!(voice, "compare-sentence", told = sentence(comparison, voice))
}

/// A sentence on the house.
fn sentence(comparison: &Comparison, voice: Voice) -> String {
    let all = comparison.pairs.len();
    let alike = comparison.pairs.iter().filter(|pair| is_alike(pair, voice)).count();
    match (all, alike) {
        (all, alike) if all == alike => voice.word("compare-alike"),
        (1, _) => voice.word("compare-one"),
        (all, 0) => tell!(voice, "compare-all", all),
        (all, alike) => tell!(voice, "compare-some", count = all - alike, all),
    }
}

fn is_alike(pair: &Pair, voice: Voice) -> bool {
    pair.both.iter().all(Option::is_some) && pair.differs.is_empty() && pair.rows(voice).is_empty()
}

/// Where a sash is in one of them only, by its key.
fn only_in(pair: &Pair) -> Option<&'static str> {
    match &pair.both {
        [Some(_), None] => Some("compare-only-a"),
        [None, Some(_)] => Some("compare-only-b"),
        _ => None,
    }
}

/// In plain text, as `voice` says it; `files` are the names of the surveys.
pub fn text(comparison: &Comparison, files: &[&str; 2], voice: Voice) -> String {
    let mut out = Lines::new(WIDTH, voice);
    out.wrapped("", "  ", &heading(&comparison.names, files, voice));
    out.wrapped("", "  ", &title(comparison, voice));
    for pair in comparison.pairs.iter().filter(|pair| !is_alike(pair, voice)) {
        out.gap();
        if let Some(only) = only_in(pair) {
            out.line(&format!("{}: {}", pair.id, voice.word(only)));
            continue;
        }
        out.wrapped("", "  ", &format!("{}: {}", pair.id, voice.say(&Text::each(&pair.differs))));
        for (label, [one, other]) in pair.rows(voice) {
            let label = label.split_whitespace().next().unwrap_or_default();
            out.wrapped(&format!("  {label:<8}A "), "            ", &one);
            out.wrapped("          B ", "            ", &other);
        }
    }
    for (name, ids) in ["A", "B"].iter().zip(&comparison.not_worked) {
        if !ids.is_empty() {
            out.gap();
            out.wrapped("", "  ", &tell!(voice, "compare-not-worked", name, ids = ids.join(", ")));
        }
    }
    out.text
}

const STYLE: &str = "
body { font: 1rem/1.5 sans-serif; margin: 0 auto; max-width: 70rem; padding: 1rem; color: #111; background: #fff; }
h1 { font-size: 1.5rem; } h2 { font-size: 1.2rem; margin: 1rem 0 0; }
table { border-collapse: collapse; width: 100%; } article { break-inside: avoid; }
th, td { text-align: left; vertical-align: top; padding: .2rem .6rem; border-bottom: 1px solid #bbb; }
th { width: 6rem; } td { width: 50%; overflow-wrap: anywhere; }
@media print { body { padding: 0; font-size: 10pt; } }
";

/// As a sheet for a browser or a printer.
pub fn sheet(comparison: &Comparison, files: &[&str; 2], voice: Voice) -> String {
    let page = html! {
        (DOCTYPE) "\n"
        html lang=(voice.lang()) { "\n"
            head { "\n"
                meta charset="utf-8"; "\n"
                meta name="viewport" content="width=device-width, initial-scale=1"; "\n"
                title { (voice.word("compare-title")) } "\n"
                style { (PreEscaped(STYLE)) } "\n"
            } "\n"
            body { "\n"
                h1 { (title(comparison, voice)) } "\n"
                p { (heading(&comparison.names, files, voice)) } "\n"
                @for pair in comparison.pairs.iter().filter(|pair| !is_alike(pair, voice)) {
                    article id=(pair.id) { "\n"
                        h2 { (pair.id) } "\n"
                        @if let Some(only) = only_in(pair) { p { (voice.word(only)) } "\n" }
                        @else {
                            ul { @for words in &pair.differs { li { (voice.said(&voice.say(words))) } "\n" } } "\n"
                            table { "\n"
                                tr { th {} td { "A" } td { "B" } } "\n"
                                @for (label, [one, other]) in pair.rows(voice) {
                                    tr { th { (label) } td { (one) } td { (other) } } "\n"
                                }
                            } "\n"
                        }
                    } "\n"
                }
                @for (name, ids) in ["A", "B"].iter().zip(&comparison.not_worked) {
                    @if !ids.is_empty() {
                        p { (tell!(voice, "compare-not-worked", name, ids = ids.join(", "))) } "\n"
                    }
                }
            } "\n"
        } "\n"
    };
    page.into_string()
}
