//! Field arithmetic: what a reading means at a site, and the care that goes with an answer.

pub mod cautions;
pub mod coil;
pub mod facts;
pub mod site;
