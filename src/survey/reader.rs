//! Gathers what a file says and every mistake in it, so that no mistake hides another.

use super::diagnostic::{Diagnostic, Diagnostics};
use super::nearest::nearest;
use super::source::Source;
use crate::geometry::Sided;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::{Deref, Range};
use toml::Spanned;
use toml::de::DeValue;

/// Most mistakes that are told one by one: nobody mends more in one go.
const MOST_TOLD: usize = 500;

/// A value of the file with its place in the text.
pub(super) type Node<'t> = Spanned<DeValue<'t>>;

/// Where something stands: its bytes, and the path of its key.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub(super) struct Place {
    pub(super) start: usize,
    pub(super) end: usize,
    pub(super) key: String,
}

/// A value and where it stands. For a value that was not written, the place is that of the table or
/// the other value that it follows from.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Seen<T> {
    pub(super) value: T,
    pub(super) place: Place,
}

impl<T> Seen<T> {
    pub(super) fn new(value: T, place: &Place) -> Seen<T> {
        Seen { value, place: place.clone() }
    }

    pub(super) fn map<U>(self, change: impl FnOnce(T) -> U) -> Seen<U> {
        Seen { value: change(self.value), place: self.place }
    }
}

impl<T> Deref for Seen<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

/// What kind of mistake it is; after an error of syntax the later kinds are not told, since a line
/// that could not be read makes them untrue.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Matter {
    Syntax,
    Value,
    UnknownKey,
    Missing,
    Contradiction,
}

#[derive(Debug)]
struct Mistake {
    matter: Matter,
    place: Place,
    expected: String,
    hint: Option<String>,
    part: String,
}

impl Mistake {
    /// The part of the sash it touches, as far as the key does not say so itself.
    fn told_part(&self) -> &str {
        let key = &self.place.key;
        if self.matter == Matter::Missing || key.contains(".member.") || key.contains(".bars[") {
            ""
        } else if key.starts_with("sash[") {
            self.part.split_once(": ").map_or("", |(_, part)| part)
        } else {
            &self.part
        }
    }
}

/// The mistakes found so far, and the path to the key being read.
#[derive(Debug, Default)]
pub(super) struct Reader {
    /// Which letters a name may have; any, if none is said.
    shows: Option<fn(char) -> bool>,
    path: Vec<String>,
    part: String,
    mistakes: Vec<Mistake>,
    /// Keys whose values were refused.
    refused: BTreeSet<String>,
    /// What the drawings hold that the survey names, or why they do not.
    traced: BTreeMap<Place, Result<Sided, String>>,
}

impl Reader {
    /// A reader that refuses names with letters for which `shows` says no.
    pub(super) fn showing(shows: Option<fn(char) -> bool>) -> Reader {
        Reader { shows, ..Reader::default() }
    }

    /// The first letter of a name that cannot be shown.
    pub(super) fn unshown(&self, name: &str) -> Option<char> {
        name.chars().find(|&letter| self.shows.is_some_and(|shows| !shows(letter)))
    }

    /// Keeps what the drawing holds that is named at `place`, or why it does not.
    pub(super) fn keep_traced(&mut self, place: &Place, outline: Result<Sided, String>) {
        self.traced.insert(place.clone(), outline);
    }

    /// What the drawing holds that is named at `place`; `None` where it was not read.
    pub(super) fn traced(&self, place: &Place) -> Option<Result<Sided, String>> {
        self.traced.get(place).cloned()
    }

    /// Reads one step further down the path.
    pub(super) fn inside<T>(&mut self, step: String, read: impl FnOnce(&mut Reader) -> T) -> T {
        self.path.push(step);
        let result = read(self);
        self.path.pop();
        result
    }

    /// Names the part of the sash that contradictions from here on belong to.
    pub(super) fn at_part(&mut self, part: String) {
        self.part = part;
    }

    /// The place of `span` under the current path.
    pub(super) fn place(&self, span: Range<usize>) -> Place {
        Place { start: span.start, end: span.end, key: self.path.concat().trim_matches('.').into() }
    }

    pub(super) fn syntax(&mut self, span: Range<usize>, expected: String, hint: Option<String>) {
        let place = Place { start: span.start, end: span.end, key: String::new() };
        self.note(Matter::Syntax, place, expected, hint);
    }

    /// A value of the wrong type, unit or size.
    pub(super) fn refuse(&mut self, span: Range<usize>, expected: String, hint: Option<String>) {
        let place = self.place(span);
        self.refused.insert(place.key.clone());
        self.note(Matter::Value, place, expected, hint);
    }

    pub(super) fn unknown_key(&mut self, span: Range<usize>, key: &str, known: &[&str]) {
        let hint =
            nearest(key, known.iter().copied()).map(|near| format!("did you mean `{near}`?"));
        let expected = format!("one of the keys {}", known.join(", "));
        self.inside(format!(".{}", shown_key(key)), |reader| {
            let place = reader.place(span);
            reader.note(Matter::UnknownKey, place, expected, hint);
        });
    }

    /// A key that `table` should hold; nothing where it is there but was refused.
    pub(super) fn missing(&mut self, table: &Place, key: &str, about: &str) {
        let dot = if table.key.is_empty() || key.is_empty() { "" } else { "." };
        let place = Place { key: format!("{}{dot}{key}", table.key), ..table.clone() };
        if !self.was_refused(&place.key) {
            self.note(Matter::Missing, place, about.to_owned(), None);
        }
    }

    /// Whether the value of `key`, or one inside it, was refused; in the sash or in the defaults.
    pub(super) fn was_refused(&self, key: &str) -> bool {
        let usual = key.split_once("].").map(|(_, rest)| format!("defaults.{rest}"));
        std::iter::once(key).chain(usual.as_deref()).any(|key| {
            self.refused.contains(key)
                || [".", "["].iter().any(|next| {
                    let inside = format!("{key}{next}");
                    let first = self.refused.range(inside.clone()..).next();
                    first.is_some_and(|first| first.starts_with(&inside))
                })
        })
    }

    /// A value that cannot be true beside the others.
    pub(super) fn contradict(&mut self, place: &Place, expected: String, hint: &str) {
        let hint = if hint.is_empty() { None } else { Some(hint.to_owned()) };
        self.note(Matter::Contradiction, place.clone(), expected, hint);
    }

    fn note(&mut self, matter: Matter, place: Place, expected: String, hint: Option<String>) {
        let part = if matter >= Matter::Missing { self.part.clone() } else { String::new() };
        self.mistakes.push(Mistake { matter, place, expected, hint, part });
    }

    /// Everything found, if anything was; one mistake that touches several parts is told once.
    pub(super) fn finish(self, source: &Source<'_>) -> Option<Diagnostics> {
        let mut mistakes = self.mistakes;
        let broken: Vec<Place> = mistakes
            .iter()
            .filter(|mistake| mistake.matter == Matter::Syntax)
            .map(|mistake| mistake.place.clone())
            .collect();
        if !broken.is_empty() {
            // What could be read of a broken value is no value.
            let touches = |a: &Place, b: &Place| a.start <= b.end && b.start <= a.end;
            mistakes.retain(|mistake| match mistake.matter {
                Matter::Syntax => true,
                Matter::Value => !broken.iter().any(|place| touches(place, &mistake.place)),
                _ => false,
            });
        }
        // A stable sort: parts stay in the order in which they were found.
        mistakes.sort_by(|a, b| (&a.place, &a.expected).cmp(&(&b.place, &b.expected)));
        let mut told: Vec<Diagnostic> = Vec::new();
        let mut untold = 0;
        for group in mistakes.chunk_by(|a, b| a.place == b.place && a.expected == b.expected) {
            let Some(first) = group.first() else { continue };
            if told.len() == MOST_TOLD {
                untold += 1;
                continue;
            }
            let span = first.place.start..first.place.end;
            let mut diagnostic = Diagnostic::new(source, &span, first.expected.clone());
            diagnostic.key.clone_from(&first.place.key);
            diagnostic.hint.clone_from(&first.hint);
            diagnostic.found = (first.matter != Matter::Missing).then(|| found(source, &span));
            for mistake in group {
                let part = mistake.told_part();
                if !part.is_empty() && !diagnostic.parts.iter().any(|told| told == part) {
                    diagnostic.parts.push(part.to_owned());
                }
            }
            told.push(diagnostic);
        }
        Diagnostics::new(told, untold)
    }
}

fn found(source: &Source<'_>, span: &Range<usize>) -> String {
    let written = source.written(span);
    if !written.is_empty() {
        written
    } else if span.start >= source.text.trim_end().len() {
        "the end of the file".to_owned()
    } else {
        let (line, column) = source.position(span.start);
        let rest: String = source.line(line).chars().skip(column - 1).take(20).collect();
        if rest.trim().is_empty() { "the end of the line".to_owned() } else { format!("`{rest}`") }
    }
}

/// A key as a path shows it: cut short, quoted where it is no plain word.
fn shown_key(key: &str) -> String {
    let plain = key.chars().all(|c| c.is_ascii_alphanumeric() || c == '_' || c == '-');
    let short: String = key.chars().take(40).collect();
    if plain && !key.is_empty() { short } else { format!("{short:?}") }
}
