//! What can stand behind a key: how it is read, what is expected there in words, and its JSON Schema.

use super::length::unit_at_end;
use super::reader::{Node, Reader, Spanned};
use serde_json::{Value, json};
use std::borrow::Cow;
use std::collections::BTreeMap;
use std::marker::PhantomData;
use toml::de::DeValue;

/// A key that takes a value, not a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct DeclaredKey {
    /// The way to it, a list marked with brackets: `shelves[].holes[].depth`.
    pub path: String,
    /// What stands there, in a sentence.
    pub about: String,
    /// Whether its table is of no use without it.
    pub needed: bool,
    /// Its default as TOML writes it, where it has one of its own.
    pub default: Option<&'static str>,
    /// What holds without it, in words, where that is no default of its own.
    pub otherwise: Option<&'static str>,
    /// Whether it is a length, which may name its unit.
    pub is_length: bool,
    /// Other spellings that are understood, of it and of the tables that it stands in, each with the usual one.
    pub spellings: Vec<(&'static str, &'static str)>,
}

/// Something that can stand behind a key.
pub trait Entry {
    /// What is read from it.
    type Value;

    /// Whether [`Entry::expected`] is short enough to stand with a key that is missing; of lists and
    /// tables it is not.
    const PLAIN: bool = true;

    /// Whether it is a length, which may name its unit.
    const IS_LENGTH: bool = false;

    /// Reads it, or notes what is wrong.
    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value>;

    /// What is expected, in words: `a length from 10 mm to 200 mm`.
    fn expected() -> String;

    /// Its JSON Schema.
    fn schema() -> Value;

    /// Adds the keys within it to `found`, where it holds any; `path` is the way to it.
    fn list_keys(path: &str, found: &mut Vec<DeclaredKey>) {
        let _ = (path, found);
    }
}

/// Reads `node` as `E`, with its place.
pub fn spanned<E: Entry>(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Spanned<E::Value>> {
    let place = reader.place(node.span());
    E::read(node, reader).map(|value| Spanned { value, place })
}

/// Notes that `node` is not what `E` expects.
pub fn refuse<E: Entry>(node: &Node<'_>, reader: &mut Reader<'_>) {
    reader.refuse(node.span(), E::expected(), None);
}

/// Reads the part of a list at `index`, from 0.
pub fn part<E: Entry>(
    items: &[Node<'_>],
    index: usize,
    reader: &mut Reader<'_>,
) -> Option<E::Value> {
    let item = items.get(index)?;
    reader.inside(format!("[{}]", index + 1), |reader| E::read(item, reader))
}

/// The parts of a list. Where the last names its unit, that holds for every plain number beside it, as in
/// speech: `[56, "78 cm"]` are both in centimetres.
fn in_one_unit<'n, 't, E: Entry>(items: &'n [Node<'t>]) -> Cow<'n, [Node<'t>]> {
    let last = items.last().filter(|_| E::IS_LENGTH && items.len() > 1);
    let unit = last.and_then(|last| unit_at_end(last.get_ref().as_str()?));
    let Some(unit) = unit else { return Cow::Borrowed(items) };
    let named = items.iter().map(|item| match item.get_ref() {
        DeValue::Integer(number) if number.radix() == 10 => named(item, number.as_str(), unit),
        DeValue::Float(number) => named(item, number.as_str(), unit),
        _ => item.clone(),
    });
    Cow::Owned(named.collect())
}

fn named<'t>(item: &Node<'t>, number: &str, unit: &str) -> Node<'t> {
    Node::new(item.span(), DeValue::String(format!("{number} {unit}").into()))
}

/// Reads the first two parts of a list as a pair.
pub fn pair<E: Entry>(items: &[Node<'_>], reader: &mut Reader<'_>) -> Option<[E::Value; 2]> {
    let both = in_one_unit::<E>(items.get(..2)?);
    let (first, second) = (part::<E>(&both, 0, reader), part::<E>(&both, 1, reader));
    Some([first?, second?])
}

/// A list.
pub struct Many<E>(PhantomData<E>);

impl<E: Entry> Entry for Many<E> {
    type Value = Vec<Spanned<E::Value>>;

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value> {
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
        // A list of large tables would otherwise take twice its room while it grows.
        let mut whole = Vec::with_capacity(items.len());
        for (index, item) in in_one_unit::<E>(items).iter().enumerate() {
            whole.extend(reader.inside(format!("[{}]", index + 1), |r| spanned::<E>(item, r)));
        }
        Some(whole)
    }

    fn expected() -> String {
        format!("a list, each part {}", E::expected())
    }

    fn schema() -> Value {
        json!({ "type": "array", "items": E::schema() })
    }

    fn list_keys(path: &str, found: &mut Vec<DeclaredKey>) {
        E::list_keys(&format!("{path}[]"), found);
    }
}

/// Parts under names of the writer's own.
pub struct Named<E>(PhantomData<E>);

/// Longest such name, characters.
const LONGEST_NAME: usize = 40;

impl<E: Entry> Entry for Named<E> {
    type Value = BTreeMap<String, Spanned<E::Value>>;

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value> {
        let DeValue::Table(table) = node.get_ref() else {
            refuse::<Self>(node, reader);
            return None;
        };
        let mut whole = BTreeMap::new();
        for (name, part) in table {
            let word: &str = name.get_ref();
            let shape = |b: u8| b.is_ascii_alphanumeric() || b == b'-' || b == b'_';
            if !(1..=LONGEST_NAME).contains(&word.len()) || !word.bytes().all(shape) {
                reader.refuse(name.span(), Self::expected(), None);
                continue;
            }
            let read = reader.inside(format!(".{word}"), |reader| spanned::<E>(part, reader));
            whole.extend(read.map(|read| (word.to_owned(), read)));
        }
        Some(whole)
    }

    fn expected() -> String {
        format!(
            "tables under names of your own, of 1 to {LONGEST_NAME} letters, digits and hyphens"
        )
    }

    fn schema() -> Value {
        json!({
            "type": "object",
            "additionalProperties": E::schema(),
            "propertyNames": { "pattern": format!("^[A-Za-z0-9_-]{{1,{LONGEST_NAME}}}$") },
        })
    }
}

/// A list that is of use only whole.
pub struct All<E>(PhantomData<E>);

impl<E: Entry> Entry for All<E> {
    type Value = Vec<Spanned<E::Value>>;

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value> {
        let wanted = node.get_ref().as_array().map(|items| items.len());
        Many::<E>::read(node, reader).filter(|read| Some(read.len()) == wanted)
    }

    fn expected() -> String {
        Many::<E>::expected()
    }

    fn schema() -> Value {
        Many::<E>::schema()
    }

    fn list_keys(path: &str, found: &mut Vec<DeclaredKey>) {
        Many::<E>::list_keys(path, found);
    }
}

/// Two of a kind in a list: a point, or a size.
pub struct Pair<E>(PhantomData<E>);

impl<E: Entry> Entry for Pair<E> {
    type Value = [E::Value; 2];

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value> {
        let Some(items @ [_, _]) = node.get_ref().as_array().map(AsRef::as_ref) else {
            refuse::<Self>(node, reader);
            return None;
        };
        pair::<E>(items, reader)
    }

    fn expected() -> String {
        format!("a pair in brackets, both {}", E::expected())
    }

    fn schema() -> Value {
        json!({ "type": "array", "items": E::schema(), "minItems": 2, "maxItems": 2 })
    }
}

/// Two or three of a kind in a list: both ends, and the middle between them.
pub struct Few<E>(PhantomData<E>);

impl<E: Entry> Entry for Few<E> {
    type Value = Vec<Spanned<E::Value>>;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value> {
        if node.get_ref().as_array().is_none_or(|items| !(2..=3).contains(&items.len())) {
            refuse::<Self>(node, reader);
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
pub struct OneOrTwo<E>(PhantomData<E>);

impl<E: Entry> Entry for OneOrTwo<E>
where
    E::Value: Copy,
{
    type Value = [E::Value; 2];

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Self::Value> {
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
