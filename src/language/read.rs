//! A file of texts, held against those that there are.

use fluent_bundle::FluentResource;
use fluent_syntax::ast::{
    CallArguments, Entry, Expression, InlineExpression, Pattern, PatternElement,
};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;
use unic_langid::LanguageIdentifier;

/// Longest file of texts, bytes: eight times what all texts take, since some letters take three bytes.
pub const MOST_BYTES: usize = 1 << 20;

/// Deepest brackets in a text; the library follows them down.
const DEEPEST: usize = 8;

/// The key under which a language tells its tag (BCP 47), by which its plurals are known.
pub(super) const TAG: &str = "language-tag";

/// What is wrong with a file of texts.
#[derive(Debug, Clone, PartialEq)]
pub struct LanguageError {
    /// The line, from 1, where it is known.
    line: Option<usize>,
    why: String,
}

impl LanguageError {
    fn of(why: impl Into<String>) -> LanguageError {
        LanguageError { line: None, why: why.into() }
    }

    fn at(text: &str, byte: usize, why: impl Into<String>) -> LanguageError {
        let line = 1 + text.get(..byte).unwrap_or_default().matches('\n').count();
        LanguageError { line: Some(line), why: why.into() }
    }
}

impl fmt::Display for LanguageError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            Some(line) => write!(f, "line {line}: {}", self.why),
            None => f.write_str(&self.why),
        }
    }
}

impl std::error::Error for LanguageError {}

/// The text of a file, if it is one that can be read.
pub(super) fn text(bytes: &[u8]) -> Result<&str, LanguageError> {
    if bytes.len() > MOST_BYTES {
        return Err(LanguageError::of(format!("the file has more than {MOST_BYTES} bytes")));
    }
    let text = std::str::from_utf8(bytes)
        .map_err(|_| LanguageError::of("this is not a text file in UTF-8"))?;
    let mut deep = 0_usize;
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            b'{' => deep += 1,
            b'}' => deep = deep.saturating_sub(1),
            _ => {}
        }
        if deep > DEEPEST {
            return Err(LanguageError::at(text, at, "brackets stand too deep in one another"));
        }
    }
    Ok(text)
}

pub(super) fn resource(text: &str) -> Result<FluentResource, LanguageError> {
    FluentResource::try_new(text.to_owned()).map_err(|(_, errors)| {
        errors.first().map_or_else(
            || LanguageError::of("this is not a file of texts"),
            |error| LanguageError::at(text, error.pos.start, error.kind.to_string()),
        )
    })
}

/// A text or a term, and the values that it asks for.
struct Known<'r> {
    values: BTreeSet<&'r str>,
    /// The words of one that has nothing else in it.
    plain: Option<&'r str>,
    /// Terms that it uses, by their key in the file.
    terms: BTreeSet<String>,
    /// Texts, functions and parts of texts that it uses, which no text may.
    others: Vec<&'r str>,
}

/// Every text and term of a file by its key, a term with its hyphen; or a key that stands twice.
fn all(resource: &FluentResource) -> Result<BTreeMap<String, Known<'_>>, LanguageError> {
    let mut found = BTreeMap::new();
    for entry in resource.entries() {
        let (key, pattern, attributes) = match entry {
            Entry::Message(text) => {
                (text.id.name.to_owned(), text.value.as_ref(), &text.attributes)
            }
            Entry::Term(term) => {
                (format!("-{}", term.id.name), Some(&term.value), &term.attributes)
            }
            _ => continue,
        };
        let mut known = Known {
            values: BTreeSet::new(),
            plain: pattern.and_then(plain),
            terms: BTreeSet::new(),
            others: attributes.iter().map(|attribute| attribute.id.name).collect(),
        };
        match pattern {
            Some(pattern) => uses(pattern, &mut known),
            None => return Err(LanguageError::of(format!("{key}: it has no words"))),
        }
        if found.insert(key.clone(), known).is_some() {
            return Err(LanguageError::of(format!("{key}: it stands twice")));
        }
    }
    Ok(found)
}

fn plain<'r>(pattern: &Pattern<&'r str>) -> Option<&'r str> {
    match pattern.elements.as_slice() {
        [PatternElement::TextElement { value }] => Some(value),
        _ => None,
    }
}

fn uses<'r>(pattern: &Pattern<&'r str>, known: &mut Known<'r>) {
    for element in &pattern.elements {
        let PatternElement::Placeable { expression } = element else { continue };
        expressed(expression, known);
    }
}

fn expressed<'r>(expression: &Expression<&'r str>, known: &mut Known<'r>) {
    match expression {
        Expression::Inline(inline) => inline_uses(inline, known),
        Expression::Select { selector, variants } => {
            inline_uses(selector, known);
            for variant in variants {
                uses(&variant.value, known);
            }
        }
    }
}

fn inline_uses<'r>(inline: &InlineExpression<&'r str>, known: &mut Known<'r>) {
    let plain = |call: &Option<CallArguments<&'r str>>| call.is_none();
    match inline {
        InlineExpression::VariableReference { id } => {
            known.values.insert(id.name);
        }
        InlineExpression::TermReference { id, attribute: None, arguments } if plain(arguments) => {
            known.terms.insert(format!("-{}", id.name));
        }
        InlineExpression::TermReference { id, .. }
        | InlineExpression::FunctionReference { id, .. }
        | InlineExpression::MessageReference { id, .. } => known.others.push(id.name),
        InlineExpression::Placeable { expression } => expressed(expression, known),
        InlineExpression::StringLiteral { .. } | InlineExpression::NumberLiteral { .. } => {}
    }
}

/// That every text of `over` is one of `under` and asks for no other values, and that terms are plain words.
pub(super) fn known(under: &FluentResource, over: &FluentResource) -> Result<(), LanguageError> {
    let own = all(over)?;
    if own.is_empty() {
        return Ok(());
    }
    let under = all(under)?;
    let line = |key: &str, why: String| {
        let text = over.source();
        let begins = |line: &str| {
            line.strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('='))
        };
        let line = text.lines().position(begins).map(|at| at + 1);
        LanguageError { line, why: format!("{key}: {why}") }
    };
    for (key, text) in &own {
        let Some(british) = under.get(key) else {
            return Err(line(key, "no sheet has such a text or word".to_owned()));
        };
        if key.starts_with('-') && text.plain.is_none() {
            return Err(line(key, "a word of the trade is said in plain words".to_owned()));
        }
        if let Some(value) = text.values.difference(&british.values).next() {
            return Err(line(key, format!("there is no value ${value} for it")));
        }
        let other = text.terms.iter().find(|term| !under.contains_key(*term));
        if let Some(other) = other.map(String::as_str).or(text.others.first().copied()) {
            return Err(line(key, format!("{other} is no word of the trade in this file")));
        }
    }
    match own.get(TAG).filter(|_| tag(over).is_none()) {
        Some(_) => Err(line(TAG, "write it as in de, cy or en-US".to_owned())),
        None => Ok(()),
    }
}

/// Each text and term of a file that can be read, by its key, a term with its hyphen, as it is written.
pub(super) fn entries(text: &str) -> impl Iterator<Item = (&str, &str)> {
    let lines = text.split_inclusive('\n').map(str::len).scan(0, |end, length| {
        *end += length;
        Some(*end - length)
    });
    // All else of an entry is set in, or a bracket that closes.
    let begins = |at: &usize| {
        text.get(*at..).is_some_and(|rest| {
            rest.starts_with(|letter: char| letter.is_ascii_alphabetic() || letter == '-')
        })
    };
    let mut begins = lines.filter(begins).peekable();
    std::iter::from_fn(move || {
        let from = begins.next()?;
        let entry = text.get(from..begins.peek().copied().unwrap_or(text.len()))?;
        let (key, _) = entry.split_once('=')?;
        Some((key.trim_end(), entry))
    })
}

/// What the text of a key says.
pub(super) fn pattern<'r>(resource: &'r FluentResource, key: &str) -> Option<&'r Pattern<&'r str>> {
    resource.entries().find_map(|entry| match entry {
        Entry::Message(text) if text.id.name == key => text.value.as_ref(),
        _ => None,
    })
}

/// What the language is called by.
pub(super) fn tag(resource: &FluentResource) -> Option<LanguageIdentifier> {
    plain(pattern(resource, TAG)?)?.trim().parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use fluent_syntax::ast::{Message, Term};

    /// Texts and terms by their keys, without the remarks above them.
    fn bare(resource: &FluentResource) -> Vec<(String, Entry<&str>)> {
        let said = resource.entries().filter_map(|entry| match entry.clone() {
            Entry::Message(text) => {
                Some((text.id.name.to_owned(), Entry::Message(Message { comment: None, ..text })))
            }
            Entry::Term(term) => {
                Some((format!("-{}", term.id.name), Entry::Term(Term { comment: None, ..term })))
            }
            _ => None,
        });
        said.collect()
    }

    // The library reads each entry, taken out of the file by itself, as it reads it in the whole.
    #[test]
    fn an_entry_by_itself_is_what_it_is_in_the_file() {
        let whole = resource(crate::language::BRITISH).unwrap();
        let alone: Vec<_> = entries(crate::language::BRITISH).collect();
        assert_eq!(alone.len(), bare(&whole).len());
        for ((key, text), entry) in alone.into_iter().zip(bare(&whole)) {
            let alone = resource(text).unwrap();
            assert_eq!(key, entry.0);
            assert_eq!(bare(&alone), [entry]);
        }
    }
}
