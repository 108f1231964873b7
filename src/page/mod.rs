//! Documents: what an answer says to people, in their units and words. One function an answer,
//! `(&Answer, &Style) -> Document`; no clock, file or environment.

mod document;
mod exposure;
mod figure;
mod form;
mod hazards;
pub(crate) mod parts;
mod shift;
mod style;
pub mod words;

pub use document::{About, Block, Document, Logo, Sheet, Table};
pub use exposure::exposure;
pub use figure::{Datum, Figure, Figures};
pub use form::{Form, Paper, Shape};
pub use hazards::cautions;
pub use shift::shift;
pub use style::{Detail, Style};
