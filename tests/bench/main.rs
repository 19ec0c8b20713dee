//! How long everything takes, beside each other in one run: first a table of each thing, then ratios,
//! which hold on any machine. A ratio past its bound is something that has become slow; nothing fails by it, for
//! no clock is a test.
//!
//! `cargo bench`, or `cargo bench -- check` for what has that in its name.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a benchmark may stop at the first surprise"
)]

mod choice;
mod kinds;
mod pens;
mod prove;
mod ratios;
mod rooms;

use std::time::Duration;

fn main() {
    divan::Divan::default().max_time(Duration::from_secs(1)).config_with_args().main();
    // A run of all: not a list of the benchmarks, nor a trial or a choice of them.
    if std::env::args().skip(1).eq(["--bench"]) {
        ratios::print();
    }
}
