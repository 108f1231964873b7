//! Files, rows of files, and how far a run has come.

pub(crate) mod bounded;
pub(crate) mod csv_in;
pub(crate) mod deliver;
mod part;
pub(crate) mod progress;
pub(crate) mod rows;
