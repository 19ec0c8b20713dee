//! Whole programs against whole wood.

mod around;
mod brute;
mod fixture;
mod judgements;
mod margins;
mod shapes;
