//! How many cases a property runs, and from which seed; what a proof says.

use fillister::finding::Verdict;
use fillister::job::{Work, prove_work};
use fillister::prove::{Fault, Proof};
use fillister::survey::read;
use proptest::strategy::Strategy;
use proptest::test_runner::{Config, RngAlgorithm, TestCaseError, TestError, TestRng, TestRunner};
use std::fmt::Debug;

/// Cases of a property: `usual`, or what `FILLISTER_CASES` says.
pub(crate) fn cases(usual: u32) -> u32 {
    let asked = std::env::var("FILLISTER_CASES").ok();
    asked.map_or(usual, |text| text.parse().expect("FILLISTER_CASES is a whole number"))
}

/// Runs `test` on `usual` cases (see [`cases`]) from a fixed seed, so that every machine sees the same
/// cases; `FILLISTER_SEED` changes it. The smallest failing case is shown.
pub(crate) fn for_all<S: Strategy>(
    usual: u32,
    strategy: &S,
    test: impl Fn(S::Value) -> Result<(), TestCaseError>,
) where
    S::Value: Debug,
{
    let seed: u64 = std::env::var("FILLISTER_SEED")
        .ok()
        .map_or(0, |text| text.parse().expect("FILLISTER_SEED is a whole number"));
    let mut bytes = [0x5a; 32];
    bytes[..8].copy_from_slice(&seed.to_le_bytes());
    let config = Config {
        cases: cases(usual),
        failure_persistence: None,
        max_shrink_time: 20_000,
        ..Config::default()
    };
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &bytes);
    match TestRunner::new_with_rng(config, rng).run(strategy, test) {
        Ok(()) => {}
        Err(TestError::Fail(why, smallest)) => panic!("{why}\nsmallest case: {smallest:?}"),
        Err(TestError::Abort(why)) => panic!("{why}"),
    }
}

/// What a proof holds against the programs, fault by fault.
pub(crate) fn told(proof: &Proof) -> Vec<String> {
    let told = |fault: &Fault| {
        let finding = &fault.finding;
        let (rule, place, advice) = (finding.rule, &finding.place, &finding.advised());
        format!("{rule}, {place}: {} against {}. {advice}", finding.measured, finding.limit)
    };
    proof.faults.iter().map(told).collect()
}

/// The first sash of a survey, which nothing stops and its proof bears out.
pub(crate) fn proven(text: &str) -> Work {
    let house = read(text, "survey.toml").unwrap();
    let work = Work::new(&house.sashes[0], &house.workshop).unwrap();
    assert!(work.verdict() != Verdict::Stop);
    let proof = prove_work(&work, &house.workshop).unwrap();
    assert!(proof.is_proven(), "{:#?}", told(&proof));
    work
}
