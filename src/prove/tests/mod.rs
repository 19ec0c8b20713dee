//! Whole programs against whole wood.

mod around;
mod brute;
mod dialects;
mod fixture;
mod judgements;
mod margins;
mod shapes;
