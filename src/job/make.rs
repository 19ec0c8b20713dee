//! The files of a sash, in memory.

use super::choice::{Known, choose};
use super::error::WorkError;
use super::folder::Files;
use super::proof::{Proven, findings as of_proof, proven, zero_findings};
use super::report::{findings, sash_report, worked};
use super::reserve::reserve;
use super::trial::Views;
use super::work::Work;
use crate::drawing::{Document, Scene, SceneError, dxf, pdf, svg};
use crate::finding::{Answers, Bound, Bounds, Finding, Quantity, Verdict, gravest, gravest_first};
use crate::language::{Text, text};
use crate::machine;
use crate::prove::{self, Passage, Proof};
use crate::report::{CannotBeCut, ProgramLine, SashReport, StageLine, json};
use crate::sheets::index::Card;
use crate::sheets::kit::Voice;
use crate::sheets::{self, Share, Subject};
use crate::survey::{self, House, Record};
use kurbo::Size;
use rayon::prelude::*;
use std::fmt;

/// Sections stand on a screen at two and a half times their size.
const SECTION_LOOK: svg::Look = svg::Look { scale: 2.5, margin: 5.0 };

/// About the size of the elevation on a screen, mm.
const ELEVATION: Size = Size::new(150.0, 150.0);

/// Its name.
const ELEVATION_FILE: &str = "elevation.svg";

/// Name of the report of a sash, and of that of the house.
pub(super) const REPORT: &str = "report.json";

/// A sash once its files are composed.
pub(super) struct SashMade {
    pub report: SashReport,
    /// What the sheets of the house take from it.
    pub share: Share,
    /// By their names in its folder.
    pub files: Files,
}

/// Files of one sash by their names in its folder, or why there are none.
type Drawn = Result<Vec<(String, Vec<u8>)>, String>;

pub(super) fn said(error: impl fmt::Display) -> String {
    error.to_string()
}

fn one(name: &str, file: Vec<u8>) -> Vec<(String, Vec<u8>)> {
    vec![(name.to_owned(), file)]
}

fn pages(name: &str, sheet: &Document) -> Drawn {
    Ok(one(name, pdf::write(sheet).map_err(said)?))
}

fn picture(name: &str, scene: &Scene) -> Drawn {
    Ok(one(name, svg::write(scene, svg::Look::default()).map_err(said)?.into_bytes()))
}

fn outlines(name: &str, scene: &Scene) -> Drawn {
    Ok(one(name, dxf::write(scene).map_err(said)?.into_bytes()))
}

/// Takes a sash through the rooms and composes its files.
pub(super) fn make_sash(
    house: &House,
    measured: &survey::Sash,
    record: &Record,
) -> Result<SashMade, WorkError> {
    let (views, workshop) = (Views::shared(), &house.workshop);
    let work = Work::within(&views, measured, workshop)?;
    let mut findings = findings(&work, workshop, record);
    // A sash that is stopped gets no programs, so there is nothing to prove.
    let cut = gravest(&findings) != Verdict::Stop;
    let (choice, proven) = rayon::join(
        || choose(&views, &work, workshop, Known::Edge),
        || cut.then(|| proven(&work, workshop)).transpose(),
    );
    let (choice, proven) = (choice?, proven?);
    if let Some(Proven { proof, .. }) = &proven {
        findings.extend(of_proof(proof));
        findings.extend(zero_findings(proof, workshop));
        gravest_first(&mut findings);
    }
    // Outlines would serve as a template, and there is none for a sash that is stopped.
    let cut = Answers::of(&findings).may_be_cut();
    let written = proven.iter().filter(|proven| proven.proof.is_proven());
    let written = written.flat_map(|proven| work.programs.programs.iter().zip(&proven.texts));
    let lines = written.clone().map(|(program, text)| line(program, text)).collect();
    let proof = proven.as_ref().map(|proven| &proven.proof);
    let mut report = sash_report(&work, workshop, choice, findings, lines, proof)?;

    let paths = written.clone().map(|(program, text)| {
        prove::path(&prove::Program { name: &program.name, text, place: program.place })
    });
    let paths: Vec<_> = report.programs.iter().zip(paths.map(Option::unwrap_or_default)).collect();
    let drawings = Drawings { proof, paths, ..Drawings::of(house, &work, &report) };
    let (drawn, missing) = drawings.all(cut);
    report.tell(missing);

    let programs = written
        .map(|(program, text)| (format!("cuts/{}", program.name), text.clone().into_bytes()));
    let mut files: Files = drawn.into_iter().chain(programs).collect();
    let paths = files.keys().map(|name| format!("{}/{name}", measured.id));
    let card = Card { files: paths.collect(), ..Card::default() };
    let named = |wanted: &str| {
        card.files
            .iter()
            .find(|path| path.rsplit('/').next().is_some_and(|name| name.starts_with(wanted)))
    };
    let (elevation, section) = (named(ELEVATION_FILE).cloned(), named("section-").cloned());
    let voice = Voice::of(&workshop.printer);
    let share = Share::of(&report, &Card { elevation, section, ..card }, voice)?;
    files.insert(REPORT.into(), (json(&report)? + "\n").into_bytes());
    Ok(SashMade { report, share, files })
}

/// A sash as it is answered while it is still being measured.
#[derive(Debug, Clone)]
pub struct Look {
    /// Everything that is known of it but programs.
    pub report: SashReport,
    /// Its elevation and its sections.
    pub pictures: Vec<Picture>,
}

/// A drawing as a picture, with where it lies in the frame of what it shows.
#[derive(Debug, Clone)]
pub struct Picture {
    /// Its name in the sash's folder.
    pub name: String,
    /// SVG in millimetres.
    pub svg: String,
    /// X of its left edge and Y of its upper edge, mm: from the corner of the sight for an elevation, from sight edge and
    /// glazing face for the section before on a drawing of sections.
    pub corner: [f64; 2],
    /// Its width and height in that frame, mm.
    pub size: [f64; 2],
}

impl Picture {
    /// Writes a drawing down.
    ///
    /// # Errors
    /// As [`svg::write`].
    pub(super) fn of(name: String, scene: &Scene, look: svg::Look) -> Result<Picture, SceneError> {
        let bounds = scene.extents().inflate(look.margin, look.margin);
        let (corner, size) = ([bounds.x0, bounds.y1], [bounds.width(), bounds.height()]);
        Ok(Picture { name, svg: svg::write(scene, look)?, corner, size })
    }

    fn into_file(self) -> (String, Vec<u8>) {
        (self.name, self.svg.into_bytes())
    }
}

/// Judges a sash and draws it, without programs. A picture that cannot be drawn is left out.
///
/// # Errors
/// Where no cut can be worked out: what to tell of that.
pub fn look(house: &House, measured: &survey::Sash, record: &Record) -> Result<Look, CannotBeCut> {
    let (work, report) = worked(house, measured, record, Views::shared)?;
    let drawings = Drawings::of(house, &work, &report);
    let (elevation, sections) = rayon::join(
        || drawings.elevation_picture().map(|one| vec![one]),
        || drawings.section_pictures(),
    );
    let pictures = elevation.into_iter().chain(sections).flatten().collect();
    Ok(Look { report, pictures })
}

/// Its coldest part before and after with lines of even warmth, SVG: it takes longer than all of [`look`]. None where
/// no section of it was reckoned, or it cannot be drawn.
///
/// # Errors
/// As [`look`].
pub fn look_at_warmth(
    house: &House,
    measured: &survey::Sash,
    record: &Record,
) -> Result<Option<Vec<u8>>, CannotBeCut> {
    let (work, report) = worked(house, measured, record, Views::shared)?;
    let drawings = Drawings::of(house, &work, &report);
    let warm = drawings.warm().ok().flatten();
    Ok(warm.and_then(|scene| svg::write(&scene, SECTION_LOOK).ok()).map(String::into_bytes))
}

/// What the files of a sash are drawn from.
struct Drawings<'a> {
    subject: Subject<'a>,
    work: &'a Work,
    report: &'a SashReport,
    proof: Option<&'a Proof>,
    /// Every program that is written, with its moves from stop to stop.
    paths: Vec<(&'a ProgramLine, Vec<Vec<Passage>>)>,
}

/// What is drawn, and the function that does it.
type Draw<'a> = (&'static str, fn(&Drawings<'a>) -> Drawn);

/// `job.not-drawn`: the others are there, and say the same in figures.
fn not_drawn(name: &str, why: &str) -> Finding {
    let advice = |_, _| text!("job-not-drawn", why);
    let none = Bounds::caution(Bound::geometry(0.0));
    Finding::at_most(
        "job.not-drawn",
        Text::given(name),
        Quantity { value: 1.0, unit: "" },
        none,
        advice,
    )
}

impl<'a> Drawings<'a> {
    /// Of a sash without programs.
    fn of(house: &'a House, work: &'a Work, report: &'a SashReport) -> Drawings<'a> {
        let subject = Subject {
            house: &house.name,
            workshop: &house.workshop,
            sash: &work.sash,
            fit: &work.fit,
            rebate: &work.rebate,
            timber: &work.timber,
            materials: &work.materials,
        };
        Drawings { subject, work, report, proof: None, paths: Vec::new() }
    }

    /// Every file but the programs, side by side, and what could not be drawn; what only a sash that may be cut
    /// gets if it is `cut`.
    fn all(&self, cut: bool) -> (Vec<(String, Vec<u8>)>, Vec<Finding>) {
        let always: [Draw<'a>; 5] = [
            ("options.pdf and warmth.svg", Self::options),
            ("workshop.pdf", Self::workshop),
            ("proof", Self::proof),
            ("sections", Self::sections),
            (ELEVATION_FILE, Self::elevation),
        ];
        let to_cut: [Draw<'a>; 6] = [
            ("machine.pdf", Self::machine),
            ("path.svg", Self::path),
            ("template.pdf", Self::template),
            ("sash.dxf", Self::outlines),
            ("template.dxf", Self::plate),
            ("setups.dxf", Self::set_ups),
        ];
        let draw = always.into_iter().chain(to_cut.into_iter().filter(|_| cut));
        let draw: Vec<Draw<'a>> = draw.collect();
        let drawn: Vec<(&str, Drawn)> =
            draw.into_par_iter().map(|(name, draw)| (name, draw(self))).collect();
        let (mut files, mut missing) = (Vec::new(), Vec::new());
        for (name, drawn) in drawn {
            match drawn {
                Ok(drawn) => files.extend(drawn),
                Err(why) => missing.push(not_drawn(name, &why)),
            }
        }
        (files, missing)
    }

    /// How warm the coldest part is, where a section of it was reckoned.
    fn warm(&self) -> Result<Option<Scene>, String> {
        let Work { sash, fit, .. } = self.work;
        let warmth = self.report.warmth.as_ref();
        let warm =
            warmth.map(|warmth| sheets::section::warm::coldest(sash, fit, warmth, self.voice()));
        Ok(warm.transpose().map_err(said)?.flatten())
    }

    /// How warm the coldest part is stands on the sheet and in a file of its own: it is reckoned and drawn once.
    fn options(&self) -> Drawn {
        let warm = self.warm()?;
        let picture = warm.as_ref().map(|scene| svg::write(scene, SECTION_LOOK)).transpose();
        let picture = picture.map_err(said)?.map(|text| ("warmth.svg", text.into_bytes()));
        let sheet = sheets::options::document(&self.subject, self.report, warm);
        let pages = pdf::write(&sheet).map_err(said)?;
        let files = [("options.pdf", pages)].into_iter().chain(picture);
        Ok(files.map(|(name, file)| (name.to_owned(), file)).collect())
    }

    fn workshop(&self) -> Drawn {
        let sheet = sheets::workshop::document(&self.subject, self.report);
        pages("workshop.pdf", &sheet.map_err(said)?)
    }

    fn machine(&self) -> Drawn {
        let sheet = sheets::machine::document(&self.subject, self.report).map_err(said)?;
        sheet.map_or(Ok(Vec::new()), |sheet| pages("machine.pdf", &sheet))
    }

    fn proof(&self) -> Drawn {
        let Some(proof) = self.proof else { return Ok(Vec::new()) };
        let json = json(proof).map_err(said)?;
        let mut files = vec![("proof.json".to_owned(), (json + "\n").into_bytes())];
        if proof.swept {
            let Work { sash, rebate, .. } = self.work;
            let reserve = reserve(self.work, &self.subject.workshop.limits);
            let map = sheets::remaining_wood(sash, rebate, &reserve, proof, self.voice());
            files.extend(picture("proof.svg", &map.map_err(said)?)?);
        }
        Ok(files)
    }

    fn voice(&self) -> Voice {
        self.subject.voice()
    }

    fn path(&self) -> Drawn {
        if self.paths.is_empty() {
            return Ok(Vec::new());
        }
        let scene = sheets::path::drawing(&self.subject, &self.paths).map_err(said)?;
        picture("path.svg", &scene)
    }

    fn sections(&self) -> Drawn {
        Ok(self.section_pictures()?.into_iter().map(Picture::into_file).collect())
    }

    fn section_pictures(&self) -> Result<Vec<Picture>, String> {
        let Work { sash, fit, timber, .. } = self.work;
        let voice = self.voice();
        let all = sheets::sections(sash, fit, timber, voice, |section| section.scene(voice))
            .map_err(said)?;
        let written = all.into_iter().map(|(name, scene)| {
            Picture::of(format!("section-{name}.svg"), &scene, SECTION_LOOK).map_err(said)
        });
        written.collect()
    }

    fn elevation(&self) -> Drawn {
        Ok(vec![self.elevation_picture()?.into_file()])
    }

    fn elevation_picture(&self) -> Result<Picture, String> {
        let scene = sheets::elevation::elevation(&self.subject, ELEVATION);
        let scene = scene.map_err(said)?;
        let look = svg::Look { scale: ELEVATION.height / scene.extents().height(), margin: 5.0 };
        Picture::of(ELEVATION_FILE.to_owned(), &scene, look).map_err(said)
    }

    fn template(&self) -> Drawn {
        let tiles = sheets::template::document(&self.subject);
        pages("template.pdf", &tiles.map_err(said)?)
    }

    fn outlines(&self) -> Drawn {
        let Work { sash, fit, rebate, .. } = self.work;
        let scene = sheets::outlines(sash, fit, rebate, self.voice());
        outlines("sash.dxf", &scene.map_err(said)?)
    }

    fn plate(&self) -> Drawn {
        let plate = sheets::guide::drawing(&self.subject).map_err(said)?;
        plate.map_or(Ok(Vec::new()), |plate| outlines("template.dxf", &plate))
    }

    fn set_ups(&self) -> Drawn {
        let places = sheets::set_ups::drawing(&self.subject, &self.report.set_ups);
        let places = places.map_err(said)?;
        places.map_or(Ok(Vec::new()), |places| outlines("setups.dxf", &places))
    }
}

fn line(program: &machine::Program, text: &str) -> ProgramLine {
    let stage = |part: &machine::Part| StageLine { stage: part.stage, minutes: part.minutes };
    ProgramLine {
        name: program.name.clone(),
        stages: program.parts.iter().map(stage).collect(),
        lines: text.lines().count(),
    }
}
