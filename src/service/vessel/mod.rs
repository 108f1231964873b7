//! Vessels: at rest, a cylinder to fill, a pressure test, a vacuum, a rise.

pub mod at_rest;
pub mod cylinder;
pub mod evacuation;
pub mod gauge_check;
pub mod pressure_test;
pub mod rise;
pub mod rise_file;
