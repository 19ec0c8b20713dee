//! From text to a house, or to every mistake in it.

use super::House;
use super::diagnostic::{Diagnostic, Diagnostics};
use super::entry::seen;
use super::file::{FileTable, schema as file_schema};
use super::reader::{Node, Reader};
use super::resolve;
use super::source::Source;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue, Error};

/// Largest survey, bytes. A house of a hundred sashes takes about a fifth of it.
pub const MOST_BYTES: usize = 1 << 19;

/// Most errors of syntax that are told; what follows them is mostly their echo.
const MOST_SYNTAX: usize = 25;

/// Reads a survey. `name` is the file's name for the diagnostics; the disk is never touched, so a
/// drawing that the survey names is a mistake here: see [`read_with`].
///
/// # Errors
/// Every mistake in the text at once: see [`Diagnostics`].
pub fn read(text: &str, name: &str) -> Result<House, Diagnostics> {
    read_as(text, name, &ALONE)
}

/// What a survey is read with, besides its text.
pub struct With<'o> {
    /// Where its names are to be printed, which letters can be: one for which this says no is a mistake.
    pub shows: Option<fn(char) -> bool>,
    /// The bytes of a file that the survey names, from its own folder on with forward slashes; or why
    /// they cannot be had.
    pub open: &'o dyn Fn(&str) -> Result<Vec<u8>, String>,
}

/// Reads a survey from the bytes of a file, and the drawings that it names.
///
/// # Errors
/// As [`read_bytes`]; and where a drawing cannot be opened, or is not one closed outline.
pub fn read_with(bytes: &[u8], name: &str, with: &With<'_>) -> Result<House, Diagnostics> {
    read_as(utf8(bytes, name)?, name, with)
}

/// A survey that is all there is.
const ALONE: With<'static> = With {
    shows: None,
    open: &|file| Err(format!("{file} is not opened where a survey is read from its text alone")),
};

fn read_as(text: &str, name: &str, with: &With<'_>) -> Result<House, Diagnostics> {
    // Some editors begin a file with this mark; it is no part of the first line.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let source = Source::new(name, text);
    if text.len() > MOST_BYTES {
        return Err(only(&source, 0..0, format!("a survey of at most {MOST_BYTES} bytes")));
    }
    let mut reader = Reader::showing(with.shows);
    let (root, errors) = DeTable::parse_recoverable(text);
    for error in errors.iter().take(MOST_SYNTAX) {
        note_syntax(error, &source, &mut reader);
    }
    // The root has no header: what is missing from it is told at the start of the file.
    let root: Node<'_> = Spanned::new(0..0, DeValue::Table(root.into_inner()));
    let house = seen::<FileTable>(&root, &mut reader).and_then(|file| {
        resolve::read_drawings(&file, with.open, &mut reader);
        resolve::house(&file, &mut reader)
    });
    match (reader.finish(&source), house) {
        (Some(diagnostics), _) => Err(diagnostics),
        (None, Some(house)) => Ok(house),
        (None, None) => Err(only(&source, 0..0, "a whole survey".to_owned())),
    }
}

/// Reads a survey from the bytes of a file.
///
/// # Errors
/// As [`read`]; and where the bytes are not UTF-8, one diagnostic at the first that is not.
pub fn read_bytes(bytes: &[u8], name: &str) -> Result<House, Diagnostics> {
    read(utf8(bytes, name)?, name)
}

fn utf8<'b>(bytes: &'b [u8], name: &str) -> Result<&'b str, Diagnostics> {
    match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text),
        Err(error) => {
            let good = bytes.get(..error.valid_up_to()).unwrap_or_default();
            let good = std::str::from_utf8(good).unwrap_or_default();
            let source = Source::new(name, good);
            let byte = bytes.get(good.len()).copied().unwrap_or_default();
            let expected = "text in UTF-8".to_owned();
            let mut diagnostic = Diagnostic::new(&source, &(good.len()..good.len()), expected);
            diagnostic.found = Some(format!("the byte {byte:#04x}"));
            diagnostic.hint = Some("save the survey as plain text in UTF-8".to_owned());
            Err(Diagnostics::one(diagnostic))
        }
    }
}

/// The JSON Schema (2020-12) of a survey as JSON writes the same tables.
pub fn schema() -> serde_json::Value {
    file_schema()
}

fn only(source: &Source<'_>, span: Range<usize>, expected: String) -> Diagnostics {
    let mut diagnostic = Diagnostic::new(source, &span, expected);
    diagnostic.found = Some(format!("{} bytes", source.text.len()));
    Diagnostics::one(diagnostic)
}

fn note_syntax(error: &Error, source: &Source<'_>, reader: &mut Reader) {
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
