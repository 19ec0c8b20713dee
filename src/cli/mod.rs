//! The command: it reads files, calls the library, prints, and decides the exit status. It calculates
//! nothing.

mod args;
mod files;
mod houses;
mod outcome;
mod output;
mod programs;
mod progress;
mod reports;
mod run;
mod screen;
mod signals;

pub use outcome::Status;
pub use run::run;
pub use screen::Screen;
