//! From text to what a room makes of its tables, or to every mistake in it.

use super::diagnostic::{Diagnostic, Diagnostics};
use super::entry::{DeclaredKey, Entry, spanned};
use super::length::{self, LengthError, is_bare};
use super::reader::{FileKind, Node, Place, Reader, Spanned};
use super::slips::slip;
use super::source::Source;
use std::collections::BTreeSet;
use std::ops::Range;
use toml::Spanned as Located;
use toml::de::{DeTable, DeValue, Error};

/// Most errors of syntax that are reported; what follows them is mostly their echo.
const MOST_SYNTAX: usize = 25;

/// How files begin that hold more than plain text (magic numbers as registered with the formats).
const WORD_PROCESSORS: [(&[u8], &str); 5] = [
    (b"PK\x03\x04", "a document of a word processor"),
    (b"{\\rtf", "rich text"),
    (b"\xd0\xcf\x11\xe0", "a document of a word processor"),
    (b"\xff\xfe", "text in UTF-16"),
    (b"\xfe\xff", "text in UTF-16"),
];

/// Reads the table `T` that the text is, and what `build` makes of it; `None` only where `build` has noted
/// why. `name` is the file's name for the diagnostics; a name with a letter for which `shows` says no is a
/// mistake.
///
/// # Errors
/// Every mistake in the text at once.
pub fn read<T: Entry, R>(
    text: &str,
    name: &str,
    kind: &FileKind,
    shows: Option<fn(char) -> bool>,
    build: impl FnOnce(&Spanned<T::Value>, &mut Reader<'_>) -> Option<R>,
) -> Result<R, Diagnostics> {
    // Some editors begin a file with this mark; it is no part of the first line.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let source = Source::new(name, text);
    let FileKind { noun, most_bytes, .. } = kind;
    if text.len() > *most_bytes {
        return Err(only(&source, format!("a {noun} of at most {most_bytes} bytes")));
    }
    let mut reader = Reader::new(kind, shows);
    let (root, errors) = DeTable::parse_recoverable(text);
    let mut told = BTreeSet::new();
    for error in &errors {
        let span = error.span().unwrap_or(0..0);
        let line = source.position(span.start).0;
        // What else is wrong with a line that could not be read is mostly the echo of the first.
        if !told.contains(&line) && told.len() < MOST_SYNTAX {
            note_syntax(error, &source, &mut reader);
        }
        told.insert(line);
        reader.echo(span);
    }
    // The root has no header: what is missing from it is reported at the start of the file.
    let root: Node<'_> = Located::new(0..0, DeValue::Table(root.into_inner()));
    let table = spanned::<T>(&root, &mut reader);
    // Of a large file not everything need be held at once.
    drop(root);
    let built = table.and_then(|table| build(&table, &mut reader));
    match (reader.finish(&source), built) {
        (Some(diagnostics), _) => Err(diagnostics),
        (None, Some(built)) => Ok(built),
        (None, None) => Err(only(&source, format!("a whole {noun}"))),
    }
}

/// What the table `T` is in another file, which was read without a mistake, as if all of it stood at `place`.
pub fn standing_at<T: Entry>(
    text: &str,
    place: &Place,
    reader: &mut Reader<'_>,
) -> Option<T::Value> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let (root, _) = DeTable::parse_recoverable(text);
    let root: Node<'_> = Located::new(0..0, DeValue::Table(root.into_inner()));
    reader.at(place, |reader| T::read(&root, reader))
}

/// The bytes of a file as text.
///
/// # Errors
/// Where the bytes are not UTF-8, one diagnostic at the first that is not.
pub fn utf8<'b>(bytes: &'b [u8], name: &str, kind: &FileKind) -> Result<&'b str, Diagnostics> {
    let own = WORD_PROCESSORS.iter().find(|(mark, _)| bytes.starts_with(mark));
    if let Some((_, what)) = own {
        let source = Source::new(name, "");
        let mut diagnostic = Diagnostic::new(&source, &(0..0), "text in UTF-8".to_owned());
        diagnostic.found = Some((*what).to_owned());
        diagnostic.hint = Some(format!("save the {} as plain text in UTF-8", kind.noun));
        return Err(Diagnostics::one(diagnostic));
    }
    std::str::from_utf8(bytes).map_err(|error| {
        let good = bytes.get(..error.valid_up_to()).unwrap_or_default();
        let good = std::str::from_utf8(good).unwrap_or_default();
        let source = Source::new(name, good);
        let byte = bytes.get(good.len()).copied().unwrap_or_default();
        let expected = "text in UTF-8".to_owned();
        let mut diagnostic = Diagnostic::new(&source, &(good.len()..good.len()), expected);
        diagnostic.found = Some(format!("the byte {byte:#04x}"));
        diagnostic.hint = Some(format!("save the {} as plain text in UTF-8", kind.noun));
        Diagnostics::one(diagnostic)
    })
}

/// Every key of `T` that takes a value, in the order of the tables. Other spellings of a key are left out.
pub fn keys<T: Entry>() -> Vec<DeclaredKey> {
    let mut found = Vec::new();
    T::list_keys("", &mut found);
    found
}

/// The JSON Schema (2020-12) of a file that is `T`, as JSON writes the same tables.
pub fn schema<T: Entry>(title: &str) -> serde_json::Value {
    let mut schema = T::schema();
    if let Some(fields) = schema.as_object_mut() {
        fields.insert("$schema".into(), "https://json-schema.org/draft/2020-12/schema".into());
        fields.insert("title".into(), title.into());
    }
    schema
}

fn only(source: &Source<'_>, expected: String) -> Diagnostics {
    let span: Range<usize> = 0..0;
    let mut diagnostic = Diagnostic::new(source, &span, expected);
    diagnostic.found = Some(format!("{} bytes", source.text.len()));
    Diagnostics::one(diagnostic)
}

fn note_syntax(error: &Error, source: &Source<'_>, reader: &mut Reader<'_>) {
    let span = error.span().unwrap_or(0..0);
    let line = source.position(span.start).0;
    if let Some(slip) = slip(source, line) {
        let start = source.start(line);
        reader.echo(start..start + source.line(line).len());
        reader.syntax(slip.span, slip.expected, Some(slip.hint));
        return;
    }
    let (what, expected) = match error.message().split_once(", expected ") {
        Some((what, "nothing")) => (what, format!("TOML ({what})")),
        Some((what, expected)) => (what, format!("{expected} ({what})")),
        None => (error.message(), format!("TOML ({})", error.message())),
    };
    // What begins like a date is a unit's build-up or the like: no file has dates.
    let unquoted = matches!(what, "string values must be quoted" | "invalid boolean")
        || what.starts_with("invalid date");
    let expected =
        if unquoted { "a number, true, false, or text in quotes".to_owned() } else { expected };
    let written = source.written(&span);
    let hint = syntax_hint(source.line(line), &written, what, unquoted, reader);
    reader.syntax(span, expected, hint);
}

/// What people most often mean where a value cannot be read.
fn syntax_hint(
    line: &str,
    written: &str,
    what: &str,
    unquoted: bool,
    reader: &Reader<'_>,
) -> Option<String> {
    let (key, value) = line.split_once('=')?;
    let value = value.trim();
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let decimal_comma = value.match_indices(',').any(|(at, _)| {
        digit(value.get(..at).and_then(|before| before.chars().next_back()))
            && digit(value.get(at + 1..).and_then(|after| after.chars().next()))
    });
    if what.starts_with("duplicate") {
        Some("a key may stand only once in its table".to_owned())
    } else if decimal_comma && !value.starts_with('[') {
        Some("write a decimal point, not a comma".to_owned())
    } else if unquoted && digit(written.chars().next()) {
        Some(reader.cure(key.trim(), written).unwrap_or_else(|| quotes(written)))
    } else if unquoted {
        Some("words go in quotes".to_owned())
    } else {
        None
    }
}

/// What to write for something that begins with a digit and is no number.
fn quotes(written: &str) -> String {
    if is_bare(written) && written.contains('/') {
        return format!("a fraction goes in quotes, with its unit: \"{written} in\"");
    }
    let number = written.trim_end_matches(|c: char| c.is_alphabetic() || c == '.').trim_end();
    match length::parse(written) {
        Err(LengthError::Unit(_)) if is_bare(number) => format!("write the number alone: {number}"),
        _ => format!("write it in quotes: \"{written}\""),
    }
}
