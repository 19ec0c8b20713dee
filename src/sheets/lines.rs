//! Plain text in lines of a terminal's width.

use super::kit::{Voice, parts};

/// Columns of a line where nobody says how many there are.
pub const WIDTH: usize = 78;

/// Lines of text, one after another.
pub(super) struct Lines {
    pub text: String,
    /// Columns of a line.
    pub width: usize,
    /// How sentences are said.
    pub voice: Voice,
}

impl Lines {
    pub(super) fn new(width: usize, voice: Voice) -> Lines {
        Lines { text: String::new(), width, voice }
    }

    /// A line as it stands.
    pub(super) fn line(&mut self, line: &str) {
        self.text.push_str(line.trim_end());
        self.text.push('\n');
    }

    /// How many there are.
    pub(super) fn count(&self) -> usize {
        self.text.lines().count()
    }

    pub(super) fn gap(&mut self) {
        self.text.push('\n');
    }

    /// A sentence broken at spaces, the first line after `first`, the others after `rest`.
    pub(super) fn wrapped(&mut self, first: &str, rest: &str, text: &str) {
        let mut line = first.to_string();
        let mut empty = true;
        for word in parts(&self.voice.said(text)) {
            if !empty && line.chars().count() + 1 + word.chars().count() > self.width {
                self.line(&line);
                line = rest.to_string();
                empty = true;
            }
            if !empty {
                line.push(' ');
            }
            line.push_str(&word);
            empty = false;
        }
        self.line(&line);
    }
}
