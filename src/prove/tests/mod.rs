//! Whole programs against whole wood.

mod around;
mod brute;
mod dialects;
mod fits;
pub(in crate::prove) mod fixture;
mod judgements;
mod margins;
