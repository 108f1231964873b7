//! What a refrigerant undergoes: a coil, and the glide along it.

pub mod coil;
pub mod glide;
