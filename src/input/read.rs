//! From text to what a room makes of its tables, or to every mistake in it.

use super::diagnostic::{Diagnostic, Diagnostics};
use super::entry::{DeclaredKey, Entry, spanned};
use super::reader::{FileKind, Node, Reader, Spanned};
use super::source::Source;
use std::ops::Range;
use toml::Spanned as Located;
use toml::de::{DeTable, DeValue, Error};

/// Most errors of syntax that are reported; what follows them is mostly their echo.
const MOST_SYNTAX: usize = 25;

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
    for error in errors.iter().take(MOST_SYNTAX) {
        note_syntax(error, &source, &mut reader);
    }
    // The root has no header: what is missing from it is reported at the start of the file.
    let root: Node<'_> = Located::new(0..0, DeValue::Table(root.into_inner()));
    let built = spanned::<T>(&root, &mut reader).and_then(|table| build(&table, &mut reader));
    match (reader.finish(&source), built) {
        (Some(diagnostics), _) => Err(diagnostics),
        (None, Some(built)) => Ok(built),
        (None, None) => Err(only(&source, format!("a whole {noun}"))),
    }
}

/// The bytes of a file as text.
///
/// # Errors
/// Where the bytes are not UTF-8, one diagnostic at the first that is not.
pub fn utf8<'b>(bytes: &'b [u8], name: &str, kind: &FileKind) -> Result<&'b str, Diagnostics> {
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
    let (what, expected) = match error.message().split_once(", expected ") {
        Some((what, "nothing")) => (what, format!("TOML ({what})")),
        Some((what, expected)) => (what, format!("{expected} ({what})")),
        None => (error.message(), format!("TOML ({})", error.message())),
    };
    let unquoted = matches!(what, "string values must be quoted" | "invalid boolean");
    let expected =
        if unquoted { "a number, true, false, or text in quotes".to_owned() } else { expected };
    let hint = syntax_hint(source.line(source.position(span.start).0), what, unquoted);
    reader.syntax(span, expected, hint);
}

/// What people most often mean where a value cannot be read.
fn syntax_hint(line: &str, what: &str, unquoted: bool) -> Option<String> {
    let value = line.split_once('=')?.1.trim();
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let decimal_comma = value.match_indices(',').any(|(at, _)| {
        digit(value.get(..at).and_then(|before| before.chars().next_back()))
            && digit(value.get(at + 1..).and_then(|after| after.chars().next()))
    });
    if what.starts_with("duplicate") {
        Some("a key may stand only once in its table".to_owned())
    } else if decimal_comma && !value.starts_with('[') {
        Some("write a decimal point, not a comma".to_owned())
    } else if unquoted && digit(value.chars().next()) {
        Some("a length with a unit or a fraction goes in quotes: \"1 3/4 in\"".to_owned())
    } else if unquoted {
        Some("words go in quotes".to_owned())
    } else {
        None
    }
}
