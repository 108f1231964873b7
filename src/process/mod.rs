//! What refrigerants undergo: a coil and the glide along it, a cycle, a loss, an azeotrope.

pub mod azeotrope;
pub mod coil;
pub mod cycle;
pub mod glide;
pub mod shift;
