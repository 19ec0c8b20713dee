//! A survey while it is being written: its text with every word, order and remark that the page does not show, and what
//! was read from it last.
//!
//! Promised: no change is lost, neither to a second window nor to a program that writes the file meanwhile; a file is
//! whole or as it was. Not promised: that a draft can be read as a house; the last one that could is kept beside it.

use super::text::{self, Change, Step, steps};
use crate::drawing::font;
use crate::input::{Diagnostic, Diagnostics};
use crate::job;
use crate::survey::{self, House, Record};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use toml_edit::DocumentMut;

/// What a survey that is not there yet begins with.
const BEGINNING: &str = "house = \"\"\n\n[[sash]]\nid = \"sash-1\"\nkind = \"side-hung\"\n\
                         unit = { build_up = \"4-6-4\" }\nmoulding = { shape = \"ovolo\" }\n";

/// How what is done at a house is found beside its survey.
pub(super) type FindRecord = fn(&Path, &House) -> Result<Record, String>;

/// Why a change was not made, for people.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Refused {
    /// Another window changed the same field meanwhile.
    Changed(String),
    /// There is no such field.
    Unknown(String),
    /// A file could not be written.
    Disk(String),
    /// Nothing can be made yet: something is missing or wrong still.
    NotYet,
    /// It could not be made.
    NotMade(String),
    /// There is no such page.
    Nowhere,
}

/// A survey and what it says.
#[derive(Clone)]
pub(super) struct Draft {
    path: PathBuf,
    document: DocumentMut,
    /// How many changes were made since the page was opened.
    version: u64,
    /// The version in which a key was changed last.
    changed: BTreeMap<String, u64>,
    /// What was on the disk when it was read or written last; nothing where there was no file.
    on_disk: Option<Vec<u8>>,
    /// Whether it holds what the file does not.
    unsaved: bool,
    mistakes: Vec<Diagnostic>,
    /// The last that could be read, and what is done at it.
    good: Option<(House, Record)>,
    /// What keeps the record from being read.
    no_record: Option<String>,
    find_record: FindRecord,
}

impl Draft {
    /// Opens a survey, or begins one where there is no file of that name; with the changes of an earlier sitting that
    /// were not saved.
    ///
    /// # Errors
    /// Where a file cannot be read, or is no TOML: in words.
    pub(super) fn open(path: &Path, find_record: FindRecord) -> Result<Draft, String> {
        let on_disk = match job::read_some(path, survey::MOST_BYTES) {
            Ok(bytes) => Some(bytes),
            Err(error) if error.kind() == ErrorKind::NotFound => None,
            Err(error) => return Err(format!("{}: {error}", path.display())),
        };
        let kept = fs::read(beside(path, DRAFT)).ok();
        let unsaved = kept.is_some();
        let bytes = kept.or_else(|| on_disk.clone());
        let text = match bytes {
            Some(bytes) => String::from_utf8(bytes)
                .map_err(|_| format!("{}: expected text, found other bytes", path.display()))?,
            None => BEGINNING.to_owned(),
        };
        let text = text.strip_prefix('\u{feff}').unwrap_or(&text);
        // A longer one was not read whole.
        let whole = text.len() <= survey::MOST_BYTES;
        let document = if whole { text.parse::<DocumentMut>().ok() } else { None };
        let Some(document) = document else {
            // The reader of surveys tells what is wrong with it, and where.
            let told = survey::read(text, &path.display().to_string());
            let told = told.err().map_or_else(|| "no survey".to_owned(), |told| told.to_string());
            return Err(told);
        };
        let mut draft = Draft {
            path: path.to_owned(),
            document,
            version: 1,
            changed: BTreeMap::new(),
            on_disk,
            unsaved,
            mistakes: Vec::new(),
            good: None,
            no_record: None,
            find_record,
        };
        draft.read();
        Ok(draft)
    }

    /// The survey's file.
    pub(super) fn path(&self) -> &Path {
        &self.path
    }

    pub(super) fn version(&self) -> u64 {
        self.version
    }

    pub(super) fn is_unsaved(&self) -> bool {
        self.unsaved
    }

    /// What is written at a key, as one would type it.
    pub(super) fn written(&self, key: &str) -> Option<String> {
        text::written(&self.document, &steps(key)?)
    }

    /// How many parts a list has.
    pub(super) fn count(&self, key: &str) -> usize {
        steps(key).map_or(0, |steps| text::count(&self.document, &steps))
    }

    /// Every mistake in it.
    pub(super) fn mistakes(&self) -> &[Diagnostic] {
        &self.mistakes
    }

    /// What keeps the record of what is done from being read.
    pub(super) fn no_record(&self) -> Option<&str> {
        self.no_record.as_deref()
    }

    /// The last house that could be read, and whether it is that of the text as it stands.
    pub(super) fn house(&self) -> Option<(&House, &Record, bool)> {
        self.good.as_ref().map(|(house, record)| (house, record, self.mistakes.is_empty()))
    }

    fn read(&mut self) {
        let text = self.document.to_string();
        let with = survey::With { shows: Some(font::has), open: &job::relative_files(&self.path) };
        let read = survey::read_with(text.as_bytes(), &self.path.display().to_string(), &with);
        match read {
            Ok(house) => {
                self.mistakes.clear();
                let record = (self.find_record)(&self.path, &house);
                self.no_record = record.as_ref().err().cloned();
                self.good = Some((house, record.unwrap_or_default()));
            }
            Err(mistakes) => self.mistakes = Diagnostics::iter(&mistakes).cloned().collect(),
        }
    }

    /// Writes what was typed into fields, each named as a mistake in the survey names it (`sash[2].sight.width`); an
    /// empty one is taken out. `seen` is the version that whoever typed had before him.
    ///
    /// # Errors
    /// Where there is no such field, another window changed it since, or the draft cannot be kept: nothing is changed.
    pub(super) fn set(&mut self, fields: &[(String, String)], seen: u64) -> Result<(), Refused> {
        self.change(|document, changed, version| {
            for (key, typed) in fields {
                let steps = steps(key).ok_or_else(|| Refused::Unknown(key.clone()))?;
                let was = text::written(document, &steps).unwrap_or_default();
                if was == typed.trim() {
                    continue;
                }
                if changed.get(key).is_some_and(|last| *last > seen) {
                    return Err(Refused::Changed(key.clone()));
                }
                let set = Change::Type(key, typed).make(document);
                set.ok_or_else(|| Refused::Unknown(key.clone()))?;
                changed.insert(key.clone(), version);
            }
            Ok(())
        })
    }

    /// Adds a part to a list, such as a bar; or a sash, like the one before it where there is one.
    ///
    /// # Errors
    /// As [`Draft::set`].
    pub(super) fn add(&mut self, list: &str) -> Result<(), Refused> {
        self.change(|document, _, _| {
            Change::Add(list).make(document).ok_or_else(|| Refused::Unknown(list.to_owned()))
        })
    }

    /// Takes a part out of a list, or a sash out of the house.
    ///
    /// # Errors
    /// As [`Draft::set`].
    pub(super) fn take_out(&mut self, part: &str) -> Result<(), Refused> {
        self.change(|document, changed, version| {
            let steps = steps(part).ok_or_else(|| Refused::Unknown(part.to_owned()))?;
            let taken = Change::TakeOut(part).make(document);
            taken.ok_or_else(|| Refused::Unknown(part.to_owned()))?;
            // What follows it in its list has other names now.
            if let Some(Step { name, .. }) = steps.first() {
                let own = changed.range_mut(name.clone()..);
                own.filter(|(key, _)| key.starts_with(name)).for_each(|(_, at)| *at = version);
            }
            Ok(())
        })
    }

    fn change(
        &mut self,
        make: impl FnOnce(&mut DocumentMut, &mut BTreeMap<String, u64>, u64) -> Result<(), Refused>,
    ) -> Result<(), Refused> {
        let (mut document, mut changed) = (self.document.clone(), self.changed.clone());
        let version = self.version + 1;
        make(&mut document, &mut changed, version)?;
        let text = document.to_string();
        if text == self.document.to_string() {
            return Ok(());
        }
        replace(&beside(&self.path, DRAFT), text.as_bytes()).map_err(|error| disk(&error))?;
        (self.document, self.changed, self.version) = (document, changed, version);
        self.unsaved = true;
        self.read();
        Ok(())
    }

    /// Writes the survey; what stood there before is kept beside it under the same name with `.before` behind.
    ///
    /// # Errors
    /// Where the file was changed by something else since it was read, or cannot be written.
    pub(super) fn save(&mut self) -> Result<(), Refused> {
        let now = fs::read(&self.path).ok();
        if now != self.on_disk {
            let name = self.path.display();
            return Err(Refused::Disk(format!(
                "{name} was changed by another program since this page read it, and is left as it is. What you typed is \
                 kept: rename or move one of the two, then save again."
            )));
        }
        let text = self.document.to_string().into_bytes();
        if let Some(before) = now.filter(|before| *before != text) {
            replace(&beside(&self.path, BEFORE), &before).map_err(|error| disk(&error))?;
        }
        replace(&self.path, &text).map_err(|error| disk(&error))?;
        self.on_disk = Some(text);
        self.unsaved = false;
        let _ = fs::remove_file(beside(&self.path, DRAFT));
        Ok(())
    }
}

/// Ending of a draft that is not saved.
const DRAFT: &str = ".fillister-draft";

/// Ending of what a saved survey replaced.
const BEFORE: &str = ".before";

fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.file_name().unwrap_or_default().to_owned();
    name.push(ending);
    path.with_file_name(name)
}

fn disk(error: &io::Error) -> Refused {
    Refused::Disk(format!("it could not be written: {error}. Nothing was changed"))
}

/// Puts a file in place of another in one step.
fn replace(target: &Path, content: &[u8]) -> io::Result<()> {
    let fresh = beside(target, ".fillister-new");
    let written = File::create(&fresh)
        .and_then(|mut file| file.write_all(content).and_then(|()| file.sync_data()));
    let placed = written.and_then(|()| fs::rename(&fresh, target));
    placed.inspect_err(|_| {
        let _ = fs::remove_file(&fresh);
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const SURVEY: &str = "# Kept.\nhouse = \"Mill\"\n[defaults]\nrebate = { width = 9, depth = 17 } # old\n\
                          [[sash]]\nid = \"one\"\nkind = \"fixed\"\nthickness = 57 # mm\n\
                          sight = { width = 540, height = 900 }\nstiles = { width = 57 }\n\
                          rails = { top = 57, bottom = 74 }\nunit = { build_up = \"4-6-4\" }\n";

    fn open(room: &tempfile::TempDir) -> Draft {
        Draft::open(&room.path().join("house.toml"), |_, _| Ok(Record::default())).unwrap()
    }

    fn set(draft: &mut Draft, key: &str, typed: &str, seen: u64) -> Result<(), Refused> {
        draft.set(&[(key.to_owned(), typed.to_owned())], seen)
    }

    fn kept(room: &tempfile::TempDir) -> String {
        fs::read_to_string(room.path().join("house.toml")).unwrap()
    }

    #[test]
    fn a_survey_too_long_to_be_one_is_not_opened_in_part() {
        let room = tempfile::tempdir().unwrap();
        let path = room.path().join("house.toml");
        fs::write(&path, "#".repeat(survey::MOST_BYTES + 2)).unwrap();
        let wrong = Draft::open(&path, |_, _| Ok(Record::default())).err().unwrap();
        assert!(wrong.contains("a survey of at most"), "{wrong}");
    }

    #[test]
    fn what_is_typed_goes_into_the_text_and_nothing_else_changes() {
        let room = tempfile::tempdir().unwrap();
        fs::write(room.path().join("house.toml"), SURVEY).unwrap();
        let mut draft = open(&room);
        assert_eq!(draft.house().unwrap().0.sashes[0].sight.width, 540.0);
        set(&mut draft, "sash[1].sight.width", "22 1/16 in", 1).unwrap();
        assert!((draft.house().unwrap().0.sashes[0].sight.width - 560.3875).abs() < 1e-9);
        set(&mut draft, "sash[1].thickness", "45,5", 2).unwrap();
        // Nothing is written before it is saved; then the remarks are still there.
        assert_eq!(kept(&room), SURVEY);
        draft.save().unwrap();
        let expected = SURVEY
            .replace("width = 540", "width = \"22 1/16 in\"")
            .replace("thickness = 57 # mm", "thickness = 45.5 # mm");
        assert_eq!(kept(&room), expected);
        assert_eq!(fs::read_to_string(room.path().join("house.toml.before")).unwrap(), SURVEY);
        assert!(!room.path().join("house.toml.fillister-draft").exists());
        // A table of the defaults is taken over whole before one key of it is changed.
        set(&mut draft, "sash[1].rebate.width", "10", 3).unwrap();
        assert!(draft.mistakes().is_empty(), "{:?}", draft.mistakes());
        let old = draft.house().unwrap().0.sashes[0].members.left.old;
        assert_eq!((old.width(), old.depth()), (10.0, 17.0));
        // And out again.
        set(&mut draft, "sash[1].rebate.width", "", 4).unwrap();
        assert_eq!(draft.mistakes()[0].key, "sash[1].rebate.width");
        assert!(draft.house().is_some_and(|(_, _, whole)| !whole), "the last good one is kept");
    }

    #[test]
    fn a_sitting_that_was_not_saved_goes_on() {
        let room = tempfile::tempdir().unwrap();
        let mut draft = open(&room);
        assert!(draft.house().is_none() && !draft.mistakes().is_empty());
        set(&mut draft, "sash[1].thickness", "45", 1).unwrap();
        drop(draft);
        let draft = open(&room);
        assert!(draft.is_unsaved());
        assert_eq!(draft.written("sash[1].thickness").as_deref(), Some("45"));
    }

    #[test]
    fn neither_a_second_window_nor_another_program_loses_anything() {
        let room = tempfile::tempdir().unwrap();
        fs::write(room.path().join("house.toml"), SURVEY).unwrap();
        let mut draft = open(&room);
        set(&mut draft, "sash[1].sight.width", "550", 1).unwrap();
        // The second window saw version 1, and changes another field; then the same one.
        set(&mut draft, "sash[1].sight.height", "910", 1).unwrap();
        let refused = set(&mut draft, "sash[1].sight.width", "560", 1);
        assert_eq!(refused, Err(Refused::Changed("sash[1].sight.width".to_owned())));
        assert_eq!(draft.house().unwrap().0.sashes[0].sight.width, 550.0);
        fs::write(room.path().join("house.toml"), "house = \"other\"\n").unwrap();
        assert!(matches!(draft.save(), Err(Refused::Disk(_))));
        assert_eq!(kept(&room), "house = \"other\"\n");
    }

    #[test]
    fn parts_come_and_go() {
        let room = tempfile::tempdir().unwrap();
        fs::write(room.path().join("house.toml"), SURVEY).unwrap();
        let mut draft = open(&room);
        draft.add("sash[1].bars").unwrap();
        assert!(draft.mistakes().iter().any(|mistake| mistake.key.starts_with("sash[1].bars[1]")));
        draft.take_out("sash[1].bars[1]").unwrap();
        assert!(draft.mistakes().is_empty(), "{:?}", draft.mistakes());
        draft.add("sash").unwrap();
        let (house, _, whole) = draft.house().unwrap();
        assert!(whole, "{:?}", draft.mistakes());
        assert_eq!(house.sashes.len(), 2);
        assert_eq!(house.sashes[0].sight, house.sashes[1].sight);
        assert!(matches!(draft.add("attic"), Err(Refused::Unknown(_))));
        assert!(matches!(set(&mut draft, "sash[9].thickness", "1", 9), Err(Refused::Unknown(_))));
        assert!(matches!(set(&mut draft, "", "1", 9), Err(Refused::Unknown(_))));
    }
}
