//! Small numerical tools that know nothing of refrigerants.

pub mod chebyshev;
mod exponential;
mod interpolation;
mod linear;
mod minimum;
mod root;
mod step;

pub use exponential::exp;
pub use interpolation::{lagrange_weights, through};
pub use linear::solve_linear;
pub use minimum::golden_section;
pub use root::{bracketed_root, roots_on};
pub use step::{largest, shortening};
