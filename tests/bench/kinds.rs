//! Houses of one kind each, and what is asked of them.

use fillister::job::{self, Work};
use fillister::number::decimal;
use fillister::survey::{self, House, Member, Quick};
use std::f64::consts::TAU;
use std::hint::black_box;
use std::sync::OnceLock;
use std::sync::atomic::{AtomicU32, Ordering};

pub(crate) const EXAMPLE: &str = include_str!("../../examples/samphire-cottage.toml");

const SASH: &str = r#"
house = "Gull House"
[[sash]]
id = "a"
kind = "fixed"
thickness = 57
stiles = { width = 60 }
rails = { width = 60 }
rebate = { width = 9, depth = 17 }
moulding = { shape = "ovolo", width = 8, depth = 10 }
unit = { build_up = "4-6-4", gas = "argon", emissivity = 0.03 }
"#;

fn with(rest: &str) -> House {
    let text = format!("{SASH}{rest}\n");
    survey::read(&text, "kind").unwrap_or_else(|mistakes| panic!("{mistakes}\n{text}"))
}

/// Ten sashes of many kinds.
pub(crate) fn example() -> &'static House {
    static HOUSE: OnceLock<House> = OnceLock::new();
    HOUSE.get_or_init(|| survey::read(EXAMPLE, "example").unwrap())
}

pub(crate) fn plain() -> House {
    with("sight = { width = 800, height = 1000 }")
}

pub(crate) fn elliptical() -> House {
    with(r#"sight = { width = 800, height = 1000, head = { shape = "elliptical", rise = 200 } }"#)
}

pub(crate) fn bars() -> House {
    let upright = |centre| format!(r#"{{ runs = "upright", centre = {centre}, width = 40 }}"#);
    let cross = r#"{ runs = "cross", centre = 380, width = 40 }"#;
    let bars = [&upright(240), &upright(500), cross].join(", ");
    with(&format!("sight = {{ width = 740, height = 760 }}\nbars = [{bars}]"))
}

/// A round daylight as it comes from a drawing: a chain of `edges` straight ones.
pub(crate) fn traced(edges: u32) -> House {
    let corner = |edge: u32| {
        let (sin, cos) = (TAU * f64::from(edge) / f64::from(edges)).sin_cos();
        format!("[{:.2}, {:.2}]", 300.0 + 300.0 * cos, 300.0 + 300.0 * sin)
    };
    let corners: Vec<String> = (0..edges).map(corner).collect();
    with(&format!("sight = {{ outline = [{}] }}", corners.join(", ")))
}

/// The few words of an answer on site.
pub(crate) fn on_site() -> House {
    let quick = Quick {
        thickness: "45".into(),
        sight: "540x900".into(),
        rebate: "9x17".into(),
        moulding: "ovolo 12x11".into(),
        ..Quick::default()
    };
    quick.house().unwrap().0
}

pub(crate) fn worked(house: &House) -> Work {
    Work::new(&house.sashes[0], &house.workshop).unwrap()
}

/// Numbers as they stand in programs and drawings.
pub(crate) fn numbers() -> Vec<f64> {
    (0..1000_u32).map(|n| f64::from(n) * 1.234_567 - 300.0).collect()
}

/// The sash as no run before has met it: what heat does in a sash is kept for those like it, so that all its wood is
/// thicker by a tenth of a nanometre each time.
pub(crate) fn anew(sash: &survey::Sash) -> survey::Sash {
    static RUNS: AtomicU32 = AtomicU32::new(0);
    let by = 1e-7 * f64::from(RUNS.fetch_add(1, Ordering::Relaxed));
    let thicker = |member: &Member| Member { thickness: member.thickness + by, ..member.clone() };
    let mut sash = survey::Sash { members: sash.members.map(thicker), ..sash.clone() };
    sash.bars.iter_mut().for_each(|bar| bar.thickness += by);
    sash
}

fn fresh(house: &House) -> House {
    House { sashes: house.sashes.iter().map(anew).collect(), ..house.clone() }
}

pub(crate) fn check(house: &House) -> impl Sized {
    job::check(black_box(&fresh(house)))
}

pub(crate) fn make(house: &House) -> impl Sized {
    job::make(black_box(&fresh(house))).unwrap()
}

pub(crate) fn read() -> House {
    survey::read(black_box(EXAMPLE), "example").unwrap()
}

pub(crate) fn write(numbers: &[f64]) -> usize {
    numbers.iter().map(|value| decimal(black_box(*value), 4).unwrap().to_string().len()).sum()
}

type Kind = (&'static str, fn() -> House);

const KINDS: [Kind; 5] = [
    ("example of ten sashes", || example().clone()),
    ("on site", on_site),
    ("plain", plain),
    ("bars", bars),
    ("elliptical head", elliptical),
];

fn names() -> impl Iterator<Item = &'static str> {
    KINDS.iter().map(|(name, _)| *name)
}

fn kind(name: &str) -> House {
    KINDS.iter().find(|(kind, _)| *kind == name).unwrap().1()
}

#[divan::bench(name = "check", args = names())]
fn check_kinds(bencher: divan::Bencher, name: &str) {
    let house = kind(name);
    bencher.bench(|| check(&house));
}

#[divan::bench(name = "make", args = names())]
fn make_kinds(bencher: divan::Bencher, name: &str) {
    let house = kind(name);
    bencher.bench(|| make(&house));
}

#[divan::bench(args = [16, 128, 200])]
fn check_traced(bencher: divan::Bencher, edges: u32) {
    let house = traced(edges);
    bencher.bench(|| check(&house));
}

#[divan::bench(args = names())]
fn prove_sash(bencher: divan::Bencher, name: &str) {
    let house = kind(name);
    let work = worked(&house);
    bencher.bench(|| job::prove_work(black_box(&work), &house.workshop));
}

#[divan::bench]
fn read_survey() -> House {
    read()
}

#[divan::bench]
fn write_numbers(bencher: divan::Bencher) {
    let numbers = numbers();
    bencher.bench(|| write(&numbers));
}
