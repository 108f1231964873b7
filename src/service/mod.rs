//! Answers about what is read or held: typed values and kinds, quantities with their units.

pub mod air;
pub mod date;
pub mod distance;
pub mod facts;
pub mod hazard;
pub mod measurement;
pub mod reading;
pub mod vessel;
