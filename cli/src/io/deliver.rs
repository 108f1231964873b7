//! Hands an answer over: to standard output, or to a file that appears whole or not at all.

use std::fs::File;
use std::io::{ErrorKind, Write};
use std::path::Path;

use super::part::Part;
use crate::args::OutputArgs;
use crate::args::meant;
use crate::errors::Failure;
use zeotrope::output::Format;
use zeotrope::page::Document;

/// Writes an answer in the format asked for, to where it was asked for.
pub(crate) fn answer(
    answer: &Document,
    args: &OutputArgs,
    out: &mut dyn Write,
    err: &mut dyn Write,
) -> Result<(), Failure> {
    in_format(answer, meant::format(args)?, args, out, err)
}

/// As [`answer`], in a format that has been settled.
pub(crate) fn in_format(
    answer: &Document,
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
        // A spreadsheet has no room for words.
        for warning in &answer.warnings {
            let _ = writeln!(err, "warning: {} ({})", warning.text, warning.code);
        }
        for caution in &answer.cautions {
            let _ = writeln!(err, "caution: {caution}");
        }
    }
    Ok(())
}

/// Writes to standard output; a reader that has gone away is no error.
pub(crate) fn write_out(out: &mut dyn Write, bytes: &[u8]) -> Result<(), Failure> {
    let written = out.write_all(bytes).and_then(|()| out.flush());
    written.map_err(not_written_out)
}

fn not_written_out(problem: std::io::Error) -> Failure {
    match problem.kind() {
        ErrorKind::BrokenPipe => Failure::closed_pipe(),
        _ => Failure::no_answer(
            format!("standard output could not be written: {problem}"),
            place_hint(problem.kind(), "write to a file with --output FILE"),
        ),
    }
}

/// Where an answer that comes piece by piece is written.
pub(crate) struct Sink<'a> {
    to: &'a mut dyn Write,
    failed: &'a dyn Fn(std::io::Error) -> Failure,
}

impl Sink<'_> {
    /// Writes the next piece.
    pub(crate) fn write(&mut self, piece: &[u8]) -> Result<(), Failure> {
        self.to
            .write_all(piece)
            .and_then(|()| self.to.flush())
            .map_err(self.failed)
    }
}

/// Writes an answer piece by piece: to standard output, or to a file that appears when the last
/// piece is written.
pub(crate) fn stream(
    args: &OutputArgs,
    out: &mut dyn Write,
    pieces: impl FnOnce(&mut Sink<'_>) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let Some(path) = &args.output else {
        return pieces(&mut Sink {
            to: out,
            failed: &not_written_out,
        });
    };
    appear(path, args.force, |file| {
        pieces(&mut Sink {
            to: file,
            failed: &|problem| not_written(path, &problem),
        })
    })
}

/// Refuses a format or a file that cannot be, before any work is done.
pub(crate) fn check_output(args: &OutputArgs) -> Result<(), Failure> {
    meant::format(args)?;
    match &args.output {
        Some(path) => check_target(path, args.force),
        None => Ok(()),
    }
}

/// Refuses a place that must not be written, before any work is done.
pub(crate) fn check_target(path: &Path, force: bool) -> Result<(), Failure> {
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
pub(crate) fn write_file(path: &Path, bytes: &[u8], force: bool) -> Result<(), Failure> {
    appear(path, force, |file| {
        file.write_all(bytes)
            .map_err(|problem| not_written(path, &problem))
    })
}

/// Makes a folder, where there is none.
pub(crate) fn make_folder(folder: &Path) -> Result<(), Failure> {
    std::fs::create_dir_all(folder).map_err(|problem| {
        Failure::no_answer(
            format!("{} could not be made: {problem}", folder.display()),
            "choose a folder that may be written to",
        )
    })
}

/// Writes files into a folder: all, or none where one of them must not be written.
pub(crate) fn write_files(
    folder: &Path,
    files: &[(String, String)],
    force: bool,
) -> Result<(), Failure> {
    make_folder(folder)?;
    for (name, _) in files {
        check_target(&folder.join(name), force)?;
    }
    files
        .iter()
        .try_for_each(|(name, text)| write_file(&folder.join(name), text.as_bytes(), force))
}

/// Lets a file appear whole, or not at all where writing it failed.
fn appear(
    path: &Path,
    force: bool,
    write: impl FnOnce(&mut File) -> Result<(), Failure>,
) -> Result<(), Failure> {
    check_target(path, force)?;
    let name = path.file_name().ok_or_else(|| {
        Failure::usage(
            format!("{} does not name a file", path.display()),
            "give a file name, for example --output chart.csv",
        )
    })?;
    let failed = |problem| not_written(path, &problem);
    let mut part = Part::begin_beside(path, name).map_err(failed)?;
    write(&mut part.file)?;
    part.finish(path).map_err(failed)
}

fn not_written(path: &Path, problem: &std::io::Error) -> Failure {
    Failure::no_answer(
        format!("{} could not be written: {problem}", path.display()),
        place_hint(
            problem.kind(),
            "choose a folder that exists and may be written to",
        ),
    )
}

/// What mends a place that cannot be written, else `otherwise`.
fn place_hint(kind: ErrorKind, otherwise: &'static str) -> &'static str {
    match kind {
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => {
            "free some space there, or write to another disk with --output FILE"
        }
        ErrorKind::ReadOnlyFilesystem | ErrorKind::PermissionDenied => {
            "choose a folder in which you may write"
        }
        _ => otherwise,
    }
}
