//! Documents: what an answer says to people, in their units and words. One function an answer,
//! `(&Answer, &Style) -> Document`; no clock, file or environment.

#[cfg(feature = "cli")]
pub mod code;
mod document;
mod exposure;
mod figure;
mod form;
mod hazards;
pub(crate) mod parts;
mod style;
#[cfg(feature = "cli")]
mod validation;
pub mod words;

pub use document::{About, Block, Document, Logo, Sheet, Table};
pub use exposure::exposure;
pub use figure::{Datum, Figure, Figures};
pub use form::{Form, Paper, Shape};
pub use hazards::cautions;
pub use style::{Detail, Style};
#[cfg(feature = "cli")]
pub use validation::validation;
