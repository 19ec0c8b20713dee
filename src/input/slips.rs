//! Slips of the pen that a grammar can only answer with a cascade: told once, and in the words of who made it.

use super::length::is_bare;
use super::source::Source;
use std::ops::Range;

/// A slip: where it stands, what was expected there, and the cure.
pub(super) struct Slip {
    pub span: Range<usize>,
    pub expected: String,
    pub hint: String,
}

/// The slip in a line that could not be read, if it is one of the usual.
pub(super) fn slip(source: &Source<'_>, line: usize) -> Option<Slip> {
    let (text, start) = (source.line(line), source.start(line));
    let found = curly(text).or_else(|| inch_sign(text)).or_else(|| missing_comma(text));
    found.map(|slip| Slip { span: slip.span.start + start..slip.span.end + start, ..slip })
}

/// Quotes as a word processor makes them.
fn curly(line: &str) -> Option<Slip> {
    let (at, quote) = line.char_indices().find(|(_, c)| "“”„‟‘’‚«»".contains(*c))?;
    Some(Slip {
        span: at..at + quote.len_utf8(),
        expected: "straight quotes, \"".to_owned(),
        hint: "curly quotes, as a word processor makes them: retype them straight, and save as plain text"
            .to_owned(),
    })
}

/// A length with an inch sign where quotes begin or end text: `"22 1/16""` or `22 1/16"`.
fn inch_sign(line: &str) -> Option<Slip> {
    for (at, _) in line.match_indices('=') {
        let value = line.get(at + 1..)?;
        let from = at + 1 + value.len() - value.trim_start().len();
        let value = value.trim_start();
        let (quoted, rest) = match value.strip_prefix('"') {
            Some(rest) => (true, rest),
            None => (false, value),
        };
        let end = rest.find(|c: char| !c.is_numeric() && !" ./-".contains(c)).unwrap_or(rest.len());
        let (number, after) = rest.split_at(end);
        let sign = if quoted { "\"\"" } else { "\"" };
        if is_bare(number) && after.starts_with(sign) {
            let number = number.trim();
            return Some(Slip {
                span: from..from + usize::from(quoted) + end + sign.len(),
                expected: "a length in quotes".to_owned(),
                hint: format!("the inch sign ends the text: write \"{number} in\""),
            });
        }
    }
    None
}

/// Two keys with nothing between them.
fn missing_comma(line: &str) -> Option<Slip> {
    let outside = blank_texts(line);
    for (at, _) in outside.match_indices('=') {
        let before = outside.get(..at)?.trim_end();
        let word =
            before.trim_end_matches(|c: char| c.is_ascii_alphanumeric() || "_-.".contains(c));
        let key = before.get(word.len()..)?;
        let left = word.trim_end();
        if key.is_empty() || left.is_empty() || left.ends_with([',', '{', '[']) {
            continue;
        }
        let inside = left.matches('{').count() > left.matches('}').count();
        let span = word.len()..before.len();
        return Some(if inside {
            let expected = format!("a comma before `{key}`");
            Slip { span, expected, hint: format!("a comma is missing before {key}") }
        } else {
            let expected = format!("a line of its own for `{key}`");
            Slip { span, expected, hint: format!("begin a new line before {key}") }
        });
    }
    None
}

/// The line with what stands in quotes, and a comment behind it, made blank; byte for byte as long.
fn blank_texts(line: &str) -> String {
    let mut out = String::with_capacity(line.len());
    let (mut quote, mut remark, mut escaped) = (None, false, false);
    for c in line.chars() {
        let inside = quote.is_some();
        match quote {
            _ if remark => {}
            Some(_) if escaped => escaped = false,
            Some('"') if c == '\\' => escaped = true,
            Some(open) if c == open => quote = None,
            None if c == '"' || c == '\'' => quote = Some(c),
            None if c == '#' => remark = true,
            Some(_) | None => {}
        }
        if remark {
            (0..c.len_utf8()).for_each(|_| out.push(' '));
        } else if inside || quote.is_some() {
            (0..c.len_utf8()).for_each(|_| out.push('x'));
        } else {
            out.push(c);
        }
    }
    out
}
