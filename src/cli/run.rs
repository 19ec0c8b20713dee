//! From words to a run, and from its outcome to an exit status.

use super::args::{Args, Command, FormPaper, OnSite, SchemaOf};
use super::files::{house, no_sash, only, read, record, text};
use super::houses::{check, make};
use super::outcome::{Failure, Status, defect};
use super::output::{cannot_print, paint, print, print_json, shown};
use super::programs;
use super::reports::Asked;
use super::screen::Screen;
use crate::drawing::pdf;
use crate::job;
use crate::language::{self, Language};
#[cfg(feature = "page")]
use crate::page::{Page, Reach};
use crate::prove::{self, Program, Proof};
use crate::report::{HouseReport, Report};
use crate::sheets::kit::Voice;
use crate::sheets::{compare, done, form, summary};
use crate::survey::{self, Paper, Quick, Record};
use clap::{CommandFactory, Parser};
use serde_json::json;
use std::ffi::OsString;
use std::io::Write;
use std::path::{Path, PathBuf};

/// Runs the command with `words` (the program's name first), results to `out`, as `screen` shows them, remarks to
/// `err`.
pub fn run(
    words: impl IntoIterator<Item = OsString>,
    screen: Screen,
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
    match obey(args.command, screen, out) {
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

fn obey(command: Command, screen: Screen, out: &mut dyn Write) -> Result<Status, Failure> {
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
                    let mut record = record(survey, &house)?;
                    record.sashes.retain(|done| done.id == *id);
                    vec![Asked { house, record, assumed: Vec::new() }]
                }
                (_, Some(_)) => {
                    let why = "check: expected one survey beside --sash, the one that has it";
                    return Err(Failure::Input(why.into()));
                }
                (surveys, None) => {
                    let read = surveys.iter().map(|survey| {
                        let house = house(survey)?;
                        let record = record(survey, &house)?;
                        Ok(Asked { house, record, assumed: Vec::new() })
                    });
                    read.collect::<Result<_, Failure>>()?
                }
            };
            check(houses, all || sash.is_some(), json, screen, out)
        }
        Command::Make { surveys, out: folder, json } => make(&surveys, folder, json, screen, out),
        Command::Compare { one, other, out: file } => compare(&[one, other], file, out),
        Command::Done { survey, on, sash, out: file } => {
            let asked = house(&survey)?;
            let asked = match &sash {
                Some(id) => only(asked, &survey, id)?,
                None => asked,
            };
            let text = done::record(&job::check(&asked), &on).map_err(defect)?;
            written(&text, file, out)
        }
        Command::Prove { programs, survey, sash, json } => {
            let (proof, voice) = prove(&programs, &survey, &sash)?;
            if json {
                print_json(out, &proof)?;
            } else {
                let words = summary::proof(&proof, (screen.width(), voice));
                paint(out, &mut screen.painter(), &words)?;
            }
            Ok(if proof.is_proven() { Status::Fine } else { Status::Stopped })
        }
        #[cfg(feature = "page")]
        Command::Page { survey, port, open, share } => {
            let reach = share.map_or(Reach::Here, |at| {
                Reach::Network(Some(at).filter(|at| !at.is_unspecified()))
            });
            page(&survey, port, reach, open, out)
        }
        Command::Start { words: true, out: file } => written(language::BRITISH, file, out),
        Command::Start { words: false, out: file } => written(&survey::start(), file, out),
        Command::Form { out: file, paper, words } => {
            let paper = match paper {
                FormPaper::A4 => Paper::A4,
                FormPaper::A3 => Paper::A3,
                FormPaper::Letter => Paper::Letter,
            };
            let voice = Voice::in_words(language_of(&words)?);
            let form = pdf::write(&form::document(paper, voice)).map_err(defect)?;
            written_to(&file, &form, out)?;
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

/// Serves the page until the process is asked to end.
#[cfg(feature = "page")]
fn page(
    survey: &Path,
    port: u16,
    reach: Reach,
    open: bool,
    out: &mut dyn Write,
) -> Result<Status, Failure> {
    let record = |path: &Path, house: &survey::House| {
        record(path, house).map_err(|failure| match failure {
            Failure::Survey(mistakes) => mistakes.to_string(),
            Failure::Input(words) | Failure::Output(words) => words,
        })
    };
    let page = Page::open(survey, port, reach, record).map_err(Failure::Input)?;
    print(out, &format!("{} is open at {} (Ctrl-C ends it)\n", survey.display(), page.address()))?;
    if let Some((address, code)) = page.from_network() {
        print(
            out,
            &format!(
                "{code}On the network at {address}\nWhoever has this address can change the survey.\n"
            ),
        )?;
    }
    if let Some(Err(none)) = open.then(|| page.show()) {
        print(out, &format!("{none}\n"))?;
    }
    out.flush().map_err(cannot_print)?;
    page.serve().map_err(|error| Failure::Output(format!("the page cannot be served: {error}")))?;
    Ok(Status::Fine)
}

fn written_to(file: &Path, content: &[u8], out: &mut dyn Write) -> Result<(), Failure> {
    job::folder::write_file(file, content)?;
    print(out, &format!("Written to {}\n", file.display()))
}

/// A text in a file of its own, or printed where there is none.
fn written(text: &str, file: Option<PathBuf>, out: &mut dyn Write) -> Result<Status, Failure> {
    match file {
        Some(file) => written_to(&file, text.as_bytes(), out)?,
        None => print(out, text)?,
    }
    Ok(Status::Fine)
}

/// Holds the second survey against the first.
fn compare(
    surveys: &[PathBuf; 2],
    file: Option<PathBuf>,
    out: &mut dyn Write,
) -> Result<Status, Failure> {
    let [one, other] = surveys;
    let houses = [house(one)?, house(other)?];
    let [first, second] = &houses;
    let found = job::compare([first, second]);
    // Inches where either asks for them.
    let asks = houses.iter().find(|house| house.workshop.printer.inches).unwrap_or(first);
    let voice = Voice::of(&asks.workshop.printer);
    let names = [one, other].map(|path| path.display().to_string());
    let [one, other] = &names;
    print(out, &compare::text(&found, &[one, other], voice))?;
    if file.is_some() {
        print(out, "\n")?;
        return written(&compare::sheet(&found, &[one, other], voice), file, out);
    }
    Ok(Status::Fine)
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

fn prove(programs: &[PathBuf], survey: &Path, id: &str) -> Result<(Proof, Voice), Failure> {
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
    let proof = job::prove(sash, &house.workshop, &programs).map_err(defect)?;
    Ok((proof, Voice::of(&house.workshop.printer)))
}

/// Words by their name, or those of a file.
fn language_of(words: &Path) -> Result<&'static Language, Failure> {
    match words.to_str().map(str::to_ascii_lowercase).as_deref() {
        Some("british") => Ok(Language::british()),
        Some("american") => Ok(Language::american()),
        _ => {
            let bytes = read(words, language::MOST_BYTES).map_err(|why| match why {
                Failure::Input(why) => {
                    Failure::Input(format!("{why}; expected british, american or a file of texts"))
                }
                why => why,
            })?;
            Language::of_file(&bytes)
                .map_err(|why| Failure::Input(format!("{}: {why}", words.display())))
        }
    }
}
