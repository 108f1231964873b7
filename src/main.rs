//! The program `zeotrope`.

use std::io::{BufWriter, IsTerminal};
use std::process::ExitCode;

use zeotrope::cli::{Streams, run_with_config};

fn main() -> ExitCode {
    let colour = std::io::stderr().is_terminal()
        && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty());
    let mut out = BufWriter::new(std::io::stdout().lock());
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
