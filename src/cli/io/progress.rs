//! How far a long run has come, on a terminal and nowhere else.

use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// A run that is over sooner needs no line.
const PATIENCE: Duration = Duration::from_secs(1);
/// Time between two writings of the line.
const PAUSE: Duration = Duration::from_millis(200);

/// One line on standard error that is written over and wiped at the end.
pub(crate) struct Progress {
    next: Option<Instant>,
    shown: bool,
    size: Option<u64>,
}

impl Progress {
    /// Begins; `size` is the number of bytes to read, where it is known. Where the answer itself
    /// appears on the terminal (no `to_file`), it shows how far the run is.
    pub(crate) fn new(size: Option<u64>, to_file: bool) -> Self {
        let wanted =
            std::io::stderr().is_terminal() && (to_file || !std::io::stdout().is_terminal());
        Self {
            next: wanted.then(|| Instant::now() + PATIENCE),
            shown: false,
            size: size.filter(|&size| size > 0),
        }
    }

    /// Tells how many rows were answered and how many bytes were read.
    pub(crate) fn at(&mut self, rows: u64, bytes: u64) {
        let now = Instant::now();
        if self.next.is_none_or(|next| now < next) {
            return;
        }
        let share = match self.size {
            Some(size) => format!(", {:.0} %", 100.0 * bytes.min(size) as f64 / size as f64),
            None => String::new(),
        };
        // Best effort: a line that could not be shown is no reason to stop.
        let _ = write!(std::io::stderr(), "\r{rows} rows{share}\x1b[K");
        self.shown = true;
        self.next = Some(now + PAUSE);
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.shown {
            let _ = write!(std::io::stderr(), "\r\x1b[K");
        }
    }
}
