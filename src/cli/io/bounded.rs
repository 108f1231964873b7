//! A source of rows that ends where a row has no end.

use std::cell::Cell;
use std::io::{self, Read};
use std::rc::Rc;

/// The longest row; a quotation mark that is never closed would swallow the rest of the file.
const LONGEST: u64 = 1 << 24;

/// How far reading has come.
#[derive(Default)]
pub(crate) struct Flow {
    /// Bytes read from the source.
    pub(crate) read: Cell<u64>,
    /// Where the row that is being read begins.
    pub(crate) row_start: Cell<u64>,
}

/// A source that ends with an error where a single row grows past all measure.
pub(crate) struct Source {
    pub(crate) bytes: Box<dyn Read>,
    pub(crate) flow: Rc<Flow>,
}

impl Read for Source {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.flow.read.get() - self.flow.row_start.get() > LONGEST {
            return Err(io::Error::other(format!(
                "a row is longer than {} MiB; perhaps a quotation mark is not closed",
                LONGEST >> 20
            )));
        }
        let count = self.bytes.read(buffer)?;
        self.flow.read.set(self.flow.read.get() + count as u64);
        Ok(count)
    }
}
