//! Every key that a survey can hold, as a list: so that a form or a first draft of a survey can be held
//! against it, and none is forgotten.

use super::entry::{Entry, Key, Presence, tidy};
use super::file::FileTable;

/// A key that takes a value, not a table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The way to it, a list marked with brackets: `sash[].bars[].centre`.
    pub path: String,
    /// What stands there, in a sentence.
    pub about: String,
    /// Whether its table is of no use without it.
    pub needed: bool,
    /// Its default as TOML writes it, where it has one of its own.
    pub usual: Option<&'static str>,
}

/// Every key of a survey that takes a value, in the order of the file's tables. Other spellings of a
/// key are left out.
pub fn asked() -> Vec<Asked> {
    let mut found = Vec::new();
    FileTable::gather("", &mut found);
    found
}

/// Notes `key` under `path`, or the keys within it.
pub(super) fn note<E: Entry>(path: &str, key: &Key, found: &mut Vec<Asked>) {
    let dot = if path.is_empty() { "" } else { "." };
    let path = format!("{path}{dot}{}", key.name);
    let before = found.len();
    E::gather(&path, found);
    if found.len() == before {
        found.push(Asked {
            path,
            about: tidy(key.about),
            needed: matches!(key.presence, Presence::Needed),
            usual: match key.presence {
                Presence::Usual(value) => Some(value),
                Presence::Needed | Presence::Otherwise(_) => None,
            },
        });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::survey::Limits;

    #[test]
    fn the_list_goes_into_every_table_and_list() {
        let all = asked();
        let one = |path: &str| all.iter().find(|key| key.path == path).unwrap();
        assert!(one("house").needed && one("sash[].rebate.width").needed);
        assert!(!one("sash[].sight.width").needed, "a round sash has none");
        assert_eq!(one("sash[].unit.cover").usual, Some("12"));
        assert_eq!(one("sash[].bars[].rebate.depth").about, "Glazing face to platform.");
        assert!(one("sash[].moulding.points").usual.is_none());
        let limits = all.iter().filter(|key| key.path.starts_with("workshop.limits."));
        assert_eq!(limits.count(), Limits::NAMES.len());
        assert!(!all.iter().any(|key| key.path == "sash" || key.path == "sash[].sight"));
    }
}
