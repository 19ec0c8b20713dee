//! Any bytes as a survey: mistakes or a house, and a house goes through every room without a panic.

#![no_main]

use fillister::{job, survey};
use libfuzzer_sys::fuzz_target;

fuzz_target!(|bytes: &[u8]| {
    match survey::read_bytes(bytes, "fuzz.toml") {
        Ok(house) => {
            for sash in &house.sashes {
                let _ = job::Work::new(sash, &house.workshop);
            }
        }
        Err(mistakes) => assert!(!mistakes.to_string().is_empty()),
    }
});
