//! Answers about what is read or held: typed values and kinds, quantities with their units.

pub mod air;
pub mod conversion;
pub mod date;
pub mod defaults;
pub mod deviation;
pub mod facts;
pub mod hazard;
pub mod listing;
pub mod measurement;
pub mod profile;
pub mod reading;
pub(crate) mod reasons;
pub mod saturation;
pub mod sheet;
pub mod state;
pub mod vessel;
