//! Bubble and dew by Raoult's law, from which a cold start goes.

use super::one_phase::liquid_density;
use super::phase_pair::{Branch, PhasePair};
use super::trial_phase::GAS;
use crate::helmholtz::{MAX_COMPONENTS, Mixture, MoleFractions};

/// Part of Raoult's law that dissolved gases never fall below.
const DISSOLVED: f64 = 0.1;

/// Raoult's law with the ancillary equations of the components, extended above their critical
/// temperatures: p = sum x_i p_i, y_i = x_i p_i / p.
pub(super) fn raoult(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
) -> PhasePair {
    let count = mixture.count();
    let mut other = [0.0; MAX_COMPONENTS];
    let mut sum = 0.0;
    for (i, component) in mixture.components().iter().enumerate() {
        let p = component.ancillary.extended_pressure(temperature);
        other[i] = match branch {
            Branch::Bubble => z[i] * p,
            Branch::Dew => z[i] / p,
        };
        sum += other[i];
    }
    let (pressure, other) = match branch {
        Branch::Bubble => (sum, MoleFractions::new(&other[..count])),
        Branch::Dew => (1.0 / sum, MoleFractions::new(&other[..count])),
    };
    let (liquid, vapor) = match branch {
        Branch::Bubble => (*z, other),
        Branch::Dew => (other, *z),
    };
    let fixed = mixture.at_composition(&vapor);
    let ideal = pressure / (fixed.gas_constant * temperature);
    // Z of a saturated vapour falls with its pressure, to about 0.3 at the critical point.
    let reduced = (ideal / fixed.reducing_density).min(0.35);
    PhasePair {
        temperature,
        pressure,
        liquid,
        vapor,
        liquid_density: liquid_density(mixture, &liquid, temperature),
        vapor_density: ideal * (1.0 + 2.2 * reduced),
        liquids: None,
        steps: 0,
        residual: f64::INFINITY,
    }
}

/// A pressure in Pa that a bubble point at a temperature in K does not lie under: a tenth of what Raoult's law says of the components that are gases.
///
/// Fugacities of dissolved gases over their mole fractions (Henry's constants) lie above the extended
/// vapor pressures; of carbon dioxide in what dissolves it well they lie at half of them (common practice,
/// no source).
pub(super) fn least_bubble_pressure(mixture: &Mixture, z: &MoleFractions, temperature: f64) -> f64 {
    let pairs = mixture.components().iter().zip(z.iter());
    let gases = pairs.filter(|(c, _)| temperature > GAS * c.critical.temperature);
    let sum: f64 = gases
        .map(|(c, z)| z * c.ancillary.extended_pressure(temperature))
        .sum();
    DISSOLVED * sum
}

/// Raoult's law at one composition, Pa.
pub(super) fn raoult_pressure(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    temperature: f64,
) -> f64 {
    let pairs = mixture.components().iter().zip(z.iter());
    let terms = pairs.map(|(c, z)| (c.ancillary.extended_pressure(temperature), z));
    match branch {
        Branch::Bubble => terms.map(|(p, z)| z * p).sum(),
        Branch::Dew => 1.0 / terms.map(|(p, z)| z / p).sum::<f64>(),
    }
}

/// The temperature at which Raoult's law gives a pressure, K.
pub(super) fn raoult_temperature(
    mixture: &Mixture,
    z: &MoleFractions,
    branch: Branch,
    pressure: f64,
) -> Option<f64> {
    let reducing = mixture.at_composition(z).reducing_temperature;
    let (mut low, mut high) = (0.2 * reducing, 1.1 * reducing);
    if !(raoult_pressure(mixture, z, branch, low) < pressure
        && raoult_pressure(mixture, z, branch, high) > pressure)
    {
        return None;
    }
    // ln p is nearly straight in 1/T: Newton's method there, its slope by differences, in the bracket
    let mut temperature = 0.5 * (low + high);
    for _ in 0..40 {
        let p = raoult_pressure(mixture, z, branch, temperature);
        if p < pressure {
            low = temperature;
        } else {
            high = temperature;
        }
        let h = 1e-4 * temperature;
        let slope =
            (raoult_pressure(mixture, z, branch, temperature + h) / p).ln() / h * temperature;
        let change = (pressure / p).ln() / slope;
        let next = temperature / (1.0 - change.clamp(-0.5, 0.5));
        if (next / temperature - 1.0).abs() < 1e-5 {
            return Some(next);
        }
        temperature = if next > low && next < high {
            next
        } else {
            0.5 * (low + high)
        };
    }
    Some(temperature)
}
