//! What a room has to tell, before it is known in which language.

use super::Language;
use schemars::{JsonSchema, Schema, SchemaGenerator};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::fmt;

/// A text that is told by whoever knows the language.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
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
}

/// What the joiner calls a thing, as a clamp; where he gives it no name, a word of the program's. The one goes through
/// every language as it is, the other does not; that this has no `Display` keeps it out of the program's own names.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Called(Text);

impl Called {
    /// By the name that he gave, or else by the word of that key.
    pub fn new(given: Option<&String>, key: &'static str) -> Called {
        Called(given.map_or_else(|| Text::Keyed(key, Vec::new()), Text::given))
    }

    /// As a text.
    pub fn text(&self) -> Text {
        self.0.clone()
    }
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

impl From<&str> for Called {
    fn from(given: &str) -> Called {
        Called(Text::given(given))
    }
}

/// A text in British words, for a report, and as it is told to people.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Said {
    /// In British words.
    pub british: String,
    /// In those of the language.
    pub told: String,
}

impl Said {
    /// In the words of `language`.
    pub fn of(text: &Text, language: &Language) -> Said {
        Said { british: text.to_string(), told: language.say(text) }
    }
}

/// For a report.
///
/// # Errors
/// Where it cannot be written.
pub fn in_british<S: Serializer>(all: &[Said], to: S) -> Result<S::Ok, S::Error> {
    to.collect_seq(all.iter().map(|one| &one.british))
}

impl Text {
    /// A name that the program gives.
    pub fn name(name: impl Into<String>) -> Text {
        Text::Name(name.into())
    }

    /// A figure, or a name that the joiner has given.
    pub fn given(given: impl Into<String>) -> Text {
        Text::Given(given.into())
    }

    /// The text of a key that asks for no value.
    pub fn of(key: &'static str) -> Text {
        Text::Keyed(key, Vec::new())
    }

    /// Several, each for itself: `this; that; another`.
    pub fn each(all: &[Text]) -> Text {
        Text::joined(all, "list-then")
    }

    /// Several in a row: `this, that, another`.
    pub fn listed(all: &[Text]) -> Text {
        Text::joined(all, "list-comma")
    }

    fn joined(all: &[Text], key: &'static str) -> Text {
        let row = all.iter().cloned().reduce(|one, other| text!(key, one, other));
        row.unwrap_or_else(|| Text::given(""))
    }

    /// With one more sentence behind it.
    #[must_use]
    pub fn and(self, more: Text) -> Text {
        match self {
            Text::Row(mut all) => {
                all.push(more);
                Text::Row(all)
            }
            one => Text::Row(vec![one, more]),
        }
    }
}

/// A figure as it is told: one that is rounded to nought has no sign.
pub fn figure(written: &str) -> &str {
    match written.strip_prefix('-') {
        Some(nought) if nought.starts_with('0') && nought.bytes().all(|b| b"0.".contains(&b)) => {
            nought
        }
        _ => written,
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
        self.as_str().value()
    }
}

impl Value for &str {
    fn value(self) -> Text {
        Text::given(figure(self))
    }
}

impl<T: Value + Clone> Value for &T {
    fn value(self) -> Text {
        self.clone().value()
    }
}

impl Value for usize {
    fn value(self) -> Text {
        Text::Count(self)
    }
}

/// In a report, which is in British words.
impl Serialize for Text {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_str(self)
    }
}

/// Of a report that was written before nothing is left but its words.
impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Text, D::Error> {
        String::deserialize(from).map(Text::Given)
    }
}

impl JsonSchema for Text {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        String::schema_name()
    }

    fn json_schema(schemas: &mut SchemaGenerator) -> Schema {
        String::json_schema(schemas)
    }
}

/// As its British words are.
impl PartialEq<&str> for Text {
    fn eq(&self, words: &&str) -> bool {
        self.to_string() == **words
    }
}

/// In British words.
impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&Language::british().say(self))
    }
}
