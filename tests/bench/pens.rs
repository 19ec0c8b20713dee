//! What making the example house takes, in time and memory, and the share of each pen in it. All of it
//! in one run, so that the shares hold on any machine.

#![allow(clippy::unwrap_used, reason = "a benchmark may stop at the first surprise")]

use fillister::drawing::{Document, Scene, dxf, pdf, svg};
use fillister::finding::Verdict;
use fillister::job::{self, Work};
use fillister::sheets::{self, Subject};
use fillister::survey::{self, House};
use kurbo::Size;
use std::hint::black_box;
use std::sync::OnceLock;
use std::time::{Duration, Instant};

/// Counts what is allocated: the table of the benchmark tells the most that was held at once.
#[global_allocator]
static COUNTED: divan::AllocProfiler = divan::AllocProfiler::system();

const EXAMPLE: &str = include_str!("../../examples/samphire-cottage.toml");

/// Runs of which the quickest counts.
const RUNS: usize = 3;

fn main() {
    divan::main();
    // Only a real run wants the shares: not a list of the benchmarks, nor a trial of them.
    if std::env::args().any(|word| word == "--bench") {
        shares();
    }
}

/// Everything that `make` draws, by pen.
struct Drawn {
    dxf: Vec<Scene>,
    svg: Vec<Scene>,
    pdf: Vec<Document>,
}

fn house() -> &'static House {
    static HOUSE: OnceLock<House> = OnceLock::new();
    HOUSE.get_or_init(|| survey::read(EXAMPLE, "example").unwrap())
}

fn drawn() -> &'static Drawn {
    static DRAWN: OnceLock<Drawn> = OnceLock::new();
    DRAWN.get_or_init(compose)
}

fn compose() -> Drawn {
    let house = house();
    let report = job::check(house).unwrap();
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
            plan: &work.plan,
            set_ups: &[],
        };
        if told.verdict != Verdict::Stop {
            let proof = job::prove_work(&work, &house.workshop).unwrap();
            let reserve = job::reserve(&work, &house.workshop.limits);
            all.svg.push(sheets::wood_left(&work.sash, &work.rebate, &reserve, &proof).unwrap());
            all.dxf.push(sheets::outlines(&work.sash, &work.fit, &work.rebate).unwrap());
            all.dxf.extend(sheets::guide::drawing(&subject).unwrap());
            all.pdf.push(sheets::template::document(&subject).unwrap());
        }
        let sections = sheets::sections(&work.sash, &work.fit, &work.timber).unwrap();
        all.svg.extend(sections.into_iter().map(|(_, scene)| scene));
        let most = Size::new(150.0, 150.0);
        all.svg.push(sheets::elevation::elevation(&subject, most).unwrap());
        all.pdf.push(sheets::workshop::document(&subject, told).unwrap());
    }
    all.pdf.push(sheets::glass::document(&report, &house.workshop.printer).unwrap());
    all
}

/// Bytes written by the DXF pen.
fn dxf_pen() -> usize {
    let write = |scene| dxf::write(black_box(scene), dxf::Form::R2000).unwrap().len();
    drawn().dxf.iter().map(write).sum()
}

fn svg_pen() -> usize {
    let write = |scene| svg::write(black_box(scene), svg::Look::default()).unwrap().len();
    drawn().svg.iter().map(write).sum()
}

fn pdf_pen() -> usize {
    drawn().pdf.iter().map(|document| pdf::write(black_box(document)).unwrap().len()).sum()
}

fn make() -> usize {
    let made = job::make(black_box(house())).unwrap();
    made.files.values().map(Vec::len).sum()
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn make_the_house() -> usize {
    make()
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn compose_the_sheets() -> Drawn {
    compose()
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn write_dxf(bencher: divan::Bencher<'_, '_>) {
    drawn();
    bencher.bench(dxf_pen);
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn write_svg(bencher: divan::Bencher<'_, '_>) {
    drawn();
    bencher.bench(svg_pen);
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn write_pdf(bencher: divan::Bencher<'_, '_>) {
    drawn();
    bencher.bench(pdf_pen);
}

/// The quickest of a few runs, and what the run gave.
fn quickest(run: fn() -> usize) -> (Duration, usize) {
    let timed = (0..RUNS).map(|_| {
        let start = Instant::now();
        let bytes = run();
        (start.elapsed(), bytes)
    });
    timed.min().unwrap()
}

fn shares() {
    let (whole, bytes) = quickest(make);
    println!("\nshare of making the house   time    bytes");
    println!("{:<26} {:>5.1} % {bytes:>8}", "everything", 100.0);
    for (name, pen) in [("DXF", dxf_pen as fn() -> usize), ("SVG", svg_pen), ("PDF", pdf_pen)] {
        let (time, bytes) = quickest(pen);
        let share = 100.0 * time.as_secs_f64() / whole.as_secs_f64();
        println!("{name:<26} {share:>5.1} % {bytes:>8}");
    }
}
