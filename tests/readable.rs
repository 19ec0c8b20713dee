//! How hard the texts are that a person is shown, by the grade of Flesch and Kincaid: grade = 0.39 words a sentence +
//! 11.8 syllables a word − 15.59 (Kincaid, Fishburne, Rogers and Chissom 1975, Research Branch Report 8-75).
//!
//! Figures, units and lone words of tables are no prose and are left out. Syllables are counted as groups of vowels
//! less a silent e, which is right for all but a few words in a hundred.

use crate::paper;
use crate::support::EXAMPLE;
use fillister::cli::{self, Screen};
use fillister::job::{self, Made};
use fillister::sheets::summary::{Detail, answer};
use std::collections::BTreeMap;

/// The grade aimed at.
const AIM: f64 = 8.0;

fn syllables(word: &str) -> usize {
    let letters: Vec<char> = word.to_lowercase().chars().collect();
    let vowel = |c: char| "aeiouyäöüé".contains(c);
    let mut groups = 0;
    for (index, &letter) in letters.iter().enumerate() {
        if vowel(letter) && (index == 0 || !vowel(letters[index - 1])) {
            groups += 1;
        }
    }
    let silent =
        |ending: &str| word.ends_with(ending) && !word.ends_with("le") && !word.ends_with("ee");
    // made, tapes, glued; not table, sizes, wanted.
    let quiet = silent("e")
        || (word.ends_with("ed") && !word.ends_with("ted") && !word.ends_with("ded"))
        || (word.ends_with("es")
            && !["ses", "zes", "xes", "ges", "ces", "hes"].iter().any(|end| word.ends_with(end)));
    std::cmp::max(1, groups - usize::from(quiet && groups > 1))
}

/// Sentences, words and syllables.
#[derive(Debug, Clone, Copy, Default)]
struct Count {
    sentences: f64,
    words: f64,
    syllables: f64,
}

impl Count {
    fn of(paragraphs: &[String]) -> Count {
        let mut all = Count::default();
        for paragraph in paragraphs {
            // Flesch 1948 counts what a colon or a semicolon ends as well; a full stop in a figure ends nothing.
            for sentence in paragraph.split(['?', '!', ':', ';']).flat_map(|part| part.split(". "))
            {
                let words: Vec<&str> = sentence
                    .split(|c: char| !c.is_alphabetic() && c != '\'')
                    .filter(|word| word.len() > 1 || *word == "a" || *word == "A" || *word == "I")
                    .collect();
                if words.len() < 3 {
                    continue;
                }
                all.sentences += 1.0;
                all.words += words.len() as f64;
                all.syllables += words.iter().map(|word| syllables(word) as f64).sum::<f64>();
            }
        }
        all
    }

    fn grade(self) -> f64 {
        0.39 * self.words / self.sentences + 11.8 * self.syllables / self.words - 15.59
    }
}

/// Lines of a terminal as paragraphs; rows of tables are none.
fn of_lines(text: &str) -> Vec<String> {
    let mut all = vec![String::new()];
    for line in text.lines() {
        let words = line.split_whitespace().filter(|word| word.chars().all(char::is_alphabetic));
        if line.trim().is_empty() || words.count() < 3 {
            all.push(String::new());
            continue;
        }
        let last = all.last_mut().unwrap();
        last.push_str(line.trim());
        last.push(' ');
    }
    all
}

/// Paragraphs of a sheet: lines under each other at one margin, of which the last ends a sentence.
fn of_sheet(file: &[u8]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for page in paper::pages(file) {
        let mut before: Option<&paper::Word> = None;
        for word in &page.words {
            let goes_on = before.is_some_and(|last| {
                (last.at.x - word.at.x).abs() < 0.1
                    && (last.size - word.size).abs() < 0.01
                    && (0.0..2.0 * word.size).contains(&(last.at.y - word.at.y))
            });
            match all.last_mut().filter(|_| goes_on) {
                Some(text) => text.extend([" ", &word.text]),
                None => all.push(word.text.clone()),
            }
            before = Some(word);
        }
    }
    all.retain(|text| text.ends_with('.'));
    all
}

/// A text in Markdown without its code, tables and headings.
fn of_markdown(text: &str) -> Vec<String> {
    let prose = |line: &&str| !["    ", "|", "#", "!["].iter().any(|start| line.starts_with(start));
    let kept: Vec<&str> = text.lines().filter(prose).collect();
    kept.join("\n").split("\n\n").map(|paragraph| paragraph.replace('\n', " ")).collect()
}

/// What `--help` says of the program and of each command.
fn help() -> Vec<String> {
    let commands = ["", "check", "make", "compare", "done", "prove", "start", "form", "schema"];
    let said = commands.map(|command| {
        let words = ["fillister", command, "--help"].into_iter().filter(|word| !word.is_empty());
        let (mut out, mut err) = (Vec::new(), Vec::new());
        cli::run(words.map(Into::into), Screen::PLAIN, &mut out, &mut err);
        String::from_utf8(out).unwrap()
    });
    said.iter().flat_map(|text| of_lines(text)).collect()
}

/// Texts of the files of a house by what they are.
fn of_files(files: &BTreeMap<String, Vec<u8>>) -> BTreeMap<&'static str, Vec<String>> {
    let mut all: BTreeMap<&'static str, Vec<String>> = BTreeMap::new();
    for (name, file) in files {
        let ending = name.rsplit_once('.').map_or("", |(_, ending)| ending);
        if ending == "pdf" {
            all.entry("sheets").or_default().extend(of_sheet(file));
        } else if ending == "ngc" {
            let text = String::from_utf8(file.clone()).unwrap();
            let heads = text.lines().filter_map(|line| line.strip_prefix('('));
            // Each line is a note of its own.
            let heads = heads.map(|line| line.trim_end_matches(')').to_owned());
            all.entry("program heads").or_default().extend(heads);
        } else if name == "summary.txt" {
            let text = String::from_utf8(file.clone()).unwrap();
            all.entry("answers").or_default().extend(of_lines(&text));
        }
    }
    all
}

// FILLISTER_TEXTS names a folder that `make` wrote, such as that of an older program: its texts are measured as well.
#[test]
fn texts_for_people_are_as_easy_as_the_eighth_grade() {
    let house = fillister::survey::read(EXAMPLE, "samphire-cottage.toml").unwrap();
    let made: Made = job::make(&house).unwrap();
    let mut all = of_files(&made.files);
    all.entry("answers").or_default().extend(of_lines(&answer(&made.report, Detail::Full)));
    all.insert("help", help());
    all.insert("README", of_markdown(include_str!("../README.md")));
    let mut failed = Vec::new();
    for (kind, paragraphs) in &all {
        let count = Count::of(paragraphs);
        println!("{kind}: grade {:.1}, {} sentences", count.grade(), count.sentences);
        assert!(count.sentences > 10.0, "{kind}");
        if count.grade() > AIM {
            failed.push((kind, count.grade()));
        }
    }
    if let Ok(folder) = std::env::var("FILLISTER_TEXTS") {
        let files = crate::support::bench::all_files(std::path::Path::new(&folder));
        for (kind, paragraphs) in of_files(&files) {
            println!("{folder}, {kind}: grade {:.1}", Count::of(&paragraphs).grade());
        }
    }
    assert!(failed.is_empty(), "{failed:?}");
}

// Counted by ear.
#[test]
fn syllables_are_counted_as_they_are_heard() {
    for (word, count) in [
        ("wood", 1),
        ("rebate", 2),
        ("timber", 2),
        ("glazing", 2),
        ("table", 2),
        ("sizes", 2),
        ("made", 1),
        ("wanted", 2),
        ("glued", 1),
        ("outermost", 3),
        ("moulding", 2),
    ] {
        assert_eq!(syllables(word), count, "{word}");
    }
}
