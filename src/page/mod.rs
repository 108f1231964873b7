//! Documents: what an answer says to people, in their units and words. One function an answer,
//! `(&Answer, &Style) -> Document`; no clock, file or environment.

pub(crate) mod both_sides;
mod document;
mod exposure;
mod figure;
mod form;
mod hazards;
mod measured;
pub(crate) mod parts;
mod reading_log;
pub(crate) mod readings;
mod style;
pub mod words;

pub use both_sides::both_sides;
pub use document::{About, Block, Document, Logo, Sheet, Table};
pub use exposure::exposure;
pub use figure::{Datum, Figure, Figures};
pub use form::{Form, Paper, Shape};
pub use hazards::cautions;
pub use measured::measured;
pub use reading_log::reading_log;
pub use style::{Detail, Style};
