//! A file that is still being written: read on at its end until the run is ended from outside.

use std::fs::File;
use std::io::{self, Read};

use std::time::Duration;

use super::signals;
use crate::errors::Failure;

/// Time between two looks at the end of the file.
const PAUSE: Duration = Duration::from_millis(200);

/// A file of which the end is only where it ends so far.
pub(crate) struct Followed {
    file: File,
}

impl Followed {
    /// Follows a file until Ctrl-C, or the signal to terminate, ends the run.
    pub(crate) fn new(file: File) -> Result<Self, Failure> {
        signals::follow();
        Ok(Self { file })
    }
}

impl Read for Followed {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        loop {
            let count = self.file.read(buffer)?;
            if count > 0 || signals::ended() {
                return Ok(count);
            }
            std::thread::sleep(PAUSE);
        }
    }
}
