//! How far a long run has come, on a terminal and nowhere else.

use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// A run that is over sooner needs no line.
const PATIENCE: Duration = Duration::from_secs(1);
/// Time between two writings of the line.
const PAUSE: Duration = Duration::from_millis(200);

/// One line among the program's words that is written over and wiped at the end.
pub(crate) struct Progress {
    next: Option<Instant>,
    shown: bool,
}

impl Progress {
    /// Begins. Where the answer itself appears on the terminal (no `to_file`), it shows how far
    /// the run is.
    pub(crate) fn new(to_file: bool) -> Self {
        let wanted =
            std::io::stderr().is_terminal() && (to_file || !std::io::stdout().is_terminal());
        Self {
            next: wanted.then(|| Instant::now() + PATIENCE),
            shown: false,
        }
    }

    /// Shows how far the run is, where it is time to.
    pub(crate) fn show_if_due(&mut self, err: &mut dyn Write, told: impl FnOnce() -> String) {
        let now = Instant::now();
        if self.next.is_none_or(|next| now < next) {
            return;
        }
        // Best effort: a line that could not be shown is no reason to stop.
        let _ = write!(err, "\r{}\x1b[K", told()).and_then(|()| err.flush());
        self.shown = true;
        self.next = Some(now + PAUSE);
    }

    /// Wipes the line.
    pub(crate) fn end(&mut self, err: &mut dyn Write) {
        if std::mem::take(&mut self.shown) {
            let _ = write!(err, "\r\x1b[K").and_then(|()| err.flush());
        }
    }
}
