//! What an instrument says at a site: gauge, accuracy, uncertainty, and what they decide.

pub mod accuracy;
pub mod decision;
pub mod gauge;
pub mod gauge_reading;
pub mod kit;
pub mod significance;
pub mod site;
pub mod uncertainty;
