//! Heights of the glazing face.

use super::sash::Coordinate;
use crate::survey::entry::{Entry, wrong};
use crate::survey::reader::{Node, Reader};
use crate::survey::scalars::measures;
use serde_json::{Value, json};

measures! {
    Height: length -50.0 50.0;
}

/// A place and its height: `[x, y, z]`.
pub(in crate::survey) struct Spot;

impl Entry for Spot {
    type Value = [f64; 3];

    const PLAIN: bool = false;

    fn read(node: &Node<'_>, reader: &mut Reader) -> Option<[f64; 3]> {
        let Some([x, y, z]) = node.get_ref().as_array().map(AsRef::as_ref) else {
            wrong::<Self>(node, reader);
            return None;
        };
        let x = reader.inside("[1]".to_owned(), |reader| Coordinate::read(x, reader));
        let y = reader.inside("[2]".to_owned(), |reader| Coordinate::read(y, reader));
        let z = reader.inside("[3]".to_owned(), |reader| Height::read(z, reader));
        Some([x?, y?, z?])
    }

    fn expected() -> String {
        format!(
            "[x, y, z] in brackets: x and y {}, z {}",
            Coordinate::expected(),
            Height::expected()
        )
    }

    fn schema() -> Value {
        json!({
            "type": "array",
            "prefixItems": [Coordinate::schema(), Coordinate::schema(), Height::schema()],
            "minItems": 3,
            "maxItems": 3,
        })
    }
}
