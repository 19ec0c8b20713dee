//! What checking and making the example house hold in memory at most, and how much they ask for in all.

#![allow(clippy::unwrap_used, reason = "a benchmark may stop at the first surprise")]

use fillister::job;
use fillister::survey;
use std::hint::black_box;

/// Counts what is allocated: the table tells the most that was held at once.
#[global_allocator]
static COUNTED: divan::AllocProfiler = divan::AllocProfiler::system();

const EXAMPLE: &str = include_str!("../../examples/samphire-cottage.toml");

fn main() {
    divan::main();
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn check_the_house(bencher: divan::Bencher) {
    let house = survey::read(EXAMPLE, "example").unwrap();
    bencher.bench(|| job::check(black_box(&house)));
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn make_the_house(bencher: divan::Bencher) {
    let house = survey::read(EXAMPLE, "example").unwrap();
    bencher.bench(|| job::make(black_box(&house)).unwrap());
}
