//! Whole programs against whole wood.

mod brute;
mod fixture;
mod judgements;
mod shapes;
