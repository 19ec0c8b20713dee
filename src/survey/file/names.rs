//! Names: of the house and its parts, of a sash, of a timber, and of what lies outside the survey.

use crate::input::{Entry, Node, Reader, choice, is_unseen, nearest, refuse};
use crate::survey::values::{C16, C24, CLASSES, Class, D30, Timber, by_name, species};
use serde_json::{Value, json};

/// A name for people: one line of text.
pub(crate) struct Name;

/// Longest name, characters: it must fit a heading.
const LONGEST_NAME: usize = 120;

impl Entry for Name {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<String> {
        let text = node.get_ref().as_str().map(str::trim);
        let text = text.filter(|text| (1..=LONGEST_NAME).contains(&text.chars().count()));
        let Some(text) = text.filter(|text| !text.contains(char::is_control)) else {
            refuse::<Self>(node, reader);
            return None;
        };
        if refuse_unseen::<Self>(text, node, reader) {
            return None;
        }
        if let Some(letter) = reader.unshown(text) {
            let expected = "a name in Latin, Greek or Cyrillic letters, as the sheets can show it";
            let hint = format!("there is no letter for `{letter}`");
            reader.refuse(node.span(), expected.to_owned(), Some(hint));
            return None;
        }
        Some(text.to_owned())
    }

    fn expected() -> String {
        format!("a name in quotes: one line of 1 to {LONGEST_NAME} characters")
    }

    fn schema() -> Value {
        json!({ "type": "string", "minLength": 1, "maxLength": LONGEST_NAME })
    }
}

/// Notes a character that is not seen in `text`, if there is one: what is read on a sheet would not be what
/// was written.
fn refuse_unseen<E: Entry>(text: &str, node: &Node<'_>, reader: &mut Reader<'_>) -> bool {
    let unseen = text.chars().find(|&letter| is_unseen(letter));
    if let Some(unseen) = unseen {
        let hint = format!(
            "it holds a character that is not seen, U+{:04X}: type the name anew",
            u32::from(unseen)
        );
        reader.refuse(node.span(), E::expected(), Some(hint));
    }
    unseen.is_some()
}

/// The id of a sash, which also names its folder.
pub(crate) struct Id;

/// Longest id, characters.
pub(crate) const LONGEST_ID: usize = 40;

/// Names that some systems keep for devices and refuse as folders.
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

impl Entry for Id {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<String> {
        let text = node.get_ref().as_str().unwrap_or_default();
        let shape = (1..=LONGEST_ID).contains(&text.len())
            && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-')
            && !text.starts_with('-')
            && !text.ends_with('-');
        let port = text.strip_prefix("com").or(text.strip_prefix("lpt"));
        let numbered = port.is_some_and(|rest| rest.len() == 1 && rest != "-");
        if !shape {
            refuse::<Self>(node, reader);
        } else if DEVICES.contains(&text) || numbered {
            let hint = "some systems keep this word for a device: no folder can bear it".to_owned();
            reader.refuse(node.span(), Self::expected(), Some(hint));
        } else {
            return Some(text.to_owned());
        }
        None
    }

    fn expected() -> String {
        format!(
            "an id of 1 to {LONGEST_ID} lower-case letters, digits and hyphens, such as \"kitchen-1\""
        )
    }

    fn schema() -> Value {
        json!({ "type": "string", "pattern": "^[a-z0-9]([a-z0-9-]*[a-z0-9])?$", "maxLength": LONGEST_ID })
    }
}

/// The name of a profile of the survey.
pub(crate) struct ProfileName;

impl Entry for ProfileName {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<String> {
        line::<Self>(node, reader).map(str::to_owned)
    }

    fn expected() -> String {
        "the name of a profile of this survey, in quotes".to_owned()
    }

    fn schema() -> Value {
        json!({ "type": "string", "minLength": 1, "maxLength": LONGEST })
    }
}

/// The name of a timber.
pub(crate) struct TimberName;

impl Entry for TimberName {
    type Value = Timber;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<Timber> {
        let name = node.get_ref().as_str().unwrap_or_default();
        let timber = by_name(name);
        if timber.is_none() {
            let near = nearest(name, timbers());
            let hint = match near {
                Some(near) => format!("did you mean \"{near}\"?"),
                None => "\"unknown-softwood\" is the cautious choice".to_owned(),
            };
            reader.refuse(node.span(), Self::expected(), Some(hint));
        }
        timber
    }

    fn expected() -> String {
        let names: Vec<String> = species().map(|s| format!("\"{}\"", s.name)).collect();
        format!("one of {}", names.join(", "))
    }

    fn schema() -> Value {
        let names: Vec<&str> = timbers().collect();
        json!({ "enum": names })
    }
}

/// What a timber may be called: its species, or, as surveys once wrote, its class alone.
fn timbers() -> impl Iterator<Item = &'static str> {
    species().map(|species| species.name).chain(CLASSES.map(|class| class.name))
}

choice! {
    ClassWord: Class {
        "c16" => C16;
        "c24" => C24;
        "d30" => D30;
    }
}

/// Longest name of a file or a layer, characters: the longest that the DXF reference lets a layer have.
const LONGEST: usize = 255;

/// The one line of text behind `node`; notes where it is none.
fn line<'n, E: Entry>(node: &'n Node<'_>, reader: &mut Reader<'_>) -> Option<&'n str> {
    let text = node.get_ref().as_str();
    let text = text.filter(|text| (1..=LONGEST).contains(&text.chars().count()));
    let text = text.filter(|text| !text.contains(char::is_control));
    if text.is_none() {
        refuse::<E>(node, reader);
    }
    text
}

/// A file, named from the survey's folder on; so a folder that moves takes its drawings along.
pub(crate) struct FileName;

impl Entry for FileName {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<String> {
        let text = line::<Self>(node, reader)?;
        if refuse_unseen::<Self>(text, node, reader) {
            return None;
        }
        let whole = text.starts_with('/') || text.contains(':');
        if whole || text.contains('\\') {
            let hint = if whole {
                "name it from the folder of the survey on, so that both can be moved together"
            } else {
                "write forward slashes: every system understands them"
            };
            reader.refuse(node.span(), Self::expected(), Some(hint.to_owned()));
            return None;
        }
        Some(text.to_owned())
    }

    fn expected() -> String {
        "the name of a file beside the survey, in quotes, such as \"fanlight.dxf\"".to_owned()
    }

    fn schema() -> Value {
        json!({ "type": "string", "minLength": 1, "maxLength": LONGEST, "pattern": "^[^/:\\\\][^:\\\\]*$" })
    }
}

/// A layer of a drawing.
pub(crate) struct LayerName;

impl Entry for LayerName {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader<'_>) -> Option<String> {
        let text = line::<Self>(node, reader)?;
        (!refuse_unseen::<Self>(text, node, reader)).then(|| text.to_owned())
    }

    fn expected() -> String {
        format!("the name of a layer in quotes: one line of 1 to {LONGEST} characters")
    }

    fn schema() -> Value {
        json!({ "type": "string", "minLength": 1, "maxLength": LONGEST })
    }
}
