//! What is there, and what is known of one.

pub(crate) mod list;
pub(crate) mod show;
