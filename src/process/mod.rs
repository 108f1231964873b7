//! What a refrigerant undergoes: a coil, a loss.

pub mod coil;
pub mod shift;
