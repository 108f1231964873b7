//! One phase of given temperature, density and composition.

mod density;
mod single_phase;

pub use density::{DensityRoot, density_between, highest_density};
pub use single_phase::SinglePhase;
