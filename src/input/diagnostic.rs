//! A mistake in a file, reported so that whoever wrote the file finds and mends it.

use super::source::{Excerpt, Source};
use serde::Serialize;
use std::fmt;
use std::ops::Range;

/// One mistake: where it is, what stands there, and what was expected.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Diagnostic {
    /// The file's name as it was given.
    pub file: String,
    /// Line, from 1.
    pub line: usize,
    /// Column, from 1, counting characters.
    pub column: usize,
    /// Path of the key; lists count from 1: `sash[2].rebate.width`. Empty for a mistake of syntax.
    pub key: String,
    /// What stands in the file; `None` where something is missing.
    pub found: Option<String>,
    /// What was expected instead.
    pub expected: String,
    /// Which parts it touches, where the key alone does not say.
    pub parts: Vec<String>,
    /// How to mend it, if that can be guessed.
    pub hint: Option<String>,
    #[serde(skip)]
    excerpt: Excerpt,
}

impl Diagnostic {
    pub(super) fn new(source: &Source<'_>, span: &Range<usize>, expected: String) -> Diagnostic {
        let (line, column) = source.position(span.start);
        Diagnostic {
            file: source.name.to_owned(),
            line,
            column,
            key: String::new(),
            found: None,
            expected,
            parts: Vec::new(),
            hint: None,
            excerpt: source.excerpt(span),
        }
    }
}

impl fmt::Display for Diagnostic {
    /// `file:line:column: key: found …, expected …`, then the line with carets, then the hint.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}:{}: ", self.file, self.line, self.column)?;
        if !self.key.is_empty() {
            write!(f, "{}: ", self.key)?;
        }
        match &self.found {
            Some(found) => write!(f, "found {found}, expected {}", self.expected)?,
            None => write!(f, "missing, expected {}", self.expected)?,
        }
        if !self.parts.is_empty() {
            write!(f, " (at {})", self.parts.join(", "))?;
        }
        let gutter = self.line.to_string();
        writeln!(f, "\n  {gutter} | {}", self.excerpt.line)?;
        let indent = " ".repeat(gutter.len());
        let before = " ".repeat(self.excerpt.before);
        write!(f, "  {indent} | {before}{}", "^".repeat(self.excerpt.carets))?;
        match &self.hint {
            Some(hint) => write!(f, "\n  {indent} = {hint}"),
            None => Ok(()),
        }
    }
}

/// Every mistake of a file, in the order of the file; at least one. Of a file with more mistakes than
/// anyone mends in one go, the first five hundred and how many more there are.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Diagnostics {
    mistakes: Vec<Diagnostic>,
    unreported: usize,
}

impl Diagnostics {
    /// `None` where there is no mistake.
    pub(super) fn new(mut found: Vec<Diagnostic>, unreported: usize) -> Option<Diagnostics> {
        found.sort_by(|a, b| {
            (a.line, a.column, &a.key, &a.expected).cmp(&(b.line, b.column, &b.key, &b.expected))
        });
        if found.is_empty() { None } else { Some(Diagnostics { mistakes: found, unreported }) }
    }

    /// How many more there are than [`Diagnostics::iter`] gives.
    pub fn unreported(&self) -> usize {
        self.unreported
    }

    /// A single mistake.
    pub(super) fn one(diagnostic: Diagnostic) -> Diagnostics {
        Diagnostics { mistakes: vec![diagnostic], unreported: 0 }
    }

    /// These, and after them those of another file.
    #[must_use]
    pub fn and(mut self, other: Diagnostics) -> Diagnostics {
        self.mistakes.extend(other.mistakes);
        self.unreported += other.unreported;
        self
    }

    /// The mistakes, in the order of the file.
    pub fn iter(&self) -> std::slice::Iter<'_, Diagnostic> {
        self.mistakes.iter()
    }
}

impl<'a> IntoIterator for &'a Diagnostics {
    type Item = &'a Diagnostic;
    type IntoIter = std::slice::Iter<'a, Diagnostic>;

    fn into_iter(self) -> Self::IntoIter {
        self.iter()
    }
}

impl fmt::Display for Diagnostics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, diagnostic) in self.iter().enumerate() {
            if index > 0 {
                f.write_str("\n")?;
            }
            write!(f, "{diagnostic}")?;
        }
        if self.unreported > 0 {
            write!(f, "\nand {} more", self.unreported)?;
        }
        Ok(())
    }
}

impl std::error::Error for Diagnostics {}
