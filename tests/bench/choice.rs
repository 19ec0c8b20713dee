//! `check` for one sash with 50 candidates beside the same with 1, in one run.

use crate::kinds::EXAMPLE;
use fillister::glass::CANDIDATES;
use fillister::job;
use fillister::survey::{Candidates, House, Offered, read};
use std::hint::black_box;

/// The six-light sash with so many units to try, all of different make and a dozen thicknesses.
pub(crate) fn house(count: u32) -> House {
    let mut house = read(EXAMPLE, "example").unwrap();
    house.sashes.retain(|sash| sash.id == "landing-1");
    let usual: Vec<Offered> =
        CANDIDATES.iter().filter_map(fillister::glass::Candidate::offered).collect();
    let units = usual.iter().cycle().zip(0..count).map(|(offered, index)| {
        let mut offered = offered.clone();
        offered.make.emissivity = Some(0.03 + 0.001 * f64::from(index));
        offered
    });
    house.workshop.candidates = Candidates { usual: false, units: units.collect() };
    house
}

#[divan::bench(args = [1, 50])]
fn check_one_sash(bencher: divan::Bencher, count: u32) {
    let house = house(count);
    bencher.bench(|| job::check(black_box(&house)));
}
