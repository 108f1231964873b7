//! Files, rows of files, and how far a run has come.

pub(crate) mod config;
pub(crate) mod deliver;
pub(crate) mod follow;
mod part;
pub(crate) mod progress;
pub(crate) mod rows;
mod signals;

/// The text of a file.
pub(crate) fn text(path: &std::path::Path, hint: &str) -> zeotrope::Result<String> {
    std::fs::read_to_string(path).map_err(|problem| zeotrope::Error::File {
        file: path.display().to_string(),
        problem: problem.to_string(),
        hint: hint.to_owned(),
    })
}
