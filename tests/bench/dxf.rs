//! How long the pens take for a drawing of a sash.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::float_cmp,
    reason = "a test may stop at the first surprise"
)]

#[path = "../sample/mod.rs"]
mod sample;

use fillister::drawing::{dxf, svg};

fn main() {
    divan::main();
}

#[divan::bench]
fn dxf_2000(bencher: divan::Bencher<'_, '_>) {
    let scene = sample::scene();
    bencher.bench(|| dxf::write(&scene, dxf::Form::R2000));
}

#[divan::bench]
fn svg(bencher: divan::Bencher<'_, '_>) {
    let scene = sample::scene();
    bencher.bench(|| svg::write(&scene, svg::Look::default()));
}
