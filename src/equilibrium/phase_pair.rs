//! Two phases in equilibrium on a line of a blend.

use crate::helmholtz::{Mixture, MoleFractions};

/// Relative difference in density below which two phases may be one.
const ONE_PHASE: f64 = 1e-3;
/// Difference of mole fractions below which they then are.
const ALIKE: f64 = 1e-2;

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

    /// `bubble point` or `dew point`.
    pub(crate) const fn point(self) -> &'static str {
        match self {
            Branch::Bubble => "bubble point",
            Branch::Dew => "dew point",
        }
    }

    /// The place of its own in what is kept for bubble and dew.
    pub(crate) const fn place(self) -> usize {
        self as usize
    }
}

/// Two liquids beside each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TwoLiquids {
    /// Mole fractions and density, mol/m3, of each.
    pub phases: [(MoleFractions, f64); 2],
    /// Moles of the second a mole of both.
    pub share: f64,
    /// Whether no third liquid belongs beside them.
    pub are_all: bool,
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
    /// Both where the liquid is two: its mole fractions and density are of both together.
    pub liquids: Option<TwoLiquids>,
    /// Steps taken.
    pub steps: usize,
    /// Largest of the last changes of the logarithms solved for.
    pub residual: f64,
}

impl PhasePair {
    /// Whether this is a liquid with a vapor: of more moles a volume, or, under a gas so compressed
    /// that large molecules pack no more of them, heavier and of other contents.
    pub(super) fn is_two(&self, mixture: &Mixture) -> bool {
        if self.liquid_density > self.vapor_density * (1.0 + ONE_PHASE) {
            return true;
        }
        let (liquid, vapor) = (self.liquid.iter(), self.vapor.iter());
        let differ = liquid.zip(vapor).any(|(x, y)| (x - y).abs() > ALIKE);
        differ && self.liquid_is_heavier(mixture)
    }

    fn liquid_is_heavier(&self, mixture: &Mixture) -> bool {
        let mass = |x, density: f64| density * mixture.at_composition(x).molar_mass();
        mass(&self.liquid, self.liquid_density) > mass(&self.vapor, self.vapor_density)
    }
}
