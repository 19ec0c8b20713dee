//! Everything for the output folder, as files in memory.

use super::cannot_be_cut::cannot_be_cut;
use super::choice::choose;
use super::folder::Files;
use super::proof::{Proven, proven, zero_findings};
use super::report::{report, sash_report};
use super::reserve::reserve;
use super::trial::Views;
use super::work::Work;
use crate::drawing::{Scene, dxf, pdf, svg};
use crate::finding::{Verdict, gravest};
use crate::machine;
use crate::prove::Proof;
use crate::report::{ProgramLine, Report, SashReport};
use crate::sheets::index::Card;
use crate::sheets::{self, Subject};
use crate::survey::{self, House};
use kurbo::Size;
use rayon::prelude::*;
use std::fmt;

/// Sections stand on a screen at two and a half times their size.
const SECTION_LOOK: svg::Look = svg::Look { scale: 2.5, margin: 5.0 };

/// About the size of the elevation on a screen, mm.
const ELEVATION: Size = Size::new(150.0, 150.0);

/// Stands for the elevation among the drawings, which goes into the page of the house and into no file.
const ON_THE_PAGE: &str = "elevation";

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
    let made = house.sashes.par_iter().map(|measured| make_sash(house, measured));
    let made: Vec<Result<SashMade, MakeError>> = made.collect();
    let mut files = Files::new();
    let (mut sashes, mut cards) = (Vec::new(), Vec::new());
    let mut left = Vec::new();
    for (measured, made) in house.sashes.iter().zip(made) {
        match made {
            Ok(made) => {
                files.extend(made.files);
                sashes.push(made.report);
                cards.push(made.card);
            }
            Err(error) => left.push(cannot_be_cut(measured).ok_or(error)?),
        }
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
    let page = sheets::index::html(&report, &cards).map_err(|e| of_house(&e))?;
    files.insert("index.html".into(), page.into_bytes());
    Ok(Made { report, files })
}

/// A sash once its files are composed.
struct SashMade {
    report: SashReport,
    card: Card,
    files: Files,
}

/// Files of one sash by their names in its folder, or why there are none.
type Drawn = Result<Vec<(String, Vec<u8>)>, MakeError>;

fn make_sash(house: &House, measured: &survey::Sash) -> Result<SashMade, MakeError> {
    let failed =
        |why: &dyn fmt::Display| MakeError { sash: measured.id.clone(), why: why.to_string() };
    let (views, workshop) = (Views::shared(), &house.workshop);
    let work = Work::within(&views, measured, workshop).map_err(|e| failed(&e))?;
    let mut findings = work.findings();
    // A sash that is stopped gets no programs, so there is nothing to prove.
    let cut = gravest(&findings) != Verdict::Stop;
    let (choice, proven) = rayon::join(
        || choose(&views, &work, workshop),
        || cut.then(|| proven(&work, workshop)).transpose(),
    );
    let (choice, proven) = (choice.map_err(|e| failed(&e))?, proven.map_err(|e| failed(&e))?);
    if let Some(Proven { proof, .. }) = &proven {
        findings.extend(proof.findings().cloned());
        findings.extend(zero_findings(proof, workshop));
        findings.sort_by_key(|finding| std::cmp::Reverse(finding.verdict));
    }
    // Outlines would serve as a template, and there is none for a sash that is stopped.
    let cut = gravest(&findings) != Verdict::Stop;
    let written = proven.iter().filter(|proven| proven.proof.is_proven());
    let written = written.flat_map(|proven| work.programs.programs.iter().zip(&proven.texts));
    let lines = written.clone().map(|(program, text)| line(program, text)).collect();
    let proof = proven.as_ref().map(|proven| &proven.proof);
    let report = sash_report(&work, workshop, choice, findings, lines, proof);

    let subject = Subject {
        house: &house.name,
        workshop,
        sash: &work.sash,
        fit: &work.fit,
        rebate: &work.rebate,
        timber: &work.timber,
        materials: &work.materials,
    };
    let drawn = Drawings { subject, work: &work, report: &report, proof }.all(cut)?;

    let (mut files, mut card) = (Files::new(), Card::default());
    let programs = written
        .map(|(program, text)| (format!("cuts/{}", program.name), text.clone().into_bytes()));
    for (name, content) in drawn.into_iter().chain(programs) {
        let text = || String::from_utf8_lossy(&content).into_owned();
        if name == ON_THE_PAGE {
            card.elevation = text();
            continue;
        }
        if card.section.is_empty() && name.starts_with("section-") {
            card.section = text();
        }
        files.insert(format!("{}/{name}", measured.id), content);
    }
    card.files = files.keys().cloned().collect();
    Ok(SashMade { report, card, files })
}

/// What the files of a sash are drawn from.
struct Drawings<'a> {
    subject: Subject<'a>,
    work: &'a Work,
    report: &'a SashReport,
    proof: Option<&'a Proof>,
}

impl Drawings<'_> {
    /// Every file but the programs, side by side; what only a sash that may be cut gets if it is `cut`.
    fn all(&self, cut: bool) -> Drawn {
        let always = [Self::workshop, Self::proof, Self::sections, Self::elevation];
        let to_cut = [Self::template, Self::outlines, Self::plate, Self::set_ups];
        let draw = always.into_iter().chain(to_cut.into_iter().filter(|_| cut));
        let draw: Vec<fn(&Self) -> Drawn> = draw.collect();
        let drawn: Vec<Drawn> = draw.into_par_iter().map(|draw| draw(self)).collect();
        let drawn = drawn.into_iter().collect::<Result<Vec<_>, _>>()?;
        Ok(drawn.into_iter().flatten().collect())
    }

    fn failed(&self, why: &dyn fmt::Display) -> MakeError {
        MakeError { sash: self.report.id.clone(), why: why.to_string() }
    }

    fn dxf(&self, name: &str, scene: &Scene) -> Drawn {
        let drawn = dxf::write(scene).map_err(|e| self.failed(&e))?;
        Ok(vec![(name.to_owned(), drawn.into_bytes())])
    }

    fn workshop(&self) -> Drawn {
        let sheet = sheets::workshop::document(&self.subject, self.report);
        let sheet = sheet.map_err(|e| self.failed(&e))?;
        let pages = pdf::write(&sheet).map_err(|e| self.failed(&e))?;
        Ok(vec![("workshop.pdf".to_owned(), pages)])
    }

    fn proof(&self) -> Drawn {
        let Some(proof) = self.proof else { return Ok(Vec::new()) };
        let json = serde_json::to_string_pretty(proof).map_err(|e| self.failed(&e))?;
        let mut files = vec![("proof.json".to_owned(), (json + "\n").into_bytes())];
        if proof.swept {
            let Work { sash, rebate, .. } = self.work;
            let reserve = reserve(self.work, &self.subject.workshop.limits);
            let map = sheets::remaining_wood(sash, rebate, &reserve, proof);
            let map = map.map_err(|e| self.failed(&e))?;
            let picture = svg::write(&map, svg::Look::default()).map_err(|e| self.failed(&e))?;
            files.push(("proof.svg".to_owned(), picture.into_bytes()));
        }
        Ok(files)
    }

    fn sections(&self) -> Drawn {
        let Work { sash, fit, timber, .. } = self.work;
        let all = sheets::sections(sash, fit, timber).map_err(|e| self.failed(&e))?;
        let written = all.into_iter().map(|(name, scene)| {
            let picture = svg::write(&scene, SECTION_LOOK).map_err(|e| self.failed(&e))?;
            Ok((format!("section-{name}.svg"), picture.into_bytes()))
        });
        written.collect()
    }

    fn elevation(&self) -> Drawn {
        let scene = sheets::elevation::elevation(&self.subject, ELEVATION);
        let scene = scene.map_err(|e| self.failed(&e))?;
        let look = svg::Look { scale: ELEVATION.height / scene.extents().height(), margin: 5.0 };
        let picture = svg::write(&scene, look).map_err(|e| self.failed(&e))?;
        Ok(vec![(ON_THE_PAGE.to_owned(), picture.into_bytes())])
    }

    fn template(&self) -> Drawn {
        let tiles = sheets::template::document(&self.subject).map_err(|e| self.failed(&e))?;
        let pages = pdf::write(&tiles).map_err(|e| self.failed(&e))?;
        Ok(vec![("template.pdf".to_owned(), pages)])
    }

    fn outlines(&self) -> Drawn {
        let Work { sash, fit, rebate, .. } = self.work;
        let scene = sheets::outlines(sash, fit, rebate).map_err(|e| self.failed(&e))?;
        self.dxf("sash.dxf", &scene)
    }

    fn plate(&self) -> Drawn {
        let plate = sheets::guide::drawing(&self.subject).map_err(|e| self.failed(&e))?;
        plate.map_or(Ok(Vec::new()), |plate| self.dxf("template.dxf", &plate))
    }

    fn set_ups(&self) -> Drawn {
        let places = sheets::set_ups::drawing(&self.subject, &self.report.set_ups);
        let places = places.map_err(|e| self.failed(&e))?;
        places.map_or(Ok(Vec::new()), |places| self.dxf("setups.dxf", &places))
    }
}

fn line(program: &machine::Program, text: &str) -> ProgramLine {
    ProgramLine {
        name: program.name.clone(),
        minutes: program.minutes,
        lines: text.lines().count(),
    }
}
