//! Names of what lies outside the survey: a file beside it, a layer in that file.

use crate::survey::entry::{Entry, wrong};
use crate::survey::reader::{Node, Reader};
use serde_json::{Value, json};

/// Longest name of a file or a layer, characters: the longest that the DXF reference lets a layer have.
const LONGEST: usize = 255;

/// The one line of text behind `node`.
fn line<'n>(node: &'n Node<'_>) -> Option<&'n str> {
    let text = node.get_ref().as_str()?;
    let fits = (1..=LONGEST).contains(&text.chars().count());
    (fits && !text.chars().any(char::is_control)).then_some(text)
}

/// A file, named from the survey's folder on; so a folder that moves takes its drawings along.
pub(in crate::survey) struct FileName;

impl Entry for FileName {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<String> {
        let Some(text) = line(node) else {
            wrong::<Self>(node, reader);
            return None;
        };
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
pub(in crate::survey) struct LayerName;

impl Entry for LayerName {
    type Value = String;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<String> {
        let text = line(node);
        if text.is_none() {
            wrong::<Self>(node, reader);
        }
        text.map(str::to_owned)
    }

    fn expected() -> String {
        format!("the name of a layer in quotes: one line of 1 to {LONGEST} characters")
    }

    fn schema() -> Value {
        json!({ "type": "string", "minLength": 1, "maxLength": LONGEST })
    }
}
