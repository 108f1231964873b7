//! Documents: what an answer says to people, in their units and words. One function an answer,
//! `(&Answer, &Style) -> Document`; no clock, file or environment.

mod conversion;
mod document;
mod exposure;
mod figure;
mod form;
mod glide;
mod hazards;
mod listing;
pub(crate) mod parts;
mod profile;
mod range;
mod raoult;
mod saturation;
mod state;
mod style;
mod tolerance;
pub mod words;
mod working;

pub use conversion::conversion;
pub use document::{About, Block, Document, Logo, Sheet, Table};
pub use exposure::exposure;
pub use figure::{Datum, Figure, Figures};
pub use form::{Form, Paper, Shape};
pub use glide::glide;
pub use hazards::cautions;
pub use listing::listing;
pub use profile::profile;
pub use range::out_of_range;
pub use saturation::{SaturationParts, saturation, saturation_cells, saturation_heads};
pub use state::{STATE_COLUMNS, StateColumn, state};
pub use style::{Detail, Style};
