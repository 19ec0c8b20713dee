//! One house or several, judged and made.

use super::files::{house_with, record};
use super::outcome::{Failure, Status, worst};
use super::output::{copy, paint, print, print_all};
use super::progress::Progress;
use super::reports::{Asked, print_reports};
use super::screen::Screen;
use super::signals::stop_on_signals;
use crate::drawing::font;
use crate::finding::Verdict;
use crate::job;
use crate::job::folder::{Folder, Stopper};
use crate::report::HouseReport;
use crate::sheets::kit::Voice;
use crate::sheets::summary::{self, Detail};
use std::collections::BTreeSet;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

pub(super) fn check(
    houses: Vec<Asked>,
    full: bool,
    json: bool,
    screen: Screen,
    out: &mut dyn Write,
) -> Result<Status, Failure> {
    if json {
        return print_reports(houses, out);
    }
    let mut verdicts = Vec::new();
    let (width, mut painter) = (screen.width(), screen.painter());
    for (number, Asked { house, record, assumed }) in houses.into_iter().enumerate() {
        let detail = match (full, assumed.is_empty()) {
            (true, _) => Detail::Full,
            (false, true) => Detail::Short,
            (false, false) => Detail::OnSite,
        };
        if number > 0 {
            print(out, "\n")?;
        }
        let mut told = job::check_in_words(&house, &record, detail, width);
        told.house.assumed = assumed;
        let lines = (width, Voice::of(&house.workshop.printer));
        paint(out, &mut painter, &summary::head(&told.house, lines))?;
        told.sashes.iter().try_for_each(|words| paint(out, &mut painter, words))?;
        paint(out, &mut painter, &summary::foot(&told.house, detail, lines))?;
        verdicts.push(told.house.verdict);
    }
    Ok(worst(verdicts))
}

/// Makes the folder of each survey. All are claimed and read before the first is made.
pub(super) fn make(
    surveys: &[PathBuf],
    folder: Option<PathBuf>,
    json: bool,
    screen: Screen,
    out: &mut dyn Write,
) -> Result<Status, Failure> {
    let first = surveys.first().map_or(Path::new(""), PathBuf::as_path);
    let folder = folder.ok_or_else(|| no_folder(first))?;
    let folders = match surveys {
        [_] => vec![folder],
        _ => folders_in(&folder, surveys)?,
    };
    let stoppers: Vec<Stopper> = folders.iter().map(|_| Stopper::default()).collect();
    stop_on_signals(&stoppers);
    let progress = Progress::new();
    let claimed = folders.iter().zip(&stoppers);
    let claimed = claimed.map(|(folder, stopper)| Folder::claim(folder, stopper));
    let claimed = claimed.collect::<Result<Vec<_>, _>>()?;
    let houses = surveys.iter().map(|survey| {
        let house = house_with(survey, Some(font::has))?;
        let record = record(survey, &house)?;
        Ok::<_, Failure>((house, record))
    });
    let houses = houses.collect::<Result<Vec<_>, _>>()?;
    let mut written = Vec::new();
    for (claimed, (house, record)) in claimed.into_iter().zip(&houses) {
        written.push(job::make_in(claimed, house, record, &|step| progress.tell(step))?);
    }
    drop(progress);
    let verdicts: Vec<Verdict> = written.iter().map(|made| made.report.verdict).collect();
    if json {
        let reports: Vec<HouseReport> = written.into_iter().map(|made| made.report).collect();
        print_all(&reports, out)?;
        return Ok(worst(verdicts));
    }
    for (number, ((folder, made), (house, _))) in
        folders.iter().zip(&written).zip(&houses).enumerate()
    {
        if number > 0 {
            print(out, "\n")?;
        }
        let lines = (screen.width(), Voice::of(&house.workshop.printer));
        copy(&folder.join("summary.txt"), screen, out)?;
        print(out, &summary::since_last_run(&made.changes, lines))?;
        print(out, &format!("\nWritten to {}\n", folder.display()))?;
        made.remarks.iter().try_for_each(|remark| print(out, &format!("{remark}.\n")))?;
    }
    Ok(worst(verdicts))
}

/// A folder for each survey in `folder`, by its name.
fn folders_in(folder: &Path, surveys: &[PathBuf]) -> Result<Vec<PathBuf>, Failure> {
    let name = |survey: &PathBuf| folder.join(survey.file_stem().unwrap_or_default());
    let folders: Vec<PathBuf> = surveys.iter().map(name).collect();
    let mut names = BTreeSet::new();
    if let Some(twice) = folders.iter().find(|folder| !names.insert(folder.as_path())) {
        let twice = twice.display();
        let why = format!(
            "make: two surveys would be written to {twice}: expected surveys of different names"
        );
        return Err(Failure::Input(why));
    }
    match std::fs::create_dir(folder) {
        Err(error) if error.kind() != ErrorKind::AlreadyExists => {
            Err(Failure::Output(format!("{}: {error}", folder.display())))
        }
        _ => Ok(folders),
    }
}

/// What `make` says where it is not told where to.
fn no_folder(survey: &Path) -> Failure {
    let beside = survey.with_extension("");
    let beside = if beside == survey { survey.with_extension("made") } else { beside };
    let [survey, beside] = [survey, &beside].map(Path::display);
    Failure::Input(format!(
        "make: expected a folder to write, such as\n  fillister make {survey} --out {beside}"
    ))
}
