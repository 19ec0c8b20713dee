//! How long the rooms take for one sash of the example, beside each other in one run.

use crate::kinds::{EXAMPLE, anew};
use fillister::{fit, job, machine, passes, rebate, sash, survey, timber, warmth};
use std::hint::black_box;

/// The six-light sash behind one unit: the longest programs of the example.
fn landing() -> (survey::Sash, survey::Workshop) {
    let house = survey::read(EXAMPLE, "example").unwrap();
    let sash = house.sashes.into_iter().find(|sash| sash.id == "landing-1").unwrap();
    (sash, house.workshop)
}

#[divan::bench]
fn judge_the_timber(bencher: divan::Bencher) {
    let (measured, workshop) = landing();
    let sash = sash::Sash::new(&measured).unwrap();
    let fit = fit::fit(&sash, &workshop).unwrap();
    bencher.bench(|| timber::judge(black_box(&sash), &fit, &workshop.limits));
}

#[divan::bench]
fn plan_the_passes(bencher: divan::Bencher) {
    let (measured, workshop) = landing();
    let sash = sash::Sash::new(&measured).unwrap();
    bencher.bench(|| {
        let fit = fit::fit(black_box(&sash), &workshop).unwrap();
        let rebate = rebate::divide(&sash, &fit, workshop.cutter.radius()).unwrap();
        passes::plan(&sash, &fit, &rebate, &workshop)
    });
}

#[divan::bench]
fn write_the_programs(bencher: divan::Bencher) {
    let (measured, workshop) = landing();
    let work = job::Work::new(&measured, &workshop).unwrap();
    bencher.bench(|| machine::programs(black_box(&work.sash), &work.fit, &work.plan, &workshop));
}

#[divan::bench]
fn prove_the_programs(bencher: divan::Bencher) {
    let (measured, workshop) = landing();
    let work = job::Work::new(&measured, &workshop).unwrap();
    bencher.bench(|| job::prove_work(black_box(&work), &workshop));
}

/// Heat through every section of the sash: its four members and its bars, those that are alike once. Of each, four
/// calculations in two dimensions.
#[divan::bench]
fn reckon_the_sections(bencher: divan::Bencher) {
    let (measured, workshop) = landing();
    let sash = || sash::Sash::new(&anew(&measured)).unwrap();
    let fit = fit::fit(&sash(), &workshop).unwrap();
    let choice = warmth::Choice::of(&sash()).unwrap();
    let bencher = bencher.with_inputs(sash);
    bencher.bench_refs(|sash| warmth::Sections::of(black_box(sash), &fit, &choice, None));
}
