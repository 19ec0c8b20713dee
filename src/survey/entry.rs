//! What can stand behind a key, and the macro that declares the tables of the file. One declaration
//! gives the reader and the JSON Schema, so neither can know a key that the other does not.

use super::asked::Asked;
use super::reader::{Node, Reader, Seen};
use serde_json::{Value, json};
use std::marker::PhantomData;
use toml::de::DeValue;

/// Something that can stand behind a key.
pub(super) trait Entry {
    /// What is read from it.
    type Value;

    /// Whether it is told in a few words what stands here; lists and tables are not.
    const PLAIN: bool = true;

    /// Reads it, or notes what is wrong.
    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<Self::Value>;

    /// What is expected, in words: `a length from 10 mm to 200 mm`.
    fn expected() -> String;

    /// Its JSON Schema.
    fn schema() -> Value;

    /// Notes the keys within it, where it holds any; `path` is the way to it.
    fn gather(path: &str, found: &mut Vec<Asked>) {
        let _ = (path, found);
    }
}

/// Whether a key must be there, and what holds where it is not.
#[derive(Debug, Clone, Copy)]
pub(super) enum Presence {
    /// It must be there.
    Needed,
    /// Otherwise this value, written in TOML.
    Usual(&'static str),
    /// Otherwise what these words say.
    Otherwise(&'static str),
}

/// A key of a table.
#[derive(Debug, Clone, Copy)]
pub(super) struct Key {
    pub(super) name: &'static str,
    /// Other spellings that are understood.
    pub(super) aliases: &'static [&'static str],
    pub(super) about: &'static str,
    pub(super) presence: Presence,
}

/// Reads `node` as `E`, with its place.
pub(super) fn seen<E: Entry>(node: &Node<'_>, reader: &mut Reader) -> Option<Seen<E::Value>> {
    let place = reader.place(node.span());
    E::read(node, reader).map(|value| Seen { value, place })
}

/// Notes that `node` is not what `E` expects.
pub(super) fn wrong<E: Entry>(node: &Node<'_>, reader: &mut Reader) {
    reader.refuse(node.span(), E::expected(), None);
}

/// A list.
pub(super) struct Many<E>(PhantomData<E>);

impl<E: Entry> Entry for Many<E> {
    type Value = Vec<Seen<E::Value>>;

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<Self::Value> {
        let DeValue::Array(items) = node.get_ref() else {
            let hint = matches!(node.get_ref(), DeValue::Table(_))
                .then(|| "write double brackets, [[…]], or put the inline table in [ ]".to_owned());
            reader.refuse(node.span(), Self::expected(), hint);
            // Its content may hold mistakes of its own.
            if node.get_ref().is_table() {
                E::read(node, reader);
            }
            return None;
        };
        let mut whole = Vec::new();
        for (index, item) in items.iter().enumerate() {
            whole.extend(reader.inside(format!("[{}]", index + 1), |r| seen::<E>(item, r)));
        }
        Some(whole)
    }

    fn expected() -> String {
        format!("a list, each part {}", E::expected())
    }

    fn schema() -> Value {
        json!({ "type": "array", "items": E::schema() })
    }

    fn gather(path: &str, found: &mut Vec<Asked>) {
        E::gather(&format!("{path}[]"), found);
    }
}

/// A list that is of use only whole.
pub(super) struct All<E>(PhantomData<E>);

impl<E: Entry> Entry for All<E> {
    type Value = Vec<Seen<E::Value>>;

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<Self::Value> {
        let wanted = node.get_ref().as_array().map(|items| items.len());
        Many::<E>::read(node, reader).filter(|read| Some(read.len()) == wanted)
    }

    fn expected() -> String {
        Many::<E>::expected()
    }

    fn schema() -> Value {
        Many::<E>::schema()
    }

    fn gather(path: &str, found: &mut Vec<Asked>) {
        Many::<E>::gather(path, found);
    }
}

/// Two of a kind in a list: a point, or a size.
pub(super) struct Pair<E>(PhantomData<E>);

impl<E: Entry> Entry for Pair<E> {
    type Value = [E::Value; 2];

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<Self::Value> {
        let items = node.get_ref().as_array().map(AsRef::as_ref);
        let Some([first, second]) = items else {
            wrong::<Self>(node, reader);
            return None;
        };
        let first = reader.inside("[1]".to_owned(), |reader| E::read(first, reader));
        let second = reader.inside("[2]".to_owned(), |reader| E::read(second, reader));
        Some([first?, second?])
    }

    fn expected() -> String {
        format!("a pair in brackets, both {}", E::expected())
    }

    fn schema() -> Value {
        json!({ "type": "array", "items": E::schema(), "minItems": 2, "maxItems": 2 })
    }
}

/// Two or three of a kind in a list: both ends, and the middle between them.
pub(super) struct Few<E>(PhantomData<E>);

impl<E: Entry> Entry for Few<E> {
    type Value = Vec<Seen<E::Value>>;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<Self::Value> {
        if node.get_ref().as_array().is_none_or(|items| !(2..=3).contains(&items.len())) {
            wrong::<Self>(node, reader);
            return None;
        }
        All::<E>::read(node, reader)
    }

    fn expected() -> String {
        format!("two or three values in brackets, each {}", E::expected())
    }

    fn schema() -> Value {
        json!({ "type": "array", "items": E::schema(), "minItems": 2, "maxItems": 3 })
    }
}

/// One value, or a pair of them.
pub(super) struct OneOrTwo<E>(PhantomData<E>);

impl<E: Entry> Entry for OneOrTwo<E>
where
    E::Value: Copy,
{
    type Value = [E::Value; 2];

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<Self::Value> {
        if node.get_ref().is_array() {
            return Pair::<E>::read(node, reader);
        }
        E::read(node, reader).map(|value| [value, value])
    }

    fn expected() -> String {
        E::expected()
    }

    fn schema() -> Value {
        json!({ "anyOf": [E::schema(), Pair::<E>::schema()] })
    }
}

/// The JSON Schema of a table.
pub(super) fn table_schema(about: &str, keys: &[(Key, Value)]) -> Value {
    let mut properties = serde_json::Map::new();
    let mut required = Vec::new();
    let mut either = Vec::new();
    for (key, schema) in keys {
        let mut schema = schema.clone();
        if let Some(fields) = schema.as_object_mut() {
            let mut about = tidy(key.about);
            match key.presence {
                Presence::Needed => {}
                Presence::Usual(value) => {
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
pub(super) fn tidy(about: &str) -> String {
    about.split_whitespace().collect::<Vec<_>>().join(" ")
}
