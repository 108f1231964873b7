//! What stands in the vessel: liquid and vapor of given amounts at the temperature.

use crate::equilibrium::at_volume::{self, InVolume};
use crate::equilibrium::bubble_dew::{self, Branch, PhasePair};
use crate::error::{Error, Result, reasons};
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};
use crate::refrigerant::Refrigerant;

/// Moles of each component per kg that there was at the start, in the model's order; what lies
/// beyond the count of components is zero.
pub(super) type Amounts = [f64; MAX_COMPONENTS];

/// A vessel, rigid or without vapor space, at a temperature.
#[derive(Debug, Clone)]
pub(super) struct Vessel<'a> {
    pub(super) refrigerant: &'a Refrigerant,
    pub(super) mixture: &'a Mixture,
    /// K.
    pub(super) temperature: f64,
    /// m3 per kg at the start; none without vapor space.
    pub(super) volume: Option<f64>,
}

impl<'a> Vessel<'a> {
    /// A vessel with its contents, and these as they are at the start.
    pub(super) fn new(
        refrigerant: &'a Refrigerant,
        temperature: f64,
        amounts: &Amounts,
        filled: Option<f64>,
    ) -> Result<(Self, InVolume)> {
        let mut vessel = Self {
            refrigerant,
            mixture: refrigerant.model().0,
            temperature,
            volume: None,
        };
        let mut first = vessel.contents(amounts, None)?;
        if let Some(filled) = filled {
            let z = vessel.fractions(amounts);
            first = at_volume::filled(vessel.mixture, &z, filled, &first.pair).ok_or_else(lost)?;
            let moles: f64 = amounts.iter().sum();
            vessel.volume = Some(moles / first.density);
        }
        Ok((vessel, first))
    }

    pub(super) fn count(&self) -> usize {
        self.mixture.count()
    }

    pub(super) fn fractions(&self, amounts: &Amounts) -> MoleFractions {
        MoleFractions::new(&amounts[..self.count()])
    }

    /// kg/mol of a component.
    pub(super) fn molar_mass(&self, place: usize) -> f64 {
        self.mixture.components()[place].record.molar_mass_kg_mol
    }

    /// kg of amounts.
    pub(super) fn mass(&self, amounts: &[f64]) -> f64 {
        let places = amounts.iter().take(self.count()).enumerate();
        places.map(|(k, n)| n * self.molar_mass(k)).sum()
    }

    /// Mass fractions of mole fractions or amounts.
    pub(super) fn by_mass(&self, amounts: &[f64]) -> Vec<f64> {
        let whole = self.mass(amounts);
        let places = amounts.iter().take(self.count()).enumerate();
        places
            .map(|(k, n)| n * self.molar_mass(k) / whole)
            .collect()
    }

    /// Liquid and vapor of the amounts, from a start nearby where there is one.
    pub(super) fn contents(&self, amounts: &Amounts, near: Option<&InVolume>) -> Result<InVolume> {
        let count = self.count();
        if amounts[..count].iter().any(|n| n.is_nan() || *n < 0.0) {
            return Err(lost());
        }
        if let Some(volume) = self.volume {
            let held = amounts.map(|n| n / volume);
            let held = &held[..count];
            let found = near.and_then(|near| at_volume::of_amounts(self.mixture, held, near));
            if let Some(found) = found {
                return Ok(found);
            }
            let density: f64 = held.iter().sum();
            let pair = self.bubble(amounts, None)?;
            let liquid_volume =
                (density - pair.vapor_density) / (pair.liquid_density - pair.vapor_density);
            let start = InVolume {
                pair,
                liquid_volume,
                density,
            };
            return at_volume::of_amounts(self.mixture, held, &start).ok_or_else(lost);
        }
        let pair = self.bubble(amounts, near)?;
        Ok(InVolume {
            density: pair.liquid_density,
            liquid_volume: 1.0,
            pair,
        })
    }

    fn bubble(&self, amounts: &Amounts, near: Option<&InVolume>) -> Result<PhasePair> {
        let z = self.fractions(amounts);
        let (mixture, at) = (self.mixture, self.temperature);
        let branch = Branch::Bubble;
        let pair = near
            .and_then(|near| bubble_dew::near_at_temperature(mixture, &z, branch, at, &near.pair));
        match pair {
            Some(pair) => Ok(pair),
            None => self
                .refrigerant
                .with_line_of(&z, |line| line.at_temperature(mixture, &z, branch, at)),
        }
    }

    /// Pressure, Pa, of vapor alone.
    pub(super) fn vapor_pressure(&self, amounts: &Amounts) -> f64 {
        let moles: f64 = amounts.iter().sum();
        let fixed = self.mixture.at_composition(&self.fractions(amounts));
        let isotherm = fixed.isotherm(self.temperature);
        isotherm.pressure(moles / self.volume.unwrap_or(f64::INFINITY))
    }
}

pub(super) fn lost() -> Error {
    Error::NotConverged {
        question: reasons::QUESTION_WHAT_IS_LEFT,
        steps: 0,
        residual: f64::NAN,
    }
}
