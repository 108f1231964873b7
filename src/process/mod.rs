//! What refrigerants undergo: a coil and the glide along it, a loss, an azeotrope.

pub mod azeotrope;
pub mod coil;
pub mod glide;
pub mod shift;
