//! Signals that end the program: what is unfinished is removed, and a run that follows a file ends
//! with its summary.

use std::path::PathBuf;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Mutex, PoisonError};

/// Files being written.
static WRITTEN: Mutex<Vec<PathBuf>> = Mutex::new(Vec::new());
/// Whether the next signal ends a run that follows a file, in place of the program.
static FOLLOWING: AtomicBool = AtomicBool::new(false);
/// Whether that signal has come.
static ENDED: AtomicBool = AtomicBool::new(false);

/// Changes the list of files that a signal removes.
pub(super) fn with_written(change: impl FnOnce(&mut Vec<PathBuf>)) {
    change(&mut WRITTEN.lock().unwrap_or_else(PoisonError::into_inner));
}

/// From here on the next signal ends what is followed.
pub(super) fn follow() {
    watch();
    ENDED.store(false, Ordering::SeqCst);
    FOLLOWING.store(true, Ordering::SeqCst);
}

/// Whether what is followed was ended.
pub(super) fn ended() -> bool {
    ENDED.load(Ordering::SeqCst)
}

/// Listens, from the first call on.
#[cfg(unix)]
pub(super) fn watch() {
    use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM, SIGXFSZ};
    use std::sync::{Arc, Once};
    static ONCE: Once = Once::new();
    ONCE.call_once(|| {
        // beyond a limit of size a write then fails, and is told, in place of the program's end
        let _ = signal_hook::flag::register(SIGXFSZ, Arc::new(AtomicBool::new(false)));
        let Ok(mut signals) = signal_hook::iterator::Signals::new([SIGINT, SIGTERM, SIGHUP]) else {
            return;
        };
        std::thread::spawn(move || {
            for signal in signals.forever() {
                if FOLLOWING.swap(false, Ordering::SeqCst) {
                    ENDED.store(true, Ordering::SeqCst);
                    continue;
                }
                with_written(|all| {
                    for path in all.drain(..) {
                        let _ = std::fs::remove_file(path);
                    }
                });
                // the usual code of a program ended by a signal
                std::process::exit(128 + signal);
            }
        });
    });
}

/// Elsewhere the system ends the program, and the next writing removes what was left.
#[cfg(not(unix))]
pub(super) fn watch() {}
