//! Every test of the house as a whole, in one binary: what they share is compiled once, and they run side
//! by side. One file alone: `cargo test --test all shapes::`.

#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::float_cmp,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a test may stop at the first surprise; its counts are small"
)]

mod advice;
mod alike;
mod answers;
mod beyond_the_cut;
#[cfg(feature = "page")]
mod browser;
mod choice;
mod cli;
mod combined_outlines;
mod cords;
mod corner_cutter;
mod curved_bars;
mod dxf_structure;
mod figures;
#[cfg(target_os = "linux")]
mod folder;
mod follow;
mod fuzz_corpus;
mod house_properties;
mod inches;
mod language;
mod legible;
mod margins;
mod metal;
mod one_program;
mod ordered_unit;
mod other_letters;
#[cfg(feature = "page")]
mod page;
#[cfg(feature = "page")]
mod page_reach;
#[cfg(feature = "page")]
mod page_words;
mod paper;
mod pens;
mod physics;
mod planted_arcs;
mod planted_faults;
mod published;
mod readable;
mod record;
mod reference;
mod rooms;
mod running_time;
mod sample;
mod sections;
mod sections_random;
mod setups;
mod shaped;
mod shaped_sheets;
mod shapes;
mod sheets;
mod side_load;
mod support;
mod survey_fixtures;
mod survey_mutations;
mod survey_round_trip;
mod survey_schema;
mod sweep_bound;
mod traced;
mod wall_and_depth;
mod warped;
mod whole_house;
mod words;
