//! Fillister: from what a joiner can measure on an old timber sash and the insulating glass unit
//! they would like to fit, to the wider and deeper rebate, a judgement of the timber that is left,
//! and machine programs each proven against that timber before they are written.
//!
//! Everything inside is in millimetres and degrees, N and N/mm². The sash lies glazing face up: X to
//! the right, Y up, zero at the lower left corner of the sight rectangle; Z is zero on the glazing
//! face and negative into the timber. *Left* is left as seen looking down on the glazing face.
//!
//! Data goes one way: `survey` → `sash` and `glass` → `fit` → `rebate` → `timber` and `passes` →
//! `machine` → `prove` → `job`. `geometry` and [`finding`] are words that every room may use.

// Tests hold closed forms against results that are exact in f64; library code compares with tolerances.
#![cfg_attr(test, allow(clippy::float_cmp))]

/// Makes an error that is one of several speak in the words of the one it is, and be made of each.
macro_rules! one_of {
    ($error:ident: $($kind:ident($one:ty)),+) => {
        impl std::fmt::Display for $error {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                match self {
                    $($error::$kind(error) => error.fmt(f),)+
                }
            }
        }

        impl std::error::Error for $error {}

        $(impl From<$one> for $error {
            fn from(error: $one) -> Self {
                $error::$kind(error)
            }
        })+
    };
}

pub mod cli;
pub mod drawing;
pub mod duty;
pub mod finding;
pub mod fit;
pub mod geometry;
pub mod glass;
pub mod hand;
pub mod hanging;
pub mod input;
pub mod job;
pub mod language;
pub mod lately;
pub mod machine;
pub mod materials;
pub mod movement;
pub mod number;
#[cfg(feature = "page")]
pub mod page;
pub mod passes;
pub mod prove;
pub mod rebate;
pub mod report;
pub mod sash;
pub mod section;
pub mod sheets;
pub mod survey;
pub mod timber;
pub mod warmth;
