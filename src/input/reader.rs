//! Gathers what a file says and every mistake in it, so that no mistake hides another.

use super::diagnostic::{Diagnostic, Diagnostics};
use super::nearest::nearest;
use super::source::Source;
use std::collections::BTreeSet;
use std::ops::{Deref, Range};
use toml::Spanned as Located;
use toml::de::DeValue;

/// Most mistakes that are reported one by one: nobody mends more in one go.
const MOST_REPORTED: usize = 500;

/// A value of the file with its place in the text.
pub type Node<'t> = Located<DeValue<'t>>;

/// Where something stands: its bytes, and the path of its key.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Place {
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
    /// Path of the key; lists count from 1.
    pub key: String,
}

/// A value and where it stands. For a value that was not written, the place is that of the table or
/// the other value that it follows from.
#[derive(Debug, Clone, PartialEq)]
pub struct Spanned<T> {
    /// What was read.
    pub value: T,
    /// Where it stands.
    pub place: Place,
}

impl<T> Spanned<T> {
    /// A value that follows from what stands at `place`.
    pub fn new(value: T, place: &Place) -> Spanned<T> {
        Spanned { value, place: place.clone() }
    }

    /// Another value at the same place.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned { value: change(self.value), place: self.place }
    }
}

impl<T> Deref for Spanned<T> {
    type Target = T;

    fn deref(&self) -> &T {
        &self.value
    }
}

/// A value that may not have been written.
pub trait Optional<T> {
    /// The value alone.
    fn value(&self) -> Option<T>;

    /// The value, or the default where there is none.
    fn value_or(&self, default: T) -> T;

    /// The value, or what a value of its kind is by default.
    fn value_or_default(&self) -> T
    where
        T: Default;

    /// Where it stands.
    fn place(&self) -> Option<&Place>;
}

impl<T: Clone> Optional<T> for Option<Spanned<T>> {
    fn value(&self) -> Option<T> {
        self.as_ref().map(|spanned| spanned.value.clone())
    }

    fn value_or(&self, default: T) -> T {
        self.value().unwrap_or(default)
    }

    fn value_or_default(&self) -> T
    where
        T: Default,
    {
        self.value().unwrap_or_default()
    }

    fn place(&self) -> Option<&Place> {
        self.as_ref().map(|spanned| &spanned.place)
    }
}

/// What a kind of file has beside its tables.
pub struct FileKind {
    /// What messages call it: `survey`.
    pub noun: &'static str,
    /// Largest file, bytes.
    pub most_bytes: usize,
    /// Path of the key whose value stands in for a missing one at the given path, if any does.
    pub default_of: fn(&str) -> Option<String>,
    /// What to write where `written` cannot stand behind the key, or where the key itself is not known
    /// (`written` is empty then); nothing, where the usual words say it.
    pub cure: fn(key: &str, written: &str) -> Option<String>,
    /// What to name of a part beside a contradiction at the given path: all of it, some, or nothing where
    /// the path says it.
    pub name_part: for<'p> fn(&str, &'p str) -> &'p str,
}

impl FileKind {
    /// A kind of file of which nothing more is to be said.
    pub const fn plain(noun: &'static str, most_bytes: usize) -> FileKind {
        FileKind {
            noun,
            most_bytes,
            default_of: |_| None,
            cure: |_, _| None,
            name_part: |_, part| part,
        }
    }
}

/// What kind of mistake it is; after an error of syntax the later kinds are not reported, since a line
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

/// The mistakes found so far, and the path to the key being read.
pub struct Reader<'k> {
    kind: &'k FileKind,
    /// Which letters a name may have; any, if none is said.
    shows: Option<fn(char) -> bool>,
    path: Vec<String>,
    part: String,
    mistakes: Vec<Mistake>,
    /// Keys whose values were refused.
    refused: BTreeSet<String>,
    /// Text that could not be read: nothing in it counts as a value.
    unread: Vec<Place>,
    /// Where the lengths begin that name their unit.
    with_unit: BTreeSet<usize>,
    /// Where everything stands that is read from another file, while it is.
    elsewhere: Option<Place>,
}

impl<'k> Reader<'k> {
    /// A reader that refuses names with letters for which `shows` says no.
    pub fn new(kind: &'k FileKind, shows: Option<fn(char) -> bool>) -> Reader<'k> {
        Reader {
            kind,
            shows,
            path: Vec::new(),
            part: String::new(),
            mistakes: Vec::new(),
            refused: BTreeSet::new(),
            unread: Vec::new(),
            with_unit: BTreeSet::new(),
            elsewhere: None,
        }
    }

    /// The first letter of a name that cannot be shown.
    pub fn unshown(&self, name: &str) -> Option<char> {
        name.chars().find(|&letter| self.shows.is_some_and(|shows| !shows(letter)))
    }

    /// Reads one step further down the path.
    pub fn inside<T>(&mut self, step: String, read: impl FnOnce(&mut Self) -> T) -> T {
        self.path.push(step);
        let result = read(self);
        self.path.pop();
        result
    }

    /// Reads what another file holds: all of it counts as standing at `place`, which names that file.
    pub fn at<T>(&mut self, place: &Place, read: impl FnOnce(&mut Self) -> T) -> T {
        let before = self.elsewhere.replace(place.clone());
        let result = read(self);
        self.elsewhere = before;
        result
    }

    /// Names the part that contradictions from here on belong to.
    pub fn at_part(&mut self, part: String) {
        self.part = part;
    }

    /// The place of `span` under the current path.
    pub fn place(&self, span: Range<usize>) -> Place {
        if let Some(place) = &self.elsewhere {
            return place.clone();
        }
        Place { start: span.start, end: span.end, key: self.path.concat().trim_matches('.').into() }
    }

    /// Notes that the length at `span` names its unit.
    pub fn names_unit(&mut self, span: &Range<usize>) {
        self.with_unit.insert(span.start);
    }

    /// Whether the length at `place` names its unit, so that there can be no doubt about it.
    pub fn has_unit(&self, place: &Place) -> bool {
        self.with_unit.contains(&place.start)
    }

    /// Text that is no TOML.
    pub fn syntax(&mut self, span: Range<usize>, expected: String, hint: Option<String>) {
        let place = Place { start: span.start, end: span.end, key: String::new() };
        self.note(Matter::Syntax, place, expected, hint);
    }

    /// Notes that nothing in `span` counts as a value, since what stands there could not be read.
    pub fn echo(&mut self, span: Range<usize>) {
        self.unread.push(Place { start: span.start, end: span.end, key: String::new() });
    }

    /// What to write where `written` cannot stand behind the key.
    pub fn cure(&self, key: &str, written: &str) -> Option<String> {
        (self.kind.cure)(key, written)
    }

    /// A value of the wrong type, unit or size.
    pub fn refuse(&mut self, span: Range<usize>, expected: String, hint: Option<String>) {
        let place = self.place(span);
        self.refused.insert(place.key.clone());
        self.note(Matter::Value, place, expected, hint);
    }

    /// A key that its table does not have.
    pub fn unknown_key(&mut self, span: Range<usize>, key: &str, known: &[&str]) {
        let near = || nearest(key, known.iter().copied());
        let (expected, hint) = match self.cure(key, "") {
            Some(cure) => ("no such key".to_owned(), Some(cure)),
            None => (
                format!("one of the keys {}", known.join(", ")),
                near().map(|near| format!("did you mean `{near}`?")),
            ),
        };
        self.inside(format!(".{}", shown_key(key)), |reader| {
            let place = reader.place(span);
            reader.note(Matter::UnknownKey, place, expected, hint);
        });
    }

    /// A key that `table` should hold; nothing where it is there but was refused.
    pub fn missing(&mut self, table: &Place, key: &str, about: &str) {
        let dot = if table.key.is_empty() || key.is_empty() { "" } else { "." };
        let place = Place { key: format!("{}{dot}{key}", table.key), ..table.clone() };
        if !self.was_refused(&place.key) {
            self.note(Matter::Missing, place, about.to_owned(), None);
        }
    }

    /// Whether the value of `key`, or one inside it, was refused; there, or where its default stands.
    pub fn was_refused(&self, key: &str) -> bool {
        let default = (self.kind.default_of)(key);
        std::iter::once(key).chain(default.as_deref()).any(|key| {
            self.refused.contains(key)
                || [".", "["].iter().any(|next| {
                    let inside = format!("{key}{next}");
                    let first = self.refused.range(inside.clone()..).next();
                    first.is_some_and(|first| first.starts_with(&inside))
                })
        })
    }

    /// A value that cannot be true beside the others.
    pub fn contradict(&mut self, place: &Place, expected: String, hint: &str) {
        let hint = if hint.is_empty() { None } else { Some(hint.to_owned()) };
        self.note(Matter::Contradiction, place.clone(), expected, hint);
    }

    fn note(&mut self, matter: Matter, place: Place, expected: String, hint: Option<String>) {
        let part = if matter >= Matter::Missing { self.part.clone() } else { String::new() };
        self.mistakes.push(Mistake { matter, place, expected, hint, part });
    }

    /// Everything found, if anything was; one mistake that touches several parts is reported once.
    pub fn finish(self, source: &Source<'_>) -> Option<Diagnostics> {
        let mut mistakes = self.mistakes;
        let syntax = mistakes.iter().filter(|mistake| mistake.matter == Matter::Syntax);
        let broken: Vec<Place> =
            syntax.map(|mistake| mistake.place.clone()).chain(self.unread).collect();
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
        let mut reported: Vec<Diagnostic> = Vec::new();
        let mut unreported = 0;
        for group in mistakes.chunk_by(|a, b| a.place == b.place && a.expected == b.expected) {
            let Some(first) = group.first() else { continue };
            if reported.len() == MOST_REPORTED {
                unreported += 1;
                continue;
            }
            let span = first.place.start..first.place.end;
            let mut diagnostic = Diagnostic::new(source, &span, first.expected.clone());
            diagnostic.key.clone_from(&first.place.key);
            diagnostic.hint.clone_from(&first.hint);
            diagnostic.found = (first.matter != Matter::Missing).then(|| found(source, &span));
            for mistake in group {
                let part = match mistake.matter {
                    Matter::Missing => "",
                    _ => (self.kind.name_part)(&mistake.place.key, &mistake.part),
                };
                if !part.is_empty() && !diagnostic.parts.iter().any(|named| named == part) {
                    diagnostic.parts.push(part.to_owned());
                }
            }
            reported.push(diagnostic);
        }
        Diagnostics::new(reported, unreported)
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
