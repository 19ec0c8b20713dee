//! A survey to begin with: every key with a short word on where to measure it, an invented sash for the
//! needed ones, and the rest behind a `#`.
//!
//! Promised: it reads without a mistake as it stands, and after the `#` is taken from any one setting; a
//! default that it shows is the reader's. Not promised: that the invented sash is like yours.

use super::values::Limits;
use crate::input::show;
use std::fmt::Write;

const TEXT: &str = include_str!("start.toml");

/// The survey to begin with.
pub fn start() -> String {
    let mut text = TEXT.to_owned();
    let mut usual = Limits::default();
    let widest = Limits::NAMES.iter().map(|name| name.len()).max().unwrap_or(0);
    for name in Limits::NAMES {
        let about = Limits::meaning(name).unwrap_or_default();
        let Some(limit) = usual.by_name(name) else { continue };
        let value = show(limit.value);
        // Writing to text cannot fail.
        let _ = writeln!(text, "#{name:widest$} = {value:<5} # {about}");
    }
    text
}

#[cfg(test)]
mod tests;
