//! Hands an answer over: to standard output, or to a file that appears whole or not at all.

use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use super::args::OutputArgs;
use super::failure::Failure;
use super::request;
use crate::output::{Answer, Format};

/// Writes an answer in the format asked for, to where it was asked for.
pub(super) fn answer(
    answer: &Answer,
    args: &OutputArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    in_format(answer, request::format(args)?, args, out, err)
}

/// As [`answer`], in a format that has been settled.
pub(super) fn in_format(
    answer: &Answer,
    format: Format,
    args: &OutputArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    let bytes = answer.write(format)?;
    match &args.output {
        Some(path) => write_file(path, &bytes, args.force)?,
        None => write_out(out, &bytes)?,
    }
    if format == Format::Csv {
        // A sheet has no room for words: they go where words go.
        for warning in &answer.warnings {
            let _ = writeln!(err, "warning: {} ({})", warning.text, warning.code);
        }
    }
    Ok(())
}

/// Writes to standard output; a reader that has gone away is no error.
pub(super) fn write_out(out: &mut dyn Write, bytes: &[u8]) -> Result<(), Failure> {
    let written = out.write_all(bytes).and_then(|()| out.flush());
    written.map_err(|problem| match problem.kind() {
        ErrorKind::BrokenPipe => Failure::closed_pipe(),
        _ => Failure::no_answer(
            format!("standard output could not be written: {problem}"),
            "write to a file with --output FILE",
        ),
    })
}

/// Refuses a place that must not be written, before any work is done.
pub(super) fn check_target(path: &Path, force: bool) -> Result<(), Failure> {
    let shown = path.display();
    match std::fs::metadata(path) {
        Ok(found) if !found.is_file() => Err(Failure::no_answer(
            format!("{shown} is not a file"),
            "give the name of a new file",
        )),
        Ok(_) if !force => Err(Failure::no_answer(
            format!("{shown} exists already"),
            "add --force to replace it, or give another name",
        )),
        _ => Ok(()),
    }
}

/// Writes a file that appears whole or not at all.
pub(super) fn write_file(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    check_target(path, force)?;
    let beside = temporary_name(path)?;
    let written = write_whole(&beside, bytes).and_then(|()| std::fs::rename(&beside, path));
    written.map_err(|problem| {
        // Best effort: where the file was never made there is nothing to remove.
        let _ = std::fs::remove_file(&beside);
        Failure::no_answer(
            format!("{} could not be written: {problem}", path.display()),
            "choose a folder that exists and may be written to",
        )
    })
}

fn write_whole(path: &Path, bytes: &[u8]) -> std::io::Result<()> {
    let mut file = std::fs::OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)?;
    file.write_all(bytes)?;
    file.sync_all()
}

/// A name in the same folder, so that the last step is a rename and cannot stop half way.
fn temporary_name(path: &Path) -> Result<PathBuf, Failure> {
    let name = path.file_name().ok_or_else(|| {
        Failure::usage(
            format!("{} does not name a file", path.display()),
            "give a file name, for example --output chart.csv",
        )
    })?;
    let mut hidden = std::ffi::OsString::from(".");
    hidden.push(name);
    hidden.push(format!(".{}.part", std::process::id()));
    Ok(path.with_file_name(hidden))
}
