//! Moist air, and the target superheat that depends on it.

pub mod chart_file;
pub mod moist_air;
pub mod target_superheat;
