//! What drawing the example house takes: composing its sheets, and each pen.

use crate::kinds::example;
use fillister::drawing::{Document, Scene, dxf, pdf, svg};
use fillister::finding::Verdict;
use fillister::job::{self, Work};
use fillister::sheets::kit::Voice;
use fillister::sheets::{self, Subject};
use kurbo::Size;
use std::hint::black_box;
use std::sync::OnceLock;

/// Everything that `make` draws, by pen.
pub(crate) struct Drawn {
    dxf: Vec<Scene>,
    svg: Vec<Scene>,
    pdf: Vec<Document>,
}

pub(crate) fn drawn() -> &'static Drawn {
    static DRAWN: OnceLock<Drawn> = OnceLock::new();
    DRAWN.get_or_init(compose)
}

fn compose() -> Drawn {
    let house = example();
    let report = job::check(house);
    let mut all = Drawn { dxf: Vec::new(), svg: Vec::new(), pdf: Vec::new() };
    for (measured, told) in house.sashes.iter().zip(&report.sashes) {
        let work = Work::new(measured, &house.workshop).unwrap();
        let subject = Subject {
            house: &house.name,
            workshop: &house.workshop,
            sash: &work.sash,
            fit: &work.fit,
            rebate: &work.rebate,
            timber: &work.timber,
            materials: &work.materials,
        };
        if told.verdict != Verdict::Stop {
            let proof = job::prove_work(&work, &house.workshop).unwrap();
            let reserve = job::reserve(&work, &house.workshop.limits);
            all.svg.push(
                sheets::remaining_wood(&work.sash, &work.rebate, &reserve, &proof, Voice::plain())
                    .unwrap(),
            );
            all.dxf.push(
                sheets::outlines(&work.sash, &work.fit, &work.rebate, Voice::plain()).unwrap(),
            );
            all.dxf.extend(sheets::guide::drawing(&subject).unwrap());
            all.pdf.push(sheets::template::document(&subject).unwrap());
        }
        let sections =
            sheets::sections(&work.sash, &work.fit, &work.timber, Voice::plain(), |section| {
                section.scene(Voice::plain())
            })
            .unwrap();
        all.svg.extend(sections.into_iter().map(|(_, scene)| scene));
        let most = Size::new(150.0, 150.0);
        all.svg.push(sheets::elevation::elevation(&subject, most).unwrap());
        all.pdf.push(sheets::workshop::document(&subject, told).unwrap());
    }
    all.pdf.push(sheets::glass::document(&report, &house.workshop.printer).unwrap());
    all
}

/// Bytes written by the DXF pen.
pub(crate) fn dxf_pen() -> usize {
    let write = |scene| dxf::write(black_box(scene)).unwrap().len();
    drawn().dxf.iter().map(write).sum()
}

pub(crate) fn svg_pen() -> usize {
    let write = |scene| svg::write(black_box(scene), svg::Look::default()).unwrap().len();
    drawn().svg.iter().map(write).sum()
}

pub(crate) fn pdf_pen() -> usize {
    drawn().pdf.iter().map(|document| pdf::write(black_box(document)).unwrap().len()).sum()
}

#[divan::bench]
fn compose_the_sheets() -> Drawn {
    compose()
}

#[divan::bench]
fn write_dxf(bencher: divan::Bencher<'_, '_>) {
    drawn();
    bencher.bench(dxf_pen);
}

#[divan::bench]
fn write_svg(bencher: divan::Bencher<'_, '_>) {
    drawn();
    bencher.bench(svg_pen);
}

#[divan::bench]
fn write_pdf(bencher: divan::Bencher<'_, '_>) {
    drawn();
    bencher.bench(pdf_pen);
}
