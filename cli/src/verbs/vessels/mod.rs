//! Vessels at rest, tests, vacuum, cylinders.

pub(crate) mod at_rest;
pub(crate) mod cylinder;
pub(crate) mod evacuation;
pub(crate) mod pressure_test;
