//! The program `zeotrope`.

use std::io::{BufWriter, Error, IsTerminal, Result, Write};
use std::process::ExitCode;

use zeotrope_cli::{Streams, run_with_config};

/// Standard output that refuses a PDF where people would see its bytes.
struct Out<Inner> {
    inner: Inner,
    is_terminal: bool,
}

impl<Inner: Write> Write for Out<Inner> {
    fn write(&mut self, bytes: &[u8]) -> Result<usize> {
        if self.is_terminal && bytes.starts_with(b"%PDF-") {
            return Err(Error::other("a PDF is no text for a terminal"));
        }
        self.inner.write(bytes)
    }

    fn flush(&mut self) -> Result<()> {
        self.inner.flush()
    }
}

fn main() -> ExitCode {
    let colour = std::io::stderr().is_terminal()
        && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    let stdout = std::io::stdout();
    let mut out = Out {
        is_terminal: stdout.is_terminal(),
        inner: BufWriter::new(stdout.lock()),
    };
    let mut err = std::io::stderr().lock();
    run_with_config(
        std::env::args_os(),
        Streams {
            out: &mut out,
            err: &mut err,
            colour,
        },
    )
    .into()
}
