//! A random house written as a survey reads back as itself, in millimetres and in inches.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::float_cmp,
    reason = "a test may stop at the first surprise"
)]

mod support;

use fillister::survey::read;
use proptest::prelude::*;
use support::houses;
use support::same_but_for_rounding;
use support::writer::{Lengths, write};

proptest! {
    #![proptest_config(ProptestConfig { cases: 256, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_house_reads_back_as_it_was_written(house in houses::house()) {
        let text = write(&house, Lengths::Millimetres);
        let back = read(&text, "house.toml").map_err(|told| TestCaseError::fail(format!("{told}\n{text}")))?;
        prop_assert_eq!(back, house);
    }

    #[test]
    fn inches_change_nothing(house in houses::house()) {
        let text = write(&house, Lengths::Inches);
        let back = read(&text, "house.toml").map_err(|told| TestCaseError::fail(format!("{told}\n{text}")))?;
        let same = same_but_for_rounding(&format!("{back:?}"), &format!("{house:?}"), 1e-9);
        prop_assert_eq!(same, Ok(()));
    }
}
