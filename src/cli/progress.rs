//! How far a run has come, on standard error where that is a terminal.

use crate::job::Step;
use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use std::io::{IsTerminal, stderr};
use std::time::Duration;

/// How often it is drawn while nothing comes to an end.
const TICK: Duration = Duration::from_millis(250);

/// The line that tells how far a run has come; it is gone once it is dropped.
pub(super) struct Progress(ProgressBar);

impl Progress {
    pub(super) fn new() -> Progress {
        let bar = ProgressBar::no_length();
        let target = if stderr().is_terminal() {
            ProgressDrawTarget::stderr()
        } else {
            ProgressDrawTarget::hidden()
        };
        bar.set_draw_target(target);
        bar.set_style(style("{spinner} {msg}"));
        bar.set_message("reading the survey");
        if !bar.is_hidden() {
            bar.enable_steady_tick(TICK);
        }
        Progress(bar)
    }

    pub(super) fn tell(&self, step: Step) {
        match step {
            Step::Begun { sashes, to_make } => {
                let kept = sashes - to_make;
                let kept = if kept > 0 { format!(", {kept} as before") } else { String::new() };
                self.0.set_length(to_make as u64);
                self.0.set_style(style("{spinner} {msg} {pos} of {len} {wide_bar}"));
                self.0.set_message(format!("making sashes{kept}:"));
            }
            Step::Sash => {
                // How long it takes is known from the first on.
                self.0
                    .set_style(style("{spinner} {msg} {pos} of {len} {wide_bar} about {eta} left"));
                self.0.inc(1);
            }
            Step::Sheets => {
                self.0.set_style(style("{spinner} {msg}"));
                self.0.set_message("writing order, lists and page of the house");
            }
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        self.0.finish_and_clear();
    }
}

/// A template that cannot be read would be a slip in this file: then the usual one is as good.
fn style(template: &str) -> ProgressStyle {
    ProgressStyle::with_template(template).unwrap_or_else(|_| ProgressStyle::default_bar())
}
