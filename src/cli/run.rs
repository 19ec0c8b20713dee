//! From words to a run, and from its outcome to an exit status.

use super::args::{Args, Command, FormPaper, OnSite, SchemaOf};
use super::programs;
use super::progress::Progress;
use super::signals::stop_on_signals;
use crate::drawing::{font, pdf};
use crate::finding::Verdict;
use crate::input::{is_unseen, nearest, visible};
use crate::job::folder::{Folder, FolderError, Stopper};
use crate::job::{self, MakeError};
use crate::prove::{self, Program, Proof};
use crate::report::{self, HouseReport, Report};
use crate::sheets::summary::{self, Detail};
use crate::sheets::{compare, form};
use crate::survey::{self, Diagnostics, House, Paper, Quick, Record};
use clap::{CommandFactory, Parser};
use serde_json::json;
use std::collections::BTreeSet;
use std::ffi::OsString;
use std::fmt::Display;
use std::io::{BufRead, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};

/// How a run ended; the number is the exit status.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Status {
    /// All clear or caution.
    Fine = 0,
    /// Something is a stop.
    Stopped = 1,
    /// The survey or the call was wrong.
    WrongInput = 2,
    /// The output could not be written.
    NotWritten = 3,
}

/// Why a run ended early.
enum Failure {
    Survey(Diagnostics),
    Input(String),
    Output(String),
}

impl From<FolderError> for Failure {
    fn from(error: FolderError) -> Self {
        match error {
            FolderError::NotOurs { .. } => Failure::Input(error.to_string()),
            FolderError::Busy { .. } | FolderError::NoRoom { .. } | FolderError::Io { .. } => {
                Failure::Output(error.to_string())
            }
        }
    }
}

impl From<MakeError> for Failure {
    fn from(error: MakeError) -> Self {
        match error {
            MakeError::Folder(error) => error.into(),
            MakeError::Report(_) => {
                Failure::Output(format!("the report could not be written: {error}"))
            }
        }
    }
}

/// Runs the command with `words` (the program's name first), results to `out`, remarks to `err`.
pub fn run(
    words: impl IntoIterator<Item = OsString>,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Status {
    let args = match Args::try_parse_from(words) {
        Ok(args) => args,
        Err(refused) => {
            let text = refused.render();
            let asked = !refused.use_stderr();
            let text = shown(&text.to_string());
            let written = if asked { write!(out, "{text}") } else { write!(err, "{text}") };
            return match written {
                _ if !asked => Status::WrongInput,
                Ok(()) => Status::Fine,
                Err(_) => Status::NotWritten,
            };
        }
    };
    let json = matches!(
        args.command,
        Command::Check { json: true, .. }
            | Command::Make { json: true, .. }
            | Command::Prove { json: true, .. }
    );
    match obey(args.command, out) {
        Ok(status) => status,
        Err(failure) => {
            let told = match &failure {
                Failure::Survey(mistakes) if json => print_json(out, mistakes),
                Failure::Input(text) if json => print_json(out, &json!({ "error": text })),
                _ => Ok(()),
            };
            if told.is_err() {
                return Status::NotWritten;
            }
            let (text, status) = match failure {
                Failure::Survey(mistakes) => (mistakes.to_string(), Status::WrongInput),
                Failure::Input(text) => (text, Status::WrongInput),
                Failure::Output(text) => (text, Status::NotWritten),
            };
            // Where even this cannot be written the exit status still tells.
            let _ = writeln!(err, "{}", shown(text.trim_end()));
            status
        }
    }
}

/// What `check` says where it is told nothing.
const ON_SITE: &str = "\
check: expected a survey, or four measures of one sash. Four are enough on site:
  fillister check --thickness 45 --rebate 9x17 --moulding \"ovolo 12x11\" --sight 540x900
thickness: glazing face to room face; rebate: width by depth; moulding: shape, width by depth;
sight: daylight, width by height. In millimetres, or with a unit: 54x90cm.";

/// A house that is asked about.
struct Asked {
    house: House,
    /// What is done at it.
    record: Record,
    /// What was taken for granted.
    assumed: Vec<String>,
}

fn check(
    houses: Vec<Asked>,
    full: bool,
    json: bool,
    out: &mut dyn Write,
) -> Result<Status, Failure> {
    if json {
        let reports = houses.into_iter();
        let reports = reports.map(|Asked { house, record, assumed }| Report {
            assumed,
            ..job::check_against(&house, &record)
        });
        let reports: Vec<Report> = reports.collect();
        print_all(&reports, out)?;
        return Ok(worst(reports.iter().map(|report| report.verdict)));
    }
    let mut verdicts = Vec::new();
    for (number, Asked { house, record, assumed }) in houses.into_iter().enumerate() {
        let detail = match (full, assumed.is_empty()) {
            (true, _) => Detail::Full,
            (false, true) => Detail::Short,
            (false, false) => Detail::OnSite,
        };
        if number > 0 {
            print(out, "\n")?;
        }
        let mut told = job::check_in_words(&house, &record, detail);
        told.house.assumed = assumed;
        print(out, &summary::head(&told.house))?;
        told.sashes.iter().try_for_each(|words| print(out, words))?;
        print(out, &summary::foot(&told.house, detail))?;
        verdicts.push(told.house.verdict);
    }
    Ok(worst(verdicts))
}

/// Makes the folder of each survey. All are claimed and read before the first is made.
fn make(
    surveys: &[PathBuf],
    folder: Option<PathBuf>,
    json: bool,
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
    let houses = surveys
        .iter()
        .map(|survey| Ok::<_, Failure>((house_with(survey, Some(font::has))?, record(survey)?)));
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
    for (number, (folder, made)) in folders.iter().zip(&written).enumerate() {
        if number > 0 {
            print(out, "\n")?;
        }
        copy(&folder.join("summary.txt"), out)?;
        print(out, &summary::since_last_run(&made.changes))?;
        let remarks = made.remarks.iter().map(|remark| format!("{remark}.\n"));
        let remarks: String = remarks.collect();
        print(out, &format!("\nWritten to {}\n{remarks}", folder.display()))?;
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

/// One report as it is, several in a list.
fn print_all(reports: &[impl serde::Serialize], out: &mut dyn Write) -> Result<(), Failure> {
    match reports {
        [report] => print_json(out, report),
        reports => print_json(out, &reports),
    }
}

fn worst(verdicts: impl IntoIterator<Item = Verdict>) -> Status {
    status(verdicts.into_iter().max().unwrap_or(Verdict::Clear))
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

fn obey(command: Command, out: &mut dyn Write) -> Result<Status, Failure> {
    match command {
        Command::Check { surveys, on_site, sash, all, json } => {
            let houses = match (surveys.as_slice(), &sash) {
                ([], _) if on_site.thickness.is_none() => {
                    return Err(Failure::Input(ON_SITE.into()));
                }
                ([], _) => {
                    let (house, assumed) = quick(on_site).house().map_err(Failure::Input)?;
                    vec![Asked { house, record: Record::default(), assumed }]
                }
                ([survey], Some(id)) => {
                    let house = only(house(survey)?, survey, id)?;
                    let mut record = record(survey)?;
                    record.sashes.retain(|done| done.id == *id);
                    vec![Asked { house, record, assumed: Vec::new() }]
                }
                (_, Some(_)) => {
                    let why = "check: expected one survey beside --sash, the one that has it";
                    return Err(Failure::Input(why.into()));
                }
                (surveys, None) => {
                    let read = surveys.iter().map(|survey| {
                        let (house, record) = (house(survey)?, record(survey)?);
                        Ok(Asked { house, record, assumed: Vec::new() })
                    });
                    read.collect::<Result<_, Failure>>()?
                }
            };
            check(houses, all || sash.is_some(), json, out)
        }
        Command::Make { surveys, out: folder, json } => make(&surveys, folder, json, out),
        Command::Compare { one, other, out: file } => {
            let houses = [house(&one)?, house(&other)?];
            let [first, second] = &houses;
            let found = job::compare([first, second]);
            let names = [&one, &other].map(|path| path.display().to_string());
            let [one, other] = &names;
            print(out, &compare::text(&found, &[one, other]))?;
            if let Some(file) = file {
                let page = compare::sheet(&found, &[one, other]);
                job::folder::write_file(&file, page.as_bytes())?;
                print(out, &format!("\nWritten to {}\n", file.display()))?;
            }
            Ok(Status::Fine)
        }
        Command::Prove { programs, survey, sash, json } => {
            let proof = prove(&programs, &survey, &sash)?;
            if json {
                print_json(out, &proof)?;
            } else {
                print(out, &summary::proof(&proof))?;
            }
            Ok(if proof.is_proven() { Status::Fine } else { Status::Stopped })
        }
        Command::Start { out: Some(file) } => {
            job::folder::write_file(&file, survey::start().as_bytes())?;
            print(out, &format!("Written to {}\n", file.display()))?;
            Ok(Status::Fine)
        }
        Command::Start { out: None } => print(out, &survey::start()).map(|()| Status::Fine),
        Command::Form { out: file, paper } => {
            let paper = match paper {
                FormPaper::A4 => Paper::A4,
                FormPaper::A3 => Paper::A3,
                FormPaper::Letter => Paper::Letter,
            };
            let form = pdf::write(&form::document(paper)).map_err(defect)?;
            job::folder::write_file(&file, &form)?;
            print(out, &format!("Written to {}\n", file.display()))?;
            Ok(Status::Fine)
        }
        Command::Schema { of } => {
            let (survey, report) = (survey::schema(), schemars::schema_for!(Report));
            let house = schemars::schema_for!(HouseReport);
            match of {
                Some(SchemaOf::House) => print_json(out, &house)?,
                Some(SchemaOf::Survey) => print_json(out, &survey)?,
                Some(SchemaOf::Report) => print_json(out, &report)?,
                None => {
                    let all = json!({ "survey": survey, "report": report, "house": house });
                    print_json(out, &all)?;
                }
            }
            Ok(Status::Fine)
        }
        Command::Completions { shell } => {
            let mut script = Vec::new();
            clap_complete::generate(shell, &mut Args::command(), "fillister", &mut script);
            out.write_all(&script).map_err(cannot_print)?;
            Ok(Status::Fine)
        }
    }
}

/// The words of a sash that has no file yet; what is missing is refused where lengths are read.
fn quick(words: OnSite) -> Quick {
    Quick {
        thickness: words.thickness.unwrap_or_default(),
        sight: words.sight.unwrap_or_default(),
        rebate: words.rebate.unwrap_or_default(),
        moulding: words.moulding.unwrap_or_default(),
        face: words.face,
        kind: words.kind,
        unit: words.unit,
    }
}

fn status(verdict: Verdict) -> Status {
    if verdict == Verdict::Stop { Status::Stopped } else { Status::Fine }
}

/// Prints a text file line by line, however long it is.
fn copy(path: &Path, out: &mut dyn Write) -> Result<(), Failure> {
    let not_read = |error: std::io::Error| defect(format!("{}: {error}", path.display()));
    let file = std::io::BufReader::new(std::fs::File::open(path).map_err(not_read)?);
    file.lines().try_for_each(|line| print(out, &(line.map_err(not_read)? + "\n")))
}

fn prove(programs: &[PathBuf], survey: &Path, id: &str) -> Result<Proof, Failure> {
    let house = only(house(survey)?, survey, id)?;
    let files = programs::files(programs).map_err(Failure::Input)?;
    let texts: Vec<(String, String)> = files
        .iter()
        .map(|path| {
            let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
            Ok((name, text(path, read(path, prove::MOST_BYTES)?)?))
        })
        .collect::<Result<_, Failure>>()?;
    for (name, text) in &texts {
        programs::is_one(name, text).map_err(Failure::Input)?;
    }
    let programs: Vec<Program> =
        texts.iter().map(|(name, text)| Program::new(name, text)).collect();
    let sash = house.sashes.first().ok_or_else(|| Failure::Input(no_sash(survey, id, &[])))?;
    job::prove(sash, &house.workshop, &programs).map_err(defect)
}

/// The house with this sash alone.
fn only(mut house: House, survey: &Path, id: &str) -> Result<House, Failure> {
    let ids: Vec<String> = house.sashes.iter().map(|sash| sash.id.clone()).collect();
    house.sashes.retain(|sash| sash.id == id);
    if house.sashes.is_empty() { Err(Failure::Input(no_sash(survey, id, &ids))) } else { Ok(house) }
}

fn no_sash(survey: &Path, id: &str, ids: &[String]) -> String {
    format!("{}: there is no sash {id:?}; expected one of {}", survey.display(), ids.join(", "))
}

fn house(path: &Path) -> Result<House, Failure> {
    house_with(path, None)
}

/// The house of a survey whose names have only letters that `shows` knows.
fn house_with(path: &Path, shows: Option<fn(char) -> bool>) -> Result<House, Failure> {
    let with = survey::With { shows, open: &job::relative_files(path) };
    Ok(survey::read_with(&read(path, survey::MOST_BYTES)?, &path.display().to_string(), &with)?)
}

/// What is done at the house of a survey, if that was written down beside it.
fn record(survey: &Path) -> Result<Record, Failure> {
    let path = survey.with_file_name(survey::RECORD);
    if !path.exists() {
        return Ok(Record::default());
    }
    let bytes = read(&path, survey::MOST_RECORD_BYTES)?;
    Ok(survey::read_record(&bytes, &path.display().to_string())?)
}

impl From<Diagnostics> for Failure {
    fn from(found: Diagnostics) -> Self {
        Failure::Survey(found)
    }
}

/// The file, or of one longer than `most` so much that it is known to be.
fn read(path: &Path, most: usize) -> Result<Vec<u8>, Failure> {
    let mut bytes = Vec::new();
    let most = u64::try_from(most).unwrap_or(u64::MAX).saturating_add(1);
    let read = std::fs::File::open(path).and_then(|file| file.take(most).read_to_end(&mut bytes));
    read.map(|_| bytes).map_err(|error| {
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

fn text(path: &Path, bytes: Vec<u8>) -> Result<String, Failure> {
    String::from_utf8(bytes).map_err(|error| {
        let good = error.as_bytes().get(..error.utf8_error().valid_up_to()).unwrap_or_default();
        let line = good.split(|&byte| byte == b'\n').count();
        Failure::Input(format!("{}:{line}: expected text, found other bytes", path.display()))
    })
}

/// Fillister could not finish what a sound survey asked for.
fn defect(error: impl Display) -> Failure {
    Failure::Output(error.to_string())
}

fn cannot_print(error: impl Display) -> Failure {
    Failure::Output(format!("standard output: {error}"))
}

/// A text in which nothing acts on a terminal, whatever file names and words it quotes.
fn shown(text: &str) -> String {
    text.chars().map(|c| if c == '\n' { c } else { visible(c) }).collect()
}

fn print(out: &mut dyn Write, text: &str) -> Result<(), Failure> {
    written(out, &shown(text))
}

/// As [`print`]; what does not show is escaped, as JSON may write any character of a text.
fn print_json(out: &mut dyn Write, value: &impl serde::Serialize) -> Result<(), Failure> {
    let mut text = report::json(value).map_err(defect)?;
    text.push('\n');
    if text.contains(|c| c != '\n' && is_unseen(c)) {
        let mut escaped = String::with_capacity(text.len());
        for c in text.chars() {
            if c == '\n' || !is_unseen(c) {
                escaped.push(c);
                continue;
            }
            let mut room = [0; 2];
            escaped.extend(c.encode_utf16(&mut room).iter().map(|unit| format!("\\u{unit:04x}")));
        }
        text = escaped;
    }
    written(out, &text)
}

fn written(out: &mut dyn Write, text: &str) -> Result<(), Failure> {
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(cannot_print)
}
