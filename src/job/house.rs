//! From the sashes of a house to its folder.
//!
//! Promised: what is held in memory of a sash once its files are on their way is a few lines; sashes that an earlier
//! run of this very program made from the same measures and settings are taken over, not made again.

use super::cannot_be_cut::cannot_be_cut;
use super::differences::{Noted, differences_at_least};
use super::folder::{Files, Folder, FolderError};
use super::make::{REPORT, SashMade, make_sash, said};
use super::report::{cautions, check_sash, report, tell_lost};
use super::trial::Views;
use super::work::Work;
use crate::drawing::pdf;
use crate::finding::{Answers, Verdict};
use crate::language::{Said, Text, text};
use crate::report::{
    HouseReport, NotANumber, OrderTotal, Report, SashLine, SashReport, UnitKinds, json,
};
use crate::sheets::glass;
use crate::sheets::kit::Voice;
use crate::sheets::list::List;
use crate::sheets::summary::{self, Detail, WIDTH};
use crate::sheets::{self, Share, cutting_list, index, order};
use crate::survey::{self, House, Record};
use rayon::prelude::*;
use std::borrow::Cow;
use std::collections::BTreeSet;
use std::fmt::{self, Display};
use std::fs;
use std::io::{self, Write};
use std::path::PathBuf;

/// Name of the file in the folder of a sash that holds what the sheets of the house take from it.
const SHARE: &str = ".for-the-house.json";

/// What the files of a sash take on the disk at the least, bytes; one with programs takes three times as much.
const LEAST_BYTES: u64 = 100_000;

/// Which sources this program was built from.
const SOURCES: &str = env!("FILLISTER_SOURCES");

/// The report and the files of a house.
#[derive(Debug, Clone)]
pub struct Made {
    /// Everything that is known of its sashes.
    pub report: Report,
    /// In short, as it stands among the files.
    pub house: HouseReport,
    /// The files of the output folder.
    pub files: Files,
}

/// Why there is no folder.
#[derive(Debug)]
pub enum MakeError {
    /// It could not be written.
    Folder(FolderError),
    /// The report holds a number that is none: a defect of Fillister, not of the survey.
    Report(NotANumber),
}

one_of! { MakeError: Folder(FolderError), Report(NotANumber) }

/// A folder that was written.
#[derive(Debug, Clone, PartialEq)]
pub struct Written {
    /// The report in short.
    pub report: HouseReport,
    /// What is other than in the run before, sash by sash; nothing where there was none.
    pub changes: Vec<Text>,
    /// What is to be told of the folder.
    pub remarks: Vec<String>,
}

/// How far a run has come.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Step {
    /// So many sashes are to be made, besides those taken over from an earlier run.
    Begun {
        /// Sashes of the house.
        sashes: usize,
        /// How many of them are to be made.
        to_make: usize,
    },
    /// A sash is made.
    Sash,
    /// All are; the sheets of the house come next.
    Sheets,
}

/// What is kept of a sash until the sheets of the house are written.
struct Brief {
    line: SashLine,
    order: OrderTotal,
    duties: Vec<Said>,
    share: Place,
    /// What differs from the run before.
    changes: Vec<Text>,
}

/// Where the share of a sash is.
enum Place {
    Here(Box<Share>),
    Kept(PathBuf),
}

impl Brief {
    fn here(share: Share) -> Brief {
        let (line, duties) = (share.line.clone(), share.duties.clone());
        let order = OrderTotal::of_all(&share.units);
        Brief { line, order, duties, share: Place::Here(Box::new(share)), changes: Vec::new() }
    }

    fn kept(share: Share, path: PathBuf) -> Brief {
        Brief {
            order: OrderTotal::of_all(&share.units),
            line: share.line,
            duties: share.duties,
            share: Place::Kept(path),
            changes: Vec::new(),
        }
    }

    fn share(&self) -> io::Result<Cow<'_, Share>> {
        match &self.share {
            Place::Here(share) => Ok(Cow::Borrowed(share)),
            Place::Kept(path) => Ok(Cow::Owned(serde_json::from_slice(&fs::read(path)?)?)),
        }
    }
}

/// Takes every sash through the house and composes the output folder in memory. A sash that cannot be worked out and
/// a sheet that cannot be drawn are told in the report; they keep back nothing else.
///
/// # Errors
/// Where the report itself cannot be composed.
pub fn make(house: &House) -> Result<Made, MakeError> {
    make_against(house, &Record::default())
}

/// As [`make`], each sash held against what is done at it already: the files that [`make_in`] writes.
///
/// # Errors
/// As [`make`].
pub fn make_against(house: &House, record: &Record) -> Result<Made, MakeError> {
    let made =
        house.sashes.par_iter().map(|measured| (measured, make_sash(house, measured, record)));
    let made: Vec<_> = made.collect();
    let (mut sashes, mut left, mut briefs) = (Vec::new(), Vec::new(), Vec::new());
    let voice = Voice::of(&house.workshop.printer);
    let mut shelf = Files::new();
    for (measured, made) in made {
        match made {
            Ok(SashMade { report, share, files }) => {
                let files = files.into_iter();
                shelf.extend(
                    files.map(|(name, content)| (format!("{}/{name}", measured.id), content)),
                );
                sashes.push(report);
                briefs.push(Brief::here(share));
            }
            Err(error) => {
                let none = cannot_be_cut(measured, &error);
                briefs.push(Brief::here(Share::of_none(&none, voice)));
                left.push(none);
            }
        }
    }
    let short = sheets(house, record, briefs, &mut shelf)?;
    let mut report = report(house, sashes, left);
    report.cautions.clone_from(&short.cautions);
    Ok(Made { report, house: short, files: shelf })
}

/// As [`make`], into a folder that was claimed, sash by sash, each held against what is done at it already.
///
/// # Errors
/// Where the folder cannot be written; it is then as it was.
pub fn make_in(
    mut folder: Folder,
    house: &House,
    record: &Record,
    told: &(dyn Fn(Step) + Sync),
) -> Result<Written, MakeError> {
    let from: Vec<String> =
        house.sashes.par_iter().map(|sash| made_from(house, sash, record)).collect();
    let sashes = house.sashes.iter().zip(&from);
    let to_make = sashes.filter(|(sash, from)| !folder.has_part(&sash.id, from)).count();
    told(Step::Begun { sashes: house.sashes.len(), to_make });
    folder.begin(LEAST_BYTES * to_make as u64)?;
    let voice = Voice::of(&house.workshop.printer);
    let briefs = house.sashes.par_iter().zip(&from).map(|(measured, from)| {
        if let Some(brief) = taken_over(&folder, measured, from)? {
            return Ok(brief);
        }
        let brief = match make_sash(house, measured, record) {
            Ok(SashMade { report, share, mut files }) => {
                // A share holds no number that its report does not.
                let text = serde_json::to_vec(&share).map_err(io::Error::from);
                let path = folder.path(&measured.id).join(SHARE);
                let text = text.map_err(|error| FolderError::Io { path: path.clone(), error })?;
                files.insert(SHARE.to_owned(), text);
                folder.put_part(&measured.id, from, files)?;
                let changes = since(&folder, &report);
                Brief { changes, ..Brief::kept(share, path) }
            }
            Err(error) => Brief::here(Share::of_none(&cannot_be_cut(measured, &error), voice)),
        };
        told(Step::Sash);
        Ok(brief)
    });
    let briefs = briefs.collect::<Result<Vec<Brief>, FolderError>>()?;
    told(Step::Sheets);
    folder.settle()?;
    let changes = changes(&folder, &briefs);
    let report = sheets(house, record, briefs, &mut &folder)?;
    let remarks = folder.finish()?;
    Ok(Written { report, changes, remarks })
}

/// What an earlier run made of the same.
fn taken_over(
    folder: &Folder,
    measured: &survey::Sash,
    from: &str,
) -> Result<Option<Brief>, FolderError> {
    let Some(kept) = folder.keep_part(&measured.id, from)? else { return Ok(None) };
    let path = kept.join(SHARE);
    let share = fs::read(&path).ok().and_then(|text| serde_json::from_slice(&text).ok());
    Ok(share.map(|share| Brief::kept(share, path)))
}

/// What is other of a sash than in the run before, if there was one that worked it out.
fn since(folder: &Folder, sash: &SashReport) -> Vec<Text> {
    let Some(before) = folder.former_part(&sash.id) else { return Vec::new() };
    let before = fs::read(before.join(REPORT)).ok();
    let before = before.and_then(|text| serde_json::from_slice::<Noted>(&text).ok());
    before.map_or_else(Vec::new, |before| differences_at_least(&before, &Noted::from(sash)))
}

/// What is other than in the run before, sash by sash.
fn changes(folder: &Folder, briefs: &[Brief]) -> Vec<Text> {
    let before = folder.former_parts();
    if before.is_empty() {
        return Vec::new();
    }
    let worked = briefs.iter().filter(|brief| brief.line.answers.is_some());
    let now: BTreeSet<&str> = worked.clone().map(|brief| brief.line.id.as_str()).collect();
    let told = worked.filter_map(|brief| {
        let id = &brief.line.id;
        match brief.changes.as_slice() {
            _ if !before.contains(id) => Some(text!("since-new", sash = id)),
            [] => None,
            changes => Some(text!("since", sash = id, changes = Text::each(changes))),
        }
    });
    let gone = before.iter().filter(|id| !now.contains(id.as_str()));
    told.chain(gone.map(|id| text!("since-gone", sash = id))).collect()
}

/// What the files of a sash follow from, and nothing else: its measures, what is done at it, the settings of the
/// workshop, the name of the house, and this program. FNV-1a, 128 bit.
fn made_from(house: &House, sash: &survey::Sash, record: &Record) -> String {
    struct Hash(u128);
    impl fmt::Write for Hash {
        fn write_str(&mut self, text: &str) -> fmt::Result {
            self.0 = text.bytes().fold(self.0, |hash, byte| {
                (hash ^ u128::from(byte)).wrapping_mul(0x0000_0000_0100_0000_0000_0000_0000_013b)
            });
            Ok(())
        }
    }
    let mut hash = Hash(0x6c62_272e_07bb_0142_62b8_2175_6295_c58d);
    let (version, done) = (env!("CARGO_PKG_VERSION"), record.of(&sash.id));
    // Numbers are written so that no two of them look alike; writing into a number does not fail.
    let _ = fmt::Write::write_fmt(
        &mut hash,
        format_args!("{version} {SOURCES} {:?} {:?} {sash:?} {done:?}", house.name, house.workshop),
    );
    format!("{:032x}", hash.0)
}

/// Where the files of a house go.
trait Shelf {
    fn put(
        &mut self,
        name: &str,
        content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), FolderError>;
}

impl Shelf for Files {
    fn put(
        &mut self,
        name: &str,
        content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), FolderError> {
        let mut bytes = Vec::new();
        content(&mut bytes).map_err(|error| FolderError::Io { path: name.into(), error })?;
        self.insert(name.to_owned(), bytes);
        Ok(())
    }
}

impl Shelf for &Folder {
    fn put(
        &mut self,
        name: &str,
        content: impl FnOnce(&mut dyn Write) -> io::Result<()>,
    ) -> Result<(), FolderError> {
        Folder::put(self, name, content)
    }
}

/// The files of the whole house; its report in short.
fn sheets(
    house: &House,
    record: &Record,
    mut briefs: Vec<Brief>,
    shelf: &mut impl Shelf,
) -> Result<HouseReport, MakeError> {
    let voice = Voice::of(&house.workshop.printer);
    // Those for which no cut could be worked out come last.
    briefs.sort_by_key(|brief| brief.line.answers.is_none());
    let (pdfs, missing) = glass_order(house, &briefs, shelf)?;
    shelf.put("glass-order.csv", |out| {
        let mut list = List::new(out, order::COLUMNS, voice).map_err(io::Error::other)?;
        each(&briefs, |share| {
            let lines = order::lines(&share.line.id, &share.units, voice);
            lines.and_then(|lines| list.add(&lines)).map_err(io::Error::other)
        })?;
        list.finish().map(|_| ()).map_err(io::Error::other)
    })?;
    shelf.put("cutting-list.csv", |out| {
        let mut list = List::new(out, cutting_list::COLUMNS, voice).map_err(io::Error::other)?;
        each(&briefs, |share| list.add(&share.parts).map_err(io::Error::other))?;
        list.finish().map(|_| ()).map_err(io::Error::other)
    })?;
    let mut report = in_short(house, record, &briefs, missing);
    match for_owner(house, &report) {
        Ok(pages) => shelf.put(OWNERS, |out| out.write_all(&pages))?,
        Err(why) => {
            report.cautions.insert(0, voice.said_twice(&not_made(OWNERS, &why)));
        }
    }
    let files = ["summary.txt", OWNERS].into_iter().chain(pdfs.iter().map(String::as_str));
    let files: Vec<&str> = files.chain(["glass-order.csv", "cutting-list.csv", REPORT]).collect();
    shelf.put("index.html", |out| {
        out.write_all(index::head(&report, &files, voice).as_bytes())?;
        each(&briefs, |share| out.write_all(share.card.as_bytes()))?;
        out.write_all(index::foot(&report, voice).as_bytes())
    })?;
    shelf.put("summary.txt", |out| {
        out.write_all(summary::head(&report, (WIDTH, voice)).as_bytes())?;
        each(&briefs, |share| out.write_all(share.words.as_bytes()))?;
        out.write_all(summary::foot(&report, Detail::Short, (WIDTH, voice)).as_bytes())
    })?;
    let json = json(&report)?;
    shelf.put(REPORT, |out| writeln!(out, "{json}"))?;
    Ok(report)
}

fn each(briefs: &[Brief], mut take: impl FnMut(&Share) -> io::Result<()>) -> io::Result<()> {
    briefs.iter().try_for_each(|brief| take(brief.share()?.as_ref()))
}

/// The sheets of the glass order: their names, and what is missing of them.
fn glass_order(
    house: &House,
    briefs: &[Brief],
    shelf: &mut impl Shelf,
) -> Result<(Vec<String>, Vec<Said>), MakeError> {
    let voice = Voice::of(&house.workshop.printer);
    let mut kinds = UnitKinds::default();
    for brief in briefs {
        let share = brief.share();
        let share =
            share.map_err(|error| FolderError::Io { path: brief.line.id.clone().into(), error })?;
        kinds.add(&brief.line.id, share.into_owned().units.into_iter().map(Cow::Owned));
    }
    let (mut names, mut missing) = (Vec::new(), Vec::new());
    // An order of nothing is a sheet too.
    let none = kinds.0.is_empty().then_some(kinds.0.as_slice());
    for (part, kinds) in kinds.0.chunks(glass::MOST_KINDS).chain(none).enumerate() {
        let name = if part == 0 {
            "glass-order.pdf".to_owned()
        } else {
            format!("glass-order-{}.pdf", part + 1)
        };
        let sheet = glass::document_of(kinds, &house.name, &house.workshop.printer).map_err(said);
        match sheet.and_then(|sheet| pdf::write(&sheet).map_err(said)) {
            Ok(pages) => {
                shelf.put(&name, |out| out.write_all(&pages))?;
                names.push(name);
            }
            Err(why) => missing.push(voice.said_twice(&not_made(&name, &why))),
        }
    }
    Ok((names, missing))
}

/// The page for the one who owns the house.
const OWNERS: &str = "for-the-owner.pdf";

/// That page, with the section of the first sash that may be cut.
fn for_owner(house: &House, report: &HouseReport) -> Result<Vec<u8>, String> {
    let cut = report.sashes.iter().find(|sash| sash.answers.is_some_and(Answers::may_be_cut));
    let sash = cut.and_then(|cut| house.sashes.iter().find(|sash| sash.id == cut.id));
    let most = sheets::options::section_room(&house.workshop.printer);
    let voice = Voice::of(&house.workshop.printer);
    let section = sash.map(|sash| {
        let Work { sash, fit, timber, .. } = Work::new(sash, &house.workshop).map_err(said)?;
        let all =
            sheets::sections(&sash, &fit, &timber, voice, |section| section.for_owner(most, voice))
                .map_err(said)?;
        Ok::<_, String>(all.into_iter().next().map(|(_, scene)| scene))
    });
    let printer = &house.workshop.printer;
    let sheet = sheets::options::for_owner(report, printer, section.transpose()?.flatten());
    pdf::write(&sheet.map_err(said)?).map_err(said)
}

fn not_made(file: &str, why: &impl Display) -> Text {
    text!("house-not-made", file, why = why.to_string())
}

fn in_short(house: &House, record: &Record, briefs: &[Brief], missing: Vec<Said>) -> HouseReport {
    let worked = briefs.iter().filter(|brief| brief.line.answers.is_some());
    let duties: Vec<(&str, &[Said])> =
        worked.map(|brief| (brief.line.id.as_str(), brief.duties.as_slice())).collect();
    let mut verdict = briefs.iter().map(|brief| brief.line.verdict).max().unwrap_or(Verdict::Clear);
    let mut doubts: Vec<Text> = house.doubts.iter().map(survey::Doubt::told).collect();
    tell_lost(house, record, &mut doubts, &mut verdict);
    HouseReport {
        fillister: env!("CARGO_PKG_VERSION"),
        house: house.name.clone(),
        verdict,
        doubts,
        sashes: briefs.iter().map(|brief| brief.line.clone()).collect(),
        order: briefs.iter().map(|brief| brief.order).sum(),
        assumed: Vec::new(),
        cautions: missing
            .into_iter()
            .chain(cautions(&duties, house.workshop.printer.language))
            .collect(),
    }
}

/// A house, checked and put into words; of a sash nothing else is kept.
#[derive(Debug, Clone, PartialEq)]
pub struct InWords {
    /// In short.
    pub house: HouseReport,
    /// What is said of each sash, in the order of the report.
    pub sashes: Vec<String>,
}

/// Judges every sash of a house without writing programs, in words, in lines of so many columns.
pub fn check_in_words(house: &House, record: &Record, detail: Detail, width: usize) -> InWords {
    let voice = Voice::of(&house.workshop.printer);
    let brief = |line, order, duties| Brief {
        line,
        order,
        duties,
        share: Place::Kept(PathBuf::new()),
        changes: Vec::new(),
    };
    let told = house.sashes.par_iter().map(|measured| {
        match check_sash(house, measured, record, Views::shared) {
            Ok(sash) => {
                let duties = sash.duties.iter().map(|duty| voice.said_twice(duty)).collect();
                let words = summary::of_sash(&sash, detail, (width, voice));
                (brief(summary::line(&sash), sash.order(), duties), words)
            }
            Err(none) => {
                let line = summary::line_of_none(&none);
                let words = summary::of_none(&none, (width, voice));
                (brief(line, OrderTotal::default(), Vec::new()), words)
            }
        }
    });
    let mut told: Vec<_> = told.collect();
    told.sort_by_key(|(brief, _)| brief.line.answers.is_none());
    let (briefs, sashes): (Vec<Brief>, Vec<String>) = told.into_iter().unzip();
    InWords { house: in_short(house, record, &briefs, Vec::new()), sashes }
}
