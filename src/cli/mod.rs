//! The command: it reads files, calls the library, prints, and decides the exit status. It calculates
//! nothing.

mod args;
mod programs;
mod progress;
mod run;
mod signals;

pub use run::{Status, run};
