//! What happens on Ctrl-C and its like.

use crate::job::folder::Stopper;

/// Has a run stopped, and what it left taken away, before the process ends on a signal as it would without.
#[cfg(unix)]
pub(super) fn stop_on_signals(stoppers: &[Stopper]) {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
    let Ok(mut signals) = signal_hook::iterator::Signals::new([SIGHUP, SIGINT, SIGTERM]) else {
        // Then the next run tidies up.
        return;
    };
    let stoppers = stoppers.to_vec();
    std::thread::spawn(move || {
        if let Some(signal) = signals.forever().next() {
            stoppers.iter().for_each(Stopper::stop);
            let _ = signal_hook::low_level::emulate_default_handler(signal);
            std::process::exit(128 + signal);
        }
    });
}

#[cfg(not(unix))]
pub(super) fn stop_on_signals(_: &[Stopper]) {}
