//! Any bytes as the drawing that a survey names: a mistake that names its line, or a house.

#![no_main]

use fillister::{job, survey};
use libfuzzer_sys::fuzz_target;

const SURVEY: &str = r#"
house = "h"
[[sash]]
id = "parts"
kind = "fixed"
thickness = 45
stiles = { width = 60 }
rails = { width = 60 }
rebate = { width = 9, depth = 17 }
unit = { build_up = "4-6-4" }
sight = { traced = "t.dxf", drawn_in = "mm" }
"#;

fuzz_target!(|bytes: &[u8]| {
    let open = |_: &str| Ok(bytes.to_vec());
    let with = survey::With { shows: None, open: &open };
    match survey::read_with(SURVEY.as_bytes(), "fuzz.toml", &with) {
        Ok(house) => {
            for sash in &house.sashes {
                let _ = job::Work::new(sash, &house.workshop);
            }
        }
        Err(mistakes) => assert!(!mistakes.to_string().is_empty()),
    }
});
