//! Documents: what an answer says to people, in their units and words. One function an answer,
//! `(&Answer, &Style) -> Document`; no clock, file or environment.

mod at_rest;
mod azeotrope;
pub(crate) mod both_sides;
mod chart;
mod chart_cells;
mod chart_foot;
mod chart_words;
pub mod code;
mod conversion;
mod cycle;
mod cylinder;
mod document;
mod evacuation;
mod exercise;
mod exposure;
mod face;
mod figure;
// papers in points are for print alone
#[cfg_attr(not(feature = "pdf"), allow(dead_code))]
mod form;
mod glide;
mod hazards;
mod json;
mod legible;
mod listing;
mod measured;
mod moist_air;
pub(crate) mod parts;
mod picture;
mod pipes;
mod pressure_test;
mod print;
mod profile;
mod random_check;
mod raoult;
mod reading_log;
pub(crate) mod readings;
mod reason;
mod running_cycle;
mod saturation;
mod sheet;
mod shift;
mod state;
mod style;
mod target_superheat;
mod tolerance;
mod validation;
pub(crate) mod warning;
pub mod words;
mod working;

pub use at_rest::{at_rest, gauge_check, would_fit};
pub use azeotrope::azeotropes;
pub use both_sides::{both_sides, log_heads, log_values};
pub use chart::chart;
pub use conversion::conversion;
pub use cycle::{CycleParts, cycle};
pub use cylinder::{cylinder, no_filling};
pub use document::{About, Block, Document, Face, LOGO_HINT, Logo, Sheet, Symbol, Table};
pub use evacuation::evacuation;
pub use exercise::exercise;
pub use exposure::exposure;
pub use figure::{Datum, Figure, Figures, number_cell};
pub use form::{Form, Paper, Shape, bleed, card_size, tint};
pub use glide::glide;
pub use hazards::cautions;
pub use json::Json;
pub use legible::legible_wall;
pub use listing::listing;
pub use measured::measured;
pub use moist_air::{air_heat, moist_air};
pub use parts::all_warnings;
pub use picture::picture;
pub use pipes::{pipe, riser};
pub use pressure_test::pressure_test;
pub use print::{Footer, NotedTarget, Print};
pub use profile::profile;
pub use random_check::random_check;
pub use reading_log::reading_log;
pub use reason::{Wrong, in_words};
pub use running_cycle::running_cycle;
pub use saturation::{SaturationParts, saturation};
pub use sheet::{no_rows, row_notes};
pub use shift::{
    ShiftPicture, card as shift_card, exercise as shift_exercise, picture as shift_picture, shift,
    warnings as shift_warnings,
};
pub use state::{STATE_COLUMNS, StateColumn, state};
pub use style::{Detail, Style};
pub use target_superheat::target_superheat;
pub use validation::validation;
pub use warning::{Told, told};
