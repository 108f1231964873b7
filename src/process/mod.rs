//! What refrigerants undergo: a coil and the glide along it, a cycle, a loss, an azeotrope,
//! a flow in a pipe, a column of liquid.

pub mod azeotrope;
pub mod coil;
pub mod cycle;
pub mod glide;
pub mod pipe;
pub(crate) mod reasons;
pub mod riser;
pub mod shift;
