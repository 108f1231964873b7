//! What can hurt: safety classes, concentrations, warming potentials, cautions by fact.

pub mod hazards;
pub mod exposure;
pub mod gwp;
