//! Files, rows of files, and how far a run has come.

pub(crate) mod config;
pub(crate) mod deliver;
pub(crate) mod follow;
mod part;
pub(crate) mod progress;
pub(crate) mod rows;
mod signals;
