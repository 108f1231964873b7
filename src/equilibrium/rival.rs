//! A phase that is more stable than one that was tested ([`super::stability`]).

use crate::helmholtz::{Mixture, MoleFractions};

/// How far from a pressure a density does not have it, in parts of rho R T.
const MISSED: f64 = 1e-6;

/// A phase that is more stable than the one tested.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Rival {
    /// Its mole fractions.
    pub x: MoleFractions,
    /// Its density at the pressure tested, mol/m3.
    pub density: f64,
    /// How far it lies below the tangent plane, in units of R T a mole of it.
    pub excess: f64,
}

impl Rival {
    /// Whether it has its density at a temperature in K and a pressure in Pa: what is rich in a component
    /// without a liquid proves a blend unstable and is no phase.
    pub(super) fn is_phase(&self, mixture: &Mixture, temperature: f64, pressure: f64) -> bool {
        let isotherm = mixture.at_composition(&self.x).isotherm(temperature);
        let missed = isotherm.pressure(self.density) - pressure;
        missed.abs() < MISSED * self.density * isotherm.rt
    }
}
