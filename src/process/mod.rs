//! What a refrigerant undergoes: a coil.

pub mod coil;
