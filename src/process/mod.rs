//! What a refrigerant undergoes: an azeotrope, a coil, a loss.

pub mod azeotrope;
pub mod coil;
pub mod shift;
