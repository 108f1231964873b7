//! The program itself: checks, completions, manual page.

pub(crate) mod completions;
pub(crate) mod man;
pub(crate) mod setup;
pub(crate) mod validate;
