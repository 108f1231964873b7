//! What can hurt: safety classes, concentrations, warming potentials, cautions by fact.

pub mod exposure;
pub mod gwp;
pub mod hazards;
