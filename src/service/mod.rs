//! Field arithmetic: what a reading means at a site, and the care that goes with an answer.

pub mod accuracy;
pub mod at_rest;
pub mod cautions;
pub mod coil;
pub mod cylinder;
pub mod date;
pub mod decision;
pub mod distance;
pub mod evacuation;
pub mod exposure;
pub mod facts;
pub mod gauge;
pub mod kit;
pub mod log;
pub mod machine;
pub mod moist_air;
pub mod pressure_test;
pub mod reading;
pub mod significance;
pub mod site;
pub mod target_superheat;
pub mod uncertainty;
pub mod warming;
