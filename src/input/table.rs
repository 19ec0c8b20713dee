//! Tables: one declaration gives the struct of what was read, its reader, its JSON Schema and the list of
//! its keys, so that none of them can know a key that another does not.

use super::entry::{DeclaredKey, Entry, spanned};
use super::reader::{Node, Place, Reader, Spanned};
use serde_json::{Value, json};
use toml::de::{DeTable, DeValue};

/// Whether a key must be there, and what holds where it is not.
#[derive(Debug, Clone, Copy)]
pub enum Presence {
    /// It must be there.
    Needed,
    /// Otherwise this value, written in TOML.
    Default(&'static str),
    /// Otherwise what these words say.
    Otherwise(&'static str),
}

/// A key of a table.
#[derive(Debug, Clone, Copy)]
pub struct Key {
    /// Its usual spelling.
    pub name: &'static str,
    /// Other spellings that are understood.
    pub aliases: &'static [&'static str],
    /// What stands there, in a sentence.
    pub about: &'static str,
    /// Whether it must be there.
    pub presence: Presence,
}

/// A table being read.
pub struct Open<'n, 't> {
    table: &'n DeTable<'t>,
    place: Place,
}

impl<'n, 't> Open<'n, 't> {
    /// Opens `node` and notes every key that is not in `known`.
    pub fn new(
        node: &'n Node<'t>,
        known: &[Key],
        expected: fn() -> String,
        reader: &mut Reader<'_>,
    ) -> Option<Open<'n, 't>> {
        let DeValue::Table(table) = node.get_ref() else {
            let written = node.get_ref().as_str().unwrap_or_default();
            let cure = reader.cure(&reader.place(node.span()).key, written);
            reader.refuse(node.span(), expected(), cure);
            return None;
        };
        let is_known =
            |word: &str| known.iter().any(|key| key.name == word || key.aliases.contains(&word));
        for word in table.keys().filter(|word| !is_known(word.get_ref())) {
            let names: Vec<&str> = known.iter().map(|key| key.name).collect();
            reader.unknown_key(word.span(), word.get_ref(), &names);
        }
        Some(Open { table, place: reader.place(node.span()) })
    }

    /// Reads the value of `key`, under whichever spelling it stands.
    pub fn take<E: Entry>(&self, key: &Key, reader: &mut Reader<'_>) -> Option<Spanned<E::Value>> {
        let expected: Option<fn() -> String> = E::PLAIN.then_some(E::expected);
        let node = self.find(key, expected, reader)?;
        reader.inside(format!(".{}", key.name), |reader| spanned::<E>(node, reader))
    }

    /// What stands behind `key`; `expected` says what should, where that is short. Apart from [`Open::take`],
    /// so that it is not built anew for every kind of entry.
    fn find(
        &self,
        key: &Key,
        expected: Option<fn() -> String>,
        reader: &mut Reader<'_>,
    ) -> Option<&'n Node<'t>> {
        let spelled = std::iter::once(&key.name).chain(key.aliases);
        let mut nodes = spelled.filter_map(|name| Some((name, self.table.get(*name)?)));
        let Some((name, node)) = nodes.next() else {
            if matches!(key.presence, Presence::Needed) {
                let about = tidy(key.about);
                let mut about = about.trim_end_matches('.').to_owned();
                if let Some(first) = about.get_mut(..1) {
                    first.make_ascii_lowercase();
                }
                if let Some(expected) = expected {
                    about = format!("{about} ({})", expected());
                }
                reader.missing(&self.place, key.name, &about);
            }
            return None;
        };
        for (other, again) in nodes {
            let expected = format!("one of `{name}` and `{other}`, which mean the same");
            reader.inside(format!(".{}", key.name), |r| r.refuse(again.span(), expected, None));
        }
        Some(node)
    }
}

/// A default as a table writes it.
pub trait FromLiteral<L> {
    /// The value that the literal stands for.
    fn from_literal(literal: L) -> Self;
}

impl FromLiteral<i32> for f64 {
    fn from_literal(literal: i32) -> f64 {
        f64::from(literal)
    }
}

impl FromLiteral<f64> for f64 {
    fn from_literal(literal: f64) -> f64 {
        literal
    }
}

impl FromLiteral<u32> for u32 {
    fn from_literal(literal: u32) -> u32 {
        literal
    }
}

impl FromLiteral<bool> for bool {
    fn from_literal(literal: bool) -> bool {
        literal
    }
}

/// Tables whose keys can be filled in from another table of the same kind.
pub trait Fill: Sized {
    /// Fills every missing key from `usual`.
    #[must_use]
    fn fill(self, usual: &Self) -> Self;
}

impl<T: Fill> Fill for Box<T> {
    fn fill(self, usual: &Self) -> Self {
        Box::new((*self).fill(usual))
    }
}

impl<T: Fill + Clone> Fill for Option<Spanned<T>> {
    fn fill(self, usual: &Self) -> Self {
        match (self, usual) {
            (Some(own), Some(usual)) => Some(own.map(|table| table.fill(&usual.value))),
            (own, usual) => own.or_else(|| usual.clone()),
        }
    }
}

/// The JSON Schema of a table.
pub fn table_schema(about: &str, keys: &[(Key, Value)]) -> Value {
    let mut properties = serde_json::Map::new();
    let mut required = Vec::new();
    let mut either = Vec::new();
    for (key, schema) in keys {
        let mut schema = schema.clone();
        if let Some(fields) = schema.as_object_mut() {
            let mut about = tidy(key.about);
            match key.presence {
                Presence::Needed => {}
                Presence::Default(value) => {
                    // A default that TOML reads and JSON writes; a test holds every one to it.
                    let value = toml::from_str::<toml::Table>(&format!("v = {value}"))
                        .ok()
                        .and_then(|table| serde_json::to_value(table.get("v")?).ok());
                    fields.insert("default".into(), value.unwrap_or_default());
                }
                Presence::Otherwise(words) => about = format!("{about} Without it: {words}."),
            }
            fields.insert("description".into(), about.into());
        }
        for alias in key.aliases {
            let mut spelled = schema.clone();
            if let Some(fields) = spelled.as_object_mut() {
                let about = format!("Another spelling of `{}`.", key.name);
                fields.insert("description".into(), about.into());
            }
            properties.insert((*alias).to_owned(), spelled);
        }
        properties.insert(key.name.to_owned(), schema);
        if matches!(key.presence, Presence::Needed) {
            if key.aliases.is_empty() {
                required.push(json!(key.name));
            } else {
                let names = std::iter::once(&key.name).chain(key.aliases);
                let ways: Vec<Value> = names.map(|name| json!({ "required": [name] })).collect();
                either.push(json!({ "anyOf": ways }));
            }
        }
    }
    let mut schema = json!({
        "type": "object",
        "description": tidy(about),
        "properties": properties,
        "additionalProperties": false,
    });
    if let Some(fields) = schema.as_object_mut() {
        if !required.is_empty() {
            fields.insert("required".into(), required.into());
        }
        if !either.is_empty() {
            fields.insert("allOf".into(), either.into());
        }
    }
    schema
}

/// A doc comment as one line of text.
fn tidy(about: &str) -> String {
    about.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Adds `key` under `path` to `found`, or the keys within it.
pub fn list_key<E: Entry>(path: &str, key: &Key, found: &mut Vec<DeclaredKey>) {
    list(path, key, E::IS_LENGTH, E::list_keys, found);
}

/// [`list_key`] of an entry that lists what it holds by `list_keys`; built once, not for every entry.
fn list(
    path: &str,
    key: &Key,
    is_length: bool,
    list_keys: fn(&str, &mut Vec<DeclaredKey>),
    found: &mut Vec<DeclaredKey>,
) {
    let dot = if path.is_empty() { "" } else { "." };
    let path = format!("{path}{dot}{}", key.name);
    let before = found.len();
    list_keys(&path, found);
    if found.len() == before {
        found.push(DeclaredKey {
            path,
            about: tidy(key.about),
            needed: matches!(key.presence, Presence::Needed),
            default: match key.presence {
                Presence::Default(value) => Some(value),
                Presence::Needed | Presence::Otherwise(_) => None,
            },
            otherwise: match key.presence {
                Presence::Otherwise(words) => Some(words),
                Presence::Needed | Presence::Default(_) => None,
            },
            is_length,
            spellings: Vec::new(),
        });
    }
    for own in found.iter_mut().skip(before) {
        own.spellings.extend(key.aliases.iter().map(|alias| (*alias, key.name)));
    }
}

/// Declares a table: a struct of what was read, its reader, its schema and its keys.
///
/// After each key comes `needed`, `default` with a number, `default "toml" = value` (as TOML writes it and
/// as Rust does), or `otherwise "words"` (what holds without it). A key with a default has a method of its
/// name, which gives what was read or the default.
macro_rules! table {
    (@presence needed) => { $crate::input::Presence::Needed };
    (@presence default $value:literal) => {
        $crate::input::Presence::Default(stringify!($value))
    };
    (@presence default $words:literal = $value:expr) => {
        $crate::input::Presence::Default($words)
    };
    (@presence otherwise $words:literal) => { $crate::input::Presence::Otherwise($words) };
    (@default $key:ident $entry:ty, default $value:literal) => {
        $crate::input::table!(@default $key $entry, default "" =
            <<$entry as $crate::input::Entry>::Value as $crate::input::FromLiteral<_>>::from_literal($value));
    };
    (@default $key:ident $entry:ty, default $words:literal = $value:expr) => {
        /// What was read, or the default.
        #[allow(
            dead_code,
            clippy::wrong_self_convention,
            reason = "not every default is asked for by itself; a key may begin with `from`"
        )]
        pub(crate) fn $key(&self) -> <$entry as $crate::input::Entry>::Value {
            self.$key.as_ref().map_or_else(|| $value, |spanned| spanned.value.clone())
        }
    };
    (@default $key:ident $entry:ty, $presence:ident $($words:literal)?) => {};
    (@key $key:ident [$($alias:literal)*] [$($about:literal)+] $($presence:tt)+) => {
        $crate::input::Key {
            name: stringify!($key),
            aliases: &[$($alias),*],
            about: concat!($($about, "\n"),+),
            presence: $crate::input::table!(@presence $($presence)+),
        }
    };
    (
        $(#[doc = $doc:literal])+
        $table:ident {
            $(
                $(#[doc = $about:literal])+
                $key:ident $(| $alias:literal)* : $entry:ty,
                    $presence:ident $($value:literal $(= $default:expr)?)?;
            )+
        }
    ) => {
        $(#[doc = $doc])+
        #[derive(Debug, Clone, Default)]
        pub(crate) struct $table {
            $(
                $(#[doc = $about])+
                pub(crate) $key: Option<$crate::input::Spanned<
                    <$entry as $crate::input::Entry>::Value>>,
            )+
        }

        impl $table {
            const KEYS: &'static [$crate::input::Key] = &[
                $($crate::input::table!(
                    @key $key [$($alias)*] [$($about)+] $presence $($value $(= $default)?)?)),+
            ];

            $($crate::input::table!(@default $key $entry, $presence $($value $(= $default)?)?);)+
        }

        impl $crate::input::Entry for $table {
            // Most keys of most tables are not there: a table within another takes no room until it is.
            type Value = Box<$table>;

            const PLAIN: bool = false;

            fn read(
                node: &$crate::input::Node<'_>,
                reader: &mut $crate::input::Reader<'_>,
            ) -> Option<Box<$table>> {
                let open = $crate::input::Open::new(
                    node, Self::KEYS, Self::expected, reader)?;
                let [$($key),+] = Self::KEYS else { return None };
                Some(Box::new($table { $($key: open.take::<$entry>($key, reader),)+ }))
            }

            fn expected() -> String {
                let keys: Vec<&str> = Self::KEYS.iter().map(|key| key.name).collect();
                format!("a table with {}", keys.join(", "))
            }

            fn schema() -> serde_json::Value {
                let schemas = [$(<$entry as $crate::input::Entry>::schema()),+];
                let keys: Vec<_> = Self::KEYS.iter().copied().zip(schemas).collect();
                $crate::input::table_schema(concat!($($doc, "\n"),+), &keys)
            }

            fn list_keys(path: &str, found: &mut Vec<$crate::input::DeclaredKey>) {
                let [$($key),+] = Self::KEYS else { return };
                $($crate::input::list_key::<$entry>(path, $key, found);)+
            }
        }

        impl $crate::input::Fill for $table {
            fn fill(self, usual: &Self) -> Self {
                $table { $($key: self.$key.or_else(|| usual.$key.clone()),)+ }
            }
        }
    };
}

pub(crate) use table;
