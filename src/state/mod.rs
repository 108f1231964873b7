//! One phase of given temperature, density and composition.

mod by_pressure;
mod density;
mod single_phase;

pub use by_pressure::{ByPressure, Caloric, by_pressure};
pub use density::{DensityRoot, density_between, density_near, highest_density};
pub use single_phase::SinglePhase;
