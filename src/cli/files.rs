//! Files that a call names.

use super::outcome::Failure;
use crate::input::nearest;
use crate::job;
use crate::survey::{self, House, Record};
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

pub(super) fn house(path: &Path) -> Result<House, Failure> {
    house_with(path, None)
}

/// The house of a survey whose names have only letters that `shows` knows.
pub(super) fn house_with(path: &Path, shows: Option<fn(char) -> bool>) -> Result<House, Failure> {
    let with = survey::With { shows, open: &job::relative_files(path) };
    Ok(survey::read_with(&read(path, survey::MOST_BYTES)?, &path.display().to_string(), &with)?)
}

/// The house with this sash alone.
pub(super) fn only(mut house: House, survey: &Path, id: &str) -> Result<House, Failure> {
    let ids: Vec<String> = house.sashes.iter().map(|sash| sash.id.clone()).collect();
    house.sashes.retain(|sash| sash.id == id);
    if house.sashes.is_empty() { Err(Failure::Input(no_sash(survey, id, &ids))) } else { Ok(house) }
}

pub(super) fn no_sash(survey: &Path, id: &str, ids: &[String]) -> String {
    format!("{}: there is no sash {id:?}; expected one of {}", survey.display(), ids.join(", "))
}

/// What is done at the house of a survey, if that was written down beside it.
pub(super) fn record(survey: &Path, house: &House) -> Result<Record, Failure> {
    let path = survey.with_file_name(survey::RECORD);
    if !path.exists() {
        return Ok(Record::default());
    }
    let bytes = read(&path, survey::MOST_RECORD_BYTES)?;
    Ok(survey::read_record(&bytes, &path.display().to_string())?.at(&house.name))
}

/// The file, or of one longer than `most` so much that it is known to be.
pub(super) fn read(path: &Path, most: usize) -> Result<Vec<u8>, Failure> {
    job::read_some(path, most).map_err(|error| {
        let like = if error.kind() == ErrorKind::NotFound { named_alike(path) } else { None };
        let hint =
            like.map_or_else(String::new, |like| format!("; did you mean {}?", like.display()));
        Failure::Input(format!("{}: {error}{hint}", path.display()))
    })
}

/// The file beside `path` whose name is most like it: a slip, or an ending that an editor put on.
fn named_alike(path: &Path) -> Option<PathBuf> {
    let wanted = path.file_name()?.to_str()?;
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
    let entries = std::fs::read_dir(folder.unwrap_or(Path::new("."))).ok()?;
    let mut names: Vec<String> =
        entries.filter_map(|entry| entry.ok()?.file_name().into_string().ok()).collect();
    names.sort();
    let longer = names
        .iter()
        .find(|name| name.strip_prefix(wanted).is_some_and(|rest| rest.starts_with('.')));
    let like =
        longer.map(String::as_str).or_else(|| nearest(wanted, names.iter().map(String::as_str)));
    Some(path.with_file_name(like?))
}

pub(super) fn text(path: &Path, bytes: Vec<u8>) -> Result<String, Failure> {
    String::from_utf8(bytes).map_err(|error| {
        let good = error.as_bytes().get(..error.utf8_error().valid_up_to()).unwrap_or_default();
        let line = good.split(|&byte| byte == b'\n').count();
        Failure::Input(format!("{}:{line}: expected text, found other bytes", path.display()))
    })
}
