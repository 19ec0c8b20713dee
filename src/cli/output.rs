//! What is printed: nothing in it acts on a terminal.

use super::outcome::{Failure, defect};
use super::screen::{Painter, Screen};
use crate::input::{is_unseen, visible};
use crate::report;
use std::fmt::Display;
use std::io::{BufRead, Write};
use std::path::Path;

/// Prints a text file line by line, however long it is.
pub(super) fn copy(path: &Path, screen: Screen, out: &mut dyn Write) -> Result<(), Failure> {
    let mut painter = screen.painter();
    let not_read = |error: std::io::Error| defect(format!("{}: {error}", path.display()));
    let file = std::io::BufReader::new(std::fs::File::open(path).map_err(not_read)?);
    file.lines().try_for_each(|line| {
        let line = shown(&line.map_err(not_read)?);
        written(out, &(painter.line(&line) + "\n"))
    })
}

/// One report as it is, several in a list.
pub(super) fn print_all(
    reports: &[impl serde::Serialize],
    out: &mut dyn Write,
) -> Result<(), Failure> {
    match reports {
        [report] => print_json(out, report),
        reports => print_json(out, &reports),
    }
}

pub(super) fn cannot_print(error: impl Display) -> Failure {
    Failure::Output(format!("standard output: {error}"))
}

/// A text in which nothing acts on a terminal, whatever file names and words it quotes.
pub(super) fn shown(text: &str) -> String {
    text.chars().map(|c| if c == '\n' { c } else { visible(c) }).collect()
}

pub(super) fn print(out: &mut dyn Write, text: &str) -> Result<(), Failure> {
    written(out, &shown(text))
}

/// As [`print`], with the colours that `painter` has.
pub(super) fn paint(out: &mut dyn Write, painter: &mut Painter, text: &str) -> Result<(), Failure> {
    written(out, &painter.text(&shown(text)))
}

/// As [`print`]; what does not show is escaped, as JSON may write any character of a text.
pub(super) fn print_json(
    out: &mut dyn Write,
    value: &impl serde::Serialize,
) -> Result<(), Failure> {
    written(out, &(escaped(report::json(value).map_err(defect)?) + "\n"))
}

/// JSON in which nothing acts on a terminal.
pub(super) fn escaped(text: String) -> String {
    if !text.contains(|c| c != '\n' && is_unseen(c)) {
        return text;
    }
    let mut escaped = String::with_capacity(text.len());
    for c in text.chars() {
        if c == '\n' || !is_unseen(c) {
            escaped.push(c);
            continue;
        }
        let mut room = [0; 2];
        escaped.extend(c.encode_utf16(&mut room).iter().map(|unit| format!("\\u{unit:04x}")));
    }
    escaped
}

fn written(out: &mut dyn Write, text: &str) -> Result<(), Failure> {
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(cannot_print)
}
