//! The keys of a survey as its reader declares them, with what may stand there.

use crate::input::DeclaredKey;
use crate::survey;
use serde_json::Value;
use std::collections::BTreeSet;
use std::sync::LazyLock;
use toml_edit::TableLike;

/// A declared key and the words that may stand there.
pub(super) struct Declared {
    pub key: DeclaredKey,
    pub choices: Vec<String>,
    /// Whether nothing but text can stand there.
    is_text: bool,
}

/// Every key of a survey, in the order of its tables.
pub(super) static DECLARED: LazyLock<Vec<Declared>> = LazyLock::new(|| {
    let schema = survey::schema();
    let declared = survey::keys().into_iter().map(|key| {
        let found = at(&schema, &key.path);
        let words = found.and_then(|found| found.get("enum")?.as_array());
        let words = words.map(|words| words.iter().filter_map(Value::as_str).map(str::to_owned));
        let is_text = found.and_then(|found| found.get("type")?.as_str()) == Some("string");
        Declared { choices: words.into_iter().flatten().collect(), is_text, key }
    });
    declared.collect()
});

/// Other spellings that the reader understands, each with the usual one.
static SPELLINGS: LazyLock<BTreeSet<(&'static str, &'static str)>> =
    LazyLock::new(|| DECLARED.iter().flat_map(|one| one.key.spellings.iter().copied()).collect());

/// A key as it is spelled in a table; in the usual way where it is not there.
pub(super) fn spelled<'k>(table: &dyn TableLike, name: &'k str) -> &'k str {
    let others = SPELLINGS.iter().filter(|(_, usual)| *usual == name);
    let mut all = std::iter::once(name).chain(others.map(|(other, _)| *other));
    all.find(|one| table.contains_key(one)).unwrap_or(name)
}

/// The schema of a key.
fn at<'s>(schema: &'s Value, path: &str) -> Option<&'s Value> {
    let mut at = schema;
    for part in path.split('.') {
        let name = part.trim_end_matches("[]");
        at = at.get("properties")?.get(name)?;
        if name != part {
            at = at.get("items")?;
        }
    }
    Some(at)
}

/// Whether nothing but text can stand at a key of a survey, even if it looks like a number.
pub(super) fn is_text(key: &str) -> bool {
    let path = unnumbered(key);
    DECLARED.iter().any(|declared| declared.key.path == path && declared.is_text)
}

/// `sash[2].bars[1].width` as it is declared: `sash[].bars[].width`.
pub(super) fn unnumbered(key: &str) -> String {
    let mut path = String::with_capacity(key.len());
    let mut inside = false;
    for letter in key.chars() {
        inside = letter != ']' && (inside || letter == '[');
        if !inside || letter == '[' {
            path.push(letter);
        }
    }
    path
}
