//! What a room has to tell, before it is known in which language.

use super::Language;
use serde::Serializer;
use std::fmt;

/// A text that is told by whoever knows the language.
#[derive(Debug, Clone, PartialEq)]
pub enum Text {
    /// That of a key, with the values that it asks for by their names.
    Keyed(&'static str, Vec<(&'static str, Text)>),
    /// A name that the program has given, as of a member.
    Name(String),
    /// A figure, or a name that the joiner has given.
    Given(String),
    /// A number that a plural goes by.
    Count(usize),
    /// Sentences in a row.
    Row(Vec<Text>),
    /// A sentence that has no key yet.
    English(String),
}

/// `text!("key", depth, wood = format!("{wood:.1}"))`: the text of a key, told later, with its values, each by the name
/// that it has in the text.
macro_rules! text {
    ($key:expr $(, $name:ident $(= $value:expr)?)* $(,)?) => {
        $crate::language::Text::Keyed(
            $key,
            vec![$((stringify!($name), $crate::language::text!(@ $name $(= $value)?))),*],
        )
    };
    (@ $name:ident = $value:expr) => { $crate::language::Value::value($value) };
    (@ $name:ident) => { $crate::language::Value::value($name) };
}
pub(crate) use text;

impl Text {
    /// With one more sentence behind it.
    #[must_use]
    pub fn and(self, more: impl Into<Text>) -> Text {
        match self {
            Text::Row(mut all) => {
                all.push(more.into());
                Text::Row(all)
            }
            one => Text::Row(vec![one, more.into()]),
        }
    }
}

/// `text` with a capital at its head.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let mut out = String::with_capacity(text.len() + 1);
    out.extend(letters.next().into_iter().flat_map(char::to_uppercase));
    out.push_str(letters.as_str());
    out
}

/// `text` with a capital and a full stop.
pub fn sentence(text: &str) -> String {
    let text = text.trim_end_matches('.');
    if text.is_empty() { String::new() } else { capital(text) + "." }
}

/// What stands in a text as a value.
pub trait Value {
    /// As it is; a count as one.
    fn value(self) -> Text;
}

impl Value for Text {
    fn value(self) -> Text {
        self
    }
}

impl Value for String {
    fn value(self) -> Text {
        Text::Given(self)
    }
}

impl Value for &str {
    fn value(self) -> Text {
        Text::Given(self.to_owned())
    }
}

impl Value for usize {
    fn value(self) -> Text {
        Text::Count(self)
    }
}

impl From<String> for Text {
    fn from(words: String) -> Text {
        Text::English(words)
    }
}

impl From<&str> for Text {
    fn from(words: &str) -> Text {
        Text::English(words.to_owned())
    }
}

/// For a report, which is in British words.
///
/// # Errors
/// Where it cannot be written.
pub fn in_english<S: Serializer>(text: &Text, to: S) -> Result<S::Ok, S::Error> {
    to.collect_str(text)
}

/// In British words.
impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&Language::british().say(self))
    }
}
