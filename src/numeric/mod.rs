//! Small numerical tools that know nothing of refrigerants.

mod linear;
mod root;

pub use linear::solve_linear;
pub use root::{bracketed_root, roots_on};
