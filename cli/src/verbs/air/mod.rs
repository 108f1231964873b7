//! Moist air and target superheat.

pub(crate) mod moist_air;
pub(crate) mod target_superheat;
