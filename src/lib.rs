//! Refrigerant properties and blend behaviour from published equations of state.

pub mod catalogue;
pub mod error;
pub mod units;

pub use error::{Error, Result};
