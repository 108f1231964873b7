//! Field arithmetic: what a reading means at a site, and the care that goes with an answer.

pub mod at_rest;
pub mod cautions;
pub mod coil;
pub mod cylinder;
pub mod distance;
pub mod evacuation;
pub mod exposure;
pub mod facts;
pub mod moist_air;
pub mod pressure_test;
pub mod significance;
pub mod site;
pub mod target_superheat;
pub mod warming;
