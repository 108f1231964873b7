//! Field arithmetic: what a reading means at a site, and the care that goes with an answer.

pub mod accuracy;
pub mod cautions;
pub mod coil;
pub mod decision;
pub mod facts;
pub mod gauge;
pub mod kit;
pub mod log;
pub mod machine;
pub mod reading;
pub mod site;
pub mod uncertainty;
