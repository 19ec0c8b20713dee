//! The fields of a sash: each from the very declaration that the file is read by, so that none can be missing.

use super::declared::{DECLARED, Declared};
use super::draft::Draft;
use crate::input::{DeclaredKey, Diagnostic, in_mm};
use crate::sheets::kit::{Voice, tell};

/// One field.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Field {
    /// As a mistake in the survey names it: `sash[2].sight.width`.
    pub key: String,
    pub label: String,
    /// Where to measure it, in a sentence.
    pub about: String,
    /// As it stands in the survey.
    pub written: String,
    /// What holds where nothing is written.
    pub usual: String,
    /// Words to choose from; none where anything may be typed.
    pub choices: &'static [String],
    /// The same in millimetres, where it is written otherwise.
    pub in_mm: Option<f64>,
    /// What is wrong with it, and how to mend it.
    pub mistakes: Vec<String>,
}

/// Fields that belong together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Group {
    pub name: String,
    pub fields: Vec<Field>,
    /// The key of its list, where it is one whose parts come and go.
    pub list: Option<String>,
    /// The keys of its parts.
    pub parts: Vec<String>,
}

/// The measures that are enough for a first answer, in the order in which one walks round a sash with a rule, each with
/// the key of its name. Where several keys are named the face is taken to be as wide everywhere.
const FIRST: [(&str, &[&str]); 9] = [
    ("page-first-thickness", &["thickness"]),
    ("page-first-sight-width", &["sight.width"]),
    ("page-first-sight-height", &["sight.height"]),
    ("page-first-rebate-width", &["rebate.width"]),
    ("page-first-rebate-depth", &["rebate.depth"]),
    ("page-first-moulding-shape", &["moulding.shape"]),
    ("page-first-moulding-width", &["moulding.width"]),
    ("page-first-moulding-depth", &["moulding.depth"]),
    ("page-first-face-width", &["stiles.width", "rails.top", "rails.bottom"]),
];

/// The groups that belong to what goes in; all others to what is there.
const GOES_IN: [&str; 6] = ["unit", "clearance", "blocks", "finish", "glazing", "drainage"];

/// What stands for a key that is not written.
fn usual(draft: &Draft, sash: usize, rest: &str, key: &DeclaredKey, voice: Voice) -> String {
    if let Some(found) = draft.written(&format!("defaults.{rest}")) {
        return tell!(voice, "page-as-house", found);
    }
    let mut ways = ["like", "profile"].into_iter();
    let like = ways.find_map(|way| draft.written(&format!("sash[{sash}].{way}")));
    if let Some(like) = like.filter(|_| !["id", "like", "profile", "count"].contains(&rest)) {
        return tell!(voice, "page-as", like);
    }
    otherwise(key)
}

/// What stands for a key that is written nowhere.
fn otherwise(key: &DeclaredKey) -> String {
    match (key.default, key.otherwise) {
        (Some(value), _) => value.trim_matches('"').to_owned(),
        (None, Some(words)) => words.to_owned(),
        (None, None) => String::new(),
    }
}

/// What is wrong at a key: the cure first.
fn mistakes(found: &[Diagnostic], key: &str, voice: Voice) -> Vec<String> {
    let own = found.iter().filter(|mistake| mistake.key == key);
    own.map(|mistake| told(mistake, voice)).collect()
}

/// A mistake in a sentence; the cure where there is one.
pub(super) fn told(mistake: &Diagnostic, voice: Voice) -> String {
    let Diagnostic { found, expected, hint, .. } = mistake;
    match (hint, found) {
        (Some(hint), _) => crate::language::capital(hint),
        (None, Some(_)) => tell!(voice, "page-expected", expected),
        (None, None) => tell!(voice, "page-missing", expected),
    }
}

/// A length with a unit, or typed with a point or a comma, mm.
fn millimetres(written: &str) -> Option<f64> {
    in_mm(written).or_else(|| written.parse().ok().filter(|_| written.contains('.')))
}

fn field(
    draft: &Draft,
    key: String,
    usual: String,
    (declared, voice): (&'static Declared, Voice),
) -> Field {
    let spelled = draft.written(&key);
    let last = key.rsplit('.').next().unwrap_or(&key);
    Field {
        label: last.replace('_', " "),
        about: declared.key.about.clone(),
        in_mm: spelled.as_deref().filter(|_| declared.key.is_length).and_then(millimetres),
        written: spelled.unwrap_or_default(),
        usual,
        choices: &declared.choices,
        mistakes: mistakes(draft.mistakes(), &key, voice),
        key,
    }
}

/// A field of a sash; `rest` is its declared key from the sash on.
fn own(
    draft: &Draft,
    sash: usize,
    key: String,
    rest: &str,
    (declared, voice): (&'static Declared, Voice),
) -> Field {
    let usual = usual(draft, sash, rest, &declared.key, voice);
    field(draft, key, usual, (declared, voice))
}

/// The keys of a sash, each from the sash on.
fn of_sash() -> impl Iterator<Item = (&'static str, &'static Declared)> {
    DECLARED.iter().filter_map(|one| Some((one.key.path.strip_prefix("sash[].")?, one)))
}

/// The measures for a first answer: each with the keys that it is written to.
pub(super) fn first(draft: &Draft, sash: usize, voice: Voice) -> Vec<(Field, Vec<String>)> {
    let fields = FIRST.iter().filter_map(|(label, keys)| {
        let (first, rest) = (keys.first()?, *keys.first()?);
        let (_, declared) = of_sash().find(|(own, _)| own == first)?;
        let all: Vec<String> = keys.iter().map(|key| format!("sash[{sash}].{key}")).collect();
        let own = self::own(draft, sash, all.first()?.clone(), rest, (declared, voice));
        let others = all.iter().skip(1).flat_map(|key| mistakes(draft.mistakes(), key, voice));
        let mistakes = own.mistakes.iter().cloned().chain(others).take(1).collect();
        let about = match all.len() {
            1 => own.about.clone(),
            _ => voice.word("page-face-about"),
        };
        Some((Field { label: voice.word(label), about, mistakes, ..own }, all))
    });
    fields.collect()
}

/// Every other key of a sash, in groups: what is there, and what goes in.
pub(super) fn rest(draft: &Draft, sash: usize, voice: Voice) -> [Vec<Group>; 2] {
    let mut groups: Vec<Group> = Vec::new();
    let mut add = |name: &str, list: Option<String>, parts: &[String], field: Option<Field>| {
        let at = groups.iter().position(|group| group.name == name);
        let at = at.unwrap_or_else(|| {
            let (name, parts) = (name.to_owned(), parts.to_vec());
            groups.push(Group { name, fields: Vec::new(), list, parts });
            groups.len() - 1
        });
        if let Some(group) = groups.get_mut(at) {
            group.fields.extend(field);
        }
    };
    for (rest, declared) in of_sash() {
        if FIRST.iter().any(|(_, keys)| keys.first() == Some(&rest)) {
            continue;
        }
        let head = rest.split(['.', '[']).next().unwrap_or(rest);
        let Some((list, within)) = rest.split_once("[].") else {
            let own = head == rest && !GOES_IN.contains(&head);
            let name = if own { voice.word("page-this-sash") } else { head.replace('_', " ") };
            let key = format!("sash[{sash}].{rest}");
            add(&name, None, &[], Some(self::own(draft, sash, key, rest, (declared, voice))));
            continue;
        };
        // A list in a list has no fields of its own here.
        if list.contains('.') || within.contains("[]") {
            continue;
        }
        let way = format!("sash[{sash}].{list}");
        let parts: Vec<String> =
            (1..=draft.count(&way)).map(|number| format!("{way}[{number}]")).collect();
        let name = list.replace('_', " ");
        add(&name, Some(way), &parts, None);
        for part in &parts {
            let key = format!("{part}.{within}");
            add(&name, None, &[], Some(self::own(draft, sash, key, rest, (declared, voice))));
        }
    }
    let (goes_in, there) =
        groups.into_iter().partition(|group| GOES_IN.contains(&group.name.as_str()));
    [there, goes_in]
}

/// The keys of the workshop, and those that hold for every sash which does not say otherwise; in groups.
pub(super) fn shared(draft: &Draft, voice: Voice) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    let keys =
        DECLARED.iter().filter(|one| !one.key.path.contains("[]") && one.key.path != "house");
    for declared in keys {
        let path = &declared.key.path;
        let name = match path.split('.').collect::<Vec<_>>().as_slice() {
            ["workshop", group, _, ..] => group.replace('_', " "),
            ["defaults", ..] => voice.word("page-every-sash"),
            ["workshop" | "workshop_file", ..] => voice.word("page-the-workshop"),
            // Profiles have names of their own.
            _ => continue,
        };
        let own = field(draft, path.clone(), otherwise(&declared.key), (declared, voice));
        match groups.iter_mut().find(|group| group.name == name) {
            Some(group) => group.fields.push(own),
            None => groups.push(Group { name, fields: vec![own], list: None, parts: Vec::new() }),
        }
    }
    groups
}

#[cfg(test)]
mod tests {
    use super::super::declared::{is_text, unnumbered};
    use super::*;
    use crate::survey::Record;
    use std::collections::BTreeSet;

    // A key that comes into the survey comes onto the page by itself.
    #[test]
    fn every_key_of_a_sash_is_a_field() {
        let room = tempfile::tempdir().unwrap();
        let mut draft =
            Draft::open(&room.path().join("x.toml"), |_, _| Ok(Record::default())).unwrap();
        for list in ["bars", "metal", "screws", "clamps"] {
            draft.add(&format!("sash[1].{list}")).unwrap();
        }
        let voice = Voice::plain();
        let (first, rest) = (first(&draft, 1, voice), rest(&draft, 1, voice));
        assert_eq!(first.len(), FIRST.len());
        let fields = first.iter().map(|(field, _)| field);
        let fields = fields.chain(rest.iter().flatten().flat_map(|group| &group.fields));
        let keys: Vec<&String> = fields.map(|field| &field.key).collect();
        let shown: BTreeSet<String> = keys.iter().map(|key| unnumbered(key)).collect();
        assert_eq!(keys.iter().collect::<BTreeSet<_>>().len(), keys.len(), "a field stands twice");
        let all = super::shared(&draft, voice);
        let shared: BTreeSet<&str> =
            all.iter().flat_map(|group| &group.fields).map(|field| field.key.as_str()).collect();
        // Lists of units to try and profiles are written in the file.
        let aside = |path: &str| {
            path == "house"
                || path.starts_with("profile")
                || path.starts_with("workshop.candidates")
        };
        let missing: Vec<&str> = DECLARED
            .iter()
            .map(|one| one.key.path.as_str())
            .filter(|path| !shown.contains(*path) && !shared.contains(path) && !aside(path))
            .collect();
        assert!(missing.is_empty(), "{missing:?}");
        let kind =
            rest[0].iter().flat_map(|g| &g.fields).find(|f| f.key == "sash[1].kind").unwrap();
        assert!(kind.choices.iter().any(|word| word == "side-hung"), "{:?}", kind.choices);
        assert!(is_text("sash[1].id") && !is_text("sash[1].thickness"));
    }
}
