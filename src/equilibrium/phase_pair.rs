//! Two phases in equilibrium on a line of a blend.

use crate::helmholtz::MoleFractions;

/// Which line of a blend.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Branch {
    /// The liquid has the blend's composition: the first bubble of vapour.
    Bubble,
    /// The vapour has the blend's composition: the last drop of liquid.
    Dew,
}

impl Branch {
    /// `bubble` or `dew`.
    pub const fn name(self) -> &'static str {
        match self {
            Branch::Bubble => "bubble",
            Branch::Dew => "dew",
        }
    }
}

/// Liquid and vapour in equilibrium, one of them with the blend's composition.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PhasePair {
    /// Temperature, K.
    pub temperature: f64,
    /// Pressure, Pa.
    pub pressure: f64,
    /// Mole fractions of the liquid.
    pub liquid: MoleFractions,
    /// Mole fractions of the vapour.
    pub vapor: MoleFractions,
    /// Density of the liquid, mol/m3.
    pub liquid_density: f64,
    /// Density of the vapour, mol/m3.
    pub vapor_density: f64,
    /// Steps taken.
    pub steps: usize,
    /// Largest of the last changes of the logarithms solved for.
    pub residual: f64,
}
