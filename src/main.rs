//! The `fillister` command. All it does is hand over to the library.

use fillister::cli::{self, Screen};
use std::process::ExitCode;

fn main() -> ExitCode {
    // Standard error is not held: progress is drawn there from other threads.
    let (mut out, mut err) = (std::io::stdout().lock(), std::io::stderr());
    ExitCode::from(cli::run(std::env::args_os(), Screen::of_output(), &mut out, &mut err) as u8)
}
