//! Everything for the output folder, as files in memory.

use super::folder::Files;
use super::proof::{prove_and_note, zero_findings};
use super::report::{report, sash_report};
use super::reserve::reserve;
use super::trial::Views;
use super::unworked::unworked;
use super::work::Work;
use crate::drawing::{dxf, pdf, svg};
use crate::finding::{Verdict, gravest};
use crate::machine;
use crate::report::{ProgramLine, Report, SashReport};
use crate::sheets::index::Card;
use crate::sheets::set_ups::SetUp;
use crate::sheets::{self, Subject};
use crate::survey::{self, House};
use kurbo::Size;
use std::fmt;

/// Sections stand on a screen at two and a half times their size.
const SECTION_LOOK: svg::Look = svg::Look { scale: 2.5, margin: 5.0 };

/// About the size of the elevation on a screen, mm.
const ELEVATION: Size = Size::new(150.0, 150.0);

/// The report and the files of a house.
#[derive(Debug, Clone)]
pub struct Made {
    /// The report, as it also stands among the files.
    pub report: Report,
    /// The files of the output folder.
    pub files: Files,
}

/// Why a sash could not be made: a defect of Fillister, not of the survey.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MakeError {
    /// The sash.
    pub sash: String,
    /// What went wrong.
    pub why: String,
}

impl fmt::Display for MakeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "sash {}: {}", self.sash, self.why)
    }
}

impl std::error::Error for MakeError {}

/// Takes every sash through the house and composes the output folder.
///
/// # Errors
/// Where a drawing or a file cannot be composed.
pub fn make(house: &House) -> Result<Made, MakeError> {
    let mut files = Files::new();
    let (mut sashes, mut cards) = (Vec::new(), Vec::new());
    let mut left = Vec::new();
    for measured in &house.sashes {
        let made = match make_sash(house, measured, &mut files) {
            Ok(made) => made,
            Err(error) => {
                left.push(unworked(measured).ok_or(error)?);
                let own = format!("{}/", measured.id);
                files.retain(|name, _| !name.starts_with(&own));
                continue;
            }
        };
        sashes.push(made.report);
        cards.push(made.card);
    }
    let report = report(house, sashes, left);
    let of_house =
        |error: &dyn fmt::Display| MakeError { sash: "all".into(), why: error.to_string() };
    let json = serde_json::to_string_pretty(&report).map_err(|e| of_house(&e))?;
    files.insert("report.json".into(), (json + "\n").into_bytes());
    files.insert("summary.txt".into(), sheets::summary::summary(&report).into_bytes());
    let order = sheets::order::csv(&report).map_err(|e| of_house(&e))?;
    files.insert("glass-order.csv".into(), order);
    let order =
        sheets::glass::document(&report, &house.workshop.printer).map_err(|e| of_house(&e))?;
    files.insert("glass-order.pdf".into(), pdf::write(&order).map_err(|e| of_house(&e))?);
    let cuts = sheets::cutting_list::csv(&report).map_err(|e| of_house(&e))?;
    files.insert("cutting-list.csv".into(), cuts);
    files.insert("index.html".into(), sheets::index::html(&report, &cards).into_bytes());
    Ok(Made { report, files })
}

/// What is left of a sash once its files are composed.
struct SashMade {
    report: SashReport,
    card: Card,
}

fn make_sash(
    house: &House,
    measured: &survey::Sash,
    files: &mut Files,
) -> Result<SashMade, MakeError> {
    let failed =
        |why: &dyn fmt::Display| MakeError { sash: measured.id.clone(), why: why.to_string() };
    let workshop = &house.workshop;
    let views = Views::shared();
    let mut work = Work::within(&views, measured, workshop).map_err(|e| failed(&e))?;
    let mut findings = work.findings();
    let mut put = |name: &str, content: Vec<u8>| {
        files.insert(format!("{}/{name}", measured.id), content);
    };

    let mut lines = Vec::new();
    let mut proof = None;
    // A sash that is stopped gets no programs, so there is nothing to prove.
    if gravest(&findings) != Verdict::Stop {
        let found = prove_and_note(&mut work, workshop).map_err(|e| failed(&e))?;
        let json = serde_json::to_string_pretty(&found).map_err(|e| failed(&e))?;
        put("proof.json", (json + "\n").into_bytes());
        if found.swept {
            let reserve = reserve(&work, &workshop.limits);
            let map = sheets::wood_left(&work.sash, &work.rebate, &reserve, &found)
                .map_err(|e| failed(&e))?;
            let picture = svg::write(&map, svg::Look::default()).map_err(|e| failed(&e))?;
            put("proof.svg", picture.into_bytes());
        }
        if found.is_proven() {
            for program in &work.programs.programs {
                let text = program.text();
                lines.push(line(program, &text));
                put(&format!("cuts/{}", program.name), text.into_bytes());
            }
        }
        findings.extend(found.findings().cloned());
        findings.extend(zero_findings(&found, workshop));
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
        proof = Some(found);
    }

    let placed =
        |at: &machine::SetUp| SetUp { number: at.number, place: at.place, window: at.window };
    let set_ups: Vec<SetUp> = work.programs.set_ups.iter().map(placed).collect();
    let subject = Subject {
        house: &house.name,
        workshop,
        sash: &work.sash,
        fit: &work.fit,
        rebate: &work.rebate,
        timber: &work.timber,
        materials: &work.materials,
        set_ups: &set_ups,
    };
    // Outlines would serve as a template, and there is none for a sash that is stopped.
    if gravest(&findings) != Verdict::Stop {
        let outlines =
            sheets::outlines(&work.sash, &work.fit, &work.rebate).map_err(|e| failed(&e))?;
        let drawn = dxf::write(&outlines, dxf::Form::R2000).map_err(|e| failed(&e))?;
        put("sash.dxf", drawn.into_bytes());
        let tiles = sheets::template::document(&subject).map_err(|e| failed(&e))?;
        put("template.pdf", pdf::write(&tiles).map_err(|e| failed(&e))?);
        if let Some(plate) = sheets::guide::drawing(&subject).map_err(|e| failed(&e))? {
            let drawn = dxf::write(&plate, dxf::Form::R2000).map_err(|e| failed(&e))?;
            put("template.dxf", drawn.into_bytes());
        }
        if let Some(places) = sheets::set_ups::drawing(&subject).map_err(|e| failed(&e))? {
            let drawn = dxf::write(&places, dxf::Form::R2000).map_err(|e| failed(&e))?;
            put("setups.dxf", drawn.into_bytes());
        }
    }
    let mut card = Card::default();
    let sections = sheets::sections(&work.sash, &work.fit, &work.timber).map_err(|e| failed(&e))?;
    for (name, scene) in sections {
        let picture = svg::write(&scene, SECTION_LOOK).map_err(|e| failed(&e))?;
        if card.section.is_empty() {
            card.section.clone_from(&picture);
        }
        put(&format!("section-{name}.svg"), picture.into_bytes());
    }
    let elevation = sheets::elevation::elevation(&subject, ELEVATION).map_err(|e| failed(&e))?;
    let look = svg::Look { scale: ELEVATION.height / elevation.extents().height(), margin: 5.0 };
    card.elevation = svg::write(&elevation, look).map_err(|e| failed(&e))?;
    let report = sash_report(&views, &work, workshop, findings, lines, proof.as_ref())
        .map_err(|e| failed(&e))?;
    let sheet = sheets::workshop::document(&subject, &report).map_err(|e| failed(&e))?;
    put("workshop.pdf", pdf::write(&sheet).map_err(|e| failed(&e))?);
    card.files = files
        .keys()
        .filter(|name| name.starts_with(&format!("{}/", measured.id)))
        .cloned()
        .collect();
    Ok(SashMade { report, card })
}

fn line(program: &machine::Program, text: &str) -> ProgramLine {
    ProgramLine {
        name: program.name.clone(),
        minutes: program.minutes,
        lines: text.lines().count(),
    }
}
