//! Small numerical tools that know nothing of refrigerants.

mod root;

pub use root::{bracketed_root, roots_on};
